"""New study: which machine, and a first duty. Empty boxes hold nothing of any other study."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QVBoxLayout,
    QWidget,
)

from profiler.assess.fitting.starting import fitted_cone
from profiler.numbers import read
from profiler.study import Machine, NumberField, Study, read_study
from profiler.study.edits.new_study import OF_DUTY, OF_MACHINE, blank_machine, first_duty
from profiler.ui.widgets.choice_box import ChoiceBox
from profiler.ui.widgets.labels import head_label, plain_label
from profiler.ui.widgets.length_line import LengthLine

BLANK, DRAWING, THIS, FILE = "Blank", "From a drawing, asked next", "This study's machine", "From another study's file…"


@dataclass(frozen=True, slots=True)
class NewStudy:
    """What was asked for; `drawing`: the envelope comes from one, next."""

    study: Study
    drawing: bool = False


class NewStudyDialog(QDialog):
    """`made` once everything needed is given; until then a sentence says what lacks."""

    def __init__(
        self, parent: QWidget | None, present: Machine, listed: tuple[Machine, ...], ask_file: Callable[[], Path | None]
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle("New study")
        self.made: NewStudy | None = None
        self._machines: dict[str, Machine] = {THIS: present, **{m.name: m for m in listed}}
        self._ask_file = ask_file
        self.machine = ChoiceBox()
        self.machine.addItems([BLANK, DRAWING, THIS, *(m.name for m in listed), FILE])
        self.machine.setAccessibleName("Machine")
        self.boxes: dict[NumberField, LengthLine] = {f: LengthLine(unit=f.unit) for f in (*OF_MACHINE, *OF_DUTY)}
        self.sentence = plain_label("Type the first duty; nothing of another study comes along.")
        self.sentence.setWordWrap(True)
        self.sentence.setTextFormat(Qt.TextFormat.PlainText)
        form = QFormLayout()
        form.addRow("Machine", self.machine)
        for field, box in self.boxes.items():
            box.setObjectName("number")
            box.setAccessibleName(field.title)
            form.addRow(head_label(field.title), box)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel)
        self.start = buttons.button(QDialogButtonBox.StandardButton.Ok)
        self.start.setText("Start")
        buttons.accepted.connect(self._start)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.addLayout(form)
        column.addWidget(self.sentence)
        column.addWidget(buttons)
        self.machine.activated.connect(lambda _: self._show_machine())
        self.resize(380, 380)

    def _show_machine(self) -> None:
        """Lip radius and height are typed for a machine that is not known yet."""
        for field in OF_MACHINE:
            self.boxes[field].setEnabled(self.machine.currentText() in (BLANK, DRAWING))

    def _start(self) -> None:
        try:
            typed = {f: read(b.held).value if b.held.strip() else None for f, b in self.boxes.items()}
            duty = first_duty(typed)
            machine = self._machine(typed)
        except ValueError as reason:
            self.sentence.setText(str(reason))
            return
        if machine is None:
            return
        study = Study(machine, (duty,), (fitted_cone("Plain cone", machine),), title="New study")
        self.made = NewStudy(study, self.machine.currentText() == DRAWING)
        self.accept()

    def _machine(self, typed: dict[NumberField, float | None]) -> Machine | None:
        """None where a file was not chosen after all. Raises ValueError, one sentence."""
        chosen = self.machine.currentText()
        if chosen in (BLANK, DRAWING):
            return blank_machine(typed)
        if chosen == FILE:
            path = self._ask_file()
            return None if path is None else read_study(path).machine
        return self._machines[chosen]

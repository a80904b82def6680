"""An ore window built around the shown duty, in the place of the forms: amounts, how they go together, one sentence."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFormLayout, QLineEdit, QPushButton, QVBoxLayout, QWidget

from profiler.numbers import counted, read
from profiler.study import Field
from profiler.study.edits.ore_window import VARIED, Way, built, in_all
from profiler.ui.document.document import Document
from profiler.ui.widgets.choice_box import ChoiceBox
from profiler.ui.widgets.labels import bold, plain_label


class WindowPane(QWidget):
    """`closed` when the designer wants the forms back."""

    closed = Signal()

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self.head, self.sentence = plain_label(), plain_label()
        self.amounts: dict[Field[float], QLineEdit] = {field: QLineEdit() for field in VARIED}
        self.way, self.same = ChoiceBox(), ChoiceBox()
        self.build, self.set_in_all = QPushButton("Build the window"), QPushButton("Set it in all duties")
        self.back = QPushButton("Back to the forms")
        self._lay_out()
        self.build.clicked.connect(self._build)
        self.set_in_all.clicked.connect(self._set_in_all)
        self.back.clicked.connect(self.closed)

    def show_duty(self) -> None:
        self.head.setText(f"Ore window around “{self._document.duty.name}”")
        inside = len(self._document.study.window)
        self.sentence.setText(f"The window holds {counted(inside, 'duty', 'duties')} now.")

    def _build(self) -> None:
        """One undo step, said in one sentence with the weights."""
        try:
            amounts = {f: read(box.text()).value for f, box in self.amounts.items() if box.text().strip()}
            study = built(self._document.study, amounts, tuple(Way)[self.way.currentIndex()])
        except ValueError as reason:
            self.sentence.setText(str(reason))
            return
        self._document.edit(study, "Build an ore window")
        weights = ", ".join(f"{d.weight:g}" for d in study.window)
        self.sentence.setText(
            f"{counted(len(study.window), 'duty', 'duties')} make the window now, weighted {weights}; "
            "duties that left it stay in the study."
        )

    def _set_in_all(self) -> None:
        field = VARIED[self.same.currentIndex()]
        self._document.attempt(lambda s: in_all(s, field), f"Set {field.label.lower()} in all duties")

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 8, 10, 10)
        column.setSpacing(7)
        bold(self.head)
        for label in (self.head, self.sentence):
            label.setWordWrap(True)
            label.setTextFormat(Qt.TextFormat.PlainText)
        column.addWidget(self.head)
        what = plain_label("Up and down by; empty: unchanged")
        what.setObjectName("muted")
        column.addWidget(what)
        form = QFormLayout()
        for field, box in self.amounts.items():
            box.setObjectName("number")
            box.setFixedWidth(70)
            box.setAccessibleName(f"{field.label}, up and down by")
            form.addRow(f"± {field.head}", box)
        column.addLayout(form)
        for way in Way:
            self.way.addItem(f"{way[0].upper()}{way[1:]}")
        self.way.setAccessibleName("How several numbers go together")
        column.addWidget(self.way)
        column.addWidget(self.build)
        column.addWidget(self.sentence)
        for field in VARIED:
            self.same.addItem(field.label)
        self.same.setAccessibleName("Number to set in all duties")
        column.addWidget(self.same)
        column.addWidget(self.set_in_all)
        column.addStretch(1)
        column.addWidget(self.back)
        for button in (self.build, self.set_in_all, self.back):
            button.setObjectName("plain")

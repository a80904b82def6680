"""Envelope from a drawing: open or paste, say what is what, take it. The drawing is read beside the window."""

import dataclasses
from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QCloseEvent, QGuiApplication
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDialog,
    QFormLayout,
    QHBoxLayout,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from profiler.assess.drawn.envelope import Envelope, Roles, envelope
from profiler.assess.drawn.laid_out import LaidOut, Laying, laid_out, read_and_lay
from profiler.assess.drawn.pasted import pasted_points
from profiler.assess.drawn.placing import Placed
from profiler.numbers import fixed, read
from profiler.pictures.envelope_picture import chain_at, envelope_picture
from profiler.progress import Progress
from profiler.study import Design
from profiler.study.edits import list_edits
from profiler.ui.dialogs import dialogs
from profiler.ui.document.document import Document
from profiler.ui.widgets.canvas import Canvas
from profiler.ui.widgets.choice_box import ChoiceBox
from profiler.ui.widgets.labels import head_label, plain_label
from profiler.ui.widgets.length_line import LengthLine
from profiler.ui.widgets.theme import Theme
from profiler.ui.work.jobs import Jobs

KEY = "read a drawing"
UNITS = (("millimetres", 1.0), ("inches", 25.4), ("centimetres", 10.0), ("metres", 1000.0))
NONE = "none"
START = "Open a DXF of the rotor's section, or paste points: radius and height, a line each."


class EnvelopeDialog(QDialog):
    """Every change of a choice reads the envelope anew; nothing of the study changes until it is taken."""

    def __init__(
        self,
        document: Document,
        jobs: Jobs,
        theme: Theme,
        show_ghost: Callable[[Design], object],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle("Envelope from a drawing")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.document, self.jobs, self.theme, self._show_ghost = document, jobs, theme, show_ghost
        self.laid: LaidOut | None = None
        self.found: Envelope | None = None
        self.canvas = Canvas("The drawing, half its section")
        self.sentence, self.notes = plain_label(START), plain_label()
        self.open_button, self.paste = _button("Open a drawing…"), _button("Paste points")
        self.unit = ChoiceBox()
        self.axis, self.seat, self.bowl = (ChoiceBox(of_lengths=True) for _ in range(3))
        self.scale, self.lip, self.bowl_height = QLineEdit("1"), LengthLine(), LengthLine()
        self.upside_down = QCheckBox("Upside down")
        self.take, self.ghost = _button("Take the envelope"), _button("Keep the bowl as a ghost")
        self.take_wall = _button("Take its wall as a design")
        self._lay_out()
        self._wire()
        self._enable()

    # what is asked of it

    def open_file(self) -> None:
        path = dialogs.ask_drawing(self)
        if path is not None:
            self.read(path)

    def read(self, path: Path) -> None:
        """Off the window's thread; the sentence says how far it has come. What was read before stays if it fails."""
        self._ask(f"Reading {path.name}…", lambda progress: read_and_lay(path, progress))

    def paste_points(self) -> None:
        text = QGuiApplication.clipboard().text()
        self._ask("Reading the points…", lambda progress: laid_out(pasted_points(text), Laying(), progress))

    def _ask(self, words: str, work: Callable[[Progress], LaidOut]) -> None:
        self.sentence.setText(words)

        def progressed(share: float) -> None:
            self.sentence.setText(f"{words} {100.0 * share:.0f} %")

        self.jobs.ask(KEY, work, self.show_laid_out, progressed, self.sentence.setText)

    # what follows

    def show_laid_out(self, laid: LaidOut) -> None:
        """A drawing as laid out: its axes, its chains, what seat and bowl may be."""
        if self.laid is None or self.laid.read is not laid.read:
            self.unit.setCurrentIndex(0)
            self.scale.setText("1")
            self.upside_down.setChecked(False)
        self.laid = laid
        self.unit.setEnabled(laid.read.unit_mm is None)
        _fill(self.axis, [f"{p.axis.words}: {p.reason}" for p in laid.axes])
        self.axis.setCurrentIndex([p.axis for p in laid.axes].index(laid.axis))
        names = _names(laid.placed)
        for box, place in ((self.seat, laid.roles.seat), (self.bowl, laid.roles.bowl)):
            _fill(box, [NONE, *names])
            box.setCurrentIndex(0 if place is None or place >= len(names) else place + 1)
        self.notes.setText(" ".join(laid.remarks))
        self._work_out()

    def _lay_anew(self) -> None:
        """Unit, scale, axis or which way up were said otherwise."""
        if self.laid is None:
            return
        read_as = self.laid.read
        try:
            scale = read(self.scale.text()).value
        except ValueError as reason:
            self.sentence.setText(str(reason))
            return
        unit = UNITS[self.unit.currentIndex()][1] if read_as.unit_mm is None else 1.0
        laying = Laying(scale * unit, max(self.axis.currentIndex(), 0), self.upside_down.isChecked())
        self._ask("Laying it out…", lambda progress: laid_out(read_as, laying, progress))

    def _work_out(self) -> None:
        """The envelope of these choices, in one sentence."""
        self.found, laid, study = None, self.laid, self.document.study
        if laid is not None:
            try:
                roles = self._roles()
                self.found = envelope(laid.placed, roles, study.machine, study.design, laid.drawing, laid.axis)
                self.sentence.setText(self.found.sentence)
            except ValueError as reason:
                self.sentence.setText(str(reason))
        self._enable()
        self._draw()

    def _chosen(self) -> Roles:
        seat, bowl = (box.currentIndex() - 1 for box in (self.seat, self.bowl))
        return Roles(seat if seat >= 0 else None, bowl if bowl >= 0 else None)

    def _roles(self) -> Roles:
        """Raises ValueError for numbers that cannot be read."""
        typed = [read(box.held).value if box.held.strip() else None for box in (self.lip, self.bowl_height)]
        return dataclasses.replace(self._chosen(), lip_radius_mm=typed[0], height_mm=typed[1])

    # what is taken

    def take_envelope(self) -> None:
        if self.found is not None and self.laid is not None:
            study, found = self.document.study, self.found
            changed = study.having("machine", found.machine).having("design", found.design)
            self.document.edit(changed, f"Take the envelope from {self.laid.read.name}")
            self.document.say(found.sentence)
            self._work_out()

    def keep_ghost(self) -> None:
        if self.found is not None and self.found.bowl is not None:
            self._show_ghost(self.found.bowl.design)

    def take_as_design(self) -> None:
        """The drawn wall with its grooves as one more design, shown."""
        if self.found is not None and self.found.bowl is not None and self.laid is not None:
            bowl, body, drawing = self.found.bowl, self.found.design.body, self.laid.read.name
            self.document.attempt(
                lambda s: list_edits.add_design(s, "Drawn bowl", lambda name: bowl.as_design(name, body, drawing)),
                "Take a drawn wall as a design",
            )

    # how it looks

    def _enable(self) -> None:
        self.take.setEnabled(self.found is not None)
        for button in (self.ghost, self.take_wall):
            button.setEnabled(self.found is not None and self.found.bowl is not None)

    def _draw(self) -> None:
        laid = self.laid
        if laid is None:
            return
        roles = self._chosen()
        self.canvas.show_picture(lambda w, h: envelope_picture(laid.placed, roles, w, h), self.theme)

    def _pointed(self, x: float, y: float) -> None:
        """A click on a chain makes it the seat, or the bowl where the bowl's list has the keyboard."""
        if self.laid is None:
            return
        place = chain_at(self.laid.placed, x, y, float(self.canvas.width()), float(self.canvas.height()))
        box = self.bowl if self.bowl.hasFocus() else self.seat
        if place is not None and place + 1 < box.count():
            box.setCurrentIndex(place + 1)
            self._work_out()

    def closeEvent(self, event: QCloseEvent) -> None:
        self.jobs.cancel(KEY)
        super().closeEvent(event)

    def _lay_out(self) -> None:
        for label in (self.sentence, self.notes):
            label.setWordWrap(True)
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.notes.setObjectName("muted")
        _fill(self.unit, [words for words, _ in UNITS])
        form = QFormLayout()
        rows: tuple[tuple[str, QWidget], ...] = (
            ("Unit", self.unit), ("Scale factor", self.scale), ("Spin axis", self.axis), ("", self.upside_down),
            ("Seat", self.seat), ("Existing bowl", self.bowl),
            ("Lip radius, mm", self.lip), ("Height, mm", self.bowl_height),
        )  # fmt: skip
        for words, widget in rows:
            form.addRow(head_label(words), widget)
            widget.setAccessibleName(words or "Upside down")
        for box in (self.unit, self.axis, self.seat, self.bowl):
            box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        for line in (self.lip, self.bowl_height):
            line.setPlaceholderText("Empty: as drawn, or as before")
        side = QVBoxLayout()
        ways_in = QHBoxLayout()
        for button in (self.open_button, self.paste):
            ways_in.addWidget(button)
        side.addLayout(ways_in)
        side.addLayout(form)
        side.addWidget(self.sentence, 2)  # room for a sentence of any length: a folded label asks for too little
        side.addWidget(self.notes, 1)
        for button in (self.take, self.ghost, self.take_wall):
            side.addWidget(button)
        holder = QWidget()
        holder.setLayout(side)
        holder.setFixedWidth(360)
        whole = QHBoxLayout(self)
        whole.addWidget(self.canvas, 1)
        whole.addWidget(holder)
        self.resize(1000, 640)

    def _wire(self) -> None:
        self.open_button.clicked.connect(self.open_file)
        self.paste.clicked.connect(self.paste_points)
        for box in (self.unit, self.axis):
            box.activated.connect(lambda _: self._lay_anew())
        self.scale.editingFinished.connect(self._lay_anew)
        self.upside_down.clicked.connect(lambda _: self._lay_anew())
        for box in (self.seat, self.bowl):
            box.activated.connect(lambda _: self._work_out())
        for line in (self.lip, self.bowl_height):
            line.editingFinished.connect(self._work_out)
        self.take.clicked.connect(self.take_envelope)
        self.ghost.clicked.connect(self.keep_ghost)
        self.take_wall.clicked.connect(self.take_as_design)
        self.canvas.clicked.connect(self._pointed)


def _names(shown: Placed) -> list[str]:
    """Every chain by its number and reach: what can be pointed at can be typed too."""
    found = []
    for number, chain in enumerate(shown.chains, 1):
        low, high = chain.points.min(axis=0), chain.points.max(axis=0)
        form = "closed" if chain.closed else "open"
        radius, rise = fixed(float(high[0]), 1), fixed(float(high[1] - low[1]), 1)
        found.append(f"{number}: {form}, R {radius} mm, {rise} mm high")
    return found


def _fill(box: QComboBox, words: Sequence[str]) -> None:
    box.clear()
    box.addItems(list(words))


def _button(words: str) -> QPushButton:
    button = QPushButton(words)
    button.setObjectName("plain")
    button.setAutoDefault(False)
    return button

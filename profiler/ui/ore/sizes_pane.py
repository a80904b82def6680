"""The size classes of the shown duty, in the place of the forms: a table, what follows from it, the passing curve.

The table is a draft: while it cannot be worked with, a sentence says why and the window keeps the last one that can.
Every change that can is one undo step.
"""

from msgspec.structs import replace
from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QGuiApplication, QShowEvent
from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from profiler.assess import Evaluation
from profiler.assess.flow.sizes import d50_um, finer_um, passing_of, passing_pct, rows_trouble, with_rows
from profiler.assess.quantities.table import quantity
from profiler.pictures.charts.size_curve import SizeCurve, size_curve
from profiler.study import Duty, Field, SizeClass
from profiler.study.records.size_classes import MOST_ROWS, Measure, made_whole, pasted
from profiler.ui.document.document import Document
from profiler.ui.ore.sizes_table import SizesTable
from profiler.ui.widgets.canvas import Canvas
from profiler.ui.widgets.choice_box import ChoiceBox
from profiler.ui.widgets.keys import PASTE, shown
from profiler.ui.widgets.labels import bold, plain_label
from profiler.ui.widgets.theme import LIGHT, Theme

MEASURES = (("as their sum tells", None), ("retained", Measure.RETAINED), ("passing", Measure.PASSING))
CURVE_PX = 140
FINER = 0.5  # of the finest sieve: where a new last row starts


class SizesPane(QWidget):
    """`closed` when the designer wants the forms back."""

    closed = Signal()

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self.theme: Theme = LIGHT
        self.rows: tuple[SizeClass, ...] = ()
        self._drawn: SizeCurve | None = None
        self._of: tuple[str, tuple[SizeClass, ...], float] | None = None  # the duty the draft was taken from
        self.head, self.sentence, self.figures = plain_label(), plain_label(), plain_label()
        self.table = SizesTable()
        self.add, self.delete = _button("Add a row", "Below the chosen one"), _button("Delete row", "The chosen one")
        pasted_tip = f"Sieve and per cent, two columns of a spreadsheet ({shown(PASTE[:1])} in the table)"
        self.paste = _button("Paste", pasted_tip)
        self.whole = _button("Make it 100 %", "Keep the proportions, so that all retained add up to 100 %")
        self.measure = ChoiceBox()
        self.curve = Canvas("Per cent passing against size")
        self.one = _button("Back to one d50", "Let the classes go and feed by their d50 alone")
        self.back = _button("To the forms", "The classes stay")
        self._lay_out()
        self._wire()

    def show_theme(self, theme: Theme) -> None:
        self.theme = theme
        self._show()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._follow(self.document.evaluation)

    def _lay_out(self) -> None:
        inside, scroll = QWidget(), QScrollArea()
        column = QVBoxLayout(inside)
        column.setContentsMargins(10, 8, 10, 4)
        column.setSpacing(6)
        scroll.setWidget(inside)
        scroll.setAccessibleName("Size classes")
        scroll.setWidgetResizable(True)
        scroll.setFrameShape(QFrame.Shape.NoFrame)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        ways_out = QHBoxLayout()
        ways_out.setContentsMargins(8, 4, 8, 8)
        ways_out.setSpacing(5)
        ways_out.addWidget(self.one)
        ways_out.addWidget(self.back)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(scroll, 1)
        whole.addLayout(ways_out)
        for label in (self.head, self.sentence, self.figures):
            label.setWordWrap(True)
            label.setTextFormat(Qt.TextFormat.PlainText)
        bold(self.head)
        self.sentence.setAccessibleName("What the table lacks, or what was done")
        self.figures.setAccessibleName("What follows from the classes")
        what = plain_label(
            "Retained: stays on this sieve, past the one above. The last row tells how fine the finest grains are."
        )
        what.setObjectName("muted")
        what.setWordWrap(True)
        for text, measure in MEASURES:
            self.measure.addItem(text, measure)
        self.measure.setAccessibleName("What pasted percentages are")
        of_paste = plain_label("Pasted are")
        of_paste.setObjectName("muted")
        of_paste.setBuddy(self.measure)
        grid = QGridLayout()
        grid.setSpacing(5)
        for place, button in enumerate((self.add, self.delete, self.paste, self.whole)):
            grid.addWidget(button, *divmod(place, 2))
        grid.addWidget(of_paste, 2, 0)
        grid.addWidget(self.measure, 2, 1)
        self.curve.setFixedHeight(CURVE_PX)
        for part in (self.head, what, self.table):
            column.addWidget(part)
        column.addLayout(grid)
        for below in (self.sentence, self.figures, self.curve):
            column.addWidget(below)
        column.addStretch(1)

    def _wire(self) -> None:
        self.table.proposed.connect(self._number)
        self.table.refused.connect(self._say)
        self.table.paste_wanted.connect(self.take_clipboard)
        self.add.clicked.connect(self._add)
        self.delete.clicked.connect(self._delete)
        self.paste.clicked.connect(self.take_clipboard)
        self.whole.clicked.connect(self._make_whole)
        self.one.clicked.connect(self._let_go)
        self.back.clicked.connect(self.closed)
        self.document.evaluated.connect(self._follow)

    # what is proposed

    def take_clipboard(self) -> None:
        """Take a table from the clipboard, and say how its percentages were read."""
        measure = MEASURES[self.measure.currentIndex()][1]
        try:
            rows, read_as = pasted(QGuiApplication.clipboard().text(), measure)
        except ValueError as refusal:
            self._say(str(refusal))
            return
        self._change(rows, "Paste size classes", f"{len(rows)} rows pasted; percentages taken as {read_as.value}.")

    def _number(self, field: Field[float], value: float) -> None:
        draft = replace(self.document.duty, size_classes=self.rows)
        self._change(field.set(draft, value).size_classes, field.undo_words)

    def _add(self) -> None:
        row = self.table.chosen
        here = self.rows[row].size_um
        finer = self.rows[row + 1].size_um if row + 1 < len(self.rows) else FINER * FINER * here
        new = SizeClass(round((here * finer) ** 0.5, 1), 0.0)
        self._change((*self.rows[: row + 1], new, *self.rows[row + 1 :]), "Add a size class")
        self.table.setCurrentCell(row + 1, 0)
        self.table.setFocus()

    def _delete(self) -> None:
        row = self.table.chosen
        self._change((*self.rows[:row], *self.rows[row + 1 :]), "Delete a size class")

    def _make_whole(self) -> None:
        try:
            self._change(made_whole(self.rows), "Make size classes 100 %")
        except ValueError as refusal:
            self._say(str(refusal))

    def _let_go(self) -> None:
        duty = with_rows(self.document.duty, ())
        self._of = None
        self.document.edit_duty(duty, "Back to one d50")

    def _change(self, rows: tuple[SizeClass, ...], words: str, done: str = "") -> None:
        """Show the rows; where they can be worked with they are the duty's from now on."""
        self.rows = rows
        if rows_trouble(rows) is None:
            changed = with_rows(self.document.duty, rows)
            self._of = _taken_from(changed)
            self.document.edit_duty(changed, words)
        self._show(done)

    # what is shown

    def _say(self, sentence: str) -> None:
        self.sentence.setText(sentence)
        self.sentence.setVisible(bool(sentence))

    def _follow(self, e: Evaluation) -> None:
        """The duty's own classes, unless a draft of them is being worked on."""
        if not self.isVisible():
            return
        if self._of != _taken_from(e.duty):
            self._of = _taken_from(e.duty)
            self.rows = e.duty.size_classes or (SizeClass(e.duty.d50_um, 100.0),)
            self._show()
        else:
            self._show_figures()

    def _show(self, done: str = "") -> None:
        if not self.rows:
            return
        self.head.setText(f"Size classes of “{self.document.duty.name}”")
        self.table.show_rows(self.rows, passing_pct(self.rows))
        self.add.setEnabled(len(self.rows) < MOST_ROWS)
        self.delete.setEnabled(len(self.rows) > 1)
        trouble = rows_trouble(self.rows)
        kept = " Until then the window keeps the last table." if trouble else ""
        self._say(f"{trouble}{kept}" if trouble else done)
        self.whole.setEnabled(trouble is not None)
        self._show_figures()

    def _show_figures(self) -> None:
        """d50, d80, fines and the curve: of the draft where it can be worked with, else as they were, greyed."""
        e = self.document.evaluation
        given = bool(e.duty.size_classes)
        self.one.setEnabled(given)
        sound = rows_trouble(self.rows) is None
        if sound:
            curve = curve_of(e, self.rows)
            fine, limit = (float(quantity(key).get(e)[0]) for key in ("fine_pct", "liquid_um"))
            words = [f"d50 {curve.d50_um:.1f} µm, d80 {curve.d80_um:.1f} µm."]
            if given and fine == fine:
                words.append(f"{fine:.1f} % of the solids, finer than {limit:.1f} µm, count as liquid.")
            elif not given:
                words.append(f"The duty is fed by one d50 of {d50_um(e.duty):g} µm until a row is changed.")
            self.figures.setText(" ".join(words))
            self._drawn = curve
        drawn = self._drawn
        if drawn is not None:
            self.curve.show_picture(lambda w, h: size_curve(drawn, w, h), self.theme, not sound)


def curve_of(e: Evaluation, rows: tuple[SizeClass, ...]) -> SizeCurve:
    """The curve of rows without trouble; the liquid's limit where the evaluation has one for them."""
    limit = float(quantity("liquid_um").get(e)[0]) if e.duty.size_classes and e.flow is not None else None
    return SizeCurve(passing_of(rows), finer_um(rows, 0.5), finer_um(rows, 0.8), limit)


def _taken_from(duty: Duty) -> tuple[str, tuple[SizeClass, ...], float]:
    return duty.name, duty.size_classes, duty.d50_um


def _button(text: str, tip: str) -> QPushButton:
    button = QPushButton(text)
    button.setObjectName("plain")
    button.setToolTip(tip)
    return button

"""The duty bar: which design under which duty, the numbers one turns most, and what comes of it at a glance."""

import numpy as np
from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QToolButton, QWidget

from profiler.assess import Evaluation, Severity
from profiler.assess.findings.finding import stops
from profiler.assess.flow.flow_stage import MIDDLE
from profiler.assess.flow.sizes import d50_um
from profiler.physics.slurry.overturn import State
from profiler.pictures.basics.lengths import LengthUnit
from profiler.pictures.basics.state_marks import SHORT_WORDS
from profiler.study import Field, Study
from profiler.study.edits.list_edits import Listed
from profiler.study.records.duty import D50, DRY_FEED, SOLIDS, SPEED, TURNED_MOST, WATER
from profiler.ui.document.document import Document
from profiler.ui.forms.bar_number import bar_number
from profiler.ui.shape.named_choice import NamedChoice
from profiler.ui.widgets.labels import plain_label, plain_tip
from profiler.ui.widgets.number_box import NumberBox
from profiler.units import GRAVITY

WIDTHS = {SPEED: 42, SOLIDS: 40, D50: 40, DRY_FEED: 42, WATER: 42}
SHORT_UNITS = {SOLIDS: "%"}  # of mass: the tip and the form say so
ENTRY, ENTRY_MEANS = "entry", "entry: grooves below the entry height, of which no state is claimed"
NAMES_PX = {Listed.DESIGN: 126, Listed.DUTY: 104}


class DutyBar(QWidget):
    sizes_wanted = Signal()

    def __init__(self, document: Document, parent: QWidget | None = None, numbers: bool = True) -> None:
        """Without `numbers` design and duty are chosen here, and what comes of it is read."""
        super().__init__(parent)
        self.document = document
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(8, 4, 8, 4)
        self._grid.setHorizontalSpacing(7)
        self._grid.setVerticalSpacing(3)
        self._choices, row = _row()
        self._named = tuple(NamedChoice(document, kind, row, NAMES_PX[kind]) for kind in (Listed.DESIGN, Listed.DUTY))
        self.design, self.duty = (choice.combo for choice in self._named)
        self.designs, self.duties = (choice.menu for choice in self._named)
        self._numbers, row = _row()
        self.sizes = _link("µm…")
        self.sizes.clicked.connect(self.sizes_wanted)
        self.boxes: dict[Field[float], NumberBox] = {}
        for field in TURNED_MOST if numbers else ():
            row.addWidget(self._number(field))
        if not numbers:
            self._numbers.hide()
        self.summary = plain_label()
        self.summary.setAccessibleName("Grooves per state, acceleration and stops")
        font = self.summary.font()
        font.setPointSizeF(8.0)  # so that it may grow by digits without squeezing the numbers
        self.summary.setFont(font)
        self._wide: bool | None = None
        self._classes: int | None = None  # of the duty shown

    def resizeEvent(self, event: QResizeEvent) -> None:
        """One row where there is room, two where there is not."""
        super().resizeEvent(event)
        self._arrange()

    def _arrange(self) -> None:
        """A d50 of size classes needs more words, a long summary too: so much room as all of it asks for."""
        parts = (self._choices.sizeHint(), self._numbers.sizeHint(), self.summary.minimumSize())
        margins, gaps = self._grid.contentsMargins(), 2 * self._grid.horizontalSpacing()
        need = sum(part.width() for part in parts) + margins.left() + margins.right() + gaps
        wide = not self.boxes or self.width() >= need
        if wide != self._wide:
            self._wide = wide
            for part in (self._choices, self._numbers, self.summary):
                self._grid.removeWidget(part)
            self._grid.addWidget(self._choices, 0, 0)
            self._grid.addWidget(self._numbers, *((0, 1, 1, 1) if wide else (1, 0, 1, 3)), Qt.AlignmentFlag.AlignLeft)
            self._grid.addWidget(self.summary, 0, 2, Qt.AlignmentFlag.AlignRight)
            self._grid.setColumnStretch(2, 1)

    def show_study(self, study: Study) -> None:
        for choice in self._named:
            choice.show_study(study)
        for field, box in self.boxes.items():
            box.show_value(field.get(study))
        count = len(study.duty.size_classes)
        if count and D50 in self.boxes:
            self.boxes[D50].show_value(round(d50_um(study.duty), 1))
        if count != self._classes:
            self._show_way_to_classes(count)

    def _show_way_to_classes(self, count: int) -> None:
        self._classes = count
        if D50 in self.boxes:
            self.boxes[D50].setEnabled(not count)
        self.sizes.setText("µm…" if not count else f"µm (of {count} class{'es' if count > 1 else ''})")
        given = "The d50 follows from the size classes: see and change them"
        self.sizes.setToolTip(given if count else "Size classes…: give the feed by sieve, in place of one d50")
        self.sizes.setAccessibleName(f"Size classes, {count or 'none'}")
        self._arrange()

    def show_evaluation(self, e: Evaluation, lengths: LengthUnit) -> None:
        words = summary_of(e, lengths)
        self._say(words)
        said = [ENTRY_MEANS] if words.endswith(f" {ENTRY}") else []
        said += [f.text for f in e.findings if f.code == "fits" or f.severity is Severity.STOP]
        self.summary.setToolTip(plain_tip("\n".join(said)))

    def _say(self, text: str) -> None:
        """Of a size that only grows: a label of fixed size asks for no new layout with each move of a knot."""
        self.summary.setText(text)
        need = self.summary.sizeHint()
        if need.width() > self.summary.minimumWidth() or need.height() > self.summary.minimumHeight():
            self.summary.setFixedSize(need.expandedTo(self.summary.minimumSize()))
            self._arrange()

    def _number(self, field: Field[float]) -> QWidget:
        whole, box = bar_number(self.document, field, WIDTHS[field], SHORT_UNITS.get(field, ""))
        self.boxes[field] = box
        layout = whole.layout()
        if field is D50 and box.unit_label is not None and layout is not None:
            box.unit_label.hide()  # the way to the size classes shows the unit
            layout.addWidget(self.sizes)
        return whole


def summary_of(e: Evaluation, lengths: LengthUnit) -> str:
    """States of the grooves, range of acceleration, stops: two short lines."""
    n = stops(e.findings)
    last = f"{n} stop{'s' if n > 1 else ''}" if n else "no stops"
    if any(f.code == "fits" for f in e.findings):
        last = f"fits, {last}"
    if e.shape is not None and e.no_answer:
        return f"no answer: {e.no_answer}\nlip R {lengths.text(e.shape.lip_radius, 1)} · {last}"
    if e.shape is None or e.flow is None:
        return f"– grooves · lip R –\n– g · {last}"
    found = {s: int(np.sum(e.flow.groove_state[0] == s)) for s in sorted(State, reverse=True)}
    unclaimed = found.pop(State.NONE)
    counts = [f"{n} {SHORT_WORDS[s]}" for s, n in found.items()]
    if unclaimed:
        bedded = bool(e.flow.film.has_bed[0, MIDDLE].any())
        last = f"{last.removeprefix('fits, ')} · {unclaimed} {ENTRY if bedded else 'no bed'}"  # in little room
    low, high = (float(f(e.flow.acceleration[0])) / GRAVITY for f in (np.min, np.max))
    return f"{', '.join(counts)}\nlip R {lengths.text(e.shape.lip_radius, 1)} · {low:.0f}–{high:.0f} g · {last}"


def _link(text: str) -> QToolButton:
    button = QToolButton()
    button.setObjectName("link")
    button.setAutoRaise(True)
    button.setText(text)
    return button


def _row() -> tuple[QWidget, QHBoxLayout]:
    holder = QWidget()
    row = QHBoxLayout(holder)
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(6)
    return holder, row

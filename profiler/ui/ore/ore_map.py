"""The ore map of the page Ore: one quantity over two numbers of the duty, worked out beside the window."""

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QApplication,
    QComboBox,
    QGridLayout,
    QHBoxLayout,
    QProgressBar,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from profiler.assess import Evaluation, Stages
from profiler.assess.evaluate.batch import each, under
from profiler.assess.evidence.words import RECORD_TITLE, standing, standing_short
from profiler.assess.quantities.table import Scope
from profiler.explore.ore_map import AXES, Asked, Axis, OreMap, Span, asked, mappable, ore_map, span
from profiler.explore.telling import telling
from profiler.pictures.charts.map_picture import duty_reading, frame_of, ore_map_picture
from profiler.progress import Progress
from profiler.ui.document.document import Document
from profiler.ui.help.record_page import RecordWindow
from profiler.ui.ore.map_canvas import MapCanvas
from profiler.ui.pages.page import Page
from profiler.ui.widgets.canvas import WORKING
from profiler.ui.widgets.choice_box import ChoiceBox
from profiler.ui.widgets.labels import Tells, plain_label
from profiler.ui.widgets.range_box import RangeBox
from profiler.ui.widgets.spoken import announce
from profiler.ui.widgets.theme import Theme
from profiler.ui.work.jobs import Jobs

KEY = "ore map"
LINES = 40  # each way
AXIS_PX = 160
FIRST, ELSE_OF = "share_sheltered_pct", ("share_strong_pct", "share_weak_pct", "power_w")  # shown until one is chosen


class StandingButton(Tells, QPushButton):
    """Says how the model stands to measurements, which were made in lengths."""


class OreMapPanel(Page):
    """A newer question cancels the older. A double click takes the point as the shown duty.

    What the model stands on, `standing`, has its place in the page's bar.
    """

    def __init__(self, document: Document, jobs: Jobs, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        self.jobs = jobs
        self.lines = LINES
        self.map: OreMap | None = None
        self._asked: tuple[object, ...] = ()
        self._node: tuple[int, int] | None = None
        self._chosen = False  # the quantity: until it is, one that moves for this design is shown
        self._typed: set[RangeBox] = set()  # whose range is the designer's; any other follows the duty
        self.across, self.upward = ChoiceBox(), ChoiceBox()
        self.across_range, self.upward_range = RangeBox("Range across"), RangeBox("Range upward")
        self.quantity, self.groove = ChoiceBox(), ChoiceBox()
        self.progress = QProgressBar()
        self.canvas = MapCanvas(empty=WORKING)
        self.heading, self.reading = plain_label(), plain_label()
        self.standing = StandingButton()
        self.record: RecordWindow | None = None
        self._lay_out()
        self._wire()

    def key_parts(self) -> Sequence[QWidget]:
        return (self.across, self.upward, self.quantity, self.canvas, self.standing)

    def show_theme(self, theme: Theme) -> None:
        super().show_theme(theme)
        self._draw()

    def show_record(self) -> None:
        """What the model was held against, beside the film of the duty at hand."""
        if self.record is None:
            self.record = RecordWindow(self)
        self.record.show_record(self.document.evaluation)

    def _show_standing(self) -> None:
        """How the model stands to measurements under the shown duty."""
        duty = self.document.duty
        self.standing.setText(f"Slurry model: {standing_short(duty)} …")
        words = standing(duty)
        self.standing.setToolTip(f"{words[0].upper()}{words[1:]}.")

    def _lay_out(self) -> None:
        for combo, name in ((self.across, "Across"), (self.upward, "Upward")):
            combo.setAccessibleName(name)
            for axis in AXES:
                combo.addItem(axis.field.label, axis)
        self.upward.setCurrentIndex(1)
        self.quantity.setAccessibleName("Quantity mapped")
        self.quantity.setMinimumWidth(250)
        self.groove.setAccessibleName("Groove mapped")
        grid = QGridLayout()
        grid.setHorizontalSpacing(8)
        rows = (
            ("across", self.across, self.across_range),
            ("upward", self.upward, self.upward_range),
        )
        what = QHBoxLayout()
        for part in (self.quantity, self.groove):
            what.addWidget(part)
        what.addStretch(1)
        grid.addWidget(plain_label("Map of"), 0, 0)
        grid.addLayout(what, 0, 1, 1, 3)
        for row, (word, combo, box) in enumerate(rows, 1):
            combo.setFixedWidth(AXIS_PX)
            grid.addWidget(plain_label(word), row, 0)
            grid.addWidget(combo, row, 1)
            grid.addWidget(box, row, 2)
        grid.setColumnStretch(3, 1)
        self.heading.setObjectName("muted")
        self.heading.setWordWrap(True)
        self.progress.setRange(0, 100)
        self.progress.setTextVisible(False)
        self.progress.setFixedHeight(4)
        kept = self.progress.sizePolicy()
        kept.setRetainSizeWhenHidden(True)  # nothing moves when it comes and goes
        self.progress.setSizePolicy(kept)
        self.progress.hide()
        self.standing.setFlat(True)
        self._show_standing()
        self.standing.setAccessibleName(RECORD_TITLE)
        self.reading.setWordWrap(True)
        self.reading.setMinimumHeight(34)
        self.reading.setAlignment(Qt.AlignmentFlag.AlignTop)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 8, 10, 6)
        column.addLayout(grid)
        column.addWidget(self.heading)
        column.addWidget(self.progress)
        column.addWidget(self.canvas, 1)
        column.addWidget(self.reading)
        self._show_ranges()

    def _wire(self) -> None:
        for combo in (self.across, self.upward):
            combo.activated.connect(lambda _: self._turn_axes())
        for box in (self.across_range, self.upward_range):
            box.changed.connect(partial(self._take_range, box))
            box.refused.connect(self.document.say)
        self.quantity.activated.connect(lambda _: self._choose_quantity())
        self.groove.activated.connect(lambda _: self._refresh())
        self.standing.clicked.connect(self.show_record)
        self.canvas.hovered.connect(self._hover)
        self.canvas.double_clicked.connect(lambda x, y: self._go_to(self._node_at(x, y)))
        self.canvas.stepped.connect(self._step)
        self.canvas.taken.connect(lambda: self._go_to(self._node))

    def _choose_quantity(self) -> None:
        self._chosen = True
        self._refresh()

    def _take_range(self, box: RangeBox) -> None:
        self._typed.add(box)
        self._refresh()

    def _turn_axes(self) -> None:
        self._typed.clear()
        self._show_ranges()
        self._refresh()

    def _show_ranges(self) -> None:
        for combo, box in ((self.across, self.across_range), (self.upward, self.upward_range)):
            axis = self._axis(combo)
            box.show_range(axis.low, axis.high, axis.field.unit)

    @staticmethod
    def _axis(combo: QComboBox) -> Axis:
        axis = combo.currentData()
        assert isinstance(axis, Axis)
        return axis

    def _fill(self, e: Evaluation) -> None:
        """Quantities and grooves there are to choose from, keeping what is chosen."""
        known = mappable(e)
        if [self.quantity.itemData(i) for i in range(self.quantity.count())] != [q.key for q in known]:
            chosen = self.quantity.currentData() or FIRST
            self.quantity.clear()
            for q in known:
                word = f"{q.label}, one groove" if q.scope is Scope.GROOVE else q.label
                self.quantity.addItem(word, q.key)
            self.quantity.setCurrentIndex(max(self.quantity.findData(chosen), 0))
        count = 0 if e.shape is None else len(e.shape.mouths)
        if self.groove.count() != count:
            chosen = self.groove.currentData() or (count + 1) // 2
            self.groove.clear()
            for n in range(1, count + 1):
                self.groove.addItem(f"groove {n}", n)
            self.groove.setCurrentIndex(max(self.groove.findData(min(chosen, count)), 0))
        of_groove = any(q.key == self.quantity.currentData() and q.scope is Scope.GROOVE for q in known)
        self.groove.setVisible(of_groove)

    def _question(self, e: Evaluation) -> Asked:
        """Over the ranges as typed; one that is not is found with the map, round the duty."""
        x, y = (
            self._span(self._axis(combo), box)
            for combo, box in ((self.across, self.across_range), (self.upward, self.upward_range))
        )
        key = str(self.quantity.currentData()) if self._chosen else FIRST
        return asked(x, y, key, self.groove.currentData(), e)

    def _span(self, axis: Axis, box: RangeBox) -> Span:
        low, high = box.values if box in self._typed else (None, None)
        return span(axis.word, low, high, self.lines)

    def _refresh(self) -> None:
        self.show_evaluation(self.document.evaluation)

    def show_evaluation(self, e: Evaluation) -> None:
        if not self.isVisible() or self.document.in_gesture:
            return
        window = self.document.study.window
        self._show_standing()
        self._fill(e)
        try:
            question = self._question(e)
        except ValueError as reason:
            self._fail(str(reason))
            return
        wanted = (question, e.design, e.machine, e.duty, window)
        if wanted == self._asked:
            return
        self._asked = wanted
        self.canvas.setEnabled(False)
        self.progress.setValue(0)
        self.progress.show()
        self._draw()
        kept = {name for name, box in (("x", self.across_range), ("y", self.upward_range)) if box in self._typed}
        others = () if self._chosen else ELSE_OF

        def work(progress: Progress) -> OreMap:
            found = telling(question, e, window, others)
            whole = replace(found, **{name: getattr(question, name) for name in kept})
            return ore_map(whole, e, window, progress)

        self.jobs.ask(KEY, work, self._take, self._advance, self._fail)

    def _advance(self, share: float) -> None:
        self.progress.setValue(round(100 * share))

    def _take(self, answer: OreMap) -> None:
        self.map = answer
        self._node = None
        self.canvas.setEnabled(True)
        self.progress.hide()
        if not self._chosen:
            self.quantity.setCurrentIndex(self.quantity.findData(answer.asked.quantity.key))
        for box, shown in ((self.across_range, answer.asked.x), (self.upward_range, answer.asked.y)):
            box.show_range(shown.low, shown.high, shown.axis.field.unit)
        d = answer.duty
        others = [a for a in AXES if a not in (answer.asked.x.axis, answer.asked.y.axis)]
        rest = ", ".join(f"{a.field.label.lower()} {a.field.with_unit(a.value(d))}" for a in others)
        turned = f"; {answer.remark}" if answer.remark else ""
        self.heading.setText(f"{answer.evaluation.design.name}, {d.name}; all else as now: {rest}{turned}")
        self.reading.setText(f"Now: {duty_reading(answer.evaluation)}. Double-click takes a point as the duty.")
        self._draw()

    def _fail(self, sentence: str) -> None:
        """The question cannot be answered: say why where the reading stands, and grey the last map."""
        self.jobs.cancel(KEY)
        self._asked = ()
        self.canvas.setEnabled(False)
        self.progress.hide()
        self.reading.setText(sentence)
        self._draw()

    def _draw(self) -> None:
        m, node = self.map, self._node
        if m is None:
            self.canvas.show_picture(None, self.theme)
        else:
            faded = not self.canvas.isEnabled()
            self.canvas.show_picture(lambda w, h: ore_map_picture(m, w, h, node), self.theme, faded)

    def _node_at(self, x: float, y: float) -> tuple[int, int] | None:
        if self.map is None:
            return None
        frame = frame_of(self.map, float(self.canvas.width()), float(self.canvas.height()))
        return self.map.at(frame.x.value(x), frame.y.value(y)) if frame.holds(x, y) else None

    def _hover(self, place: tuple[float, float] | None) -> None:
        self._point_at(None if place is None else self._node_at(*place))

    def _step(self, up: int, right: int) -> None:
        """From the point that is read, at first from the duty's own, and no further than the map goes."""
        m = self.map
        if m is not None:
            start = m.at(*(axis.value(m.duty) for axis in (m.asked.x.axis, m.asked.y.axis)))
            row, column = start if self._node is None else self._node
            self._point_at((min(max(row + up, 0), len(m.y) - 1), min(max(column + right, 0), len(m.x) - 1)))

    def _point_at(self, node: tuple[int, int] | None) -> None:
        if node == self._node or self.map is None:
            return
        self._node = node
        if node is not None:
            self.reading.setText(self._reading(self.map, node))
            self.canvas.setAccessibleName(f"Ore map, {self.reading.text()}")
            if self.canvas.hasFocus() and not QApplication.mouseButtons():
                announce(self.canvas, self.reading.text())
        self._draw()

    def _reading(self, m: OreMap, node: tuple[int, int]) -> str:
        duty = m.duty_at(*node)
        axes = (m.asked.x.axis, m.asked.y.axis)
        place = ", ".join(f"{a.field.label.lower()} {a.field.with_unit(a.value(duty))}" for a in axes)
        value = m.asked.quantity.text(float(m.values[node]))
        there = duty_reading(each(under(m.evaluation, [duty], Stages.FLOW | Stages.CATCH))[0])
        return f"{place}: {m.asked.title.split(',')[0].lower()} {value}. {there}"

    def _go_to(self, node: tuple[int, int] | None) -> None:
        if node is not None and self.map is not None and self.map.duty is self.document.duty:
            self.document.edit_duty(self.map.snapped_duty_at(*node), "Take a point of the ore map as the duty")

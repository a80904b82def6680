"""The Shape page: forms, strips, read-out and findings, wired to the document. Views propose, the document decides."""

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QApplication,
    QComboBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from profiler.assess import Evaluation, Finding
from profiler.assess.quantities.reading import reading_at
from profiler.assess.quantities.table import Scope, of_scope
from profiler.assess.shape.held_ends import CannotJoin, joined
from profiler.pictures.basics.lengths import LengthUnit
from profiler.pictures.strips.scene import Scene, lowest_mm
from profiler.study import Design
from profiler.study.edits import design_edits as edits
from profiler.study.records.design import GROOVE_SHIFT, KNOT_ANGLE, KNOT_HEIGHT, KNOT_LEAVING
from profiler.ui.document.document import Document
from profiler.ui.document.ghost import Ghost
from profiler.ui.document.ladder import Ladder
from profiler.ui.document.steady_findings import SteadyFindings, apply_remedy
from profiler.ui.forms.pane import FormsPane
from profiler.ui.shape.duty_bar import DutyBar
from profiler.ui.shape.findings_list import FindingsList
from profiler.ui.shape.findings_view import FindingsBar
from profiler.ui.shape.readout_bar import ReadoutBar
from profiler.ui.shape.side_pane import SidePane
from profiler.ui.strips.angle import AngleStrip
from profiler.ui.strips.base import Strip
from profiler.ui.strips.grooves import GrooveStrip
from profiler.ui.strips.gutter import GutterStrip
from profiler.ui.strips.section import SectionStrip
from profiler.ui.widgets.number_box import NumberBox
from profiler.ui.widgets.pointer import Pointer, Pointing
from profiler.ui.widgets.theme import LIGHT, Theme
from profiler.ui.work.jobs import Jobs
from profiler.ui.work.pace import WORDS_S, Pace
from profiler.units import DEGREE

WIDE_PX = 1600
FOLD_PX = 1280
LIST_HEIGHT = 240


class ShapePage(QWidget):
    ghost_changed = Signal(bool)

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self.pointer = Pointer()
        self.theme: Theme = LIGHT
        self._last_drawn: Evaluation | None = None
        self._ghost, self._ladder, self._pace = Ghost(), Ladder(), Pace(WORDS_S)
        self._steady = SteadyFindings(document)
        self.duty_bar = DutyBar(document)
        self.forms = FormsPane(document, self.pointer)
        self.side = SidePane(document, self.forms)
        self._jobs: Jobs | None = None
        self.gutter, self.angle = GutterStrip(self.pointer), AngleStrip(self.pointer)
        self.section, self.grooves = SectionStrip(self.pointer), GrooveStrip(self.pointer)
        self.strips: tuple[Strip, ...] = (self.gutter, self.angle, self.section, self.grooves)
        self.readout = ReadoutBar()
        self.findings = FindingsBar()
        self.pop_list, self.side_list = FindingsList(self), FindingsList()
        self._roomy: bool | None = None
        self._folded_by_hand: bool | None = None
        self._lay_out()
        self._wire()
        self.show_evaluation(document.evaluation)

    def _lay_out(self) -> None:
        self.angle.setMinimumWidth(200)
        self.section.setMinimumWidth(150)  # nine columns of ore ladder beside open forms at 1024 px
        self.quantity = QComboBox()
        self.quantity.setAccessibleName("Quantity shown for each groove")
        for q in of_scope(Scope.GROOVE):
            self.quantity.addItem(f"{q.label}, {q.unit}" if q.unit else q.label, q.key)
        self.unfold = QPushButton()
        self.unfold.setObjectName("fold")
        self.unfold.setCheckable(True)
        self.unfold.setToolTip("Show or hide the forms (F9)")
        self.unfold.setAccessibleName("Show the forms")
        self.unfold.clicked.connect(self._fold_by_hand)
        strips = QGridLayout()
        strips.setSpacing(1)
        heads = (
            self.unfold,
            _head(
                "Wall angle  steeper ◂ ▸ shallower",
                "Wall angle from the axis against height, with the repose band",
            ),
            _head("Section", "Half section at equal scale"),
            self.quantity,
        )
        for column, (head, strip) in enumerate(zip(heads, self.strips, strict=True)):
            head.setFixedHeight(24)
            strips.addWidget(head, 0, column)
            strips.addWidget(strip, 1, column)
        strips.setRowStretch(1, 1)
        for column, stretch in ((1, 30), (2, 52), (3, 20)):
            strips.setColumnStretch(column, stretch)
        self.middle = QHBoxLayout()
        self.middle.setSpacing(0)
        self.middle.addWidget(self.side)
        self.middle.addLayout(strips, 1)
        self.side_list.setFixedWidth(320)
        self.middle.addWidget(self.side_list)
        self.side_list.hide()
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(0)
        rows.addWidget(self.duty_bar)
        rows.addLayout(self.middle, 1)
        rows.addWidget(self.readout)
        rows.addWidget(self.findings)
        self.pop_list.hide()

    def _wire(self) -> None:
        self.document.evaluated.connect(self.show_evaluation)
        self.document.announced.connect(self.findings.say)
        self.duty_bar.sizes_wanted.connect(self.show_sizes)
        self.forms.duty.sizes_wanted.connect(self.show_sizes)
        self.pointer.changed.connect(self._show_pointing)
        self.duty_bar.designs.ghost_wanted.connect(self.show_ghost)
        self.quantity.activated.connect(lambda _: self.pointer.point(quantity=self.quantity.currentData()))
        a = self.angle
        a.drag_began.connect(lambda knot, leaving: self.document.begin("Move a knot"))
        a.dragged.connect(self._drag_held_knot)
        a.drag_ended.connect(lambda keep: self.document.commit() if keep else self.document.cancel())
        a.add_wanted.connect(self.add_knot)
        a.delete_wanted.connect(self.delete_knot)
        a.corner_wanted.connect(self.toggle_corner)
        a.nudged.connect(self._nudge)
        g = self.section
        g.drag_began.connect(lambda: self.document.begin("Move a groove"))
        g.dragged.connect(self._drag_groove)
        g.drag_ended.connect(lambda keep: self.document.commit() if keep else self.document.cancel())
        self.forms.wall.corner.clicked.connect(lambda: self.toggle_corner(self.pointer.now.knot))
        self.forms.wall.delete.clicked.connect(lambda: self.delete_knot(self.pointer.now.knot))
        for view in (self.findings, self.pop_list, self.side_list):
            view.pointed.connect(self._point_at)
            view.remedied.connect(self._remedy)
        self.findings.opened.connect(self._open_list)
        self.section.installEventFilter(self)

    # what is shown

    def show_evaluation(self, e: Evaluation) -> None:
        if e.shape is not None:
            self._last_drawn = e
        if (self.pointer.now.knot or 0) >= len(self.document.design.wall.knots):
            self.pointer.point(knot=None, leaving=False)
        said = self._steady.evaluation
        if words := self._pace.due(self.document.in_gesture):
            self.duty_bar.show_study(self.document.study)
            self.duty_bar.show_evaluation(said, self.pointer.now.lengths)
            self.forms.show_evaluation(e)
        self.findings.show_findings(said.findings, self.theme)
        for view in (self.pop_list, self.side_list):
            if view.isVisible():
                view.show_findings(said.findings, self.theme)
        if not self.document.in_gesture:
            self.fit()
        self._show_scene(words)

    def take_jobs(self, jobs: Jobs) -> None:
        """The worker that long questions asked from this page go to."""
        self._jobs = jobs

    def show_forms(self) -> None:
        self.side.show_forms()

    def show_lessons(self) -> None:
        self._unfold()
        self.side.show_lessons()

    def show_ask(self) -> None:
        """Ask backwards about the quantity and groove that are chosen."""
        if self._jobs is not None:
            self._unfold()
            now = self.pointer.now
            self.side.show_ask(self._jobs, now.quantity, now.groove, now.cursor_mm)

    def show_sizes(self) -> None:
        self._unfold()
        self.side.show_sizes(self.theme)

    def _unfold(self) -> None:
        self._folded_by_hand = False
        self._place()

    def show_theme(self, theme: Theme) -> None:
        self.theme = theme
        self.side.show_theme(theme)
        self.show_evaluation(self.document.evaluation)

    def show_lengths(self, unit: LengthUnit) -> None:
        """Show lengths in this unit; nothing held or computed changes."""
        for box in self.findChildren(NumberBox):
            box.show_lengths(unit)
        for table in (self.forms.wall.table, self.forms.machine.seat):
            table.show_lengths(unit)
        self.pointer.point(lengths=unit)
        self.show_evaluation(self.document.evaluation)

    def scene(self) -> Scene:
        e, now = self.document.evaluation, self.pointer.now
        trouble = "" if e.shape is not None else next((f.text for f in e.findings), "")
        knots = len(self.document.design.wall.knots)
        knot = now.knot if now.knot is not None and now.knot < knots else None
        window, hurried = self.document.study.window, self.document.in_gesture
        return Scene(
            self._last_drawn,
            self.document.design,
            now.axis,
            ghost=self._ghost.of(self.document.study.machine, e.duty),
            ladder=self._ladder.last if e.shape is None else self._ladder.of(e, window, hurried),
            cursor_mm=now.cursor_mm,
            knot=knot,
            leaving=now.leaving,
            groove=now.groove,
            lengths=now.lengths,
            trouble=trouble,
        )

    def fit(self) -> None:
        """Fit the axis to the bowl unless the designer has zoomed."""
        e = self._last_drawn
        if e is not None and e.shape is not None:
            self.pointer.fit(lowest_mm(e) - 8.0, e.shape.height + 14.0, float(self.section.height()))

    def fit_again(self) -> None:
        self.pointer.point(fitted=True)
        self.fit()

    def next_part(self, forward: bool = True) -> None:
        """Take the keyboard to the next part of the page: bar, forms, angle strip, section, grooves, findings."""
        parts: list[QWidget] = [self.duty_bar.design, *([self.forms] if self.forms.isVisible() else [])]
        parts += [self.angle, self.section, self.grooves, self.findings.count]
        focused = QApplication.focusWidget()
        held = [p is focused or (focused is not None and p.isAncestorOf(focused)) for p in parts]
        here = held.index(True) if True in held else -1
        target = parts[(here + (1 if forward else -1)) % len(parts)]
        first = target.findChild(QComboBox) if target is self.forms else None
        (first or target).setFocus(Qt.FocusReason.TabFocusReason)

    def _show_pointing(self, now: Pointing) -> None:
        self.forms.show_pointing(now, soon=self.document.pending)
        if not self.document.pending:  # else the scene is shown anyway in a moment
            self._show_scene()

    def _show_scene(self, words: bool = True) -> None:
        scene = self.scene()
        for strip in self.strips:
            strip.show_scene(scene, self.theme)
        if words:
            z = scene.cursor_mm
            self.readout.show_reading(None if z is None else reading_at(self.document.evaluation, z), scene.lengths)

    # what is proposed

    def add_knot(self, height_mm: float, near_deg: float) -> None:
        e = self.document.evaluation
        angle = near_deg if e.shape is None else float(e.shape.wall.angle_at(height_mm)) / DEGREE
        try:
            design, index = edits.add_knot(self.document.design, height_mm, KNOT_ANGLE.snapped(angle))
        except ValueError as refusal:
            self.document.say(str(refusal))
            return
        self.pointer.point(knot=None)
        self.document.edit_design(design, "Add a knot")
        self.pointer.point(knot=index, leaving=False)

    def delete_knot(self, index: int | None) -> None:
        if index is not None:
            self._try(lambda d: edits.delete_knot(d, index), "Delete a knot")
            self.pointer.point(knot=None)

    def toggle_corner(self, index: int | None) -> None:
        knots = self.document.design.wall.knots
        if index is None or index >= len(knots):
            return
        knot = knots[index]
        if knot.is_corner:
            self._try(lambda d: KNOT_LEAVING.at(index).set(d, None), "Make a corner smooth")
        else:
            self._try(lambda d: KNOT_LEAVING.at(index).set(d, knot.angle_deg - 5.0), "Make a corner")

    def toggle_ghost(self) -> None:
        """Keep the present curve as a ghost, or let it go."""
        self.show_ghost(self.document.design if self._ghost.design is None else None)

    def show_ghost(self, design: Design | None) -> None:
        """Draw this design faintly in all strips, or none."""
        self._ghost.design = design
        self.ghost_changed.emit(design is not None)
        self._show_scene()

    def _drag_held_knot(self, index: int, height: float | None, angle: float | None, leaving: bool) -> None:
        """A move of the mouse. Where the gesture was ended meanwhile, or the knot deleted, it moves nothing more."""
        if self.document.in_gesture and index < len(self.document.design.wall.knots):
            self._drag_knot(index, height, angle, leaving)

    def _drag_knot(self, index: int, height: float | None, angle: float | None, leaving: bool) -> None:
        knot = self.document.design.wall.knots[index]
        angles = edits.Angles(arriving=not leaving, leaving=leaving) if knot.is_corner else edits.Angles()
        moved = edits.move_knot(self.document.design, index, height, angle, angles)
        try:
            self.document.edit_design(joined(moved, index).design, "Move a knot")
        except CannotJoin as refusal:
            self.document.say(str(refusal))

    def _drag_groove(self, place: int, shift: float) -> None:
        if self.document.in_gesture:
            self.document.change(GROOVE_SHIFT.at(place), shift)

    def _nudge(self, index: int, up: float, right: float, leaving: bool) -> None:
        knot = self.document.design.wall.knots[index]
        fine = 0.0 < abs(up + right) < 1.0
        height = KNOT_HEIGHT.snapped(knot.height_mm + up * KNOT_HEIGHT.step * 10, fine) if up else None
        old = knot.leaving if leaving else knot.angle_deg
        angle = KNOT_ANGLE.nearest(old + right * KNOT_ANGLE.step, fine) if right else None
        self._drag_knot(index, height, angle, leaving)

    def _try(self, edit: Callable[[Design], Design], words: str) -> None:
        self.document.attempt(lambda s: edits.with_design(s, edit(s.design)), words)

    def _remedy(self, finding: Finding | None) -> None:
        apply_remedy(self.document, finding)

    def _point_at(self, finding: Finding) -> None:
        if finding.from_mm is not None and finding.to_mm is not None:
            self.pointer.point(cursor_mm=0.5 * (finding.from_mm + finding.to_mm))
        if finding.grooves:
            self.pointer.point(groove=finding.grooves[0])

    # how it fits the window

    def _open_list(self, on: bool) -> None:
        self._place()
        self.show_evaluation(self.document.evaluation)

    def _fold_by_hand(self, shown: bool) -> None:
        self._folded_by_hand = not shown
        self._place()

    def _place(self) -> None:
        """Fold and unfold what the width allows; nothing overlaps but the list that was opened."""
        wide = self.width() >= WIDE_PX
        roomy = self.width() >= FOLD_PX
        if roomy != self._roomy:
            self._roomy, self._folded_by_hand = roomy, None
        shown = roomy if self._folded_by_hand is None else not self._folded_by_hand
        self.side.setVisible(shown)
        self.unfold.setChecked(shown)
        self.unfold.setText("◂ Hide forms" if shown else "Forms ▸")
        self.side_list.setVisible(wide)
        self.findings.count.setEnabled(not wide)
        self.pop_list.setVisible(not wide and self.findings.count.isChecked())
        left, top = self.side.width() if shown else 0, self.readout.y() - LIST_HEIGHT
        self.pop_list.setGeometry(left, top, self.width() - left, LIST_HEIGHT)
        self.pop_list.raise_()
        for view in (self.pop_list, self.side_list):
            view.show_findings(self._steady.evaluation.findings, self.theme)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self.findings.count.isChecked():
            self.findings.count.setChecked(False)
        else:
            super().keyPressEvent(event)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if watched is self.section and event.type() == QEvent.Type.Resize:
            self.fit()
            self._place()
        return super().eventFilter(watched, event)


def _head(text: str, tip: str) -> QLabel:
    label = QLabel(text)
    label.setObjectName("stripHeader")
    label.setToolTip(tip)
    label.setAlignment(Qt.AlignmentFlag.AlignCenter)
    return label

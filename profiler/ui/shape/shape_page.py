"""The Shape page: forms, strips, read-out and findings, wired to the document. Views propose, the document decides."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, Signal
from PySide6.QtWidgets import QWidget

from profiler.assess import Evaluation
from profiler.assess.quantities.reading import reading_at
from profiler.assess.shape.groove_room import nearest_groove
from profiler.pictures.basics.lengths import LengthUnit
from profiler.pictures.strips.scene import Scene
from profiler.study import Design
from profiler.ui.document.document import Document
from profiler.ui.document.fitting import fit_shown
from profiler.ui.document.steady_findings import SteadyFindings
from profiler.ui.forms.pane import ShapeForms
from profiler.ui.shape.duty_bar import DutyBar
from profiler.ui.shape.findings_page import FindingsPage
from profiler.ui.shape.findings_view import FindingsBar
from profiler.ui.shape.groove_eddy import GrooveEddy
from profiler.ui.shape.readout_bar import ReadoutBar
from profiler.ui.shape.shape_edits import ShapeEdits
from profiler.ui.shape.shape_layout import ShapeLayout
from profiler.ui.shape.side_pane import ShapeSide
from profiler.ui.shape.staging import Staging
from profiler.ui.strips.angle import AngleStrip
from profiler.ui.strips.base import Strip
from profiler.ui.strips.grooves import GrooveStrip
from profiler.ui.strips.gutter import GutterStrip
from profiler.ui.strips.section import SectionStrip
from profiler.ui.widgets.pointer import Pointer, Pointing
from profiler.ui.widgets.theme import Theme
from profiler.ui.work.jobs import Jobs
from profiler.ui.work.pace import WORDS_S, Pace

if TYPE_CHECKING:
    from profiler.lessons import Lesson


class ShapePage(FindingsPage):
    """Where things stand: `shape_layout`. What hands propose: `edits`. What is drawn: `staging`."""

    ghost_changed = Signal(bool)
    sizes_wanted = Signal()
    window_wanted = Signal()

    def __init__(self, document: Document, jobs: Jobs, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        self.jobs = jobs
        self.pointer = Pointer()
        self.edits = ShapeEdits(document, self.pointer)
        self._staging, self._pace = Staging(document, self.pointer), Pace(WORDS_S)
        self._steady = SteadyFindings(document)
        self.duty_bar = DutyBar(document)
        self.forms = ShapeForms(document, self.pointer)
        self.side = ShapeSide(document, self.forms)
        self.gutter, self.angle = GutterStrip(self.pointer), AngleStrip(self.pointer)
        self.section, self.grooves = SectionStrip(self.pointer), GrooveStrip(self.pointer)
        self.strips: tuple[Strip, ...] = (self.gutter, self.angle, self.section, self.grooves)
        self.eddy = GrooveEddy(jobs, self)
        self.readout = ReadoutBar()
        self.findings = FindingsBar()
        self._layout = ShapeLayout(self, self.duty_bar, self.side, self.strips, self.readout, self.findings)
        self.unfold, self.quantity = self._layout.unfold, self._layout.quantity
        self.pop_list, self.side_list = self._layout.pop_list, self._layout.side_list
        self._wire()
        self.show_evaluation(document.evaluation)

    def _wire(self) -> None:
        self.edits.wire_angle(self.angle)
        self.edits.pulled = self.side.pull_start
        self.edits.wire_section(self.section)
        for part in (self.duty_bar, self.side):
            part.sizes_wanted.connect(self.sizes_wanted)
        self.side.window_wanted.connect(self.window_wanted)
        self.pointer.changed.connect(self._show_pointing)
        self.duty_bar.designs.ghost_wanted.connect(self.show_ghost)
        self.quantity.activated.connect(lambda _: self.pointer.point(quantity=self.quantity.currentData()))
        self.forms.wall.corner.clicked.connect(lambda: self.edits.toggle_chosen_corner())
        self.forms.wall.delete.clicked.connect(lambda: self.edits.delete_chosen())
        self._heed(self.findings, self.pop_list, self.side_list)
        self.eddy.arrived.connect(self._show_scene)
        self.grooves.card_turned.connect(lambda _: self._show_scene())
        self.findings.opened.connect(self._open_list)
        self.unfold.clicked.connect(lambda: self._show_lists())
        self.section.installEventFilter(self)

    # what is shown

    def activated(self) -> None:
        """It follows the document at all times: other pages are filled from here on a click."""

    def show_evaluation(self, e: Evaluation) -> None:
        self._staging.take(e)
        if (self.pointer.now.knot or 0) >= len(self.document.design.wall.knots):
            self.pointer.point(knot=None, leaving=False)
        said = self._steady.evaluation
        if words := self._pace.due(self.document.in_gesture):
            self.duty_bar.show_study(self.document.study)
            self.duty_bar.show_evaluation(said, self.pointer.now.lengths)
            self.side.show_evaluation()
        self.findings.show_findings(said.findings, self.theme)
        for view in (self.pop_list, self.side_list):
            if view.isVisible():
                view.show_findings(said.findings, self.theme)
        if not self.document.in_gesture:
            self.fit()
        self._show_scene(words)

    def show_theme(self, theme: Theme) -> None:
        super().show_theme(theme)
        self.show_evaluation(self.document.evaluation)

    def show_lengths(self, unit: LengthUnit) -> None:
        """Show lengths in this unit; nothing held or computed changes."""
        self.pointer.point(lengths=unit)
        self.show_evaluation(self.document.evaluation)

    def scene(self) -> Scene:
        return self._staging.scene()

    def fit(self) -> None:
        """Fit the axis to the bowl unless the designer has zoomed."""
        self._staging.fit(float(self.section.height()))

    def fit_again(self) -> None:
        self.pointer.point(fitted=True)
        self.fit()

    def zoom(self, factor: float) -> None:
        """About the middle of what is seen."""
        axis = self.pointer.now.axis
        self.pointer.zoom(factor, 0.5 * (axis.top + axis.bottom))

    def _show_pointing(self, now: Pointing) -> None:
        self.forms.show_pointing(now, soon=self.document.pending)
        if not self.document.pending:  # else the scene is shown anyway in a moment
            self._show_scene()

    def _show_scene(self, words: bool = True) -> None:
        self._staging.eddy = self.eddy.found
        scene = self.scene()
        if not self.document.in_gesture:
            self.eddy.want(scene, self.grooves.card_open)
        for strip in self.strips:
            strip.show_scene(scene, self.theme)
        if words:
            z = scene.cursor_mm
            self.readout.show_reading(None if z is None else reading_at(self.document.evaluation, z), scene.lengths)

    # what stands left of the strips

    def begin_anew(self) -> None:
        self.side.show_forms()
        self.fit_again()

    def begin_lesson(self, lesson: "Lesson") -> None:
        """Beside the strips, in which its task is done."""
        self._unfold()
        self.side.begin_lesson(lesson)

    def toggle_findings(self) -> None:
        self.findings.count.toggle()

    def toggle_forms(self) -> None:
        self.unfold.click()

    @property
    def groove_looked_at(self) -> int | None:
        """The chosen groove, else the one nearest to the chosen knot."""
        now, shape, knots = self.pointer.now, self.document.evaluation.shape, self.document.design.wall.knots
        if now.groove is not None or shape is None or now.knot is None or now.knot >= len(knots):
            return now.groove
        return nearest_groove(shape, knots[now.knot].height_mm)

    def key_parts(self) -> Sequence[QWidget]:
        return self._layout.key_parts()

    def _unfold(self) -> None:
        self._layout.show_side(True)
        self._show_lists()

    # the ghost

    @property
    def has_ghost(self) -> bool:
        return self._staging.ghost.design is not None

    def toggle_ghost(self) -> None:
        """Keep the present curve as a ghost, or let it go."""
        self.show_ghost(None if self.has_ghost else self.document.design)

    def show_ghost(self, design: Design | None) -> None:
        """Draw this design faintly in all strips, or none."""
        self._staging.ghost.design = design
        self.ghost_changed.emit(self.has_ghost)
        self._show_scene()

    # findings

    def start_curve(self) -> None:
        """Curves to start from, in place of the forms."""
        self._unfold()
        self.side.show_start()

    def fit_bowl(self) -> None:
        """Fit the shown design to the machine; where a limit binds, show what remains in place of the forms."""
        found = fit_shown(self.document)
        if not found.met:
            self._unfold()
            self.side.show_fit(found)

    def show_steps(self) -> None:
        """Round the shown design to shop steps, in the place of the forms."""
        self._unfold()
        self.side.show_steps()

    def _open_list(self, on: bool) -> None:
        self._place()
        self.show_evaluation(self.document.evaluation)

    def _show_lists(self) -> None:
        for view in (self.pop_list, self.side_list):
            view.show_findings(self._steady.evaluation.findings, self.theme)

    # how it fits the window

    def _place(self) -> None:
        self._layout.place()
        self._show_lists()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if watched is self.section and event.type() == QEvent.Type.Resize:
            self.fit()
            self._place()
        return super().eventFilter(watched, event)

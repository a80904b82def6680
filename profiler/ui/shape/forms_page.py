"""A page of forms beside strips: what is typed at the left is seen at once at the right, and judged below.

The pages Machine and Ore are such pages. They keep a pointer of their own: each is zoomed for itself.
"""

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from profiler.assess import Evaluation
from profiler.pictures.basics.lengths import LengthUnit
from profiler.study import Design
from profiler.study.edits.list_edits import Listed
from profiler.ui.document.document import Document
from profiler.ui.document.fitting import fit_shown
from profiler.ui.document.steady_findings import SteadyFindings
from profiler.ui.forms.pane import FormsPane
from profiler.ui.shape.findings_list import FindingsList
from profiler.ui.shape.findings_page import FindingsPage
from profiler.ui.shape.findings_view import FindingsBar
from profiler.ui.shape.named_choice import NamedChoice
from profiler.ui.shape.shape_edits import ShapeEdits
from profiler.ui.shape.side_pane import WIDTH, SidePane
from profiler.ui.shape.staging import Staging
from profiler.ui.strips.base import Strip
from profiler.ui.widgets.pointer import Pointer, Pointing
from profiler.ui.widgets.theme import Theme
from profiler.ui.work.pace import WORDS_S, Pace

LIST_HEIGHT = 240
NAME_PX = 190


class FormsPage(FindingsPage):
    """Subclasses make forms and strips, call `_lay_out`, and say what else they show in `_show_more`."""

    def __init__(
        self, document: Document, forms: Sequence[FormsPane], side: SidePane, pointer: Pointer, windowed: bool = True
    ) -> None:
        """`side` holds the first of the forms; any others stand beside it. `windowed`: see `staging`."""
        super().__init__(document)
        self.forms, self.side, self.pointer = tuple(forms), side, pointer
        self.edits = ShapeEdits(document, pointer)
        self.findings, self.pop_list = FindingsBar(), FindingsList(self)
        self.named: NamedChoice
        self.strips: tuple[Strip, ...] = ()
        self._staging, self._pace = Staging(document, pointer, windowed), Pace(WORDS_S)
        self._steady = SteadyFindings(document)
        pointer.changed.connect(self._point)
        self._heed(self.findings, self.pop_list)
        self.findings.opened.connect(lambda _: self._place_list())
        self.pop_list.hide()

    def _lay_out(
        self, kind: Listed, bar: QHBoxLayout, strips: Sequence[tuple[Strip, int]], last: QWidget | None = None
    ) -> None:
        """`bar` stands above all; `strips` with their stretches, beside the forms; `last` after them."""
        self.strips = tuple(strip for strip, _ in strips)
        head = QHBoxLayout()
        head.setContentsMargins(8, 5, 8, 5)
        head.setSpacing(8)
        self.named = NamedChoice(self.document, kind, head, NAME_PX)
        head.addLayout(bar, 1)
        middle = QHBoxLayout()
        middle.setSpacing(0)
        middle.addWidget(self.side)
        for more in self.forms[1:]:
            more.setFixedWidth(WIDTH)
            middle.addWidget(more)
        grid = QGridLayout()
        grid.setSpacing(1)
        for place, (strip, stretch) in enumerate(strips):
            grid.addWidget(strip, 0, place)
            grid.setColumnStretch(place, stretch)
        if last is not None:
            grid.addWidget(last, 0, len(strips))
            grid.setColumnStretch(len(strips), 60)
        middle.addLayout(grid, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(head)
        column.addLayout(middle, 1)
        column.addWidget(self.findings)
        self.strips[0].installEventFilter(self)

    # what is shown

    def show_evaluation(self, e: Evaluation) -> None:
        self._staging.take(e)
        if not self.isVisible():
            return
        if (self.pointer.now.knot or 0) >= len(self.document.design.wall.knots):
            self.pointer.point(knot=None, leaving=False)
        if self._pace.due(self.document.in_gesture):
            self.named.show_study(self.document.study)
            for forms in self.forms:
                forms.show_evaluation(e)
        self.findings.show_findings(self._steady.evaluation.findings, self.theme)
        if self.pop_list.isVisible():
            self.pop_list.show_findings(self._steady.evaluation.findings, self.theme)
        if not self.document.in_gesture:
            self._fit()
        self._show_scene()

    def show_theme(self, theme: Theme) -> None:
        super().show_theme(theme)
        self.show_evaluation(self.document.evaluation)

    def show_lengths(self, unit: LengthUnit) -> None:
        self.pointer.point(lengths=unit)
        self.show_evaluation(self.document.evaluation)

    def show_ghost(self, design: Design | None) -> None:
        """Draw this design faintly, or none."""
        self._staging.ghost.design = design
        self._show_scene()

    def toggle_findings(self) -> None:
        self.findings.count.toggle()

    def toggle_forms(self) -> None:
        """All of the width for the strips, or the forms beside them again."""
        shown = self.side.isHidden()
        for part in (self.side, *self.forms[1:]):
            part.setVisible(shown)

    def zoom(self, factor: float) -> None:
        """About the middle of what is seen."""
        axis = self.pointer.now.axis
        self.pointer.zoom(factor, 0.5 * (axis.top + axis.bottom))

    def begin_anew(self) -> None:
        self.side.show_forms()
        self.fit_again()

    def fit_again(self) -> None:
        self.pointer.point(fitted=True)
        self._fit()

    def fit_bowl(self) -> None:
        """Fit the shown design to the machine; where a limit binds, show what remains in place of the forms."""
        found = fit_shown(self.document)
        if not found.met:
            self.side.show_fit(found)

    # inside

    def _fit(self) -> None:
        self._staging.fit(float(self.strips[0].height()))

    def _point(self, _: Pointing) -> None:
        if self.isVisible() and not self.document.pending:  # else it is shown anyway in a moment
            self._show_scene()

    def _show_scene(self) -> None:
        scene = self._staging.scene()
        for strip in self.strips:
            strip.show_scene(scene, self.theme)

    def _place_list(self) -> None:
        is_open = self.findings.count.isChecked()
        left, top = self.strips[0].x(), self.findings.y() - LIST_HEIGHT
        self.pop_list.setGeometry(left, top, self.width() - left, LIST_HEIGHT)
        self.pop_list.setVisible(is_open)
        self.pop_list.raise_()
        self.show_evaluation(self.document.evaluation)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Resize and self.strips and watched is self.strips[0]:
            self._fit()
            self._place_list()
        return super().eventFilter(watched, event)

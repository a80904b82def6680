"""The page Ore: duties, size classes, the ore window; beside the wall angle with its band, and the ore map."""

from collections.abc import Sequence

from PySide6.QtWidgets import QHBoxLayout, QWidget

from profiler.study.edits.list_edits import Listed
from profiler.ui.document.document import Document
from profiler.ui.forms.duty_group import DutyGroup
from profiler.ui.forms.pane import FormsPane
from profiler.ui.ore.measured_pane import MeasuredPane
from profiler.ui.ore.ore_map import OreMapPanel
from profiler.ui.ore.sizes_pane import SizesPane
from profiler.ui.ore.window_pane import WindowPane
from profiler.ui.shape.forms_page import FormsPage
from profiler.ui.shape.side_pane import SidePane
from profiler.ui.strips.angle import AngleStrip
from profiler.ui.strips.gutter import GutterStrip
from profiler.ui.widgets.pointer import Pointer
from profiler.ui.widgets.theme import Theme
from profiler.ui.work.jobs import Jobs

ANGLE_PX = 200  # at least


class OrePage(FormsPage):
    """Knots are moved here as on Shape: the wall is often turned for what an ore does to the band."""

    def __init__(self, document: Document, jobs: Jobs) -> None:
        pointer = Pointer()
        self.duty = DutyGroup(document)
        forms = FormsPane(document, (self.duty,))
        super().__init__(document, (forms,), SidePane(document, forms), pointer)
        self.duty.sizes_wanted.connect(self.show_sizes)
        self.duty.window_wanted.connect(self.show_window)
        self.sizes = self.side.pane(SizesPane, lambda: SizesPane(document))
        self.map = OreMapPanel(document, jobs)
        self.gutter, self.angle = GutterStrip(pointer), AngleStrip(pointer)
        self.angle.setMinimumWidth(ANGLE_PX)
        self.edits.wire_angle(self.angle)
        bar = QHBoxLayout()
        bar.addStretch(1)
        bar.addWidget(self.map.standing)
        self._lay_out(Listed.DUTY, bar, ((self.gutter, 0), (self.angle, 26)), self.map)

    def key_parts(self) -> Sequence[QWidget]:
        return (self.named.combo, self.side, self.angle, *self.map.key_parts(), self.findings.count)

    def show_theme(self, theme: Theme) -> None:
        super().show_theme(theme)
        self.map.show_theme(theme)
        self.sizes.show_theme(theme)

    def activated(self) -> None:
        super().activated()
        self.map.activated()

    def show_window(self) -> None:
        """Build an ore window around the shown duty, in the place of the forms."""
        pane = self.side.pane(WindowPane, lambda: WindowPane(self.document))
        pane.show_duty()
        self.side.turn_to(pane)

    def show_measured(self) -> None:
        """Measurements, and the friction they give."""
        pane = self.side.pane(MeasuredPane, lambda: MeasuredPane(self.document))
        pane.show_study()
        self.side.turn_to(pane)

    def show_sizes(self) -> None:
        """The shown duty's size classes, in the place of the forms."""
        self.side.turn_to(self.sizes)

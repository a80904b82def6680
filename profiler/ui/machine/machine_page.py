"""The page Machine: what the bowl must fit, what surrounds it, how it spins; beside the section with its clearances."""

from collections.abc import Callable, Sequence

from PySide6.QtWidgets import QHBoxLayout, QWidget

from profiler.study.edits.list_edits import Listed
from profiler.ui.document.document import Document
from profiler.ui.forms.body_group import BodyGroup
from profiler.ui.forms.group import plain_button
from profiler.ui.forms.machine_group import MachineGroup
from profiler.ui.forms.pane import FormsPane
from profiler.ui.forms.spin_group import SpinGroup
from profiler.ui.shape.forms_page import FormsPage
from profiler.ui.shape.side_pane import SidePane
from profiler.ui.strips.gutter import GutterStrip
from profiler.ui.strips.section import SectionStrip
from profiler.ui.widgets.pointer import Pointer


class MachinePage(FormsPage):
    """A study begins here: new, or with an envelope read from a drawing. Grooves are moved here as on Shape."""

    def __init__(self, document: Document, new_study: Callable[[], None], read_envelope: Callable[[], None]) -> None:
        pointer = Pointer()
        self.machine, self.body = MachineGroup(document), BodyGroup(document)
        self.spin = SpinGroup(document, pointer)
        forms = FormsPane(document, (self.machine,)), FormsPane(document, (self.body, self.spin))
        super().__init__(document, forms, SidePane(document, forms[0]), pointer, windowed=False)
        self.gutter, self.section = GutterStrip(pointer), SectionStrip(pointer)
        self.edits.wire_section(self.section)
        bar = QHBoxLayout()
        bar.setSpacing(6)
        self.new = plain_button("New study…", "A machine and a first duty, and a plain cone that fits", bar)
        self.new.clicked.connect(lambda: new_study())
        self.envelope = plain_button("Envelope from a drawing…", "Seat, lip and height from a DXF or from points", bar)
        self.envelope.clicked.connect(lambda: read_envelope())
        self.fit_button = plain_button(
            "Fit the bowl", "Lip radius, height, grooves and outside at once, or the limit that prevents it", bar
        )
        self.fit_button.clicked.connect(self.fit_bowl)
        bar.addStretch(1)
        self._lay_out(Listed.DESIGN, bar, ((self.gutter, 0), (self.section, 1)))

    def key_parts(self) -> Sequence[QWidget]:
        return (self.named.combo, self.new, self.side, self.forms[1], self.section, self.findings.count)

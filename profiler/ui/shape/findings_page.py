"""A page with strips whose findings are pointed at in them and mended from there: Shape, and the pages of forms."""

from PySide6.QtGui import QKeyEvent

from profiler.assess import Finding
from profiler.assess.fitting.fit import FIT_WORDS
from profiler.ui.document.steady_findings import apply_remedy
from profiler.ui.pages.page import Page
from profiler.ui.shape.findings_list import FindingsList
from profiler.ui.shape.findings_view import FindingsBar, point_at
from profiler.ui.widgets.keys import Key, answered, keyed
from profiler.ui.widgets.pointer import Pointer

KEYS: tuple[Key["FindingsPage"], ...] = (keyed("Close the list of all findings", lambda p: p.close_list(), "Esc"),)


class FindingsPage(Page):
    """Subclasses make the parts named here, and hand what shows findings to `_heed`."""

    can_zoom = has_forms = True

    pointer: Pointer
    findings: FindingsBar  # its count opens the list of all

    def close_list(self) -> bool:
        """False where it is not open."""
        was_open = self.findings.count.isChecked()
        self.findings.count.setChecked(False)
        return was_open

    def fit_bowl(self) -> None:
        """Fit the shown design to the machine; where a limit binds, show what remains in place of the forms."""
        raise NotImplementedError

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not answered(self, KEYS, event):
            super().keyPressEvent(event)

    # inside

    def _heed(self, *views: FindingsBar | FindingsList) -> None:
        for view in views:
            view.pointed.connect(self._point_at)
            view.remedied.connect(self._remedy)

    def _point_at(self, finding: Finding) -> None:
        point_at(self.pointer, finding)

    def _remedy(self, finding: Finding | None) -> None:
        if finding is not None and finding.remedy is not None and finding.remedy.label == FIT_WORDS:
            self.fit_bowl()
        else:
            apply_remedy(self.document, finding)

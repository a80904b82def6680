"""The chosen groove's computed flow for card and section strip: asked for beside the window, when the study rests."""

from PySide6.QtCore import QObject, Signal

from profiler.assess.eddy.answers import Answer, middle_case
from profiler.assess.eddy.lids import USUAL
from profiler.physics.eddy.flow import COARSE, Eddy
from profiler.pictures.strips.eddy_marks import large_enough
from profiler.pictures.strips.scene import Scene
from profiler.ui.work.jobs import Jobs

KEY = "groove eddy"


class GrooveEddy(QObject):
    """`found` is what was last worked out, with the flow it belongs to; scenes show it where that is the one shown."""

    arrived = Signal()

    def __init__(self, jobs: Jobs, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._jobs = jobs
        self._asked: tuple[object, int] | None = None
        self._last: Eddy | None = None
        self.found: tuple[object, Answer] | None = None

    def want(self, scene: Scene, card_open: bool) -> None:
        """Ask where the groove is seen large, or its card is open, and nothing was asked of it yet."""
        e, groove = scene.shown, scene.groove
        if e is None or e.shape is None or e.catch is None or groove is None or groove > len(e.shape.mouths):
            return
        known = self._asked is not None and self._asked[0] is e.flow and self._asked[1] == groove
        if known or not (card_open or large_enough(scene, e.shape)):
            return
        self._asked = (e.flow, groove)
        start = self._last
        self._jobs.ask(KEY, lambda progress: middle_case(e, groove, USUAL, COARSE, start),
                       lambda found: self._take(e.flow, found))  # fmt: skip

    def _take(self, flow: object, found: Answer) -> None:
        self.found = (flow, found)
        if found.case is not None:
            self._last = found.case.eddy
        self.arrived.emit()

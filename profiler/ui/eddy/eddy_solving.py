"""The eddy worked out beside the window: coarse while a hand turns the wall, then fine, then grains, then curves.

One key for all of it: whatever is asked anew gives up what was under way for an older question.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

from PySide6.QtCore import QObject, QTimer, Signal

from profiler.assess import Evaluation
from profiler.assess.eddy.answers import Answer, answer, middle_case
from profiler.assess.eddy.grains_moved import Lifted, Moving, lifted, moving
from profiler.assess.eddy.lids import Setting
from profiler.explore.eddy_what_if import Along, Swept, swept
from profiler.physics.eddy.flow import COARSE, FINE, Eddy
from profiler.progress import Progress
from profiler.ui.work.jobs import Jobs

T = TypeVar("T")
KEY = "eddy"
REST_MS = 350  # after the last move, before the fine answer


@dataclass(frozen=True, slots=True)
class Question:
    e: Evaluation
    groove: int
    setting: Setting
    along: Along


class EddySolving(QObject):
    """Answers arrive as signals, each with the question it belongs to."""

    found = Signal(object, object)  # Question, Answer: coarse, and then fine with its band
    grains = Signal(object, object, object)  # Question, Moving, Lifted or None
    curves = Signal(object, object)  # Question, Swept
    failed = Signal(object, str)

    def __init__(self, jobs: Jobs, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._jobs = jobs
        self._asked: Question | None = None
        self._last: Eddy | None = None  # a neighbour to start from
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST_MS)
        self._rest.timeout.connect(self._refine)

    def ask(self, question: Question) -> None:
        self._asked = question
        start = self._last
        self._rest.stop()
        self._work(
            question,
            lambda progress: middle_case(question.e, question.groove, question.setting, COARSE, start),
            self._coarse,
        )

    def stop(self) -> None:
        self._rest.stop()
        self._jobs.cancel(KEY)

    def _coarse(self, question: Question, found: Answer) -> None:
        self._keep(found)
        self.found.emit(question, found)
        self._rest.start()

    def _refine(self) -> None:
        question, start = self._asked, self._last
        if question is not None:
            self._work(
                question,
                lambda progress: answer(question.e, question.groove, question.setting, FINE, start, progress),
                self._fine,
            )

    def _fine(self, question: Question, found: Answer) -> None:
        self._keep(found)
        self.found.emit(question, found)

        def grains(progress: Progress) -> tuple[Moving, Lifted | None]:
            return moving(question.e, found, progress), lifted(question.e, found)

        def done(q: Question, both: tuple[Moving, Lifted | None]) -> None:
            self.grains.emit(q, *both)
            self._sweep(q)

        self._work(question, grains, done)

    def _sweep(self, question: Question) -> None:
        start = self._last

        def sweep(progress: Progress) -> Swept:
            return swept(question.e, question.groove, question.along, question.setting, start, progress)

        self._work(question, sweep, self.curves.emit)

    def _keep(self, found: Answer) -> None:
        if found.case is not None:
            self._last = found.case.eddy

    def _work(self, question: Question, work: Callable[[Progress], T], done: Callable[[Question, T], None]) -> None:
        def tell(result: T) -> None:
            if question is self._asked:
                done(question, result)

        self._jobs.ask(KEY, work, tell, failed=lambda words: self.failed.emit(question, words))

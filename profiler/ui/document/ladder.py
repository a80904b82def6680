"""The design under every duty of the ore window: worked out in one batch, and only when something changed."""

from profiler.assess import Evaluation
from profiler.assess.evaluate.batch import under, workable
from profiler.study import Duty
from profiler.ui.work.pace import Pace

BETWEEN_S = 0.05  # from one batch to the next while something is dragged


class Ladder:
    """Keeps the last batch; asked again with the very same values, it answers without working."""

    def __init__(self) -> None:
        self._of: Evaluation | None = None
        self._duties: tuple[Duty, ...] = ()
        self._kept: Evaluation | None = None
        self._pace = Pace(BETWEEN_S)

    @property
    def last(self) -> Evaluation | None:
        """The last batch, for a picture that no longer tells the present state."""
        return self._kept

    def of(self, e: Evaluation, window: tuple[Duty, ...], hurried: bool = False) -> Evaluation | None:
        """The evaluation's design under the window's duties; None for an empty window or where there is no shape.

        While something is dragged (`hurried`) the ladder follows some twenty times a second, not with every move.
        """
        duties = workable(window)
        if not duties or e.shape is None:
            return None
        stale = self._of is None or self._of.shape is not e.shape or self._duties != duties
        if stale and self._pace.due(hurried and self._duties == duties):
            self._of, self._duties, self._kept = e, duties, under(e, duties)
        return self._kept

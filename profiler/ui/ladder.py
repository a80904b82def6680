"""The design under every duty of the ore window: worked out in one batch, and only when something changed."""

from ..assess import Evaluation
from ..assess.batch import under, workable
from ..study import Duty


class Ladder:
    """Keeps the last batch; asked again with the very same values, it answers without working."""

    def __init__(self) -> None:
        self._of: Evaluation | None = None
        self._duties: tuple[Duty, ...] = ()
        self._kept: Evaluation | None = None

    def of(self, e: Evaluation, window: tuple[Duty, ...]) -> Evaluation | None:
        """The evaluation's design under the window's duties; None for an empty window or where there is no shape."""
        duties = workable(window)
        if not duties or e.shape is None:
            return None
        if self._of is None or self._of.shape is not e.shape or self._duties != duties:
            self._of, self._duties, self._kept = e, duties, under(e, duties)
        return self._kept

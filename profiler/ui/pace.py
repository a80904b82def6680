"""Words and numbers that are read, not watched, follow a drag some 25 times a second; pictures follow every move.

Nothing stays behind: once the hand holds still, the document tells its evaluation again.
"""

from time import monotonic

BETWEEN_S = 0.04


class Pace:
    """Says whether it is time to show them again."""

    def __init__(self) -> None:
        self._when = 0.0

    def due(self, hurried: bool) -> bool:
        """`hurried` while something is dragged; otherwise it is always time."""
        now = monotonic()
        if hurried and now - self._when < BETWEEN_S:
            return False
        self._when = now
        return True

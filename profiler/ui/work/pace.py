"""What need not follow every move of a drag: how often it does.

Nothing stays behind: 80 ms after the last input the document tells its evaluation again.
"""

from time import monotonic

WORDS_S = 0.04  # read, not watched: read-out, forms, top bar; pictures follow every move


class Pace:
    """Says whether it is time again."""

    def __init__(self, between_s: float) -> None:
        self._between = between_s
        self._when = 0.0

    def due(self, hurried: bool) -> bool:
        """`hurried` while something is dragged; otherwise it is always time."""
        now = monotonic()
        if hurried and now - self._when < self._between:
            return False
        self._when = now
        return True

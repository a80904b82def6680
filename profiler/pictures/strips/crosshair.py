"""The crosshair's line across a strip: it stops short of words, which it would strike through."""

from collections.abc import Iterable

import numpy as np

from profiler.pictures.basics.display import Align, Item, Label, Role, Strokes

LETTER = 0.74  # width of a letter over the size of its type, on the wide side, in px a point
GAP_PX = 4.0
SHARE = {Align.LEFT: 0.0, Align.CENTRE: 0.5, Align.RIGHT: 1.0}  # of a label's width left of its place


def across(label: Label) -> tuple[float, float]:
    """From where to where a label reaches, px, on the wide side."""
    wide = LETTER * label.size * len(label.text) * (1.1 if label.bold else 1.0)
    left = label.x - SHARE[label.align] * wide
    return left, left + wide


def crosshair(y: float, width: float, items: Iterable[Item]) -> Strokes:
    """The level line at `y`, but for where a label of these items lies."""
    words = (i for i in items if isinstance(i, Label) and i.text and abs(i.y - y) < i.size)
    pieces, start = [], 0.0
    for left, right in sorted(across(label) for label in words):
        if left - GAP_PX > start:
            pieces.append([[start, y], [left - GAP_PX, y]])
        start = max(start, right + GAP_PX)
    if start < width:
        pieces.append([[start, y], [width, y]])
    return Strokes(np.array(pieces, dtype=np.float64).reshape(-1, 2, 2), Role.CURSOR)

"""Sheet sizes, frames and scales of standard drawings.

Sizes and margins: ISO 5457:1999 and ISO 216 (20 mm at the left for filing, 10 mm elsewhere; A4 stands upright, the
others lie). Scales: ISO 5455. Title block 180 mm wide, lower right: ISO 7200. Centring marks, grid fields of 50 mm and
the 0.7 mm frame line are meant to be those of ISO 5457, not yet checked against it: no dimension depends on them.
"""

import itertools
from dataclasses import dataclass
from math import ceil, floor

from profiler.pictures.basics.display import Align
from profiler.pictures.sheet.items import Item, Pen, Text, polyline, rectangle

FILING, MARGIN = 20.0, 10.0
FIELD = 50.0
SCALES = (10.0, 5.0, 2.0, 1.0, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01)
LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"  # without I and O


@dataclass(frozen=True, slots=True)
class Paper:
    """A trimmed sheet and its frame; mm from the lower left corner."""

    name: str
    width: float
    height: float

    @property
    def left(self) -> float:
        return FILING

    @property
    def bottom(self) -> float:
        return MARGIN

    @property
    def right(self) -> float:
        return self.width - MARGIN

    @property
    def top(self) -> float:
        return self.height - MARGIN

    @property
    def frame(self) -> tuple[float, float, float, float]:
        return self.left, self.bottom, self.right, self.top


PAPERS = (
    Paper("A4", 210.0, 297.0),
    Paper("A3", 420.0, 297.0),
    Paper("A2", 594.0, 420.0),
    Paper("A1", 841.0, 594.0),
    Paper("A0", 1189.0, 841.0),
)


def paper(name: str) -> Paper:
    """Raises ValueError for a size that is not among them."""
    for size in PAPERS:
        if size.name == name.upper():
            return size
    raise ValueError(f"There is no sheet {name}; there are {', '.join(p.name for p in PAPERS)}.")


def scale_named(text: str) -> float:
    """'1:5' or '2:1' as a factor. Raises ValueError for a scale that is not standard."""
    for scale in SCALES:
        if scale_text(scale) == text.replace(" ", ""):
            return scale
    raise ValueError(f"{text} is not a standard scale; there are {', '.join(map(scale_text, SCALES))}.")


def scale_text(scale: float) -> str:
    return f"{scale:g}:1" if scale >= 1.0 else f"1:{1.0 / scale:g}"


def frame_items(size: Paper) -> list[Item]:
    """Trimmed edge, frame, centring marks and grid references."""
    left, bottom, right, top = size.frame
    items: list[Item] = [
        rectangle(0.0, 0.0, size.width, size.height, Pen.TRIM),
        rectangle(left, bottom, right, top, Pen.FRAME),
    ]
    x, y = 0.5 * size.width, 0.5 * size.height
    ends = (((x, 0.0), (x, bottom)), ((x, size.height), (x, top)),
            ((0.0, y), (left, y)), ((size.width, y), (right, y)))  # fmt: skip
    items += [polyline(pair, Pen.FRAME) for pair in ends]
    return items + _grid(size)


def _grid(size: Paper) -> list[Item]:
    """Numbers across and letters down, in fields of 50 mm counted from the middle of the sheet."""
    left, bottom, right, top = size.frame
    items: list[Item] = []
    across, upright = _fields(left, right, 0.5 * size.width), _fields(bottom, top, 0.5 * size.height)
    for x in across[1:-1]:
        items += [polyline([(x, a), (x, b)], Pen.RULE) for a, b in ((bottom - 5.0, bottom), (top, top + 5.0))]
    for y in upright[1:-1]:
        items += [polyline([(a, y), (b, y)], Pen.RULE) for a, b in ((left - 5.0, left), (right, right + 5.0))]
    for k, (a, b) in enumerate(itertools.pairwise(across), 1):
        items += [_reference(0.5 * (a + b), y, str(k)) for y in (bottom - 4.2, top + 1.7)]
    for k, (a, b) in enumerate(zip(upright[::-1], upright[-2::-1], strict=False)):
        items += [_reference(x, 0.5 * (a + b) - 1.25, LETTERS[k]) for x in (left - 2.5, right + 2.5)]
    return items


def _reference(x: float, y: float, text: str) -> Text:
    return Text(x, y, text, 2.5, Align.CENTRE, in_margin=True)


def _fields(low: float, high: float, middle: float) -> list[float]:
    first, last = ceil((low - middle) / FIELD + 0.2), floor((high - middle) / FIELD - 0.2)
    return [low, *(middle + FIELD * k for k in range(first, last + 1)), high]

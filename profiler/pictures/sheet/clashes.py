"""Whether texts of a sheet meet one another or leave the frame: boxes of real widths, turned with the text."""

from collections.abc import Iterable, Sequence
from math import cos, radians, sin

import numpy as np

from ...geometry.chain import FloatArray
from ..display import Align
from .dimensions import parts_of
from .items import Dimension, Item, Sheet, Text
from .lettering import ASCENT, DESCENT, text_width

_SHARE = {Align.LEFT: 0.0, Align.CENTRE: 0.5, Align.RIGHT: 1.0}
LEAST_AIR = 0.2  # mm that two texts keep between them


def texts_of(items: Iterable[Item]) -> list[Text]:
    """Every text, those of dimensions too."""
    found = []
    for item in items:
        if isinstance(item, Text):
            found.append(item)
        elif isinstance(item, Dimension):
            found.append(parts_of(item).text)
    return found


def box(text: Text, air: float = 0.0) -> FloatArray:
    """(4, 2) corners round a text."""
    width = text_width(text.text, text.height, text.bold)
    left = -_SHARE[text.align] * width
    low, high = -DESCENT * text.height - air, ASCENT * text.height + air
    flat = np.array([[left - air, low], [left + width + air, low], [left + width + air, high], [left - air, high]])
    c, s = cos(radians(text.angle_deg)), sin(radians(text.angle_deg))
    return np.asarray(flat @ np.array([[c, s], [-s, c]]) + np.array([text.x, text.y]))


def boxes_of(texts: Sequence[Text], air: float = 0.0) -> FloatArray:
    """(n, 4, 2)"""
    return np.array([box(t, air) for t in texts]).reshape(-1, 4, 2)


def meets(one: FloatArray, others: FloatArray) -> bool:
    """Whether a box (4, 2) overlaps any of others (n, 4, 2)."""
    return bool(len(others)) and bool(np.any(_overlaps(one[None], others)))


def clashes(sheet: Sheet) -> list[str]:
    """One sentence for each pair of texts that meet and each text that leaves the frame."""
    texts = [t for t in texts_of(sheet.items) if t.text.strip()]
    boxes = boxes_of(texts, 0.5 * LEAST_AIR)
    first, second = np.triu_indices(len(texts), 1)
    low, high = boxes.min(axis=1), boxes.max(axis=1)
    near = np.all((low[first] < high[second]) & (low[second] < high[first]), axis=1)
    first, second = first[near], second[near]
    hit = _overlaps(boxes[first], boxes[second])
    pairs = zip(first[hit], second[hit], strict=True)
    found = [f'"{texts[i].text}" meets "{texts[j].text}"' for i, j in pairs]
    left, bottom, right, top = sheet.frame
    outside = np.any((low < (left, bottom)) | (high > (right, top)), axis=1)
    found += [f'"{t.text}" leaves the frame' for t, out in zip(texts, outside, strict=True) if out and not t.in_margin]
    return found


def _overlaps(a: FloatArray, b: FloatArray) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    """Separating axes of pairs of rectangles (n, 4, 2)."""
    a, b = np.broadcast_arrays(a, b)
    apart = np.zeros(len(a), dtype=bool)
    for boxes in (a, b):
        for k in (0, 1):
            axis = boxes[:, k + 1] - boxes[:, k]
            one, other = (np.einsum("nij,nj->ni", c, axis) for c in (a, b))
            apart |= (one.max(axis=1) <= other.min(axis=1)) | (other.max(axis=1) <= one.min(axis=1))
    return ~apart

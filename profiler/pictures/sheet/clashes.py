"""Whether texts of a sheet meet one another, lie across a line or leave the frame: boxes of real widths, turned."""

from collections.abc import Iterable, Sequence
from math import cos, radians, sin

import numpy as np

from profiler.geometry.chain import FloatArray, sampled
from profiler.pictures.sheet.dimensions import parts_of
from profiler.pictures.sheet.items import Angle, Arrow, Dimension, Item, Path, Pen, Sheet, Text
from profiler.pictures.sheet.lettering import ASCENT, DESCENT

LEAST_AIR = 0.2  # mm that two texts keep between them
SAG = 0.05  # mm between an arc and the chords that stand for it here
OUTSIDE = (Pen.FRAME, Pen.TRIM)  # what a text must not pass at all


def texts_of(items: Iterable[Item]) -> list[Text]:
    """Every text, those of dimensions too."""
    found = []
    for item in items:
        if isinstance(item, Text):
            found.append(item)
        elif isinstance(item, Dimension | Angle):
            found.append(parts_of(item).text)
    return found


def strokes_of(items: Iterable[Item]) -> FloatArray:
    """(n, 2, 2) Every line but the frame's as straight pieces, those of dimensions and heads too."""
    runs: list[FloatArray] = []
    for item in items:
        if isinstance(item, Dimension | Angle):
            parts = parts_of(item)
            runs += [_run(line) for line in parts.lines]
            runs += [_loop(arrow.corners) for arrow in parts.arrows]
        elif isinstance(item, Arrow):
            runs.append(_loop(item.corners))
        elif isinstance(item, Path) and item.pen not in OUTSIDE:
            runs.append(_run(item))
    pieces = [np.stack((run[:-1], run[1:]), axis=1) for run in runs]
    return np.concatenate(pieces) if pieces else np.zeros((0, 2, 2))


def box(text: Text, air: float = 0.0) -> FloatArray:
    """(4, 2) corners round a text."""
    width, left = text.width, -text.left
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


def crossed(one: FloatArray, strokes: FloatArray) -> bool:
    """Whether any of straight pieces (n, 2, 2) passes through a box (4, 2)."""
    return bool(_struck(one[None], strokes))


def extents(items: Iterable[Item]) -> tuple[float, float, float, float]:
    """Left, bottom, right and top of all that is drawn and written; something must be."""
    listed = list(items)
    points = np.concatenate([strokes_of(listed).reshape(-1, 2), boxes_of(texts_of(listed)).reshape(-1, 2)])
    (left, bottom), (right, top) = points.min(axis=0).tolist(), points.max(axis=0).tolist()
    return left, bottom, right, top


def clashes(sheet: Sheet) -> list[str]:
    """One sentence for each pair of texts that meet, and each text that lies across a line or leaves the frame."""
    texts = [t for t in texts_of(sheet.items) if t.text.strip()]
    boxes = boxes_of(texts, 0.5 * LEAST_AIR)
    first, second = np.triu_indices(len(texts), 1)
    low, high = boxes.min(axis=1), boxes.max(axis=1)
    near = np.all((low[first] < high[second]) & (low[second] < high[first]), axis=1)
    first, second = first[near], second[near]
    hit = _overlaps(boxes[first], boxes[second])
    pairs = zip(first[hit], second[hit], strict=True)
    found = [f'"{texts[i].text}" meets "{texts[j].text}"' for i, j in pairs]
    found += [f'"{texts[i].text}" lies across a line' for i in _struck(boxes, strokes_of(sheet.items))]
    left, bottom, right, top = sheet.frame
    outside = np.any((low < (left, bottom)) | (high > (right, top)), axis=1)
    found += [f'"{t.text}" leaves the frame' for t, out in zip(texts, outside, strict=True) if out and not t.in_margin]
    return found


def _run(path: Path) -> FloatArray:
    chain = path.chain
    points = sampled(chain, SAG) if np.any(chain.bulges) else chain.points
    return _loop(points) if chain.closed else points


def _loop(points: FloatArray) -> FloatArray:
    return np.concatenate((points, points[:1]))


def _struck(boxes: FloatArray, strokes: FloatArray) -> list[int]:
    """Which boxes (n, 4, 2) a straight piece (m, 2, 2) passes through."""
    near = np.ones((len(boxes), len(strokes)), dtype=bool)
    for k in (0, 1):
        near &= boxes[:, None, :, k].min(axis=2) < strokes[None, :, :, k].max(axis=2)
        near &= strokes[None, :, :, k].min(axis=2) < boxes[:, None, :, k].max(axis=2)
    which, piece = np.nonzero(near)
    return sorted(set(which[_cut(boxes[which], strokes[piece])].tolist()))


def _cut(boxes: FloatArray, strokes: FloatArray) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    """Whether each piece (n, 2, 2) enters its box (n, 4, 2), seen along the box's own sides (after Liang, Barsky)."""
    sides = np.stack((boxes[:, 1] - boxes[:, 0], boxes[:, 3] - boxes[:, 0]), axis=1)
    sides = sides / np.sum(sides**2, axis=2, keepdims=True)
    seen = np.einsum("nki,nji->njk", sides, strokes - boxes[:, :1])
    a, step = seen[:, 0], seen[:, 1] - seen[:, 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        one, two = -a / step, (1.0 - a) / step
    level = np.abs(step) < 1e-12
    inside = (a > 0.0) & (a < 1.0)
    first = np.where(level, np.where(inside, 0.0, 2.0), np.minimum(one, two)).max(axis=1)
    last = np.where(level, 1.0, np.maximum(one, two)).min(axis=1)
    return np.asarray(np.maximum(first, 0.0) < np.minimum(last, 1.0))


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

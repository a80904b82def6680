"""The model's record as a picture: predicted against measured slope, and their ratio against the grains delivered.

Left, the line of agreement with 30 per cent either side; a bar over each run is the friction band. The flumes had only
a few slopes, so runs hide each other there; right, the same runs spread out by the grains they deliver. Nothing is
computed here.
"""

from dataclasses import dataclass

import numpy as np

from profiler.assess.evidence.flumes import WITHIN, BoolArray, FloatArray, Record
from profiler.pictures.basics.display import Align, Area, Dot, Item, Label, Line, Picture, Role, Strokes
from profiler.pictures.basics.frame import Frame, framed

STEEPEST_PCT = 30.0  # both the middle runs and their bands end below
LARGEST_RATIO = 1.6
_DOT = 3.0


@dataclass(frozen=True, slots=True)
class _Mark:
    """How a part of the runs is drawn, and what it is called."""

    chosen: BoolArray
    words: str
    role: Role
    filled: bool
    square: bool
    aside: float = 0.0  # px, so that clear water and clay do not hide each other


def flume_record(record: Record, width: float, height: float) -> tuple[Picture, Picture]:
    """Two pictures that share `width`, side by side."""
    half = 0.5 * width
    return _slopes(record, half, height), _ratios(record, half, height)


def _marks(record: Record) -> tuple[_Mark, ...]:
    return (
        _Mark(record.clear, "clear water", Role.REPOSE, True, False, -3.5),
        _Mark(record.clay, "clay", Role.WALL, False, False, 3.5),
        _Mark(record.thick_clay, "thick clay", Role.STOP, False, True, 3.5),
    )


def _slopes(record: Record, width: float, height: float) -> Picture:
    limits = (0.0, STEEPEST_PCT)
    frame = framed(width, height, (0.0, 25.0), limits, "measured slope, %", "predicted slope, %")
    ends = np.array([0.0, 25.0])
    items: list[Item] = [_wedge(frame, ends), *frame.grid()]
    items.append(Line(frame.points(ends, ends), Role.FAINT, 1.4))
    for share in (1.0 - WITHIN, 1.0 + WITHIN):
        reach = ends[1] * min(1.0, STEEPEST_PCT / (share * ends[1]))
        line = np.array([0.0, reach])
        items.append(Line(frame.points(line, share * line), Role.FAINT, 1.0, (5.0, 3.0)))
    for mark in _marks(record):
        x = frame.x.pxs(100.0 * record.runs.slope) + mark.aside
        items += _runs(mark, x, *(frame.y.pxs(100.0 * a) for a in (record.low, record.middle, record.high)))
    return Picture(width, height, (*items, *frame.scales(), *_legend(record, frame)))


def _ratios(record: Record, width: float, height: float) -> Picture:
    limits = (0.0, LARGEST_RATIO)
    most = 1.05 * float(np.max(record.runs.fraction))
    frame = framed(width, height, (0.0, most), limits, "delivered grains by volume, C", "predicted over measured")
    ends = np.array([0.0, most])
    low, high = (np.full(2, 1.0 + sign * WITHIN) for sign in (-1.0, 1.0))
    shape = np.vstack((frame.points(ends, low), frame.points(ends, high)[::-1]))
    items: list[Item] = [Area(shape, Role.BAND, 0.35), *frame.grid()]
    items.append(Line(frame.points(ends, np.ones(2)), Role.FAINT, 1.4))
    items += [Line(frame.points(ends, level), Role.FAINT, 1.0, (5.0, 3.0)) for level in (low, high)]
    slope = record.runs.slope
    for mark in _marks(record):
        x = frame.x.pxs(record.runs.fraction)
        items += _runs(mark, x, *(frame.y.pxs(a / slope) for a in (record.low, record.middle, record.high)))
    return Picture(width, height, (*items, *frame.scales()))


def _wedge(frame: Frame, ends: FloatArray) -> Item:
    """What lies within 30 per cent of agreement, as far as the picture reaches."""
    reach = STEEPEST_PCT / (1.0 + WITHIN)
    upper = np.array([0.0, reach, ends[1]])
    top = frame.points(upper, np.minimum((1.0 + WITHIN) * upper, STEEPEST_PCT))
    return Area(np.vstack((top, frame.points(ends, (1.0 - WITHIN) * ends)[::-1])), Role.BAND, 0.35)


def _runs(mark: _Mark, x: FloatArray, low: FloatArray, middle: FloatArray, high: FloatArray) -> list[Item]:
    at = mark.chosen
    bars = np.stack((np.column_stack((x, low)), np.column_stack((x, high))), axis=1)[at]
    dots = [Dot(float(a), float(b), _DOT, mark.role, mark.filled, mark.square)
            for a, b in zip(x[at], middle[at], strict=True)]  # fmt: skip
    return [Strokes(bars, Role.FAINT, 0.8), *dots]


def _legend(record: Record, frame: Frame) -> list[Item]:
    left, top, _, _ = frame.box
    items: list[Item] = []
    for k, mark in enumerate(_marks(record)):
        y = top + 12.0 + 14.0 * k
        items.append(Dot(left + 12.0, y, _DOT, mark.role, mark.filled, mark.square))
        items.append(Label(left + 20.0, y, f"{mark.words}, {int(np.sum(mark.chosen))}", Role.TEXT, Align.LEFT, 8.0))
    return items

"""A rotor's seat from its drawn inner line: points whose heights rise from the seat's floor, arcs within 0.01 mm."""

from dataclasses import dataclass

import numpy as np

from profiler.assess.drawn.drawing import CURVE_MM
from profiler.assess.drawn.inside import InnerLine
from profiler.geometry.chain import sampled
from profiler.study import SeatPoint

LEDGE_MM = 0.01  # by which the outer end of a level ledge is raised, since a seat has one radius at each height
MOST_POINTS = 200
SAME_MM = 1e-7


class NoSeat(ValueError):
    """Why the line cannot be a seat, as one sentence."""


@dataclass(frozen=True, slots=True)
class ReadSeat:
    """`floor_mm`: height of the seat's floor as drawn; `ledges`: how many level steps were raised by 0.01 mm."""

    points: tuple[SeatPoint, ...]
    floor_mm: float
    ledges: int


def read_seat(line: InnerLine) -> ReadSeat:
    """Raises NoSeat where the line turns back down."""
    points = sampled(line.line, CURVE_MM)
    floor = float(points[0, 1])
    kept: list[tuple[float, float]] = [(0.0, float(points[0, 0]))]
    ledges = 0
    for radius, drawn in points[1:]:
        height = float(drawn) - floor
        before = kept[-1][0]
        if height < before - max(LEDGE_MM, SAME_MM) * 2:
            raise NoSeat(
                f"The line turns back down {before:.1f} mm above its floor: a seat has one radius at each height."
            )
        if height <= before + SAME_MM:
            if abs(float(radius) - kept[-1][1]) < SAME_MM:
                continue
            height = before + LEDGE_MM
            ledges += 1
        kept.append((height, float(radius)))
    kept = _without_straight(kept)
    if len(kept) > MOST_POINTS:
        raise NoSeat(f"The line has {len(kept)} corners; a seat is read from at most {MOST_POINTS}.")
    return ReadSeat(tuple(SeatPoint(_rounded(z), _rounded(r)) for z, r in kept), floor, ledges)


def _without_straight(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Without points that lie on the straight line between their neighbours."""
    table = np.array(points)
    keep = [0]
    for i in range(1, len(table) - 1):
        a, b = table[i] - table[keep[-1]], table[i + 1] - table[i]
        if abs(float(a[0] * b[1] - a[1] * b[0])) > 1e-9 * float(np.hypot(*a) * np.hypot(*b)) + 1e-12:
            keep.append(i)
    return [points[i] for i in (*keep, len(points) - 1)]


def _rounded(value: float) -> float:
    """To a ten-millionth: what the arithmetic of a drawing adds is not the drawing's."""
    return round(value, 7)

"""Ring grooves recognised in a bowl's drawn inner line, and the lands between them.

Going up the wall a groove begins where the line turns outward at an edge, and ends where it is back on the wall and
runs on along it. A corner of the wall turns but does not come back.
"""

from dataclasses import dataclass

import numpy as np

from profiler.assess.drawn.inside import InnerLine
from profiler.geometry.chain import Chain, FloatArray, arcs, sampled

EDGE_TURN = np.radians(18.0)  # a line that turns outward by less is no groove's edge
BACK_TURN = np.radians(40.0)  # between the wall before and behind a groove, at most
SMALL_RADIUS_MM = 30.0  # an arc of a larger radius is wall
LEAST_DEPTH_MM = 0.3
WIDEST_MM = 300.0
BACK_SHARE = 0.25  # of the depth within which the line must come back to the wall
ALIKE_MM = 0.1  # between grooves that repeat


@dataclass(frozen=True, slots=True)
class DrawnGroove:
    """Sharp edges: where flanks and wall would meet without a rounding. Heights as drawn, mm, deg."""

    lower_mm: float
    upper_mm: float
    radius_mm: float  # in the middle of the mouth
    mouth_mm: float
    depth_mm: float
    lower_flank_deg: float  # lean from square to the mouth, widening positive
    upper_flank_deg: float

    @property
    def middle_mm(self) -> float:
        return 0.5 * (self.lower_mm + self.upper_mm)


@dataclass(frozen=True, slots=True, eq=False)
class Lands:
    """The wall without its grooves: open chains, upward; and the grooves between them."""

    chains: tuple[Chain, ...]
    grooves: tuple[DrawnGroove, ...]


def lands_of(inner: InnerLine) -> Lands:
    line = inner.line
    leaving, arriving = headings(line)
    lands: list[Chain] = []
    grooves: list[DrawnGroove] = []
    begun = at = 0
    last = len(line.points) - 1
    while at < last:
        before = arriving[at - 1] if at else leaving[0]
        end = _groove_end(line, leaving, arriving, at, float(before)) if at else None
        if end is None:
            at += 1
            continue
        if at > begun:
            lands.append(_part(line, begun, at))
        grooves.append(_measured(line, leaving, arriving, at, end))
        begun = at = end
    if last > begun:
        lands.append(_part(line, begun, last))
    return Lands(tuple(lands), tuple(grooves))


def headings(line: Chain) -> tuple[FloatArray, FloatArray]:
    """(n-1,) direction at the start and at the end of every segment, from the axis, outward positive."""
    start, end, bulge = line.ends()
    chord = np.arctan2(end[:, 0] - start[:, 0], end[:, 1] - start[:, 1])
    half = 2.0 * np.arctan(bulge)
    return chord + half, chord - half


def _turn(to: float, since: float) -> float:
    return float((to - since + np.pi) % (2.0 * np.pi) - np.pi)


def _groove_end(line: Chain, leaving: FloatArray, arriving: FloatArray, at: int, before: float) -> int | None:
    """The joint at which a groove that begins at this joint ends; None where none begins."""
    _, radius, sweep, curved = arcs(Chain(line.points[at : at + 2], line.bulges[at : at + 2], closed=False))
    sharp = _turn(float(leaving[at]), before)
    rounding = -float(sweep[0]) if curved[0] and radius[0] < SMALL_RADIUS_MM else 0.0
    if sharp + rounding < EDGE_TURN or (sharp < EDGE_TURN and rounding < EDGE_TURN):
        return None
    origin = line.points[at]
    outward = np.array([np.cos(before), -np.sin(before)])
    deepest = 0.0
    for k in range(at + 1, len(line.points) - 1):
        offset = line.points[k] - origin
        if np.hypot(*offset) > WIDEST_MM:
            return None
        off = float(offset @ outward)
        deepest = max(deepest, off)
        back = abs(_turn(float(leaving[k]), before)) < BACK_TURN
        arrived = abs(_turn(float(arriving[k - 1]), before)) < BACK_TURN or not _is_rounding(line, k)
        if deepest > LEAST_DEPTH_MM and back and arrived and off < BACK_SHARE * deepest:
            return k
    return None


def _is_rounding(line: Chain, k: int) -> bool:
    """Whether the segment that leaves this joint is a small arc: the edge goes on."""
    _, radius, _, curved = arcs(Chain(line.points[k : k + 2], line.bulges[k : k + 2], closed=False))
    return bool(curved[0] and radius[0] < SMALL_RADIUS_MM)


def _part(line: Chain, first: int, last: int) -> Chain:
    return Chain(line.points[first : last + 1], np.append(line.bulges[first:last], 0.0), closed=False)


def _measured(line: Chain, leaving: FloatArray, arriving: FloatArray, first: int, last: int) -> DrawnGroove:
    """Mouth between the sharp edges, depth square to it, flanks as they lean."""
    lower_wall, upper_wall = float(arriving[first - 1]), float(leaving[last])
    lower_flank, lower_at = _flank(line, leaving, range(first, last))
    upper_flank, upper_at = _flank(line, leaving, range(last - 1, first - 1, -1))
    low = _meeting(line.points[first], lower_wall, lower_at, lower_flank)
    high = _meeting(line.points[last], upper_wall, upper_at, upper_flank)
    chord = high - low
    mouth = float(np.hypot(*chord))
    along = np.arctan2(chord[0], chord[1])
    outward = np.array([np.cos(along), -np.sin(along)])
    depth = float(np.max((sampled(_part(line, first, last), 0.005) - low) @ outward))
    square = along + 0.5 * np.pi
    lean = np.degrees([_turn(square, lower_flank), _turn(upper_flank + np.pi, square)])
    return DrawnGroove(
        float(low[1]), float(high[1]), 0.5 * float(low[0] + high[0]), mouth, depth, float(lean[0]), float(lean[1])
    )


def _flank(line: Chain, leaving: FloatArray, places: range) -> tuple[float, FloatArray]:
    """Direction of the first straight piece past the rounding, and a point of it."""
    for k in places:
        if abs(line.bulges[k]) < 1e-9:
            return float(leaving[k]), np.asarray(line.points[k])
    return float(leaving[places[0]]), np.asarray(line.points[places[0]])


def _meeting(at: FloatArray, heading: float, other: FloatArray, other_heading: float) -> FloatArray:
    """Where two lines meet; the first point where they are parallel."""
    one, two = (np.array([np.sin(t), np.cos(t)]) for t in (heading, other_heading))
    cross = float(one[0] * two[1] - one[1] * two[0])
    if abs(cross) < 1e-9:
        return at
    gap = other - at
    return np.asarray(at + one * float(gap[0] * two[1] - gap[1] * two[0]) / cross)

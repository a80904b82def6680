"""Ring grooves recognised in a bowl's drawn inner line, and the lands between them.

Going up the wall a groove begins at an edge where the line turns outward into a flank, and ends at the edge where it
turns outward again, from the other flank back to the wall. Flanks stand well off the straight line between both edges:
a corner of the wall has one turn, or two without flanks. The wall may turn by any angle behind a mouth, since a corner
may lie in it, but the wall below and the wall above, led on, meet there.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import atan2, cos, hypot, sin

import numpy as np

from profiler.assess.drawn.inside import InnerLine
from profiler.geometry.chain import Chain, FloatArray, arcs, sampled

EDGE_TURN = np.radians(18.0)  # a line that turns outward by less is no groove's edge
FLANK_TURN = np.radians(30.0)  # between a flank and the line from edge to edge, at least
SMALL_RADIUS_MM = 30.0  # an arc of a larger radius is wall, a smaller one may be an edge's rounding
SAME_ROUNDING = 1.5  # times the radius of the arc before it: a larger one is wall again
TANGENT = np.radians(1.0)  # a turn at a joint that is none
STEEPER_BY = np.radians(15.0)  # a flank further on, than a corner of the wall below it
LEAST_DEPTH_MM = 0.3
SHALLOWEST = 0.1  # depth over mouth
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
    turns = _Turns(leaving, arriving, *_roundings(line))
    lands: list[Chain] = []
    grooves: list[DrawnGroove] = []
    begun = at = 0
    last = len(line.points) - 1
    while at < last:
        before = arriving[at - 1] if at else leaving[0]
        end = _groove_end(line, turns, at, float(before)) if at else None
        if end is None:
            at += 1
            continue
        if at > begun:
            lands.append(_part(line, begun, at))
        grooves.append(_measured(line, leaving, arriving, at, end))
        begun, at = end, end + 1  # the turn at its end is from a flank to the wall: no further groove begins there
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


def _groove_end(line: Chain, turns: "_Turns", at: int, before: float) -> int | None:
    """The joint at which a groove that begins at this joint ends; None where none begins."""
    entering = turns.after_edge(at, before)
    if _turn(entering, before) < EDGE_TURN:
        return None
    for k in range(at + 2, len(line.points) - 1):
        if np.hypot(*(line.points[k] - line.points[at])) > WIDEST_MM:
            return None
        if _closes(line, turns, at, k, before, entering):
            return None if _begins_later(line, turns, at, k, entering) else k
    return None


def _closes(line: Chain, turns: "_Turns", at: int, k: int, before: float, entering: float) -> bool:
    """Whether a groove entered at one joint with this heading ends at another."""
    flank = turns.before_edge(k)
    if flank is None or abs(float(turns.leaving[k])) > 0.5 * np.pi:
        return False
    offset = line.points[k] - line.points[at]
    chord = atan2(float(offset[0]), float(offset[1]))
    if _turn(entering, chord) < FLANK_TURN or _turn(chord, flank) < FLANK_TURN:
        return False
    depths = (line.points[at + 1 : k] - line.points[at]) @ np.array([cos(chord), -sin(chord)])
    deepest = float(np.max(depths))
    if deepest < max(LEAST_DEPTH_MM, SHALLOWEST * float(np.hypot(*offset))):
        return False
    inside = float(np.min(depths)) > -BACK_SHARE * deepest
    return inside and _wall_goes_on(offset, before, float(turns.leaving[k]), deepest)


def _begins_later(line: Chain, turns: "_Turns", at: int, end: int, entering: float) -> bool:
    """Whether a steeper flank further on begins the groove that ends there: then this joint is a corner of the wall."""

    def steepness(place: int, heading: float) -> float:
        offset = line.points[end] - line.points[place]
        return _turn(heading, atan2(float(offset[0]), float(offset[1])))

    least = steepness(at, entering) + STEEPER_BY
    for j in range(at + 1, end - 1):
        before = float(turns.arriving[j - 1])
        later = turns.after_edge(j, before)
        steep = _turn(later, before) >= EDGE_TURN and steepness(j, later) > least
        if steep and _closes(line, turns, j, end, before, later):
            return True
    return False


@dataclass(frozen=True, slots=True, eq=False)
class _Turns:
    """How the line turns: its headings, and of every segment its radius and how far it turns outward as a rounding."""

    leaving: FloatArray
    arriving: FloatArray
    radius: FloatArray  # inf where straight
    outward: FloatArray  # rad; 0 where it is no small arc

    def after_edge(self, at: int, before: float) -> float:
        """The heading past the edge that begins at this joint, and past its rounding."""
        if _turn(float(self.leaving[at]), before) >= EDGE_TURN:
            return float(self.leaving[at])
        heading = before
        for k in self._rounding(range(at, len(self.leaving))):
            heading = float(self.arriving[k])
        return heading

    def before_edge(self, at: int) -> float | None:
        """The heading before the edge that ends at this joint, and before its rounding; None where none ends here."""
        sharp = _turn(float(self.leaving[at]), float(self.arriving[at - 1]))
        if sharp >= EDGE_TURN:
            return float(self.arriving[at - 1])
        if abs(sharp) > TANGENT or self._goes_on(at - 1, at):
            return None
        heading = None
        for k in self._rounding(range(at - 1, 0, -1)):
            heading = float(self.leaving[k])
        return None if heading is None or _turn(float(self.arriving[at - 1]), heading) < EDGE_TURN else heading

    def _rounding(self, places: range) -> Iterator[int]:
        """The segments from the first on that are one rounding."""
        last = None
        for k in places:
            if self.outward[k] <= 0.0 or (last is not None and not self._goes_on(min(k, last), max(k, last))):
                return
            yield k
            last = k

    def _goes_on(self, k: int, following: int) -> bool:
        """Whether the next segment is the same rounding: tangent, and not much larger or smaller."""
        if self.outward[k] <= 0.0 or self.outward[following] <= 0.0:
            return False
        tangent = abs(_turn(float(self.leaving[following]), float(self.arriving[k]))) < TANGENT
        one, other = sorted((float(self.radius[k]), float(self.radius[following])))
        return tangent and other < SAME_ROUNDING * one


def _roundings(line: Chain) -> tuple[FloatArray, FloatArray]:
    _, radius, sweep, curved = arcs(Chain(line.points, np.append(line.bulges[:-1], 0.0), closed=False))
    small = curved & (radius < SMALL_RADIUS_MM)
    return np.where(curved, radius, np.inf), np.where(small, -sweep, 0.0)


def _wall_goes_on(offset: FloatArray, below: float, above: float, depth: float) -> bool:
    """Whether the wall below a mouth and the wall above, led on straight, meet in it or pass close by one another."""
    up, left = ((sin(t), cos(t)) for t in (below, above))
    x, z = float(offset[0]), float(offset[1])
    past_below = abs(x * up[1] - z * up[0])  # of the upper edge from the wall below
    past_above = abs(x * left[1] - z * left[0])
    if min(past_below, past_above) < BACK_SHARE * depth:
        return True
    cross = up[0] * left[1] - up[1] * left[0]
    if abs(cross) < 1e-9:
        return False
    along = (x * left[1] - z * left[0]) / cross
    back = (up[0] * z - up[1] * x) / cross
    return 0.0 < along < hypot(x, z) and 0.0 < back < hypot(x, z)


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

"""Ring grooves in a wall: where their mouths lie, their contours, and how the corners are rounded.

All grooves of a bowl are worked at once, as arrays over the grooves. A contour runs upward: along the lower flank,
over the groove floor, back along the upper flank. Edges are rounded exactly against the arc or line of the wall.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from profiler.geometry.wall import FloatArray, Wall, pairs

IntArray = NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class Cut:
    """The cross-sections grooves are cut with: lengths in the wall's unit, the flank's lean in radians."""

    mouth: FloatArray  # (g,)
    depth: FloatArray  # (g,)
    flank: float
    floor_radius: float
    edge_radius: float
    square_to_axis: bool


@dataclass(frozen=True, slots=True)
class Mouths:
    """Where the wall is open; arrays over the grooves, from the floor up."""

    lower_length: FloatArray  # (g,) along the wall to the lower edge
    upper_length: FloatArray
    lower: FloatArray  # (g,) height of the lower edge
    upper: FloatArray
    lower_radius: FloatArray
    upper_radius: FloatArray

    def __len__(self) -> int:
        return len(self.lower)

    @property
    def middle(self) -> FloatArray:
        """Height of the middle of each mouth."""
        return 0.5 * (self.lower + self.upper)

    @property
    def lands(self) -> FloatArray:
        """(g-1,) length along the wall of the land between each groove and the next; negative where they overlap."""
        return np.asarray(self.lower_length[1:] - self.upper_length[:-1])


@dataclass(frozen=True, slots=True, eq=False)  # told apart by being themselves, so that what follows can be kept
class Contours:
    """The cut grooves: sharp corners, and the rounded contour with the wall's ends moved to the tangent points."""

    corners: FloatArray  # (g, 4, 2) lower edge, lower floor corner, upper floor corner, upper edge
    points: FloatArray  # (g, 8, 2) of the rounded contour, from the tangent point on the land below
    bulges: FloatArray  # (g, 8) of the segment that leaves each point
    flank_room: FloatArray  # (g,) length left on the shorter flank between its two roundings; negative: none
    floor_room: FloatArray  # (g,) the same on the groove floor


def mouths_at(wall: Wall, lower_length: FloatArray, mouth: FloatArray | float) -> Mouths:
    """Mouths whose lower edges lie so far along the wall."""
    low, high = lower_length, np.asarray(lower_length + mouth)
    lower, upper = wall.height_at(low), wall.height_at(high)
    return Mouths(low, high, lower, upper, wall.radius_at(lower), wall.radius_at(upper))


def pitch_along_wall(count: int, start: float, end: float, mouth: float) -> FloatArray:
    """Lower edges, along the wall: the first at `start`, the last mouth ending at `end`."""
    return _even(count, start, end - mouth)


def pitch_in_height(wall: Wall, count: int, start: float, end: float, mouth: float) -> FloatArray:
    """Lower edges, along the wall, at equal steps of height: first at height `start`, the last mouth ends at `end`."""
    last = float(wall.height_at(wall.length_at(end) - mouth))
    return wall.length_at(_even(count, start, last))


def centred_on(wall: Wall, middles: FloatArray, mouth: float) -> FloatArray:
    """Lower edges, along the wall, of mouths whose middles lie at these heights."""
    return np.asarray(wall.length_at(np.sort(middles)) - 0.5 * mouth)


def sharp_corners(mouths: Mouths, cut: Cut) -> FloatArray:
    """(g, 4, 2) lower edge, lower floor corner, upper floor corner, upper edge; radius and height."""
    low = pairs(mouths.lower_radius, mouths.lower)
    high = pairs(mouths.upper_radius, mouths.upper)
    slant = np.tan(cut.flank)
    if cut.square_to_axis:
        floor = 0.5 * (low[:, 0] + high[:, 0]) + cut.depth
        floor_low = pairs(floor, low[:, 1] + (floor - low[:, 0]) * slant)
        floor_high = pairs(floor, high[:, 1] - (floor - high[:, 0]) * slant)
    else:
        chord = high - low
        along = chord / np.hypot(*chord.T)[:, None]
        outward = pairs(along[:, 1], -along[:, 0])
        floor_low = low + cut.depth[:, None] * (outward + slant * along)
        floor_high = high + cut.depth[:, None] * (outward - slant * along)
    return np.stack((low, floor_low, floor_high, high), axis=1)


def contours(wall: Wall, mouths: Mouths, cut: Cut) -> Contours:
    """The groove contours. Crossing flanks or roundings that do not fit show as negative room; nothing is shrunk."""
    corners = sharp_corners(mouths, cut)
    edge_low, edge_high, floor_low, floor_high = (corners[:, k] for k in (0, 3, 1, 2))
    flank_low, floor, flank_high = floor_low - edge_low, floor_high - floor_low, edge_high - floor_high
    low_len, floor_len, high_len = (np.hypot(*v.T) for v in (flank_low, floor, flank_high))
    out_low, along, back_high = (
        v / n[:, None] for v, n in ((flank_low, low_len), (floor, floor_len), (flank_high, high_len))
    )

    turn_low, turn_high = _turn(out_low, along), _turn(along, back_high)
    reach_low = cut.floor_radius * np.tan(0.5 * turn_low)
    reach_high = cut.floor_radius * np.tan(0.5 * turn_high)
    below = _round_edge(wall, mouths.lower, edge_low, out_low, cut.edge_radius, 1.0)
    above = _round_edge(wall, mouths.upper, edge_high, -back_high, cut.edge_radius, -1.0)

    points = np.stack(
        (
            below.foot,
            edge_low + below.reach[:, None] * out_low,
            floor_low - reach_low[:, None] * out_low,
            floor_low + reach_low[:, None] * along,
            floor_high - reach_high[:, None] * along,
            floor_high + reach_high[:, None] * back_high,
            edge_high - above.reach[:, None] * back_high,
            above.foot,
        ),
        axis=1,
    )
    zero = np.zeros(len(mouths))
    curls = (below.bulge, zero, np.tan(0.25 * turn_low), zero, np.tan(0.25 * turn_high), zero, above.bulge, zero)
    room = np.minimum(low_len - below.reach - reach_low, high_len - above.reach - reach_high)
    ahead = _dot(floor, _axis_of(corners, cut)) > 0.0
    floor_room = np.where(ahead, floor_len, -floor_len) - np.abs(reach_low) - np.abs(reach_high)
    return Contours(corners, points, np.stack(curls, axis=1), room, floor_room)


def first_wall(corners: FloatArray, height: FloatArray, groove: IntArray) -> FloatArray:
    """Radius of the groove contour first met going outward from the axis at heights inside mouths.

    corners (g, 4, 2); height and groove (n,). A groove square to an opening wall is undercut: its upper flank is met
    first, not its floor.
    """
    radius = np.full(len(height), np.inf)
    for k in range(3):
        a, b = corners[groove, k], corners[groove, k + 1]
        rise = b[:, 1] - a[:, 1]
        share = np.where(rise != 0.0, (height - a[:, 1]) / np.where(rise == 0.0, 1.0, rise), -1.0)
        here = a[:, 0] + share * (b[:, 0] - a[:, 0])
        radius = np.where((share >= 0.0) & (share <= 1.0), np.minimum(radius, here), radius)
    return radius


@dataclass(frozen=True, slots=True)
class _Edge:
    foot: FloatArray  # (g, 2) where the rounding leaves the wall
    reach: FloatArray  # (g,) from the sharp edge to where it meets the flank
    bulge: FloatArray


def _even(count: int, first: float, last: float) -> FloatArray:
    if count <= 0:
        return np.zeros(0)
    return np.asarray([first]) if count == 1 else np.linspace(first, last, count)


def _axis_of(corners: FloatArray, cut: Cut) -> FloatArray:
    """(g, 2) the direction in which the groove floor must run for the flanks not to have crossed."""
    if cut.square_to_axis:
        return np.tile([0.0, 1.0], (len(corners), 1))
    return np.asarray(corners[:, 3] - corners[:, 0])


def _turn(before: FloatArray, after: FloatArray) -> FloatArray:
    """Signed angle from one direction to the next, counter-clockwise positive."""
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    return np.asarray(np.arctan2(cross, _dot(before, after)))


def _dot(a: FloatArray, b: FloatArray) -> FloatArray:
    return np.asarray(a[:, 0] * b[:, 0] + a[:, 1] * b[:, 1])


def _round_edge(
    wall: Wall, height: FloatArray, edge: FloatArray, flank: FloatArray, radius: float, sense: float
) -> _Edge:
    """Round the corner between the wall and a flank that leads into the body.

    sense +1: the land lies below the edge; -1: above. In the edge's frame (a along the wall, b into the body) the wall,
    of curvature k, is 2b = k(a2 + b2), and what lies `radius` r inside it is 2(b - r) = k(a2 + b2 - r2). A centre
    that lies r beside the flank and t along it has a2 + b2 = r2 + t2: a quadratic in t, exact for arcs and lines.
    """
    above = sense < 0.0
    angle = wall.angle_at(height, above=above)
    k = wall.curvature()[wall.piece_at(height, above=above)]
    up = pairs(np.sin(angle), np.cos(angle))
    into = pairs(up[:, 1], -up[:, 0])
    # the centre lies `radius` from the flank, on the land's side; it moves along until it lies so from the wall
    beside = sense * radius * pairs(flank[:, 1], -flank[:, 0])
    fa, fb = (_dot(flank, v) for v in (up, into))
    a0, b0 = (_dot(beside, v) for v in (up, into))
    short = 2.0 * (radius - b0)
    t = short / np.maximum(fb + np.sqrt(np.maximum(fb * fb - k * short, 0.0)), 1e-9)
    a, b = a0 + t * fa, b0 + t * fb
    at_foot = angle + np.arctan2(k * a, 1.0 - k * b)
    centre = edge + beside + t[:, None] * flank
    foot = centre - radius * pairs(np.cos(at_foot), -np.sin(at_foot))
    foot[:, 0] = wall.radius_at(foot[:, 1])  # where the foot lies beyond a joint the two pieces differ by microns
    heading = pairs(np.sin(at_foot), np.cos(at_foot))
    turn = _turn(heading, flank) if sense > 0 else _turn(-flank, heading)
    return _Edge(foot, t, np.tan(0.25 * turn))

"""Where along the wall everything is asked: one set of stations per shape, used by every caller.

Stations are 401 equal heights, every knot, every mouth edge; a corner has two. Repose is solved at fewer places, the
nodes (mouth edges and a few heights on the lands), and goes linearly between them. A ring's water joins the film at the
upper edge of its groove: two nodes stand there, one without it and one with it. Knots are no nodes, so that a knot that
leaves the wall as it is leaves every figure as it is.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from profiler.geometry.grooves import Contours, Mouths, first_wall
from profiler.geometry.wall import FloatArray, Wall
from profiler.physics.slurry.overturn import Edges, Places, places
from profiler.physics.slurry.surface import WallLine
from profiler.units import MM

IntArray = NDArray[np.intp]
BoolArray = NDArray[np.bool_]

EQUAL_HEIGHTS = 401
NODE_EVERY = 20  # equal heights
DEFAULT_MOUTH_SHARE = 0.05  # of the radius, the mouth imagined where there is no groove
SAME_MM = 1e-7


@dataclass(frozen=True, slots=True)
class Stations:
    """n stations from floor to lip; lengths mm, angles rad; `line`, `edges` and `imagined` in m for physics."""

    height: FloatArray
    radius: FloatArray
    angle: FloatArray  # above the station, but below it at a corner's lower station and at the lip
    tabulated: BoolArray  # one of the 401 equal heights, or a corner
    groove: IntArray  # index of the groove whose mouth the station lies inside, or -1
    contour: FloatArray  # radius of the groove contour inside mouths, inf elsewhere
    line: WallLine
    edges: Edges  # of the grooves
    edge_places: Places
    imagined: Edges  # of a mouth imagined round every station
    imagined_places: Places
    node: IntArray  # (m,) station index of each node
    node_grooves_below: FloatArray  # (m,) how many grooves give their water below each node
    join: IntArray  # (j,) station index of each upper edge, where water joins; the angle steps there
    join_node: IntArray  # (j,) the node there without that water
    left_node: IntArray  # (n,) node below each station
    node_share: FloatArray  # (n,) how far on the way to the next node
    groove_left_node: IntArray  # (g,) the same for the middle of each groove
    groove_node_share: FloatArray


def place_stations(wall: Wall, mouths: Mouths, contours: Contours | None) -> Stations:
    height, tabulated, lower_twin = _heights(wall, mouths)
    upper_twin = np.zeros(len(height), dtype=bool)
    upper_twin[1:] = lower_twin[:-1]
    radius = wall.radius_at(height)
    above = wall.angle_at(height, above=True)
    joint = np.flatnonzero(_among(height, wall.height))  # elsewhere below and above are one
    below = above.copy()
    below[joint] = wall.angle_at(height[joint], above=False)
    angle = np.where(lower_twin, below, above)
    slope_above = np.tan(angle)
    slope_below = slope_above.copy()
    slope_below[joint] = np.tan(np.where(upper_twin, above, below)[joint])
    groove, land = _mouth_membership(height, mouths)
    contour = np.full(len(height), np.inf)
    if contours is not None and len(mouths):
        within = groove >= 0
        contour[within] = first_wall(contours.corners, height[within], groove[within])
    line = WallLine(height * MM, radius * MM, slope_below, slope_above, land)
    edges = Edges(*(a * MM for a in (mouths.lower, mouths.upper, mouths.lower_radius, mouths.upper_radius)))
    imagined = _imagined(wall, height, radius, mouths)
    node, before = _nodes(height, mouths)
    node_height = height[node]
    below_count = np.searchsorted(mouths.upper, node_height + SAME_MM, side="right") - before.astype(float)
    left, share = _between(node_height, height)
    groove_left, groove_share = _between(node_height, mouths.middle)
    return Stations(
        height,
        radius,
        angle,
        tabulated,
        groove,
        contour,
        line,
        edges,
        places(line, edges),
        imagined,
        places(line, imagined),
        node,
        below_count,
        node[before],
        np.flatnonzero(before),
        left,
        share,
        groove_left,
        groove_share,
    )


def _heights(wall: Wall, mouths: Mouths) -> tuple[FloatArray, BoolArray, BoolArray]:
    """Station heights, which belong to the table, and which are the lower of a corner's two."""
    lip = float(wall.height[-1])
    equal = np.linspace(0.0, lip, EQUAL_HEIGHTS)
    is_corner = np.abs(wall.lower[1:] - wall.upper[:-1]) > 1e-12
    corners = wall.height[1:-1][is_corner]
    edges = np.concatenate((mouths.lower, mouths.upper))
    height = np.concatenate((equal, wall.height, np.minimum(np.maximum(edges, 0.0), lip)))
    height.sort()
    height = _apart(height)
    height[-1] = lip
    lower_twin = _among(height, corners)
    tabulated = _among(height, equal) | lower_twin
    if not len(corners):
        return height, tabulated, lower_twin
    twice = np.arange(len(height)).repeat(np.where(lower_twin, 2, 1))
    first = np.concatenate(([True], np.diff(twice) > 0))
    return height[twice], tabulated[twice], lower_twin[twice] & first


def _apart(height: FloatArray) -> FloatArray:
    """Of sorted heights those that stand apart from the one before."""
    kept = np.ones(len(height), dtype=bool)
    np.greater(height[1:] - height[:-1], SAME_MM, out=kept[1:])
    return height[kept]


def _among(height: FloatArray, wanted: FloatArray) -> BoolArray:
    if not len(wanted):
        return np.zeros(len(height), dtype=bool)
    nearest = wanted[np.minimum(wanted.searchsorted(height - SAME_MM), len(wanted) - 1)]
    return np.asarray(np.abs(nearest - height) <= SAME_MM)


def _mouth_membership(height: FloatArray, mouths: Mouths) -> tuple[IntArray, BoolArray]:
    """The groove each station lies strictly inside, or -1; and which intervals are land."""
    middles = 0.5 * (height[1:] + height[:-1])
    return mouth_of(mouths, height), np.asarray(mouth_of(mouths, middles) < 0)


def _imagined(wall: Wall, height: FloatArray, radius: FloatArray, mouths: Mouths) -> Edges:
    """The mouth that stands in for a groove at every station: as high as the neighbours', linear between them."""
    if len(mouths):
        mouth = np.interp(height, mouths.middle, mouths.upper - mouths.lower)
    else:
        mouth = DEFAULT_MOUTH_SHARE * radius
    lower = np.maximum(height - 0.5 * mouth, 0.0)
    upper = np.minimum(height + 0.5 * mouth, height[-1])
    return Edges(lower * MM, upper * MM, wall.radius_at(lower) * MM, wall.radius_at(upper) * MM)


def _nodes(height: FloatArray, mouths: Mouths) -> tuple[IntArray, BoolArray]:
    """Station index of each node; and which of two at an upper edge is the one that the ring's water has not joined."""
    lip = float(height[-1])
    equal = np.linspace(0.0, lip, EQUAL_HEIGHTS)[::NODE_EVERY]
    equal = equal[mouth_of(mouths, equal) < 0]
    wanted = np.concatenate((equal, mouths.lower, mouths.upper))
    wanted.sort()
    found = height[np.minimum(height.searchsorted(wanted - SAME_MM), len(height) - 1)]
    node = height.searchsorted(_apart(found))
    joins = _among(height[node], mouths.upper) & (height[node] < lip - SAME_MM)
    twice = node.repeat(np.where(joins, 2, 1))
    before = np.zeros(len(twice), dtype=bool)
    np.equal(twice[1:], twice[:-1], out=before[:-1])
    return twice, before


def mouth_of(mouths: Mouths, height: FloatArray) -> IntArray:
    """Index of the groove whose mouth is open at each height, edges left out; -1 on a land."""
    if not len(mouths):
        return np.full(len(height), -1, dtype=np.intp)
    below = mouths.lower.searchsorted(height - SAME_MM) - 1
    inside = (below >= 0) & (height < mouths.upper[np.maximum(below, 0)] - SAME_MM)
    return np.where(inside, below, -1).astype(np.intp)


def _between(nodes: FloatArray, height: FloatArray) -> tuple[IntArray, FloatArray]:
    left = np.minimum(np.maximum(nodes.searchsorted(height, "right") - 1, 0), len(nodes) - 2)
    return left, np.asarray((height - nodes[left]) / (nodes[left + 1] - nodes[left]))

"""The computed flow in a groove as lines and tints: streamlines, speed, the way it turns. In mouths.

Streamlines are level lines of the computed stream function, equal shares of the flow apart in each eddy; nothing here
knows a formula for them.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np

from profiler.physics.eddy.flow import Eddy
from profiler.physics.eddy.measures import MOVING
from profiler.physics.eddy.samples import Samples, samples
from profiler.pictures.basics.contours import contour, length
from profiler.pictures.basics.display import Area, FloatArray, Item, Line, Role

SHARES = (0.08, 0.25, 0.45, 0.65, 0.85)  # of an eddy's flow, outermost first
WEAK_SHARES = (0.3, 0.7)  # in what turns the other way
LEAST_LINE = 0.05  # mouths
SPEEDS = (MOVING, 0.1, 0.2, 0.4, 0.7, np.inf)  # of the lid's, between which a tint is even
TINTS = (0.0, 0.1, 0.2, 0.3, 0.42, 0.55)
HEADS_ON = (0, 2)  # streamlines of the driven eddy that carry a head
HEAD = 0.036  # mouths long

Place = Callable[[FloatArray], FloatArray]  # (n, 2) px of (n, 2) mouths


@dataclass(frozen=True, slots=True, eq=False)
class FlowLines:
    """Worked out once for a flow, drawn at any size."""

    driven: tuple[FloatArray, ...]  # outermost first
    other: tuple[FloatArray, ...]  # of eddies that turn against it, and of water from below
    tints: tuple[tuple[FloatArray, float], ...]
    heads: tuple[FloatArray, ...]  # triangles


@lru_cache(maxsize=32)
def flow_lines(eddy: Eddy, each: int = 4) -> FlowLines:
    s = samples(eddy, each)
    outer = min(0.0, -eddy.drive.through_flow)
    least = float(np.min(s.psi))
    driven: list[FloatArray] = []
    heads: list[FloatArray] = []
    for n, share in enumerate(SHARES):
        found = _lines(s, outer + share * (least - outer))
        driven += found
        if n in HEADS_ON:
            heads += [_head(s, line, eddy) for line in found[:1]]
    other = [line for level in _other_levels(s, eddy) for line in _lines(s, level)]
    return FlowLines(tuple(driven), tuple(other), tuple(_tints(s)), tuple(heads))


def flow_items(found: FlowLines, place: Place, width: float = 1.3, tinted: bool = True) -> list[Item]:
    items: list[Item] = []
    if tinted:
        items += [Area(place(points), Role.FLOW, opacity) for points, opacity in found.tints]
    items += [Line(place(line), Role.FLOW, 0.8, (3.0, 2.5)) for line in found.other]
    items += [Line(place(line), Role.FLOW, width) for line in found.driven]
    return items + [Area(place(head), Role.FLOW) for head in found.heads]


def _lines(s: Samples, level: float) -> list[FloatArray]:
    counts = np.arange(s.psi.shape[1], dtype=float), np.arange(s.psi.shape[0], dtype=float)
    placed = [s.placed(line[:, 0], line[:, 1]) for line in contour(*counts, s.psi, level)]
    return sorted((line for line in placed if length(line) > LEAST_LINE), key=length, reverse=True)


def _other_levels(s: Samples, eddy: Eddy) -> list[float]:
    """Of the water on its way up, and of whatever turns the other way."""
    low, high = sorted((0.0, -eddy.drive.through_flow))
    levels = [low + share * (high - low) for share in WEAK_SHARES] if high > low else []
    most = float(np.max(s.psi))
    return levels + [high + share * (most - high) for share in WEAK_SHARES if most > high + 1e-6]


def _tints(s: Samples) -> list[tuple[FloatArray, float]]:
    """Cells of one row of the lattice that move about as fast, as one area."""
    speed = 0.25 * (s.speed[:-1, :-1] + s.speed[:-1, 1:] + s.speed[1:, :-1] + s.speed[1:, 1:])
    kind = np.digitize(speed, SPEEDS)
    found = []
    for row, kinds in enumerate(kind):
        cuts = [0, *(np.flatnonzero(np.diff(kinds)) + 1).tolist(), len(kinds)]
        for first, last in pairwise(cuts):
            opacity = TINTS[min(int(kinds[first]), len(TINTS) - 1)]
            if opacity > 0.0:
                span = slice(first, last + 1)
                x = np.concatenate((s.x[row, span], s.x[row + 1, span][::-1]))
                y = np.concatenate((s.y[row, span], s.y[row + 1, span][::-1]))
                found.append((np.stack((x, y), axis=1), opacity))
    return found


def _head(s: Samples, line: FloatArray, eddy: Eddy) -> FloatArray:
    """A triangle where the streamline lies deepest, pointing the way the flow goes there."""
    base, along = eddy.groove.mouth_line
    depth = -(((line[:, 0] + 1j * line[:, 1]) - base) / along).imag
    at = line[int(np.argmax(depth))]
    near = np.unravel_index(int(np.argmin(np.hypot(s.x - at[0], s.y - at[1]))), s.x.shape)
    way = np.array([s.u[near], s.v[near]])
    way = way / max(float(np.hypot(*way)), 1e-12)
    side = np.array([-way[1], way[0]])
    return np.asarray([at - HEAD * way + 0.6 * HEAD * side, at + HEAD * way, at - HEAD * way - 0.6 * HEAD * side])

"""Where a drawing's spin axis lies, proposed; its chains laid out as radius and height, half of a full section taken.

An axis runs up or across the drawing. Turned upside down, and scaled, are the reader's to say; which half is drawn is
seen.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from profiler.assess.drawn.drawing import GAP_MM, Drawing, extents
from profiler.geometry.chain import Chain, FloatArray, arcs
from profiler.geometry.joining import SAME, Joined, joined

PAIRED = 0.9  # of all corners that must have a mirror image, for the axis to be one of symmetry
EDGE = 1e-6


@dataclass(frozen=True, slots=True)
class Axis:
    """`upright`: it runs up the drawing, at this x; else across, at this y."""

    upright: bool
    at_mm: float

    @property
    def words(self) -> str:
        return f"{'x' if self.upright else 'y'} = {self.at_mm:.6g} mm"


@dataclass(frozen=True, slots=True)
class ProposedAxis:
    axis: Axis
    reason: str


@dataclass(frozen=True, slots=True, eq=False)
class Placed:
    """Chains as (radius, height), mm; heights as drawn, upward. `full`: both halves were drawn, and one is left out."""

    chains: tuple[Chain, ...]
    full: bool
    joints: Joined


def axes(drawing: Drawing) -> tuple[ProposedAxis, ...]:
    """Every axis there is a reason for, the best first; never empty."""
    corners = np.concatenate([s.points for s in drawing.strokes])
    drawn = [axis for line in drawing.centre_lines if (axis := _along(line)) is not None]
    drawn.sort(key=lambda axis: (not _parts_well(corners, axis), not axis.upright))
    found = [ProposedAxis(axis, "a centre line") for axis in drawn]
    left, bottom, right, top = extents(drawing)
    for upright, low, high in ((True, left, right), (False, bottom, top)):
        axis = Axis(upright, 0.5 * (low + high))
        if mirrored_share(corners, axis) >= PAIRED:
            found.append(ProposedAxis(axis, "the line of symmetry"))
    for upright, low, high in ((True, left, right), (False, bottom, top)):
        if low >= -EDGE or high <= EDGE:
            found.append(ProposedAxis(Axis(upright, 0.0), "the drawing's own axis, with all on one side"))
    found.append(ProposedAxis(Axis(True, left), "the left edge, for want of a better one"))
    first: dict[Axis, ProposedAxis] = {}
    for proposed in found:
        first.setdefault(proposed.axis, proposed)
    return tuple(first.values())


def _parts_well(corners: FloatArray, axis: Axis) -> bool:
    """Whether all lies on one side of it, or alike on both."""
    across = corners[:, 0 if axis.upright else 1] - axis.at_mm
    one_side = bool(np.all(across >= -GAP_MM) or np.all(across <= GAP_MM))
    return one_side or mirrored_share(corners, axis) >= PAIRED


def mirrored_share(points: FloatArray, axis: Axis) -> float:
    """Share of points with an image on the other side of the axis."""
    from scipy.spatial import cKDTree

    mirror = points.copy()
    column = 0 if axis.upright else 1
    mirror[:, column] = 2.0 * axis.at_mm - mirror[:, column]
    away, _ = cKDTree(points).query(mirror)
    return float(np.mean(away <= GAP_MM))


def placed(drawing: Drawing, axis: Axis, upside_down: bool = False) -> Placed:
    """The half of the drawing at positive radius; a half drawn on the other side is folded over."""
    laid = _laid(drawing.strokes, axis, upside_down)
    radii = np.concatenate([c.points[:, 0] for c in laid])
    low, high = float(radii.min()), float(radii.max())
    full = low < -GAP_MM and high > GAP_MM and min(-low, high) > 0.5 * max(-low, high)
    if high < -low and not full:
        laid = [Chain(c.points * [-1.0, 1.0], -c.bulges, c.closed) for c in laid]
    safe = _clear_of_axis(laid)
    halves: list[Chain] = []
    for chain, clear in zip(laid, safe.tolist(), strict=True):
        halves += (chain,) if clear else right_of_axis(chain)
    joints = joined(halves, GAP_MM)
    return Placed(joints.chains, full, joints)


def right_of_axis(chain: Chain) -> tuple[Chain, ...]:
    """What of a chain lies at positive radius, cut exactly where it crosses the axis."""
    radius = chain.points[:, 0]
    if float(radius.min()) >= -EDGE and not _bulges_over(chain):
        return (chain,)
    pieces = [piece for i in range(chain.segments) for piece in _cut(chain, i)]
    kept = [p for p in pieces if _middle(p)[0] > EDGE]
    return joined(kept, SAME).chains


def _along(line: Chain) -> Axis | None:
    """The axis a straight line up or across the drawing lies on."""
    dx, dy = np.abs(line.points[-1] - line.points[0])
    if min(dx, dy) > 1e-3 * max(dx, dy) or np.any(line.bulges != 0.0):
        return None
    upright = bool(dy > dx)
    return Axis(upright, float(line.points[0, 0 if upright else 1]) + 0.0)  # no negative nothing


def _laid(strokes: Sequence[Chain], axis: Axis, upside_down: bool) -> list[Chain]:
    """As (radius, height); all at once, since there may be thousands."""
    points, bulges, cuts = _together(strokes)
    if axis.upright:
        laid = points - [axis.at_mm, 0.0]
    else:  # swapping the two mirrors
        laid, bulges = np.ascontiguousarray(points[:, ::-1]) - [axis.at_mm, 0.0], -bulges
    if upside_down:
        laid, bulges = laid * [1.0, -1.0], -bulges
    parts = zip(strokes, np.split(laid, cuts), np.split(bulges, cuts), strict=True)
    return [Chain(p, b, stroke.closed) for stroke, p, b in parts]


def _clear_of_axis(chains: Sequence[Chain]) -> NDArray[np.bool_]:
    """Which chains lie at positive radius beyond doubt: no arc reaches further from its ends than half its bulge."""
    points, bulges, cuts = _together(chains)
    first = np.concatenate(([0], cuts))
    low, high = np.minimum.reduceat(points, first), np.maximum.reduceat(points, first)
    reach = 0.5 * np.maximum.reduceat(np.abs(bulges), first) * np.hypot(*(high - low).T)
    return np.asarray(low[:, 0] - reach >= -EDGE)


def _together(chains: Sequence[Chain]) -> tuple[FloatArray, FloatArray, NDArray[np.int64]]:
    """Points and bulges of all chains end to end, and where each chain but the first begins."""
    cuts = np.cumsum([len(c.points) for c in chains])[:-1]
    return np.concatenate([c.points for c in chains]), np.concatenate([c.bulges for c in chains]), cuts


def _bulges_over(chain: Chain) -> bool:
    """Whether an arc between points at positive radius reaches over the axis."""
    centre, radius, _, curved = arcs(chain)
    near = curved & (centre[:, 0] - radius < -EDGE)
    return bool(near.any()) and any(len(_cut(chain, int(i))) > 1 for i in np.flatnonzero(near))


def _cut(chain: Chain, i: int) -> list[Chain]:
    """Segment i, cut where it crosses the axis."""
    start, end = chain.points[i], chain.points[(i + 1) % len(chain.points)]
    bulge = float(chain.bulges[i])
    shares = [0.0, *_crossings(start, end, bulge), 1.0]
    points = np.array([_at(start, end, bulge, s) for s in shares])
    points[[0, -1]] = start, end
    points[1:-1, 0] = 0.0
    sweep = np.arctan(bulge)
    return [
        Chain(points[k : k + 2], np.array([np.tan(sweep * (shares[k + 1] - shares[k])), 0.0]), closed=False)
        for k in range(len(shares) - 1)
    ]


def _crossings(start: FloatArray, end: FloatArray, bulge: float) -> list[float]:
    """Shares of the way at which a segment crosses radius 0, inside it."""
    if abs(bulge) < 1e-12:
        rise = end[0] - start[0]
        share = -start[0] / rise if rise else -1.0
        return [float(share)] if 1e-9 < share < 1.0 - 1e-9 else []
    centre, radius, sweep, _ = arcs(Chain(np.array([start, end]), np.array([bulge, 0.0]), closed=False))
    ratio = -float(centre[0, 0]) / float(radius[0])
    if abs(ratio) >= 1.0:
        return []
    first = np.arctan2(start[1] - centre[0, 1], start[0] - centre[0, 0])
    turned = [(s * np.arccos(ratio) - first) * np.sign(sweep[0]) % (2.0 * np.pi) for s in (1.0, -1.0)]
    shares = [t / abs(float(sweep[0])) for t in turned]
    return sorted(float(s) for s in shares if 1e-9 < s < 1.0 - 1e-9)


def _at(start: FloatArray, end: FloatArray, bulge: float, share: float) -> FloatArray:
    if abs(bulge) < 1e-12:
        return np.asarray(start + share * (end - start))
    half = 2.0 * np.arctan(bulge)
    ratio, turn = np.sin(half * share) / np.sin(half), half * (share - 1.0)
    chord, cos, sin = end - start, np.cos(turn), np.sin(turn)
    return np.asarray(start + ratio * np.array([chord[0] * cos - chord[1] * sin, chord[0] * sin + chord[1] * cos]))


def _middle(piece: Chain) -> FloatArray:
    return _at(piece.points[0], piece.points[1], float(piece.bulges[0]), 0.5)

"""The water holes as bores through the turned body: which can be cut, and the closed curves where they end.

Every bore is a true cylinder, square to the spin axis. In its own frame x runs outward along it, y aside, z upward,
from the place on its axis nearest to the spin axis; there it cuts a turned face of radius r(z) exactly where
x = sqrt(r(z)^2 - (offset + y)^2). So an end is known in closed form, and only its spline is an approximation.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import pi

import numpy as np

from profiler.assess.shape.bore_rings import Ring
from profiler.geometry.chain import FloatArray
from profiler.output.step.profile import SAME_MM, Piece
from profiler.output.step.splines import between, closed_poles

MOST_BORES = 3000  # of one solid: beyond it a file grows to tens of megabytes that no reader takes in reasonable time
LEAST_LAND_MM = 0.02  # left between a hole and another one or its face's end; less is no land at all
PIECES = (24, 32, 40, 48, 56, 64, 80, 96, 128, 160, 192, 256)  # tried in turn until a curve is near enough
SHARES = (0.125, 0.25, 0.375, 0.5, 0.625, 0.75, 0.875)  # of a piece, where its distance is measured
CURVE_MM = SAME_MM  # most that an edge may lie off either of its two surfaces


@dataclass(frozen=True, slots=True)
class End:
    """Where a ring's bores leave the body. `curve` (n, 3) are one bore's poles in its frame; angles as seen from it."""

    piece: int
    curve: FloatArray
    first: float  # azimuths between which a hole lies, off its bore's direction
    last: float
    radius: float  # least one


@dataclass(frozen=True, slots=True)
class Bored:
    """A ring that is cut: its inner and its outer end."""

    ring: Ring
    inner: End
    outer: End


@dataclass(frozen=True, slots=True)
class Marked:
    """A ring that is given as axes and points only, and why."""

    ring: Ring
    why: str


def drilled(pieces: Sequence[Piece], outline: FloatArray, rings: Sequence[Ring]) -> tuple[list[Bored], list[Marked]]:
    """Which rings can be cut, from the floor up, and which cannot.

    outline (n, 2): points along the section, close together.
    """
    bored: list[Bored] = []
    marked: list[Marked] = []
    for ring in sorted(rings, key=lambda r: r.height):
        try:
            if sum(each.ring.count for each in bored) + ring.count > MOST_BORES:
                raise _Refused(f"a solid takes no more than {MOST_BORES} holes")
            found = _bored(ring, pieces, outline)
            near = next((b.ring.groove for b in bored if ring.low < b.ring.high + LEAST_LAND_MM), None)
            if near is not None:
                raise _Refused(f"they lie too near to the holes of groove {near}")
        except _Refused as reason:
            marked.append(Marked(ring, str(reason)))
        else:
            bored.append(found)
    return bored, marked


class _Refused(Exception):
    """Why a ring is not cut."""


def _bored(ring: Ring, pieces: Sequence[Piece], outline: FloatArray) -> Bored:
    if not ring.in_jacket:
        raise _Refused("they do not open into the jacket")
    fitting = [i for i, piece in enumerate(pieces) if piece.is_graph
               and piece.low <= ring.low - LEAST_LAND_MM and piece.high >= ring.high + LEAST_LAND_MM]  # fmt: skip
    at = {i: float(pieces[i].radius_at(np.array(ring.height))) for i in fitting}
    inner = next((i for i in fitting if not pieces[i].rises and abs(at[i] - ring.inner) < LEAST_LAND_MM), None)
    if inner is None:
        raise _Refused("they are wider than the flat of the groove floor")
    outer = min((i for i in fitting if at[i] > at[inner] + LEAST_LAND_MM), key=lambda i: at[i], default=None)
    if outer is None or not pieces[outer].rises or not _clear(ring, pieces[inner], pieces[outer], outline):
        raise _Refused("they come out over an edge of the outside, or meet another groove on the way")
    ends = (_end(ring, pieces[inner], inner), _end(ring, pieces[outer], outer))
    if any((end.last - end.first) + LEAST_LAND_MM / end.radius > 2.0 * pi / ring.count for end in ends):
        raise _Refused("they meet each other")
    return Bored(ring, *ends)


def _clear(ring: Ring, inner: Piece, outer: Piece, outline: FloatArray) -> bool:
    """Whether nothing but material lies along the bores, with a hair of it beside them."""
    low, high = ring.low - LEAST_LAND_MM, ring.high + LEAST_LAND_MM
    (r0, z0), (r1, z1) = outline.T, np.roll(outline, -1, axis=0).T
    met = [outline[(z0 >= low) & (z0 <= high)]]
    for z in (low, high):
        cut = (z0 <= z) != (z1 <= z)
        share = (z - z0[cut]) / (z1[cut] - z0[cut])
        met.append(np.stack((r0[cut] + share * (r1[cut] - r0[cut]), np.full(len(share), z)), axis=1))
    radius, height = np.concatenate(met).T
    height = np.clip(height, inner.low, inner.high)
    return not np.any(
        (radius > inner.radius_at(height) + LEAST_LAND_MM)
        & (radius < outer.radius_at(np.clip(height, outer.low, outer.high)) - LEAST_LAND_MM)
    )


def _end(ring: Ring, piece: Piece, number: int) -> End:
    for count in PIECES:
        turn = 2.0 * pi * np.arange(count) / count
        points = where_met(ring, piece, turn)
        poles = closed_poles(points)
        every = np.concatenate([points, *(between(poles, share) for share in SHARES)])
        if _off(ring, piece, every) <= CURVE_MM:
            azimuth = np.arctan2(every[:, 1], every[:, 0])
            least = float(np.min(np.hypot(every[:, 0], every[:, 1])))
            return End(number, poles, float(np.min(azimuth)), float(np.max(azimuth)), least)
    raise _Refused("they graze a face too flatly for a curve to follow")


def where_met(ring: Ring, piece: Piece, turn: FloatArray) -> FloatArray:
    """(n, 3) points of the bore's end on a turned piece, by the angle round the bore."""
    aside, height = ring.offset + 0.5 * ring.diameter * np.cos(turn), ring.height + 0.5 * ring.diameter * np.sin(turn)
    square = piece.radius_at(height) ** 2 - aside**2
    if float(np.min(square)) <= LEAST_LAND_MM**2:
        raise _Refused("they graze a face")
    return np.stack((np.sqrt(square), aside, height), axis=1)


def _off(ring: Ring, piece: Piece, points: FloatArray) -> float:
    """The largest distance of points from the bore, or from the turned piece taken level, which is never less."""
    x, aside, height = points.T
    from_bore = np.abs(np.hypot(aside - ring.offset, height - ring.height) - 0.5 * ring.diameter)
    from_face = np.abs(np.hypot(x, aside) - piece.radius_at(height))
    return max(float(np.max(from_bore)), float(np.max(from_face)))

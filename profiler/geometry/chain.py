"""A chain of lines and arcs in the half plane (radius, height), and what turning it about the axis gives.

A segment runs from one point to the next; its bulge is tan(included angle / 4), positive counter-clockwise, zero for
a line. Areas, volumes and inertias are boundary integrals over the segments themselves (Green's theorem):
A = 1/2 loop(x dy - y dx), V = pi loop x^2 dy, first moment pi loop x^2 y dy, inertia/density = pi/2 loop x^4 dy,
second moment about height zero pi loop x^2 y^2 dy; the transverse inertia is half the polar one and that moment.
Any text on plane areas has them; an arc's integrands are polynomials in sine and cosine, for which the Gauss-Legendre
rule used here is exact to rounding.
"""

import re
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(16)
_SHARES = 0.5 * (_NODES + 1.0)
_FEW_NODES, _FEW = np.polynomial.legendre.leggauss(3)  # exact to the fifth power, which a line's integrands stay below
FEW_SHARES, FEW_WEIGHTS = 0.5 * (_FEW_NODES + 1.0), 0.5 * _FEW
_STRAIGHT = 1e-12  # a bulge no larger is a line


@dataclass(frozen=True, slots=True, eq=False)  # told apart by being themselves, so that what follows can be kept
class Chain:
    """Closed when the last point joins the first again: then there are as many segments as points."""

    points: FloatArray  # (n, 2) radius, height
    bulges: FloatArray  # (n,) of the segment that leaves each point; the last is ignored in an open chain
    closed: bool = True

    @property
    def segments(self) -> int:
        return len(self.points) if self.closed else len(self.points) - 1

    def ends(self) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Start points, end points and bulges of the segments."""
        n = self.segments
        return self.points[:n], _following(self.points)[:n], self.bulges[:n]

    def reversed(self) -> "Chain":
        """The same curve run the other way."""
        points = self.points[::-1].copy()
        bulges = -np.roll(self.bulges[::-1], -1) if self.closed else -np.append(self.bulges[-2::-1], 0.0)
        return Chain(points, bulges, self.closed)

    def mirrored(self) -> "Chain":
        """The other half of the section, run so that its sense of rotation stays."""
        return Chain(self.points * np.array([-1.0, 1.0]), -self.bulges, self.closed).reversed()


@dataclass(frozen=True, slots=True)
class Figures:
    """Of the body turned about the axis; lengths in the chain's unit."""

    area: float
    length: float
    volume: float
    centre_height: float
    polar_inertia: float  # per density
    transverse_inertia: float  # per density, about an axis square to the spin axis through the centre


def arcs(chain: Chain) -> tuple[FloatArray, FloatArray, FloatArray, NDArray[np.bool_]]:
    """Centre (n, 2), radius (n,), included angle (n,, signed) of every segment, and which are arcs at all."""
    start, end, bulge = chain.ends()
    curved = np.abs(bulge) > _STRAIGHT
    b = np.where(curved, bulge, 1.0)
    chord = end - start
    normal = np.column_stack((-chord[:, 1], chord[:, 0]))
    centre = 0.5 * (start + end) + normal * ((1.0 - b * b) / (4.0 * b))[:, None]
    radius = np.hypot(*chord.T) * (1.0 + b * b) / (4.0 * np.abs(b))
    return centre, radius, 4.0 * np.arctan(b), curved


def length(chain: Chain) -> float:
    start, end, bulge = chain.ends()
    chord = np.hypot(*(end - start).T)
    return float(np.sum(chord * _arc_over_chord(4.0 * np.arctan(bulge))))


@lru_cache(maxsize=8)  # body, parts and the look whether there is a body at all ask for the same one
def figures(chain: Chain) -> Figures:
    """Figures of a closed chain; positive whichever way it runs. The whole chain lies at positive radius."""
    if not chain.closed:
        raise ValueError("only a closed chain has an area")
    area, volume, moment, inertia, second = (_of_lines(chain) + _of_arcs(chain)).tolist()
    sign = 1.0 if area >= 0.0 else -1.0
    centre = moment / volume if volume else 0.0
    transverse = 0.5 * inertia + second - centre * moment
    return Figures(sign * area, length(chain), sign * volume, centre, sign * inertia, sign * transverse)


def sampled(chain: Chain, sag: float) -> FloatArray:
    """(m, 2) points along the chain whose straight joins stay within `sag` of it; every end point is kept."""
    start, end, bulge = chain.ends()
    bent = np.flatnonzero(np.abs(bulge) > _STRAIGHT)
    counts = np.ones(len(bulge), dtype=np.intp)
    counts[bent] = pieces = _pieces(end[bent] - start[bent], bulge[bent], sag)
    points = start.repeat(counts, axis=0)
    which = bent.repeat(pieces)
    place = np.arange(len(which)) - (np.cumsum(pieces) - pieces).repeat(pieces)
    within = _along(start[which], end[which], bulge[which], place / counts[which])
    points[(np.cumsum(counts) - counts)[which] + place] = within
    return points if chain.closed else np.vstack((points, chain.points[-1]))


def _pieces(chord: FloatArray, bulge: FloatArray, sag: float) -> NDArray[np.intp]:
    """(n,) into how many straight joins each arc is cut."""
    radius = np.hypot(chord[:, 0], chord[:, 1]) * (1.0 + bulge * bulge) / (4.0 * np.abs(bulge))
    step = 2.0 * np.arccos(1.0 - sag / np.maximum(radius, sag))
    return np.maximum(1, np.ceil(np.abs(4.0 * np.arctan(bulge)) / np.maximum(step, 1e-9))).astype(np.intp)


def distances(points: FloatArray, line: FloatArray) -> FloatArray:
    """(m,) least distance of each point (m, 2) from the straight joins of a line (n, 2)."""
    x, y, _ = _to_nearest(points, line)
    return np.asarray(np.hypot(x, y).min(axis=1))


def nearest(points: FloatArray, line: FloatArray) -> FloatArray:
    """(m, 2) the nearest place of a line (n, 2) of straight joins to each point (m, 2)."""
    x, y, share = _to_nearest(points, line)
    which = np.hypot(x, y).argmin(axis=1)
    share = share[np.arange(len(points)), which][:, None]
    return np.asarray(line[which] + share * (line[which + 1] - line[which]))


def _to_nearest(points: FloatArray, line: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
    """(m, n - 1) how far each point lies from each join, both ways, and at which share of it."""
    along_x, along_y = (line[1:] - line[:-1]).T
    x, y = (points[:, k, None] - line[None, :-1, k] for k in (0, 1))
    square = np.maximum(along_x * along_x + along_y * along_y, 1e-300)
    share = np.minimum(np.maximum((x * along_x + y * along_y) / square, 0.0), 1.0)
    return x - share * along_x, y - share * along_y, share


def without_repeats(points: FloatArray, bulges: FloatArray, closed: bool, least: float = 1e-9) -> Chain:
    """A chain without segments of no length."""
    chord = _following(points) - points
    keep = np.hypot(chord[:, 0], chord[:, 1]) > least
    if not closed:
        keep[-1] = True
    return Chain(points[keep], bulges[keep], closed)


def _following(points: FloatArray) -> FloatArray:
    """The next point of each; after the last comes the first."""
    return np.concatenate((points[1:], points[:1]))


def _of_lines(chain: Chain) -> FloatArray:
    """(5,) area, volume, moment, polar inertia and second moment about height zero that the straight segments give."""
    start, end, bulge = chain.ends()
    straight = np.abs(bulge) <= _STRAIGHT
    start, chord = start[straight], (end - start)[straight]
    x, y = (start[:, k, None] + chord[:, k, None] * FEW_SHARES for k in (0, 1))
    return _integrals(x, y, chord[:, :1] * FEW_WEIGHTS, chord[:, 1:] * FEW_WEIGHTS)


def _of_arcs(chain: Chain) -> FloatArray:
    """(5,) the same of the arcs."""
    start, end, bulge = chain.ends()
    curved = np.abs(bulge) > _STRAIGHT
    start, end, bulge = start[curved], end[curved], bulge[curved]
    points = _along(start[:, None, :], end[:, None, :], bulge[:, None], _SHARES)
    sweep, chord = 4.0 * np.arctan(bulge)[:, None], (end - start)[:, None, :]
    # the tangent at a share s is the chord turned by sweep (s - 1/2), with the arc's speed
    turn, speed = sweep * (_SHARES - 0.5), _arc_over_chord(sweep) * (0.5 * _WEIGHTS)
    cos, sin = np.cos(turn) * speed, np.sin(turn) * speed
    along_x, along_y = chord[..., 0] * cos - chord[..., 1] * sin, chord[..., 0] * sin + chord[..., 1] * cos
    return _integrals(points[..., 0], points[..., 1], along_x, along_y)


def _integrals(x: FloatArray, y: FloatArray, along_x: FloatArray, along_y: FloatArray) -> FloatArray:
    ring = x * x * along_y
    lever = ring * y
    area = 0.5 * (np.sum(x * along_y) - np.sum(y * along_x))
    turned = np.sum(ring), np.sum(lever), 0.5 * np.sum(ring * x * x), np.sum(lever * y)
    return np.array((area, *(np.pi * value for value in turned)))


def _along(start: FloatArray, end: FloatArray, bulge: FloatArray, share: FloatArray) -> FloatArray:
    """Points at shares of the way along segments; arrays broadcast, the last axis of start and end is (x, y)."""
    chord = end - start
    half = 2.0 * np.arctan(bulge)  # half the included angle
    # a chord of the arc: from its start, seen at share s, of length sin(half s)/sin(half), turned by half (s - 1)
    ratio = np.where(np.abs(half) > 1e-9, np.sin(half * share) / np.where(half == 0.0, 1.0, np.sin(half)), share)
    turn = half * (share - 1.0)
    cos, sin = ratio * np.cos(turn), ratio * np.sin(turn)
    x = start[..., 0] + chord[..., 0] * cos - chord[..., 1] * sin
    y = start[..., 1] + chord[..., 0] * sin + chord[..., 1] * cos
    both = np.empty((*x.shape, 2))
    both[..., 0], both[..., 1] = x, y
    return both


def _arc_over_chord(sweep: FloatArray) -> FloatArray:
    """Length of an arc over that of its chord."""
    return np.asarray(1.0 / np.sinc(0.5 * sweep / np.pi))


def crossing(chain: Chain, sag: float) -> tuple[float, float] | None:
    """A point at which the closed chain, sampled to within `sag`, crosses or touches itself; None where it does not."""
    import shapely

    section = shapely.Polygon(sampled(chain, sag))
    if section.is_valid:
        return None
    place = re.search(r"\[(\S+) (\S+)\]", shapely.is_valid_reason(section))
    return (float(place[1]), float(place[2])) if place else (float(chain.points[0, 0]), float(chain.points[0, 1]))

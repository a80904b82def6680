"""Water holes in a body of triangles: the strips in which they open, and the walls of the bores.

A strip is rolled out, parted between its holes, and each part triangulated by a constrained Delaunay triangulation,
which takes the corners that are given and no others; so strips fit the rows of the body beside them, and two openings
of a bore fit its wall, corner by corner.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import acos, ceil, hypot, pi

import numpy as np
from numpy.typing import NDArray

from profiler.assess.shape.bore_rings import Ring
from profiler.geometry.chain import FloatArray
from profiler.geometry.triangles import triangulated
from profiler.output.solids.section_points import Strip
from profiler.output.step.bores import where_met

Ints = NDArray[np.int64]
LEAST_SIDES = 12  # of a hole


@dataclass(frozen=True, slots=True)
class Opening:
    """A strip as triangles: corners (n, 3) that come to the body's, triangles (m, 3), and each hole's corners."""

    corners: FloatArray
    triangles: Ints
    holes: Ints  # (holes, sides) in the order of the ring, round each bore as seen along its y and z


def sides_of(ring: Ring, sag: float) -> int:
    """Flat sides of a bore, so that they lie within `sag` of it."""
    return max(LEAST_SIDES, ceil(pi / acos(1.0 - min(2.0 * sag / ring.diameter, 0.5))))


def opening(strip: Strip, lower: Ints, upper: Ints, first: int, sides: int) -> Opening:
    """The strip between two rows of the body's corners, even steps from azimuth zero; new ones count from `first`."""
    ring, count, steps = strip.bored.ring, strip.bored.ring.count, len(lower)
    gaps = ring.ways[0] + 0.5 * (strip.end.first + strip.end.last) + 2.0 * pi * (np.arange(count + 1) - 0.5) / count
    rims = _rims(strip, sides)
    seams = np.stack((np.tile(gaps[:-1], 2), np.repeat([ring.low, ring.high], count)), axis=1)
    flat = np.concatenate((seams, rims.reshape(-1, 2)))
    corners = _in_space(strip, flat)
    holes = first + 2 * count + np.arange(count * sides).reshape(count, sides)
    cuts = np.floor(gaps * steps / (2.0 * pi) + 0.5).astype(int)
    outlines, numbers = [], []
    for k in range(count):
        row = np.arange(cuts[k], cuts[k + 1] + 1)
        following = (k + 1) % count
        low, high = (np.stack((2.0 * pi * row / steps, np.full(len(row), z)), axis=1) for z in (strip.low, strip.high))
        right = [(gaps[k + 1], ring.low), (gaps[k + 1], ring.high)]
        left = [(gaps[k], ring.high), (gaps[k], ring.low)]
        outlines.append(np.concatenate((low, right, high[::-1], left)))
        numbers.append(np.concatenate((
            lower[row % steps], [first + following, first + count + following],
            upper[row[::-1] % steps], [first + count + k, first + k],
        )))  # fmt: skip
    triangles = _triangulated(strip, outlines, rims, numbers, holes)
    return Opening(corners, triangles if strip.piece.rises else triangles[:, ::-1], holes)


def bore_walls(inner: Ints, outer: Ints) -> Ints:
    """Triangles of the bores between two openings of one ring, seen counter-clockwise from inside the bore."""
    a, b = inner, outer
    c, d = np.roll(b, -1, axis=1), np.roll(a, -1, axis=1)
    return np.concatenate((np.stack((a, b, c), -1).reshape(-1, 3), np.stack((a, c, d), -1).reshape(-1, 3)))


def _turns(sides: int) -> FloatArray:
    return np.asarray(2.0 * pi * np.arange(sides) / sides)


def _rims(strip: Strip, sides: int) -> FloatArray:
    """(holes, sides, 2) azimuth and height round each hole."""
    x, aside, height = where_met(strip.bored.ring, strip.piece, _turns(sides)).T
    azimuth = strip.bored.ring.ways[:, None] + np.arctan2(aside, x)[None, :]
    return np.stack((azimuth, np.broadcast_to(height, azimuth.shape)), axis=-1)


def _in_space(strip: Strip, flat: FloatArray) -> FloatArray:
    """(n, 3) of azimuths and heights on the strip's own surface."""
    azimuth, height = flat.T
    radius = strip.piece.radius_at(height)
    return np.stack((radius * np.cos(azimuth), radius * np.sin(azimuth), height), axis=1)


def _triangulated(
    strip: Strip, outlines: Sequence[FloatArray], rims: FloatArray, numbers: Sequence[Ints], holes: Ints
) -> Ints:
    """Triangles by the numbers of their corners, counter-clockwise as rolled out."""
    (r0, z0), (r1, z1) = strip.piece.start, strip.piece.end
    scale = np.array([0.5 * (r0 + r1), hypot(r1 - r0, z1 - z0) / abs(z1 - z0)])  # so that shapes are the true ones
    found = triangulated([outline * scale for outline in outlines], list(rims * scale))
    return np.concatenate([*numbers, holes.ravel()])[found]

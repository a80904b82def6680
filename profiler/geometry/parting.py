"""How a core comes out of what was cast on it: what lies behind an overhang, and how far segments must draw in.

A core that is drawn out along the axis, upward, catches wherever something above stands nearer to the axis. All by
plane geometry; lengths in any unit, angles in radians.
"""

from dataclasses import dataclass
from math import cos, pi, sin

import numpy as np

from profiler.geometry.chain import Chain, FloatArray, sampled

SAG = 0.01
STEP = 0.5  # between points along a line, so that what overhangs it is met
COUNTS = (6, 8, 10, 12, 14, 16)  # segments: even, since narrow and wide ones take turns


@dataclass(frozen=True, slots=True)
class Segments:
    """A core in staves: a middle is drawn out first, then every second one, a key with parallel flanks, then all."""

    count: int  # keys and wide ones together
    travel: float  # inward, of the wide ones
    key_width: float  # least
    middle_radius: float  # least of the hole that the middle leaves


def clear_above(edge: Chain) -> tuple[FloatArray, FloatArray]:
    """Heights (n,), falling, and the least radius (n,) the edge has there or above."""
    points = dense(edge)
    order = np.argsort(-points[:, 1], kind="stable")
    return points[order, 1], np.minimum.accumulate(points[order, 0])


def caught(points: FloatArray, clear: tuple[FloatArray, FloatArray]) -> FloatArray:
    """(n,) how far points (n, 2) stand out beyond what they have to pass above them; 0 where they are free."""
    heights, least = clear
    place = np.searchsorted(-heights, -points[:, 1] + 1e-9, side="right") - 1
    return np.maximum(points[:, 0] - least[np.clip(place, 0, None)], 0.0)


def segments(outer: FloatArray, under: FloatArray, least_radius: float) -> Segments | None:
    """The fewest segments that come out from behind the undercuts; None where the core is too slender for any.

    `outer` (n,) are the radii of the ribs, `under` (n,) how far each is caught, `least_radius` the core's own where it
    is slenderest. Corners of a wide segment have to pass as well as its middle: with half its angle a they are clear
    when it has drawn in by R cos a - sqrt(r^2 - (R sin a)^2). Meanwhile its flanks near its neighbours' by that times
    sin a, which is what the keys have to leave free. What is left of it is at least as thick as it travels.
    """
    for count in COUNTS:
        half = 2.0 * pi / count  # narrow keys take next to nothing of the round
        across, clear = outer * sin(half), outer - under
        if np.any(across >= clear):
            continue
        travel = float(np.max(outer * cos(half) - np.sqrt(clear * clear - across * across), initial=0.0))
        middle = travel / cos(half)
        if middle + travel <= least_radius:
            return Segments(count, travel, travel * sin(half), middle)
    return None


def dense(edge: Chain) -> FloatArray:
    """(n, 2) points along a chain, never farther apart than STEP."""
    points = sampled(edge, SAG)
    start, along = points[:-1], np.diff(points, axis=0)
    counts = np.maximum(1, np.ceil(np.hypot(*along.T) / STEP)).astype(int)
    which = np.repeat(np.arange(len(counts)), counts)
    share = (np.arange(len(which)) - np.repeat(np.cumsum(counts) - counts, counts)) / counts[which]
    return np.vstack((start[which] + share[:, None] * along[which], points[-1:]))

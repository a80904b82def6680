"""The slurry surface of a whole bowl, from the lip down, and which land holds each part of it up.

Going up, a bed that carries slurry opens at least as fast as the repose angle, and it lies nowhere outside a land.
With B(z) the integral of tan(repose) from the floor, the outermost such bed is

    r_s(z) = B(z) + min over z' >= z, z' on lands, of ( r_w(z') - B(z') )

one running minimum from the lip down (inside a mouth the groove contour may stand nearer to the axis). A land where
the minimum sits at itself is exposed; elsewhere it is buried. Derived, no published source; its closed forms are in
tests/laws/test_surface_laws.py.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]

EXPOSURE_TOLERANCE = 1e-9  # m: a wall lying exactly at repose must not flicker


@dataclass(frozen=True, slots=True)
class WallLine:
    """Stations from floor to lip. A corner is two stations of one height."""

    height: FloatArray  # (n,) m, not decreasing
    radius: FloatArray  # (n,) m
    slope_below: FloatArray  # (n,) tan of the wall angle just below each station
    slope_above: FloatArray  # (n,) and just above
    land: BoolArray  # (n-1,) whether the interval above each station lies on a land

    @property
    def on_land(self) -> BoolArray:
        """(n,) Lands are closed: both edges of every mouth belong to them."""
        below = np.concatenate(([True], self.land))
        above = np.concatenate((self.land, [True]))
        return np.asarray(below | above)


@dataclass(frozen=True, slots=True)
class Bed:
    """The surface at every station; leading axes as those of the repose slope it was made with."""

    slope: FloatArray  # (..., n) tan of the repose angle, just above each station
    slope_below: FloatArray  # (..., n) and just below: another where water joins the film
    rise: FloatArray  # (..., n) m, B
    level: FloatArray  # (..., n) m, the running minimum of r_w - B from the lip down
    held_at: FloatArray  # (..., n) m, height of the land that holds the bed here
    radius: FloatArray  # (..., n) m, B + level: the bed's surface where no groove contour is nearer to the axis

    def buried(self, line: WallLine) -> FloatArray:
        """(..., n) m, depth of the bed over the wall line, measured radially; zero where it is exposed."""
        depth = line.radius - self.radius
        return np.where(depth > EXPOSURE_TOLERANCE, depth, 0.0)


def bed_surface(line: WallLine, slope: FloatArray, slope_below: FloatArray | None = None) -> Bed:
    """The surface for tan(repose angle) given at the stations, (..., n), linear between them.

    `slope_below` is that just below each station, where it steps there; without it the angle steps nowhere.

    Where a land turns from steeper to shallower than repose between two stations, the lowest r_w - B is found inside
    the interval, on the cubic through both ends and their slopes: the result does not depend on where stations lie.
    """
    end = slope if slope_below is None else slope_below
    step = line.height[1:] - line.height[:-1]
    rise = np.zeros_like(slope)
    np.add.accumulate(0.5 * (end[..., 1:] + slope[..., :-1]) * step, axis=-1, out=rise[..., 1:])
    reach = line.radius - rise
    candidates, heights = _candidates(line, slope, end, reach, step)
    level = np.minimum.accumulate(candidates[..., ::-1], axis=-1)[..., ::-1]
    index = np.arange(candidates.shape[-1])
    holder = np.where(candidates <= level, index, index[-1])
    holder = np.minimum.accumulate(holder[..., ::-1], axis=-1)[..., ::-1]
    held_at = heights.take(holder) if heights.ndim == 1 else np.take_along_axis(heights, holder, axis=-1)
    return Bed(slope, end, rise, level, held_at, rise + level)


def _candidates(
    line: WallLine, slope: FloatArray, end: FloatArray, reach: FloatArray, step: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """r_w - B at stations on lands, and its height: (n,), or (..., n) where one lies above its station.

    Where a turning point lies between a station and the next it stands for the station: it is lower.
    """
    values, heights = np.where(line.on_land, reach, np.inf), line.height
    falling = line.slope_above[:-1] < slope[..., :-1]
    turning = falling & (line.slope_below[1:] > end[..., 1:]) & (line.land & (step > 0.0))  # no corner
    if turning.any():
        where = np.nonzero(turning)
        i = where[-1]
        h = line.height[i + 1] - line.height[i]
        g0, g1 = reach[where], reach[(*where[:-1], i + 1)]
        d0 = h * (line.slope_above[i] - slope[where])
        d1 = h * (line.slope_below[i + 1] - end[(*where[:-1], i + 1)])
        share, lowest = _lowest(g0, g1, d0, d1)
        values[where] = np.minimum(lowest, g0)
        heights = np.broadcast_to(heights, values.shape).copy()
        heights[where] += share * h
    return values, heights


def _lowest(g0: FloatArray, g1: FloatArray, d0: FloatArray, d1: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Share of the way and value of the lowest point of Hermite cubics that fall at 0 and rise at 1."""
    a = 3.0 * (2.0 * (g0 - g1) + d0 + d1)
    b = 2.0 * (3.0 * (g1 - g0) - 2.0 * d0 - d1)
    root = np.sqrt(np.maximum(b * b - 4.0 * a * d0, 0.0))
    share = np.minimum(np.maximum(-2.0 * d0 / (b + root), 0.0), 1.0)
    return share, _cubic(g0, g1, d0, d1, share)


def _cubic(g0: FloatArray, g1: FloatArray, d0: FloatArray, d1: FloatArray, u: FloatArray) -> FloatArray:
    return np.asarray(g0 + u * (d0 + u * (3.0 * (g1 - g0) - 2.0 * d0 - d1 + u * (2.0 * (g0 - g1) + d0 + d1))))

"""What the stream does at a groove: overfall, overturn ratio, the four states.

The stream leaves a groove's lower edge and drops by the signed overfall onto the bed that the next land holds:

    sigma = [ B(z_l) + min over lands z' >= z_u of ( r_w(z') - B(z') ) ] - r_w(z_l)

positive: it falls; not positive: the bed stands so deep over the lower edge. The overturn ratio sets the power of the
fall against the power the slurry needs to travel the same height. Derived; the boundary of 2 between weak and strong
is this program's own choice (two thirds of the head go into overturning), no published threshold exists.
"""

from dataclasses import dataclass
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

from profiler.physics.slurry.surface import Bed, FloatArray, WallLine

IntArray = NDArray[np.intp]

STRONG_RATIO = 2.0
LEAST_SLOPE = 1e-6  # tan of the film's slope, where a slurry without a bed would divide by nothing


class State(IntEnum):
    """Ordered along the overfall; NONE where no state is claimed: below the entry height, and without a bed."""

    NONE = -1
    SHELTERED = 0
    MATCHED = 1
    WEAK = 2
    STRONG = 3


@dataclass(frozen=True, slots=True)
class Edges:
    """Lower and upper edge of real or imagined mouths: heights and wall radii, (k,), m."""

    lower: FloatArray
    upper: FloatArray
    lower_radius: FloatArray
    upper_radius: FloatArray

    @property
    def mouth(self) -> FloatArray:
        return self.upper - self.lower


@dataclass(frozen=True, slots=True)
class Places:
    """Where the edges lie among the stations: made once for a wall, used for every duty and every friction."""

    lower_index: IntArray
    lower_step: FloatArray
    upper_index: IntArray
    upper_step: FloatArray
    next_land: IntArray  # first station at or above each upper edge


def places(line: WallLine, edges: Edges) -> Places:
    lower, lower_step = _locate(line, edges.lower)
    upper, upper_step = _locate(line, edges.upper)
    following = np.searchsorted(line.height, edges.upper - 1e-12, side="left")
    return Places(lower, lower_step, upper, upper_step, np.minimum(following, len(line.height) - 1))


def overfall(line: WallLine, bed: Bed, edges: Edges, at: Places) -> FloatArray:
    """(..., k) m, signed. Each upper edge counts as a land, whether the mouth is cut or imagined."""
    rise_low = _rise(line, bed, at.lower_index, at.lower_step)
    own_edge = edges.upper_radius - _rise(line, bed, at.upper_index, at.upper_step)
    held = np.minimum(own_edge, bed.level.take(at.next_land, axis=-1))
    return np.asarray(rise_low + held - edges.lower_radius)


def overturn_ratio(fall: FloatArray, mouth: FloatArray, film_slope: FloatArray) -> FloatArray:
    """E = sigma / (m tan(film slope)); free of size and speed. Lengths m, film_slope = tan(repose - tilt)."""
    return np.asarray(fall / (mouth * np.maximum(film_slope, LEAST_SLOPE)))


def states(fall_low: FloatArray, fall_high: FloatArray, ratio: FloatArray) -> NDArray[np.int8]:
    """State of each place from its overfall at low and high repose and its overturn ratio at middle repose."""
    falling = np.where(ratio >= STRONG_RATIO, State.STRONG, State.WEAK)
    return np.where(fall_high > 0.0, falling, np.where(fall_low > 0.0, State.MATCHED, State.SHELTERED)).astype(np.int8)


def released_power(mass_flow: FloatArray, acceleration: FloatArray, fall: FloatArray) -> FloatArray:
    """W set free by the fall, P = m a sigma; none where nothing falls. 0.2 to 1.0 of it is spent in the groove."""
    return np.asarray(mass_flow * acceleration * np.maximum(fall, 0.0))


def _locate(line: WallLine, height: FloatArray) -> tuple[IntArray, FloatArray]:
    index = np.minimum(np.maximum(np.searchsorted(line.height, height, side="right") - 1, 0), len(line.height) - 2)
    return index.astype(np.intp), np.asarray(height - line.height[index])


def _rise(line: WallLine, bed: Bed, index: IntArray, step: FloatArray) -> FloatArray:
    """B between stations: the slope is linear there, so B is a parabola."""
    whole = line.height[index + 1] - line.height[index]
    slope = bed.slope.take(index, axis=-1)
    bend = (bed.slope_below.take(index + 1, axis=-1) - slope) * (0.5 * step / np.where(whole > 0.0, whole, 1.0))
    return np.asarray(bed.rise.take(index, axis=-1) + step * (slope + bend))

"""Where a wall passes from exposed to buried, solved on the curve on which the program finds the surface."""

import numpy as np

from profiler.physics.slurry.surface import EXPOSURE_TOLERANCE, Bed, FloatArray, WallLine


def exposure_ends(line: WallLine, bed: Bed) -> FloatArray:
    """Heights where the wall passes from exposed to buried or back, in order, for one bed (n,).

    Solved inside their intervals on the same cubic as the surface. A bowl that is buried throughout but at its lip,
    or exposed throughout, gives none.
    """
    reach = line.radius - bed.rise
    shown = reach - bed.level <= EXPOSURE_TOLERANCE
    found: list[float] = []
    for i in np.flatnonzero(line.land & (shown[1:] != shown[:-1])):
        if shown[i + 1]:
            found.append(float(bed.held_at[i]))  # going up, a buried wall surfaces at the land that holds the bed
        else:
            found.append(_meeting(line, bed, int(i), float(reach[i]), float(reach[i + 1])))
    return np.asarray(found)


def _meeting(line: WallLine, bed: Bed, i: int, g0: float, g1: float) -> float:
    """Height inside interval i where an exposed wall, going up, dips under the bed held from above.

    The tolerance says whether a station is exposed; where the two lines meet is told without it.
    """
    h = line.height[i + 1] - line.height[i]
    d0 = h * (line.slope_above[i] - bed.slope[i])
    d1 = h * (line.slope_below[i + 1] - bed.slope[i + 1])
    low, high, level = 0.0, 1.0, float(bed.level[i + 1])
    for _ in range(60):
        middle = 0.5 * (low + high)
        if _cubic(g0, g1, d0, d1, middle) <= level:
            low = middle
        else:
            high = middle
    return float(line.height[i] + low * h)


def _cubic(g0: float, g1: float, d0: float, d1: float, u: float) -> float:
    return g0 + u * (d0 + u * (3.0 * (g1 - g0) - 2.0 * d0 - d1 + u * (2.0 * (g0 - g1) + d0 + d1)))

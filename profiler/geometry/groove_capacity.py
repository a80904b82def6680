"""What a groove contains: its polygon below the mouth line and below its own bed, turned about the axis.

Roundings are left out: sharp corners, which over-count a usual groove by one or two per cent.
"""

import numpy as np

from profiler.geometry.wall import FloatArray


def contents_polygon(corners: FloatArray, fall: FloatArray) -> FloatArray:
    """(..., g, 4, 2) what lies outside the line from each upper edge to the bed's place over the lower edge.

    corners (g, 4, 2): lower edge, lower and upper floor corner, upper edge. `fall` (..., g) is how far outside the
    lower edge the bed stands at that height; not positive: the mouth line bounds it. Where the line passes
    outside the lower floor corner the first two corners meet on the floor.
    """
    low, floor_low, floor_high, high = (np.broadcast_to(corners[:, k], (*fall.shape, 2)) for k in range(4))
    place = low + np.stack((np.maximum(fall, 0.0), np.zeros_like(fall)), axis=-1)
    on_flank = _meeting(low, floor_low, high, place)
    on_floor = _meeting(floor_low, floor_high, high, place)
    first = low + np.clip(on_flank, 0.0, 1.0)[..., None] * (floor_low - low)
    beyond = on_flank > 1.0
    second = np.where(
        beyond[..., None], floor_low + np.clip(on_floor, 0.0, 1.0)[..., None] * (floor_high - floor_low), floor_low
    )
    first = np.where(beyond[..., None], second, first)
    return np.stack((first, second, floor_high, high), axis=-2)


def turned_volume(polygon: FloatArray) -> FloatArray:
    """(...) volume swept by polygons (..., k, 2) of (radius, height) turned about the axis: 2 pi integral r dA."""
    following = np.roll(polygon, -1, axis=-2)
    r, nxt = polygon[..., 0], following[..., 0]
    rise = following[..., 1] - polygon[..., 1]
    return np.asarray(np.abs(np.sum(rise * (r * r + r * nxt + nxt * nxt), axis=-1)) * np.pi / 3.0)


def _meeting(a: FloatArray, b: FloatArray, p: FloatArray, q: FloatArray) -> FloatArray:
    """Share of the way from a to b at which the line through p and q is met; above 1 where it runs alongside."""
    along, across = b - a, q - p
    slant = along[..., 0] * across[..., 1] - along[..., 1] * across[..., 0]
    offset = (p[..., 0] - a[..., 0]) * across[..., 1] - (p[..., 1] - a[..., 1]) * across[..., 0]
    return np.asarray(np.where(np.abs(slant) > 0.0, offset / np.where(slant == 0.0, 1.0, slant), 2.0))

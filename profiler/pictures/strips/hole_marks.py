"""Water holes in the section: two edges and a centre line each, from the jacket to the groove floor."""

import numpy as np

from profiler.assess.shape.shape_stage import Shape
from profiler.pictures.basics.display import FloatArray, Item, Line, Role, Strokes
from profiler.units import MM

LEAST_WIDTH_PX = 2.5  # narrower holes are drawn as their centre line alone


def hole_edges(shape: Shape) -> FloatArray:
    """(k, 2, 2) lower and upper edge of each ring's hole, (radius, height) in mm; rings without holes are left out."""
    if shape.holes is None:
        return np.zeros((0, 2, 2))
    rings = shape.holes.rings
    at = np.flatnonzero(rings.count > 0.0)
    inner, outer, z = (a[at] / MM for a in (rings.radius, shape.holes.outer_radius, rings.height))
    half = 0.5 * rings.diameter[at] / MM
    ends = [np.stack((np.stack((inner, z + s * half), 1), np.stack((outer, z + s * half), 1)), 1) for s in (-1.0, 1.0)]
    return np.concatenate(ends)


def hole_marks(edges_px: FloatArray) -> list[Item]:
    """Marks from the edges as pixels, lower ones first, as `hole_edges` gives them."""
    count = len(edges_px) // 2
    if not count:
        return []
    low, high = edges_px[:count], edges_px[count:]
    middle = 0.5 * (low + high)
    stretch = np.array([[-3.0, 0.0], [3.0, 0.0]])
    items: list[Item] = [Line(m + stretch, Role.SEAT, 1.0, (6.0, 2.0, 1.5, 2.0)) for m in middle]
    if float(np.mean(np.abs(high[:, 0, 1] - low[:, 0, 1]))) >= LEAST_WIDTH_PX:
        items.append(Strokes(edges_px, Role.WALL, 1.0))
    return items

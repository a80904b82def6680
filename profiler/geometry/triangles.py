"""Plane rings with an opening each as triangles whose corners are those of the rings and no others."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from profiler.geometry.chain import FloatArray


def triangulated(outlines: Sequence[FloatArray], openings: Sequence[FloatArray]) -> NDArray[np.int64]:
    """(m, 3) triangles, counter-clockwise, between each outline (n, 2) and the opening (k, 2) in it.

    A corner's number counts through all outlines and then all openings; where rings share a corner, it is one of its
    numbers. By a constrained Delaunay triangulation.
    """
    import shapely

    rings = [shapely.Polygon(outline, [opening]) for outline, opening in zip(outlines, openings, strict=True)]
    pieces = shapely.get_parts(shapely.constrained_delaunay_triangles(np.array(rings)))
    found = shapely.get_coordinates(pieces).reshape(-1, 4, 2)[:, :3]
    at = _keys(np.concatenate([*outlines, *openings]))
    order = np.argsort(at, kind="stable")
    triangles = order[np.searchsorted(at[order], _keys(found))]
    (x, y), (u, v) = (np.moveaxis(found[:, k] - found[:, 0], -1, 0) for k in (1, 2))
    return np.where((x * v < y * u)[:, None], triangles[:, ::-1], triangles)


def _keys(points: FloatArray) -> NDArray[np.complex128]:
    """One number for each point, by which equal ones are found."""
    return np.asarray(points[..., 0] + 1j * points[..., 1])

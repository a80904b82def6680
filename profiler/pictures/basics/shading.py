"""Shades of a map: numbers on a lattice, interpolated to small cells so that no lattice shows. Not here: lines."""

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from profiler.pictures.basics.display import Area, FloatArray, Item, Role, boxed
from profiler.pictures.basics.frame import Frame, Scale

SHADES = 16
ROW_PX, COLUMN_PX = 3.0, 3.0
FAINTEST, RANGE = 0.04, 0.66  # opacities


def shades(x: FloatArray, y: FloatArray, values: FloatArray, frame: Frame, role: Role, counted: bool) -> list[Item]:
    """`values` (len(y), len(x)); `counted` ones have a shade per whole number. Where there is no number, no shade.

    Equal neighbours of a row are one area; edges lie on whole pixels, so that no seams show.
    """
    finite = values[np.isfinite(values)]
    if not len(finite):
        return []
    left, top, right, bottom = frame.box
    xs = np.round(np.linspace(left, right, max(int((right - left) / COLUMN_PX), 2) + 1))
    ys = np.round(np.linspace(bottom, top, max(int((bottom - top) / ROW_PX), 2) + 1))
    fine = between(x, y, values, _middles(xs, frame.x), _middles(ys, frame.y))
    shade, most = _shade(fine, float(finite.min()), float(finite.max()), counted)
    items: list[Item] = []
    for row in range(len(ys) - 1):
        cuts = np.concatenate(([0], np.flatnonzero(np.diff(shade[row])) + 1, [len(xs) - 1])).tolist()
        for a, b in pairwise(cuts):
            if shade[row, a] >= 0:
                opacity = FAINTEST + RANGE * int(shade[row, a]) / most
                items.append(Area(boxed(xs[a], ys[row + 1], xs[b], ys[row]), role, opacity))
    return items


def between(x: FloatArray, y: FloatArray, values: FloatArray, at_x: FloatArray, at_y: FloatArray) -> FloatArray:
    """(len(at_y), len(at_x)) linear both ways between the lattice's numbers; the nearest's where one is missing."""
    (i, u), (j, v) = _place(x, at_x), _place(y, at_y)
    low = (1.0 - u) * values[j][:, i] + u * values[j][:, i + 1]
    high = (1.0 - u) * values[j + 1][:, i] + u * values[j + 1][:, i + 1]
    found = (1.0 - v)[:, None] * low + v[:, None] * high
    nearest = values[np.round(j + v).astype(int)][:, np.round(i + u).astype(int)]
    return np.asarray(np.where(np.isfinite(found), found, nearest))


def _shade(fine: FloatArray, low: float, high: float, counted: bool) -> tuple[NDArray[np.int64], int]:
    """Number of the shade of each cell, -1 for none, and the number of the strongest, at least 1."""
    if counted:
        whole = np.round(fine - low)
        return np.where(np.isfinite(whole), whole, -1.0).astype(np.int64), max(round(high - low), 1)
    share = (fine - low) / ((high - low) or 1.0)
    return np.where(np.isfinite(share), np.floor(share * (SHADES - 1e-9)), -1.0).astype(np.int64), SHADES - 1


def _place(lattice: FloatArray, at: FloatArray) -> tuple[NDArray[np.intp], FloatArray]:
    """The lattice line below each place, and how far to the next it lies, 0 to 1."""
    below = np.clip(np.searchsorted(lattice, at, side="right") - 1, 0, len(lattice) - 2)
    return below, np.clip((at - lattice[below]) / (lattice[below + 1] - lattice[below]), 0.0, 1.0)


def _middles(edges: FloatArray, scale: Scale) -> FloatArray:
    return np.array([scale.value(0.5 * (a + b)) for a, b in pairwise(edges.tolist())])

"""Drawings written by ezdxf for the tests: every kind of entity, and sections of rotors. All shapes are invented."""

from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import ezdxf
import numpy as np

from profiler.geometry.chain import Chain, FloatArray, arcs

KINDS = ("LINE", "ARC", "CIRCLE", "LWPOLYLINE", "POLYLINE", "ELLIPSE", "SPLINE")
SEAT = ((0.0, 160.0), (200.0, 225.0), (262.0, 227.0))  # height, radius


def saved(path: Path, draw: Callable, unit: int = 4, version: str = "R2000", binary: bool = False) -> Path:
    document = ezdxf.new(version)
    document.units = unit
    draw(document)
    document.saveas(path, fmt="bin" if binary else "asc")
    return path


def draw_kind(document, kind: str) -> None:
    space = document.modelspace()
    if kind == "LINE":
        space.add_line((1.0, 2.0), (31.0, 17.0))
    elif kind == "ARC":
        space.add_arc((5.0, 6.0), 40.0, 200.0, 20.0)
    elif kind == "CIRCLE":
        space.add_circle((3.0, -4.0), 25.0)
    elif kind == "LWPOLYLINE":
        space.add_lwpolyline([(0, 0, 0.3), (40, 0, -0.5), (40, 30, 0), (0, 30, 1.2)], format="xyb", close=True)
    elif kind == "POLYLINE":
        space.add_polyline2d([(0, 0, 0.4), (50, 10, 0.0), (60, 40, 0.0)], format="xyb")
    elif kind == "ELLIPSE":
        space.add_ellipse((10.0, 5.0), (60.0, 20.0), 0.4, 0.3, 5.0)
    elif kind == "SPLINE":
        space.add_open_spline([(0, 0), (20, 30), (50, 25), (70, 60), (110, 40)])


def draw_rotor(document, gap: float = 0.0, full: bool = False, centre: bool = True) -> None:
    """A seat as an open line from the axis along the floor and up, the axis as a centre line, a feed pipe."""
    space = document.modelspace()
    points = [(0.0, 0.0), *((r, z) for z, r in SEAT)]
    for side in (1.0, -1.0) if full else (1.0,):
        for (x0, y0), (x1, y1) in pairwise(points):
            space.add_line((side * (x0 + gap), y0), (side * x1, y1))
        space.add_line((side * 20.0, 120.0), (side * 20.0, 300.0))
    if centre:
        document.layers.add("CENTRE")
        space.add_line((0.0, -20.0), (0.0, 320.0), dxfattribs={"layer": "CENTRE"})


def away(points: FloatArray, chain: Chain) -> FloatArray:
    """Exact distance of points from a chain of lines and arcs."""
    start, end, _ = chain.ends()
    centre, radius, sweep, curved = arcs(chain)
    best = np.full(len(points), np.inf)
    for i in range(chain.segments):
        if curved[i]:
            first = np.arctan2(*(start[i] - centre[i])[::-1])
            at = np.arctan2(points[:, 1] - centre[i, 1], points[:, 0] - centre[i, 0])
            turned = ((at - first) * np.sign(sweep[i])) % (2.0 * np.pi)
            inside = (turned <= abs(sweep[i]) + 1e-9) | (turned > 2.0 * np.pi - 1e-9)
            ring = np.abs(np.hypot(*(points - centre[i]).T) - radius[i])
            ends = np.minimum(np.hypot(*(points - start[i]).T), np.hypot(*(points - end[i]).T))
            best = np.minimum(best, np.where(inside, ring, ends))
        else:
            along = end[i] - start[i]
            share = np.clip((points - start[i]) @ along / (along @ along), 0.0, 1.0)
            best = np.minimum(best, np.hypot(*(points - start[i] - share[:, None] * along).T))
    return best

"""A turned body cut open: its rear half seen from the front and from above, as a still picture.

Quads of the turned surface, the farther ones first; those that look away are left out. Shade goes by how squarely a
quad faces a light at the viewer's upper left.
"""

from collections.abc import Callable
from math import cos, pi, radians, sin

import numpy as np

from profiler.geometry.chain import Chain, FloatArray, sampled
from profiler.pictures.basics.display import Area, Item, Line, Picture, Role

TILT = radians(24.0)  # of the view, downward
SAG_PX = 0.35
PICTURE_PX = (640.0, 480.0)  # on a page
STEPS = 30  # round the half turn
PAD = 14.0
LIGHT = np.array([-0.45, -0.7, 0.55])
DARKEST = 0.6


def cut_open(section: Chain, width: float, height: float) -> Picture:
    """`section` is the closed half section; x is the radius, y the height."""
    most = float(section.points[:, 0].max())
    low, high = float(section.points[:, 1].min()), float(section.points[:, 1].max())
    across, upright = 2.0 * most, (high - low) * cos(TILT) + most * sin(TILT)
    scale = min((width - 2.0 * PAD) / across, (height - 2.0 * PAD) / upright)
    base = height - PAD + low * cos(TILT) * scale

    def on_page(points: FloatArray) -> FloatArray:
        """(n, 3) to (n, 2) px; x to the right, y away from the viewer, z up."""
        x, y, z = np.moveaxis(points, -1, 0)
        return np.stack((0.5 * width + scale * x, base - scale * (z * cos(TILT) + y * sin(TILT))), axis=-1)

    ring = sampled(section, SAG_PX / scale)
    if float(np.sum(ring[:, 0] * np.roll(ring[:, 1], -1) - np.roll(ring[:, 0], -1) * ring[:, 1])) < 0.0:
        ring = ring[::-1]
    items: list[Item] = _surface(ring, on_page)
    for side in (1.0, -1.0):
        flat = np.column_stack((side * ring[:, 0], np.zeros(len(ring)), ring[:, 1]))
        face = on_page(flat)
        items += [Area(face, Role.BODY), Line(np.vstack((face, face[:1])), Role.WALL, 1.2)]
    return Picture(width, height, tuple(items))


def _surface(ring: FloatArray, on_page: Callable[[FloatArray], FloatArray]) -> list[Item]:
    turn = np.linspace(0.0, pi, STEPS + 1)
    points = np.stack((np.outer(np.cos(turn), ring[:, 0]), np.outer(np.sin(turn), ring[:, 0]),
                       np.broadcast_to(ring[:, 1], (len(turn), len(ring)))), axis=-1)  # fmt: skip
    a, b = points[:-1], points[1:]
    c, d = np.roll(b, -1, axis=1), np.roll(a, -1, axis=1)
    normal = np.cross(b - d, c - a)  # of the two diagonals, outward from the material
    size = np.linalg.norm(normal, axis=-1, keepdims=True)
    normal = normal / np.maximum(size, 1e-12)
    seen = (normal @ np.array([0.0, -cos(TILT), sin(TILT)]) > 1e-3) & (size[..., 0] > 1e-9)
    depth = (a + b + c + d)[..., 1] * cos(TILT) - (a + b + c + d)[..., 2] * sin(TILT)
    light = np.clip(normal @ (LIGHT / np.linalg.norm(LIGHT)), 0.0, 1.0)
    order = np.argsort(-depth[seen])
    quads = np.stack((a, b, c, d), axis=2)[seen][order]
    items: list[Item] = []
    for quad, bright in zip(on_page(quads), light[seen][order].tolist(), strict=True):
        items += [Area(quad, Role.PAPER), Area(quad, Role.WALL, DARKEST * (1.0 - bright) + 0.04)]
    return items

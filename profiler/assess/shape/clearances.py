"""Where a bowl comes nearest to its seat, and where its wall is thinnest: two points and the length between, mm."""

from dataclasses import dataclass

import numpy as np

from profiler.assess.shape.shape_stage import Shape
from profiler.geometry.chain import nearest
from profiler.geometry.wall import FloatArray
from profiler.study import Machine


@dataclass(frozen=True, slots=True)
class Clearance:
    """From a point of the bowl to the nearest of what lies across, (radius, height) each."""

    start: tuple[float, float]
    end: tuple[float, float]

    @property
    def length(self) -> float:
        return float(np.hypot(self.end[0] - self.start[0], self.end[1] - self.start[1]))


def narrowest_jacket(shape: Shape, machine: Machine) -> Clearance | None:
    """Between the joints of the bowl's outside above its floor and the seat, and the other way; None without a seat.

    Both are lines or arcs bent outward, so the nearest pair has a joint of the one or the other at one end, or an arc's
    own place, which the heights between the joints stand for.
    """
    heights = np.array([p.height_mm for p in machine.seat])
    if len(heights) < 2 or not np.all(np.diff(heights) > 0.0):
        return None
    outer = shape.shell.outer
    seat = np.stack((np.array([p.radius_mm for p in machine.seat]), heights + shape.shell.underside), axis=1)
    low, high = max(0.0, float(outer.height[0])), min(float(outer.height[-1]), float(seat[-1, 1]))
    if not low < high:
        return None
    at = np.union1d(np.linspace(low, high, 129), np.clip(np.concatenate((outer.height, seat[:, 1])), low, high))
    points = np.stack((outer.radius_at(at), at), axis=1)
    feet = nearest(points, seat)
    worst = int(np.argmin(np.hypot(*(feet - points).T)))
    return Clearance(_pair(points[worst]), _pair(feet[worst]))


def thinnest_wall(shape: Shape) -> Clearance | None:
    """Behind the groove with the least wall, from its floor to the outside; None without grooves."""
    if not len(shape.mouths):
        return None
    groove = int(np.argmin(shape.wall_behind))
    corners, outer = shape.contours.corners[groove, 1:3], shape.shell.outer
    lean = outer.angle_at(corners[:, 1])
    gaps = (outer.radius_at(corners[:, 1]) - corners[:, 0]) * np.cos(lean)
    corner = int(np.argmin(gaps))
    step = float(gaps[corner]) * np.array([np.cos(lean[corner]), -np.sin(lean[corner])])
    return Clearance(_pair(corners[corner]), _pair(corners[corner] + step))


def _pair(point: FloatArray) -> tuple[float, float]:
    return float(point[0]), float(point[1])

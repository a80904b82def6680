"""Smooth curves as chains of circular arcs: biarcs, joined tangent to tangent, within a stated tolerance.

A biarc is two arcs that share a tangent where they meet; here both tangent lengths are equal. Bolton K. (1975)
Computer-Aided Design 7, 89-92 and Piegl L., Tiller W. (2002) Computer-Aided Design 34 are general references. The error
of a biarc falls with the cube of its length.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from profiler.geometry.wall import FloatArray

CHECKS = 17  # points of the curve checked against each biarc
SAFETY = 0.995
TRIES = 12


@dataclass(frozen=True, slots=True)
class Joint:
    """A point of the chain and the heading there, radians from the x axis."""

    x: float
    y: float
    heading: float


Curve = Callable[[FloatArray], tuple[FloatArray, FloatArray, FloatArray]]  # parameter -> x, y, heading


def biarc_joint(start: Joint, end: Joint) -> Joint:
    """Where the two arcs of the biarc from start to end meet."""
    t0 = np.array([np.cos(start.heading), np.sin(start.heading)])
    t1 = np.array([np.cos(end.heading), np.sin(end.heading)])
    v = np.array([end.x - start.x, end.y - start.y])
    t = t0 + t1
    a, b = 2.0 * (1.0 - float(t0 @ t1)), float(v @ t)
    vv = float(v @ v)
    d = (-b + np.sqrt(b * b + a * vv)) / a if a > 1e-14 else vv / (4.0 * float(v @ t1))
    one = np.array([start.x, start.y]) + d * t0
    two = np.array([end.x, end.y]) - d * t1
    middle = 0.5 * (one + two)
    along = two - one
    return Joint(float(middle[0]), float(middle[1]), float(np.arctan2(along[1], along[0])))


def fit(curve: Curve, first: float, last: float, tolerance: float) -> list[Joint]:
    """Joints of a chain of arcs along the curve, each biarc as long as the tolerance lets it be.

    The tolerance is the greatest distance between chain and curve, square to the curve, checked at CHECKS points of
    every biarc. The chain has an odd number of joints: ends of biarcs and the points where their arcs meet.
    """
    ends = curve(np.array([first, last]))
    joints = [Joint(*(float(a[0]) for a in ends))]
    at, step = first, last - first
    while at < last - 1e-12 * (last - first):
        at, step, pair = _longest(curve, at, min(step, last - at), last, joints[-1], tolerance)
        joints += pair
    return joints


def _longest(
    curve: Curve, at: float, step: float, last: float, start: Joint, tolerance: float
) -> tuple[float, float, list[Joint]]:
    """The longest biarc that keeps the tolerance: its end, its step, its joint and end."""
    good: tuple[float, list[Joint]] | None = None
    too_long = np.inf
    for _ in range(TRIES):
        pair, error = _try(curve, at, at + step, start)
        if error <= tolerance:
            good = (step, pair)
            if at + step >= last or error > 0.98 * tolerance:
                break
        else:
            too_long = min(too_long, step)
        wanted = step * SAFETY * (tolerance / max(error, 1e-12)) ** (1.0 / 3.0)
        if good is not None:
            wanted = max(wanted, 0.5 * (good[0] + min(too_long, wanted)))
        step = min(wanted, last - at, 0.999 * too_long)
        if good is not None and step <= good[0] * 1.002:
            break
    if good is None:
        pair, _ = _try(curve, at, at + step, start)
        good = (step, pair)
    return at + good[0], good[0], good[1]


def _try(curve: Curve, at: float, to: float, start: Joint) -> tuple[list[Joint], float]:
    x, y, heading = curve(np.linspace(at, to, CHECKS))
    end = Joint(float(x[-1]), float(y[-1]), float(heading[-1]))
    joint = biarc_joint(start, end)
    away = np.minimum(_away(x, y, start, joint), _away(x, y, joint, end))
    return [joint, end], float(np.max(away))


def _away(x: FloatArray, y: FloatArray, start: Joint, end: Joint) -> FloatArray:
    """Distance of points from the full circle (or line) of an arc."""
    dx, dy = end.x - start.x, end.y - start.y
    chord = np.hypot(dx, dy)
    half = np.arctan2(np.sin(np.arctan2(dy, dx) - start.heading), np.cos(np.arctan2(dy, dx) - start.heading))
    k = 2.0 * np.sin(half) / chord
    a = (x - start.x) * np.cos(start.heading) + (y - start.y) * np.sin(start.heading)
    b = (y - start.y) * np.cos(start.heading) - (x - start.x) * np.sin(start.heading)
    return np.asarray(np.abs((k * (a * a + b * b) - 2.0 * b) / (1.0 + np.hypot(1.0 - k * b, k * a))))

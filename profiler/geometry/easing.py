"""Eased spans: the angle follows a shape-preserving cubic in height, and the wall is fitted with arcs to it.

The cubic is the monotone one of Fritsch F. N., Butland J. (1984) SIAM J. Sci. Stat. Comput. 5, 300-304: it never
overshoots the knots' angles. scipy.interpolate.PchipInterpolator is the reference in the tests; it takes too long to
load for a window that must open in a second.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from profiler.geometry.biarcs import fit
from profiler.geometry.wall import FloatArray

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(14)


@dataclass(frozen=True, slots=True)
class Eased:
    """One span: heights and angles (rad) of its ends, and how fast the angle changes there (rad per length)."""

    z0: float
    z1: float
    t0: float
    t1: float
    m0: float
    m1: float

    def angle(self, z: FloatArray) -> FloatArray:
        h = self.z1 - self.z0
        u = (z - self.z0) / h
        d0, d1, rise = h * self.m0, h * self.m1, self.t1 - self.t0
        return np.asarray(self.t0 + u * (d0 + u * (3.0 * rise - 2.0 * d0 - d1 + u * (d0 + d1 - 2.0 * rise))))

    def radius(self, z: FloatArray) -> FloatArray:
        """Radius gained since the span's lower end."""
        half = 0.5 * (z - self.z0)[:, None]
        at = self.z0 + half * (1.0 + _NODES)
        return np.asarray(np.sum(np.tan(self.angle(at)) * _WEIGHTS, axis=1) * half[:, 0])


def monotone_rates(heights: FloatArray, angles: FloatArray) -> FloatArray:
    """(n,) rate of change of the angle at each knot that keeps the cubic between its neighbours' angles."""
    h = np.diff(heights)
    secant = np.diff(angles) / h
    if len(secant) == 1:
        return np.repeat(secant, 2)
    rates = np.zeros(len(heights))
    one, two = 2.0 * h[1:] + h[:-1], h[1:] + 2.0 * h[:-1]
    same = secant[:-1] * secant[1:] > 0.0
    low, high = np.where(same, secant[:-1], 1.0), np.where(same, secant[1:], 1.0)
    rates[1:-1] = np.where(same, (one + two) / (one / low + two / high), 0.0)
    rates[0] = _end_rate(h[0], h[1], secant[0], secant[1])
    rates[-1] = _end_rate(h[-1], h[-2], secant[-1], secant[-2])
    return rates


@lru_cache(maxsize=512)
def fitted(span: Eased, tolerance: float) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Heights and wall angles at the joints of the arcs that stand for the span, within the tolerance."""

    def curve(z: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
        return span.radius(z), z, 0.5 * np.pi - span.angle(z)

    joints = fit(curve, span.z0, span.z1, tolerance)
    heights = (span.z0, *(j.y for j in joints[1:-1]), span.z1)
    return heights, tuple(0.5 * np.pi - j.heading for j in joints)


def _end_rate(h0: float, h1: float, d0: float, d1: float) -> float:
    """Three-point rate at an end, limited so that the first piece keeps its shape."""
    rate = ((2.0 * h0 + h1) * d0 - h0 * d1) / (h0 + h1)
    if rate * d0 <= 0.0:
        return 0.0
    if d0 * d1 <= 0.0 and abs(rate) > 3.0 * abs(d0):
        return 3.0 * d0
    return rate

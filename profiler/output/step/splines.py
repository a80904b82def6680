"""Closed curves as uniform cubic B-splines through points: poles, and what a STEP file says of their knots.

A closed uniform spline through n points is one circulant system, so a discrete Fourier transform solves it, for as
many curves at once as there are (de Boor, A Practical Guide to Splines, on cardinal splines; from memory).
"""

import numpy as np

from profiler.geometry.chain import FloatArray

DEGREE = 3


def closed_poles(points: FloatArray) -> FloatArray:
    """(..., n, d) poles of the closed uniform cubic through (..., n, d) points: (p[i-1] + 4 p[i] + p[i+1]) / 6."""
    n = points.shape[-2]
    weights = (4.0 + 2.0 * np.cos(2.0 * np.pi * np.arange(n // 2 + 1) / n)) / 6.0
    waves = np.fft.rfft(points, axis=-2) / weights[:, None]
    return np.asarray(np.fft.irfft(waves, n=n, axis=-2))


def between(poles: FloatArray, share: float) -> FloatArray:
    """(..., n, d) the points at one share of the way along every piece."""
    rest = 1.0 - share
    weights = (
        rest**3,
        3.0 * share**3 - 6.0 * share**2 + 4.0,
        3.0 * rest**3 - 6.0 * rest**2 + 4.0,
        share**3,
    )
    return np.asarray(sum(w * np.roll(poles, 1 - k, axis=-2) for k, w in enumerate(weights)) / 6.0)


def clamped(poles: FloatArray) -> FloatArray:
    """(..., n + 3, d) poles of the same curve over knots that begin and end in its first point, which all readers take.

    Only the two poles at either end differ: the point itself, and a third of a piece along its tangent.
    """
    first, before = poles[..., 1:2, :], poles[..., -1:, :]
    joint = (before + 4.0 * poles[..., :1, :] + first) / 6.0
    ahead = (first - before) / 6.0
    return np.concatenate((joint, joint + ahead, poles[..., 1:, :], joint - ahead, joint), axis=-2)


def knots(pieces: int) -> tuple[list[int], list[int]]:
    """Multiplicities and knots of a clamped curve."""
    return [DEGREE + 1, *[1] * (pieces - 1), DEGREE + 1], list(range(pieces + 1))

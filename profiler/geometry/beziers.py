"""Chains as cubic curves: what page and screen draw, since a toolkit's own arcs are inexact where the radius is large.

Control points of an arc lie 4/3 tan(a/4) of the radius along its tangents (any text on Bezier curves); with at most
22.5 degrees a curve the error is under 1e-8 of the radius, and every curve ends on the segment's own end.
"""

import numpy as np

from profiler.geometry.chain import Chain, FloatArray, arcs

LARGEST_STEP = np.pi / 8.0  # of arc per curve


def curves_of(chain: Chain) -> list[FloatArray]:
    """For each segment its points after the start: (1, 2) for a line, (3 n, 2) control points and ends for an arc."""
    start, end, _ = chain.ends()
    _, _, sweep, curved = arcs(chain)
    return [_beziers(start[i], end[i], float(sweep[i])) if curved[i] else end[i][None] for i in range(chain.segments)]


def _beziers(start: FloatArray, end: FloatArray, sweep: float) -> FloatArray:
    """Reckoned from the chord, not from the centre: that of a flat arc lies so far off that digits are lost."""
    count = max(1, int(np.ceil(abs(sweep) / LARGEST_STEP)))
    turn = sweep / count
    at = np.arange(count + 1) / count * sweep
    half = np.sin(0.5 * sweep)
    chord = end - start
    square = np.array([-chord[1], chord[0]])
    # a point at an angle a from the start: the chord of length sin(a/2)/sin(sweep/2), turned by (a - sweep)/2
    ratio, lean = np.sin(0.5 * at) / half, 0.5 * (at - sweep)
    points = start + ratio[:, None] * (np.cos(lean)[:, None] * chord + np.sin(lean)[:, None] * square)
    points[-1] = end
    heading = at - 0.5 * sweep
    radius = 0.5 / half  # of the chord
    reach = 4.0 / 3.0 * np.tan(0.25 * turn) * radius
    tangents = reach * (np.cos(heading)[:, None] * chord + np.sin(heading)[:, None] * square)
    return np.stack((points[:-1] + tangents[:-1], points[1:] - tangents[1:], points[1:]), axis=1).reshape(-1, 2)

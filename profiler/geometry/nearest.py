"""The nearest place of a chain of lines and arcs to each of many points, exactly, and on which side the point lies."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from profiler.geometry.chain import Chain, FloatArray, arcs

END = 1e-12  # of a segment's way: a foot so near its end is the end itself


@dataclass(frozen=True, slots=True)
class Nearest:
    """Of m points. `distance` is positive to the right of the chain's way, negative to its left.

    `beyond` is how far a point lies past an open end, along the chain's last heading; 0 for all others.
    """

    foot: FloatArray  # (m, 2) the nearest place
    distance: FloatArray  # (m,)
    beyond: FloatArray  # (m,)


def nearest(points: FloatArray, chain: Chain) -> Nearest:
    """Of points (m, 2) to an open chain. At a corner the side is that of the mean of its two headings."""
    feet, away = _feet(points, chain)
    which = np.argmin(away, axis=1)
    rows = np.arange(len(points))
    foot = feet[rows, which]
    start, end = chain.points[which], chain.points[which + 1]
    at_start = np.all(np.abs(foot - start) <= END * (1.0 + np.abs(start)), axis=1)
    at_end = np.all(np.abs(foot - end) <= END * (1.0 + np.abs(end)), axis=1)
    leaving, arriving = _tangents(chain)
    tangent = _tangent_at(chain, which, foot)
    last = len(leaving) - 1
    corner = np.where(at_start, which - 1, np.where(at_end, which, -1))
    inner = (corner >= 0) & (corner < last)
    mean = arriving[np.clip(corner, 0, last)] + leaving[np.clip(corner + 1, 0, last)]
    tangent = np.where(inner[:, None], mean, tangent)
    tangent /= np.hypot(*tangent.T)[:, None]
    offset = points - foot
    along = np.sum(tangent * offset, axis=1)
    past = np.where(at_start & (which == 0), -along, np.where(at_end & (which == last), along, 0.0))
    side = tangent[:, 1] * offset[:, 0] - tangent[:, 0] * offset[:, 1]
    free_end = past > 0.0
    distance = np.where(free_end, side, np.copysign(away[rows, which], side))
    return Nearest(foot, distance, np.where(free_end, past, 0.0))


def _feet(points: FloatArray, chain: Chain) -> tuple[FloatArray, FloatArray]:
    """(m, n, 2) nearest place on every segment, and (m, n) how far it is."""
    start, end = chain.points[:-1], chain.points[1:]
    bulge = chain.bulges[:-1]
    centre, radius, sweep, curved = _arcs(chain)
    chord = end - start
    square = np.maximum(np.sum(chord * chord, axis=1), 1e-300)
    share = np.clip(np.sum((points[:, None] - start) * chord, axis=-1) / square, 0.0, 1.0)
    on_line = start + share[..., None] * chord
    arm = points[:, None] - centre
    reach = np.maximum(np.hypot(arm[..., 0], arm[..., 1]), 1e-300)
    first = np.arctan2(start[:, 1] - centre[:, 1], start[:, 0] - centre[:, 0])
    turned = (np.arctan2(arm[..., 1], arm[..., 0]) - first) * np.sign(sweep) % (2.0 * np.pi)
    to_ends = [np.hypot(*np.moveaxis(points[:, None] - p, -1, 0)) for p in (start, end)]
    nearer_end = np.where((to_ends[0] <= to_ends[1])[..., None], start, end)
    on_arc = np.where((turned <= np.abs(sweep))[..., None], centre + arm * (radius / reach)[..., None], nearer_end)
    feet = np.where((curved & (bulge != 0.0))[:, None], on_arc, on_line)
    return feet, np.hypot(*np.moveaxis(points[:, None] - feet, -1, 0))


def _arcs(chain: Chain) -> tuple[FloatArray, FloatArray, FloatArray, NDArray[np.bool_]]:
    centre, radius, sweep, curved = arcs(Chain(chain.points, np.append(chain.bulges[:-1], 0.0), closed=False))
    n = len(chain.points) - 1
    return centre[:n], radius[:n], sweep[:n], curved[:n]


def _tangents(chain: Chain) -> tuple[FloatArray, FloatArray]:
    """(n, 2) unit headings at the start and at the end of every segment."""
    chord = np.diff(chain.points, axis=0)
    half = 2.0 * np.arctan(chain.bulges[:-1])
    heading = np.arctan2(chord[:, 1], chord[:, 0])
    return tuple(np.stack((np.cos(t), np.sin(t)), axis=1) for t in (heading - half, heading + half))  # type: ignore[return-value]


def _tangent_at(chain: Chain, which: NDArray[np.intp], foot: FloatArray) -> FloatArray:
    centre, _, sweep, curved = _arcs(chain)
    arm = foot - centre[which]
    square = np.stack((-arm[:, 1], arm[:, 0]), axis=1) * np.sign(sweep[which])[:, None]
    return np.where(curved[which][:, None], square, np.diff(chain.points, axis=0)[which])

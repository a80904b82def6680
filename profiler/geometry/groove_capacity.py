"""What a groove contains: its rounded section below the mouth line and below its own bed, turned about the axis.

Sharp corners would over-count a usual groove by about one per cent.
"""

from functools import lru_cache

import numpy as np

from profiler.geometry.grooves import Contours
from profiler.geometry.wall import FloatArray

CHORDS = 12  # an arc of the section is drawn with so many
FINE = 65  # places at which the top of an arc is looked for


@lru_cache(maxsize=8)  # contents, rinse and balance ask for the same one
def rounded_section(contours: Contours) -> FloatArray:
    """(g, k, 2) the groove's section as a polygon, closed from tangent point to tangent point across the mouth.

    Each rounding is a row of chords that encloses exactly the area its arc does.
    """
    points, bulges = contours.points, contours.bulges[:, :-1]
    arcs = [int(k) for k in np.flatnonzero(bulges.any(axis=0))]
    start, end = (points[:, [k + on for k in arcs]].reshape(-1, 2) for on in (0, 1))
    within = _arc(start, end, bulges[:, arcs].reshape(-1)).reshape(len(points), len(arcs), CHORDS - 1, 2)
    rows, first = [], 0
    for k, place in enumerate(arcs):
        rows += [points[:, first : place + 1], within[:, k]]
        first = place + 1
    return np.concatenate((*rows, points[:, first:]), axis=1)


def contents_polygon(section: FloatArray, lower: FloatArray, fall: FloatArray) -> FloatArray:
    """(..., g, 2k, 2) what of the section (g, k, 2) lies outside the line from its upper end to the bed.

    `lower` (g, 2) is the groove's lower edge, `fall` (..., g) how far outside of it the bed stands at its height; not
    positive: the line goes to the lower edge itself.
    """
    place = lower + np.stack((np.maximum(fall, 0.0), np.zeros_like(fall)), axis=-1)
    return beyond(section, place, section[:, -1])


def beyond(section: FloatArray, start: FloatArray, end: FloatArray) -> FloatArray:
    """(..., g, 2k, 2) the sections with all that lies left of the way from start to end (..., g, 2) pressed onto it.

    What is pressed runs forth and back along that line and encloses nothing.
    """
    way = end - start
    way = way / np.hypot(way[..., 0], way[..., 1])[..., None]
    normal = np.stack((way[..., 1], -way[..., 0]), axis=-1)[..., None, :]  # to the right
    off = np.sum((section - start[..., None, :]) * normal, axis=-1)
    ahead = np.roll(off, -1, axis=-1)
    run = off - ahead
    share = np.where(off * ahead < 0.0, off / np.where(run == 0.0, 1.0, run), 0.0)
    crossing = section + share[..., None] * (np.roll(section, -1, axis=-2) - section)
    off_there = off + share * (ahead - off)
    both = np.stack(
        (section - np.minimum(off, 0.0)[..., None] * normal, crossing - np.minimum(off_there, 0.0)[..., None] * normal),
        axis=-2,
    )
    return both.reshape(*off.shape[:-1], 2 * off.shape[-1], 2)


@lru_cache(maxsize=8)  # a check and the catch ask for the same one
def kept_at_rest(contours: Contours) -> FloatArray:
    """(g,) volume each groove keeps when the bowl stands: what lies lower than the top of its lower edge's rounding."""
    section = rounded_section(contours)
    level = _top(contours.points[:, 0], contours.points[:, 1], contours.bulges[:, 0])
    inner, outer = (np.stack((np.full_like(level, r), level), axis=-1) for r in (0.0, 1.0))
    return turned_volume(beyond(section, inner, outer))


def turned_volume(polygon: FloatArray) -> FloatArray:
    """(...) volume swept by polygons (..., k, 2) of (radius, height) turned about the axis: 2 pi integral r dA."""
    following = np.roll(polygon, -1, axis=-2)
    r, nxt = polygon[..., 0], following[..., 0]
    rise = following[..., 1] - polygon[..., 1]
    return np.asarray(np.abs(np.sum(rise * (r * r + r * nxt + nxt * nxt), axis=-1)) * np.pi / 3.0)


def _top(start: FloatArray, end: FloatArray, bulge: FloatArray) -> FloatArray:
    """(g,) the greatest height along arcs, on the arcs themselves."""
    turn = 4.0 * np.arctan(bulge)
    chord = end - start
    share = np.linspace(0.0, 1.0, FINE)
    flat = bulge == 0.0
    rise = np.sin(0.5 * turn[:, None] * share) / np.sin(0.5 * np.where(flat, 1.0, turn))[:, None]
    angle = 0.5 * turn[:, None] * (share - 1.0)  # of the way to each place against the chord
    height = rise * (chord[:, :1] * np.sin(angle) + chord[:, 1:] * np.cos(angle))
    straight = share * chord[:, 1:]
    return np.asarray(start[:, 1] + np.max(np.where(flat[:, None], straight, height), axis=1))


def _arc(start: FloatArray, end: FloatArray, bulge: FloatArray) -> FloatArray:
    """(g, CHORDS - 1, 2) places between the ends of arcs, so far out that chords there enclose the arc's area."""
    turn = 4.0 * np.arctan(bulge)
    step = turn / CHORDS
    # with ends on the circle and the rest at s times its radius: 2 s sin + (n - 2) s^2 sin = n step
    with np.errstate(divide="ignore", invalid="ignore"):
        needed = np.where(step == 0.0, CHORDS, CHORDS * step / np.sin(step))
        stretch = (np.sqrt(1.0 + (CHORDS - 2) * needed) - 1.0) / (CHORDS - 2)
        centre_share = np.where(bulge == 0.0, 0.0, (1.0 - bulge**2) / (4.0 * np.where(bulge == 0.0, 1.0, bulge)))
    chord = end - start
    left = np.stack((-chord[:, 1], chord[:, 0]), axis=1)
    centre = 0.5 * (start + end) + centre_share[:, None] * left
    share = np.arange(1, CHORDS) / CHORDS
    cos, sin = np.cos(turn[:, None] * share), np.sin(turn[:, None] * share)
    x, y = (start - centre).T
    around = np.stack((x[:, None] * cos - y[:, None] * sin, x[:, None] * sin + y[:, None] * cos), axis=-1)
    straight = start[:, None] + share[:, None] * chord[:, None]
    bent = centre[:, None] + stretch[:, None, None] * around
    return np.where((bulge == 0.0)[:, None, None], straight, bent)

"""The water holes of a drawing: in the section, in the table, one of them seen from the lip, and rolled out flat.

Holes of the section are turned into its plane. Angles count counter-clockwise as seen from the lip, from the datum.
"""

import itertools
from collections.abc import Sequence
from math import ceil, cos, degrees, inf, sin, tan

import numpy as np

from profiler.assess.shape.bore_rings import Ring
from profiler.geometry.chain import Chain
from profiler.pictures.basics.display import Align
from profiler.pictures.drawing.digits import Digits, alike, fixed, needed
from profiler.pictures.sheet.blocks import Block, headed
from profiler.pictures.sheet.clashes import clashes, extents
from profiler.pictures.sheet.items import (
    Angle,
    AngleText,
    Arrow,
    Item,
    Path,
    Pen,
    Point,
    Sheet,
    Text,
    View,
    circle,
    polyline,
)
from profiler.pictures.sheet.papers import SCALES, scale_text
from profiler.study.records.machine import Turning

LEAST_GAP = 0.7  # mm between two lines on paper (ISO 128-2, from memory): nearer ones become the axis alone
PAST = 1.5  # mm on paper that an axis passes its hole
PLAN_WIDE, PLAN_LONG, WIDEST = 70.0, 26.0, 6.0  # mm: what the plan shows of the ring, and its hole at most
LEVEL, ANGLE_MM, MOST_LEVELS = 6.0, 90.0, 24  # of the developed view: mm from ring to ring, mm across, rings
NARROW, STEEPEST = 4.0, 1.0  # mm and rad of a hole whose skew is dimensioned
UNDER = 8.0  # mm from what is drawn of a hole down to the words on the sense of rotation
LEAST_WIDTH = 130.0  # mm, to which the words under a view's title are wrapped
ROW_TEXT = 2.5


def in_section(rings: Sequence[Ring], view: View) -> list[Item]:
    """Rings' holes on the right half: their axes, and their sides where they are far enough apart.

    An axis nearer to the one under it than two lines may be is left to the table, or all would run into one black.
    """
    items: list[Item] = []
    last = -inf
    for ring in sorted(rings, key=lambda each: each.height):
        if view.scale * (ring.height - last) < 2.0 * LEAST_GAP:
            continue
        last = ring.height
        inner, outer = view.point(ring.inner, ring.height), view.point(ring.outer, ring.height)
        items.append(polyline([(inner[0] - PAST, inner[1]), (outer[0] + PAST, outer[1])], Pen.CENTRE))
        half = 0.5 * ring.diameter * view.scale
        if 2.0 * half >= LEAST_GAP:
            items += [polyline([(inner[0], y), (outer[0], y)], Pen.HOLE) for y in (inner[1] - half, inner[1] + half)]
    return items


def hole_columns(rings: Sequence[Ring], count: int, digits: Digits) -> tuple[list[str], ...]:
    """For each of `count` grooves: its holes, their axis height, first hole and skew; dashes where there are none."""
    firsts = [degrees(ring.first) % 360.0 for ring in rings]
    columns = (
        [f"{ring.count}x Ø{text}" for ring, text in zip(rings, alike([r.diameter for r in rings]), strict=True)],
        alike([ring.height for ring in rings], digits.height), alike(firsts), alike([degrees(r.skew) for r in rings]),
    )  # fmt: skip
    found = tuple(["-"] * count for _ in columns)
    for column, values in zip(found, columns, strict=True):
        for ring, value in zip(rings, values, strict=True):
            column[ring.groove - 1] = value
    return found


def holes_note(rings: Sequence[Ring], turning: Turning, grade: str) -> str:
    """What the table and the views do not say."""
    tolerance = f"Diameters {grade}" if grade else "Diameters by the general tolerance"
    note = (
        "Water holes by the table: square to the spin axis, through the middle of the groove's floor, evenly spread; "
        "azimuths from the datum, a mark on the lip flange, counter-clockwise as seen from the lip, to where the axis "
        f"meets the groove's floor. In the section all are turned into its plane. {tolerance}, angles and heights too."
    )
    signs = {ring.skew > 0.0 for ring in rings if ring.skew}
    if not signs:
        return note
    senses = " and ".join(_leaning(sign, turning) for sign in sorted(signs, reverse=True))
    return f"{note} Skew on the way out, as seen from the lip: {senses}."


def _leaning(positive: bool, turning: Turning) -> str:
    """Which way a skew goes, and against or with the rotation where that is given."""
    way = Turning.COUNTER_CLOCKWISE if positive else Turning.CLOCKWISE
    words = f"{'+' if positive else '−'} is {way.value}"
    return words if turning is Turning.UNKNOWN else f"{words}, {'with' if way is turning else 'against'} the rotation"


def plan_block(ring: Ring, turning: Turning, letter: str) -> Block:
    """The first hole of a ring as seen from the lip: floor and outside as arcs, axis, skew, sense of rotation."""
    sizes = ((ring.outer - ring.inner, PLAN_LONG), (ring.length, 0.5 * PLAN_WIDE), (ring.diameter, WIDEST))
    scale = next((s for s in SCALES if all(s * size <= room for size, room in sizes)), SCALES[-1])
    view = View((0.0, -ring.outer * scale), scale)
    first = degrees(ring.first) % 360.0
    words = f"seen from the lip, first hole at {fixed(first, needed([first]))}° from the datum"
    items: list[Item] = [_round(view, radius, 0.5 * PLAN_WIDE) for radius in (ring.inner, ring.outer)]
    items += _bore(ring, view)
    items += _sense(turning, min(view.point(0.0, ring.inner)[1] - 16.0, extents(items)[1] - UNDER))
    if ring.skew:
        angle = _skew(ring, view, items)
        items += angle
        words += "" if angle else f", skew {fixed(abs(degrees(ring.skew)), needed([degrees(ring.skew)]))}°"
    return headed(items, f"{letter} ({scale_text(scale)})  HOLE OF GROOVE {ring.groove}", words, LEAST_WIDTH)


REACHES = (1.0, 0.8, 1.25, 0.6, 1.5)  # of the angle's arc, the handiest first
ENDLESS = (-1e5, -1e5, 1e5, 1e5)


def _round(view: View, radius: float, half_mm: float) -> Path:
    """A piece of a circle about the spin axis, above it on paper."""
    half = min(0.45 * np.pi, np.arcsin(min(0.95, half_mm / (radius * view.scale))))
    ends = [view.point(radius * sin(a), radius * cos(a)) for a in (half, -half)]
    return Path(Chain(np.array(ends), np.array([tan(0.5 * half), 0.0]), closed=False), Pen.DETAIL)


def _bore(ring: Ring, view: View) -> list[Item]:
    """The hole with its foot straight above the spin axis, its axis, the radius there, the skew between them."""
    way = np.array([-sin(ring.skew), cos(ring.skew)])  # counter-clockwise is to the left, seen from the lip
    aside = np.array([way[1], -way[0]]) * 0.5 * ring.diameter
    foot = np.array([0.0, ring.inner])
    end = foot + ring.length * way
    items: list[Item] = [
        polyline([view.point(*(foot + k * aside)), view.point(*(end + k * aside))], Pen.HOLE) for k in (-1.0, 1.0)
    ]
    past = 5.0 / view.scale
    items.append(polyline([view.point(*(foot - past * way)), view.point(*(end + past * way))], Pen.CENTRE))
    return items


def _skew(ring: Ring, view: View, others: list[Item]) -> list[Item]:
    """The radius through the hole's foot and the angle to its axis, where its text meets nothing; () where it would."""
    if not _has_angle(ring, view.scale):
        return []
    past = 5.0 / view.scale
    radius = polyline([view.point(0.0, ring.inner - past), view.point(0.0, ring.outer + past)], Pen.CENTRE)
    along = sorted((90.0, 90.0 + degrees(ring.skew)))
    most = min(0.6 * ring.length, 0.55 * (ring.outer - ring.inner)) * view.scale
    text = f"{fixed(abs(degrees(ring.skew)), needed([abs(degrees(ring.skew))]))}°"
    for share, where in itertools.product(REACHES, (AngleText.BEFORE, AngleText.BEYOND, AngleText.OUTSIDE)):
        angle = Angle(view.point(0.0, ring.inner), along[0], along[1], share * most, text, 2.5, bare=(False, False),
                      where=where)  # fmt: skip
        added: list[Item] = [radius, angle]
        if not clashes(Sheet(0.0, 0.0, (*others, *added), view, frame=ENDLESS)):
            return added
    return []


def _has_angle(ring: Ring, scale: float) -> bool:
    """Whether there is room between the radius and the hole for the skew; else it is said in words."""
    return ring.diameter * scale <= NARROW and abs(ring.skew) <= STEEPEST


def _sense(turning: Turning, y: float) -> list[Item]:
    """The rotor's sense as an arrow round the axis over its words at y, or the words that it is not given."""
    if turning is Turning.UNKNOWN:
        return [Text(0.0, y, "sense of rotation: not given", ROW_TEXT, Align.CENTRE)]
    sign = -1.0 if turning is Turning.COUNTER_CLOCKWISE else 1.0
    tail, tip = (-sign * 14.0, y + 4.5), (sign * 14.0, y + 4.5)
    words = f"rotor turns {turning.value} as seen from the lip"
    return [polyline([tail, (tip[0] - sign * 2.0, tip[1])], Pen.DETAIL), Arrow(tip, 0.0 if sign > 0 else np.pi, 4.0),
            Text(0.0, y, words, ROW_TEXT, Align.CENTRE)]  # fmt: skip


def staggered(rings: Sequence[Ring]) -> bool:
    """Whether the holes of one ring stand otherwise than those of another."""
    places = {(ring.count, round(degrees(ring.first) % (360.0 / ring.count), 4)) for ring in rings}
    return len(places) > 1


def developed_block(rings: Sequence[Ring], letter: str) -> Block:
    """The rings rolled out, seen from the axis: azimuth to the left as it counts from the lip, rings by their numbers.

    Neither angles nor heights are to scale; where there are too many rings the lowest are shown.
    """
    shown = list(rings[:MOST_LEVELS])
    span = min(360.0, max(5.0, ceil(2.0 * max(360.0 / ring.count for ring in shown) / 5.0) * 5.0))
    left_out = "" if len(shown) == len(rings) else f", the lowest {len(shown)} rings"
    words = f"seen from the axis{left_out}; azimuth in degrees, neither angles nor heights to scale"
    bottom = -LEVEL * (len(shown) + 0.6)
    items: list[Item] = [
        polyline([(0.0, -1.0), (0.0, bottom)], Pen.CENTRE),
        Text(0.0, bottom - 4.0, "datum 0°", ROW_TEXT, Align.CENTRE),
        Text(-ANGLE_MM, bottom - 4.0, f"{span:g}°", ROW_TEXT, Align.CENTRE),
    ]
    for level, ring in enumerate(reversed(shown)):
        items += _level(ring, 0.0, -LEVEL * (level + 0.8), span)
    return headed(items, f"{letter}  HOLES DEVELOPED", words, LEAST_WIDTH)


def _level(ring: Ring, right: float, y: float, span: float) -> list[Item]:
    azimuths = np.sort(np.degrees(ring.azimuths) % 360.0)
    line: list[Point] = [(right - ANGLE_MM, y), (right, y)]
    marks = [circle(right - ANGLE_MM * a / span, y, 0.8, Pen.HOLE) for a in azimuths.tolist() if a <= span + 1e-9]
    first = degrees(ring.first) % 360.0
    words = f"{ring.groove}: {fixed(first, needed([first]))}°"
    return [polyline(line, Pen.MARK), *marks, Text(right + 2.5, y - 0.9, words, 1.8)]

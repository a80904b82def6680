"""A dimension as lines, heads and text, and other notes that point at a thing. After ISO 129-1.

Narrow lines; the text stands above its line, read from the bottom or the right; an extension line starts a little off
the outline and passes the dimension line by 2 mm; these lengths are not yet checked against the standard, and no
measure depends on them. Where the text does not fit between the heads it stands beside them.
"""

from dataclasses import dataclass
from math import cos, degrees, hypot, pi, radians, sin, tan

import numpy as np

from profiler.geometry.chain import Chain, FloatArray
from profiler.numbers import trimmed
from profiler.pictures.basics.display import Align
from profiler.pictures.sheet.items import Angle, AngleText, Arrow, Dimension, Item, Path, Pen, Point, Text, polyline
from profiler.pictures.sheet.lettering import text_width

HEAD = 3.0
GAP = 0.8  # between outline and extension line
PAST = 2.0
ABOVE = 0.36  # text over its line, of its height: letters that hang keep clear of it
AIR = 2.0


@dataclass(frozen=True, slots=True)
class Parts:
    lines: tuple[Path, ...]
    arrows: tuple[Arrow, ...]
    text: Text
    feet: tuple[Point, Point]  # where the heads point

    @property
    def items(self) -> tuple[Item, ...]:
        return (*self.lines, *self.arrows, self.text)


def number(value: float, decimals: int = 2) -> str:
    """A measure as drawings have it: to hundredths, without needless zeros."""
    return trimmed(value, decimals)


def parts_of(d: Dimension | Angle) -> Parts:
    """What a dimension is made of."""
    if isinstance(d, Angle):
        return _parts_of_angle(d)
    along = _along(d)
    at = np.array(d.at)
    feet = [at + along * float((np.array(p) - at) @ along) for p in (d.start, d.end)]
    if float((feet[1] - feet[0]) @ along) < 0.0:
        feet.reverse()
    length = float(np.hypot(*(feet[1] - feet[0])))
    width = text_width(d.text, d.height)
    lines = [_extension(np.array(p), at, along) for p in (d.start, d.end)]
    inside = length >= width * (1.0 + 2.0 * abs(d.shift)) + 2.0 * HEAD + AIR
    tight = length < 2.0 * HEAD + AIR
    middle = 0.5 * (feet[0] + feet[1]) + along * (d.shift * length)
    reach = 0.0
    if not inside:
        reach = max((2.0 * HEAD if tight else 0.0) + AIR, d.clear) + width
        middle = feet[1] + along * (reach - 0.5 * width)
    before = 2.0 * HEAD if tight else 0.0
    lines.append(polyline([feet[0] - along * before, feet[1] + along * reach], Pen.DIM))
    turn = pi if not tight else 0.0
    angle = radians(d.angle_deg)
    arrows = (Arrow(_point(feet[0]), angle + turn, HEAD), Arrow(_point(feet[1]), angle + pi + turn, HEAD))
    kept = tuple(line for line in lines if line is not None)
    return Parts(kept, arrows, _text_on_line(d, middle), (_point(feet[0]), _point(feet[1])))


def _parts_of_angle(d: Angle) -> Parts:
    turn = d.end_deg - d.start_deg
    reach = degrees(HEAD / d.radius)
    tight = turn < 2.0 * reach + degrees(AIR / d.radius)
    before, beyond = (2.0 * reach, 2.0 * reach) if tight else (0.0, 0.0)
    width = text_width(d.text, d.height)
    before = max(before, 2.0 * reach) if d.where is AngleText.BEFORE else before
    beyond = max(beyond, 2.0 * reach) if d.where is AngleText.BEYOND else beyond
    first, last = d.start_deg - before, d.end_deg + beyond
    bulge = tan(radians(0.25 * (last - first)))
    arc = Path(Chain(np.array([d.at(first), d.at(last)]), np.array([bulge, 0.0]), closed=False), Pen.DIM)
    sides = [
        polyline([d.at(a, d.foot), d.at(a, d.radius + PAST)], Pen.DIM)
        for a, bare in zip((d.start_deg, d.end_deg), d.bare, strict=True)
        if bare
    ]
    flip = 180.0 if tight else 0.0
    lean = 0.5 * reach  # a head is the chord of its stretch of the arc
    heads = (
        Arrow(d.at(d.start_deg), radians(d.start_deg - 90.0 + flip + (lean if not tight else -lean)), HEAD),
        Arrow(d.at(d.end_deg), radians(d.end_deg + 90.0 + flip - (lean if not tight else -lean)), HEAD),
    )
    middle = 0.5 * (d.start_deg + d.end_deg)
    ends = {AngleText.OUTSIDE: (middle, middle), AngleText.BEFORE: (first, first - 90.0),
            AngleText.BEYOND: (last, last + 90.0)}  # fmt: skip
    end, way = ends[d.where]
    (x, y), out = d.at(end), radians(way)
    away = 1.0 + 0.5 * (abs(cos(out)) * width + abs(sin(out)) * d.height)
    text = Text(x + away * cos(out), y + away * sin(out) - 0.5 * d.height, d.text, d.height, Align.CENTRE)
    return Parts((arc, *sides), heads, text, (d.at(d.start_deg), d.at(d.end_deg)))


def leader(tip: Point, elbow: Point, text: str, height: float = 2.5, head: bool = True) -> list[Item]:
    """A line from a thing to an elbow and on along a shelf under the text; to the side the elbow lies on."""
    width = text_width(text, height) + 1.0
    right = elbow[0] >= tip[0]
    shelf = (elbow[0] + (width if right else -width), elbow[1])
    items: list[Item] = [polyline([tip, elbow, shelf], Pen.DIM)]
    if head:
        items.append(Arrow(tip, float(np.arctan2(tip[1] - elbow[1], tip[0] - elbow[0])), 2.5))
    x = elbow[0] + 0.5 if right else elbow[0] - 0.5
    return [*items, Text(x, elbow[1] + ABOVE * height, text, height, Align.LEFT if right else Align.RIGHT)]


def _along(d: Dimension) -> FloatArray:
    """Direction of the line, in the sense in which its text is read."""
    angle = radians(d.angle_deg)
    return np.array([cos(angle), sin(angle)])


def _extension(point: FloatArray, at: FloatArray, along: FloatArray) -> Path | None:
    foot = at + along * float((point - at) @ along)
    away = foot - point
    distance = hypot(*away)
    if distance < GAP + 0.2:
        return None
    unit = away / distance
    return polyline([point + GAP * unit, foot + PAST * unit], Pen.DIM)


def _text_on_line(d: Dimension, middle: FloatArray) -> Text:
    """Above the line, turned so that it is read from the bottom or from the right."""
    angle = (d.angle_deg + 90.0) % 180.0 - 90.0
    angle = 90.0 if abs(angle + 90.0) < 1e-6 else angle
    up = np.array([-sin(radians(angle)), cos(radians(angle))])
    at = middle + ABOVE * d.height * up
    return Text(float(at[0]), float(at[1]), d.text, d.height, Align.CENTRE, angle)


def _point(p: FloatArray) -> Point:
    return float(p[0]), float(p[1])


def angle_of(vector: FloatArray) -> float:
    """Degrees from the x axis."""
    return degrees(float(np.arctan2(vector[1], vector[0])))

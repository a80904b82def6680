"""The angle strip: wall angle against height, with the repose band and the tinted gap between them.

The tint says what the wall does at one height (shallower or steeper than repose); what the slurry does there is the
state tape's matter.
"""

import itertools
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from profiler.assess.flow.flow_stage import HIGH, LOW, MIDDLE
from profiler.assess.shape.shape_stage import Shape, wall_as_it_stands
from profiler.assess.shape.slopes import slopes_of
from profiler.assess.shape.stations import Stations
from profiler.numbers import MINUS, fixed, significant
from profiler.pictures.basics.axis import HeightAxis, round_step
from profiler.pictures.basics.display import (
    Align,
    Area,
    Dot,
    FloatArray,
    Item,
    Label,
    Line,
    Picture,
    Role,
    Strokes,
    boxed,
)
from profiler.pictures.basics.state_marks import runs_of
from profiler.pictures.strips.crosshair import crosshair
from profiler.pictures.strips.padlock import padlock
from profiler.pictures.strips.scene import Scene
from profiler.units import DEGREE

KNOT_RADIUS = 5.0
EDGE_PX, NUMBER_LETTER_PX = 5.0, 6.5
KNOT_LETTER_PX = 7.2  # a bold letter of the chosen knot's numbers, on average
LEAST_TINT_PX = 16.0
LOCK_PX = 13.0  # a padlock stands so far left of its knot
NO_WALL = "as it stands this cannot be built"
AXIS_TITLE = "wall angle from the axis of rotation"
TAG_CAPTION = "tags: wall angle less repose"
TAG_MEANS = "Margin: wall angle less repose angle at middle friction, the largest of this stretch"
CURVE_NAMES = ("repose", "wall")
TITLE_UP_PX = 7.0  # of the axis title above the end of the strip
LINE_PX = 12.0  # between texts that stand above each other
TAG_REACH_PX = (26.0, 9.0)  # of a tag, to either side and up or down
SAMPLES = 9  # of each arc of a wall line
CLEAR_PX, BESIDE_PX, NUMBER_ROOM_PX = 16.0, 28.0, 52.0  # of a tint's number: it meets neither knots nor the wall


@dataclass(frozen=True, slots=True)
class AngleScale:
    """Angles in degrees against pixels from the left."""

    low: float
    high: float
    left: float
    right: float

    @property
    def scale(self) -> float:
        return (self.right - self.left) / (self.high - self.low)

    def x(self, angle: float) -> float:
        return self.left + (angle - self.low) * self.scale

    def xs(self, angle: FloatArray) -> FloatArray:
        return np.asarray(self.left + (angle - self.low) * self.scale)

    def angle(self, x: float) -> float:
        return self.low + (x - self.left) / self.scale


@dataclass(frozen=True, slots=True)
class Handle:
    """Where a knot, or one of a corner's two angles, can be taken hold of."""

    knot: int
    leaving: bool
    x: float
    y: float


def angle_range(scene: Scene) -> tuple[float, float]:
    """A round range that shows every knot and the whole band, and leaves room to drag."""
    angles = [a for k in scene.design.wall.knots for a in (k.angle_deg, k.leaving)]
    e = scene.shown
    if e is not None and e.flow is not None:
        angles += [float(e.flow.angle[0].min() / DEGREE), float(e.flow.angle[0].max() / DEGREE)]
    low, high = min(*angles, 0.0), max(*angles, 15.0)
    return 5.0 * np.floor((low - 2.0) / 5.0), 5.0 * np.ceil((high + 3.0) / 5.0)


def handles(scene: Scene, scale: AngleScale) -> list[Handle]:
    found = []
    for index, knot in enumerate(scene.design.wall.knots):
        y = scene.axis.y(knot.height_mm)
        found.append(Handle(index, False, scale.x(knot.angle_deg), y))
        if knot.leaving_deg is not None:
            found.append(Handle(index, True, scale.x(knot.leaving_deg), y))
    return found


def angle_strip(scene: Scene, scale: AngleScale, width: float, height: float) -> Picture:
    items: list[Item] = []
    curves = _curves(scene, scale)
    tints, numbers = ([], []) if curves is None else _tints(curves)
    items += [*tints, *_grid(scene.axis, scale, scene.lengths.mm)]
    if curves is not None:
        items += [*numbers, *_repose(scene, scale, curves)]
    if scene.ghost is not None and scene.ghost.shape is not None:
        items.append(Line(_curve(scene, scale, scene.ghost.shape), Role.GHOST, 1.6, (5.0, 3.0)))
    if scene.shown is not None and scene.shown.shape is not None:
        items.append(Line(_curve(scene, scale, scene.shown.shape), Role.WALL, 2.0, steep=True))
    title = Label(
        0.5 * (scale.left + scale.right), scene.axis.bottom - TITLE_UP_PX, AXIS_TITLE, Role.FAINT, Align.CENTRE, 8.0
    )
    names = [i.y for i in items if isinstance(i, Label) and i.text in CURVE_NAMES]
    if numbers and all(abs(y - title.y + 13.0) >= LINE_PX for y in names):  # else the tip says what a tag is
        items.append(replace(title, y=title.y - 13.0, text=TAG_CAPTION, paper=True))
    items += [replace(title, paper=True), Area(boxed(0.0, scene.axis.bottom, width, height), Role.PAPER)]
    items += _scale_numbers(scene.axis.bottom, scale)
    knots = _knots(scene, scale)
    if scene.cursor_mm is not None:
        items.append(crosshair(scene.axis.y(scene.cursor_mm), width, [*items, *knots]))
    items += knots
    return Picture(width, height, tuple(items))


def tip_at(picture: Picture, x: float, y: float) -> str:
    """What the tag at this place is; empty where there is none."""
    wide, high = TAG_REACH_PX
    tags = (i for i in picture.items if isinstance(i, Label) and i.text[:1] in f"+{MINUS}" and i.text.endswith("°"))
    near = (i for i in tags if i.role is Role.TEXT and abs(i.x - x) < wide and abs(i.y - y) < high)
    return TAG_MEANS if next(near, None) is not None else ""


def present_part(scene: Scene, scale: AngleScale, width: float, height: float) -> Picture:
    """What is true although no wall can be drawn: the knots as they stand, over the faded last picture."""
    middle = 0.5 * (scale.left + scale.right)
    note = Label(middle, scene.axis.top - 3, NO_WALL, Role.STOP, Align.CENTRE, 8.5, paper=True)
    line = Line(_present_curve(scene, scale), Role.WALL, 1.4, (4.0, 3.0))
    return Picture(width, height, (line, *_knots(scene, scale), note))


@lru_cache(maxsize=8)  # a drag moves nothing of it
def _grid(axis: HeightAxis, scale: AngleScale, unit_mm: float) -> tuple[Item, ...]:
    heights = axis.ticks(unit_mm=unit_mm)
    across = [[[scale.left, axis.y(float(z))], [scale.right, axis.y(float(z))]] for z in heights]
    upright = [[[scale.x(a), axis.top], [scale.x(a), axis.bottom]] for a in _round_angles(scale)]
    zero = scale.x(0.0)
    axis_line = Line(np.array([[zero, axis.top], [zero, axis.bottom]]), Role.FAINT, 1.0)
    return Strokes(np.array(across + upright), Role.GRID), axis_line


@lru_cache(maxsize=8)
def _scale_numbers(bottom: float, scale: AngleScale) -> tuple[Item, ...]:
    texts = [(a, f"{significant(a)}°") for a in _round_angles(scale)]
    return tuple(Label(scale.x(a), bottom + 11, text, Role.FAINT, Align.CENTRE, 8.5) for a, text in texts)


def _round_angles(scale: AngleScale) -> list[float]:
    step = max(round_step(38.0 / scale.scale), 1.0)
    return [k * step + 0.0 for k in range(int(np.ceil(scale.low / step)), int(np.floor(scale.high / step)) + 1)]


def _curve(scene: Scene, scale: AngleScale, shape: Shape) -> FloatArray:
    at, seen = shape.stations, seen_stations(shape.stations)
    return np.stack((scale.xs(at.angle[seen] / DEGREE), scene.axis.ys(at.height[seen])), axis=1)


def seen_stations(at: Stations) -> NDArray[np.intp]:
    """Every fourth station, both sides of every corner, and the nodes between which repose goes straight.

    Enough for curves as smooth as these. Where a ring's water joins, repose steps: the station below is drawn too.
    """
    jump = np.abs(np.diff(at.angle)) > 0.5 * DEGREE
    wanted = np.zeros(len(at.angle), dtype=bool)
    wanted[::4] = wanted[-1] = wanted[at.node] = wanted[at.join - 1] = True
    wanted[:-1] |= jump
    wanted[1:] |= jump
    return np.flatnonzero(wanted)


def _present_curve(scene: Scene, scale: AngleScale) -> FloatArray:
    """The wall angle as the design stands, arcs and eased spans too; from knot to knot where there is no wall line."""
    wall = wall_as_it_stands(scene.design)
    if wall is None:
        return np.array([(h.x, h.y) for h in handles(scene, scale)]).reshape(-1, 2)
    along = np.linspace(0.0, 1.0, SAMPLES)
    height = wall.height[:-1, None] + np.diff(wall.height)[:, None] * along
    sine = np.sin(wall.lower)[:, None] * (1.0 - along) + np.sin(wall.upper)[:, None] * along
    return np.stack((scale.xs(np.degrees(np.arcsin(sine)).ravel()), scene.axis.ys(height.ravel())), axis=1)


@dataclass(frozen=True, slots=True)
class _Curves:
    """Wall and repose at the stations that are drawn: angles in radians, and where they lie in the strip."""

    angle: FloatArray  # (m,)
    repose: FloatArray  # (3, m)
    ys: FloatArray
    wall: FloatArray  # px
    low: FloatArray
    middle: FloatArray
    high: FloatArray


def _curves(scene: Scene, scale: AngleScale) -> _Curves | None:
    e = scene.shown
    if e is None or e.flow is None or e.shape is None:
        return None
    at, seen = e.shape.stations, seen_stations(e.shape.stations)
    angle, repose = at.angle[seen], e.flow.angle[0][:, seen]
    low, middle, high = (scale.xs(repose[k] / DEGREE) for k in (LOW, MIDDLE, HIGH))
    return _Curves(angle, repose, scene.axis.ys(at.height[seen]), scale.xs(angle / DEGREE), low, middle, high)


def _tints(c: _Curves) -> tuple[list[Item], list[Item]]:
    """The repose band and the tinted gaps between it and the wall, on bare paper; and their numbers."""
    band = np.concatenate((np.stack((c.low, c.ys), 1), np.stack((c.high, c.ys), 1)[::-1]))
    items: list[Item] = [Area(band, Role.BAND, 0.8, bare=True)]
    numbers: list[Item] = []
    slope = slopes_of(c.angle, c.repose[LOW], c.repose[HIGH])
    margin = (c.angle - c.repose[MIDDLE]) / DEGREE
    for sign, first, last in runs_of(slope):
        if sign == 0 or last - first < 2:
            continue
        part = slice(first, last + 1)
        edge = c.high if sign > 0 else c.low
        there, back = np.stack((c.wall[part], c.ys[part]), 1), np.stack((edge[part], c.ys[part]), 1)[::-1]
        items.append(Area(np.concatenate((there, back)), Role.OPENS if sign > 0 else Role.STANDS, 0.55, bare=True))
        numbers += _tint_number(c.ys[part], c.wall[part], edge[part], margin[part])
    return items, numbers


def _repose(scene: Scene, scale: AngleScale, c: _Curves) -> list[Item]:
    items: list[Item] = [Line(np.stack((c.middle, c.ys), 1), Role.REPOSE, 1.6, steep=True)]
    foot = float(c.ys[0]) + 10.0
    if foot > scene.axis.bottom - TITLE_UP_PX - LINE_PX:  # names would lie on the axis title
        return items
    items.append(Label(float(c.middle[0]), foot, CURVE_NAMES[0], Role.REPOSE, Align.CENTRE, 8.5, paper=True))
    x = min(float(c.wall[0]), scale.right - 14.0)
    items.append(Label(x, foot, CURVE_NAMES[1], Role.WALL, Align.CENTRE, 8.5, paper=True))
    return items


def _tint_number(ys: FloatArray, wall: FloatArray, edge: FloatArray, margin: FloatArray) -> list[Item]:
    """The largest margin of a tinted gap, written where the gap is wide enough to hold it."""
    worst = int(np.argmax(np.abs(margin)))
    if abs(float(ys[-1] - ys[0])) < LEAST_TINT_PX:
        return []
    away = min(CLEAR_PX, 0.5 * abs(float(ys[-1] - ys[0])))  # clear of the knots at both ends
    y = float(np.clip(ys[worst], ys[-1] + away, ys[0] - away))
    inside = int(np.argmin(np.abs(ys - y)))
    x = 0.5 * float(wall[inside] + edge[inside])
    if abs(float(wall[inside] - edge[inside])) < NUMBER_ROOM_PX:  # too narrow: beside the wall, away from the band
        x = float(wall[inside]) + (BESIDE_PX if wall[inside] > edge[inside] else -BESIDE_PX)
    text = f"{fixed(margin[worst], 1, signed=True)}°"
    x = max(x, EDGE_PX + 0.5 * NUMBER_LETTER_PX * len(text))  # whole, at the strip's edge too
    return [Label(x, y, text, Role.TEXT, Align.CENTRE, 8.5, paper=True)]


def _knots(scene: Scene, scale: AngleScale) -> list[Item]:
    items: list[Item] = []
    points = handles(scene, scale)
    for a, b in itertools.pairwise(points):
        if a.knot == b.knot:
            items.append(Line(np.array([[a.x, a.y], [b.x, b.y]]), Role.WALL, 2.0))
    for h in points:
        chosen = h.knot == scene.knot
        ringed = chosen and h.leaving == scene.leaving
        square = scene.design.wall.knots[h.knot].is_corner
        if ringed:
            items.append(Dot(h.x, h.y, KNOT_RADIUS + 3.5, Role.CHOSEN, filled=False, square=square))
        role = Role.CHOSEN if chosen else Role.KNOT
        items.append(Dot(h.x, h.y, KNOT_RADIUS, role, square=square))
        if scene.design.wall.knots[h.knot].locked and not h.leaving:
            items += padlock(h.x - LOCK_PX, h.y - 2.0, role)
    if scene.knot is not None and scene.knot < len(scene.design.wall.knots):
        items += _knot_numbers(scene, scale, points)
    return items


def _knot_numbers(scene: Scene, scale: AngleScale, points: list[Handle]) -> list[Item]:
    """The chosen knot's numbers beside it, on the side with more room."""
    h = next((p for p in points if p.knot == scene.knot and p.leaving == scene.leaving), None)
    if h is None:
        return []
    knot = scene.design.wall.knots[h.knot]
    angle = knot.leaving if h.leaving else knot.angle_deg
    text = f"{fixed(angle, 2)}° at {scene.lengths.text(knot.height_mm, 1)}"
    right = h.x < 0.5 * (scale.left + scale.right)
    y = h.y - 15 if h.y - 15 > scene.axis.top + 6 else h.y + 15
    wide = KNOT_LETTER_PX * len(text)
    x = min(h.x + 8, scale.right + 6 - wide) if right else max(h.x - 8, scale.left - 6 + wide)
    return [Label(x, y, text, Role.CHOSEN, Align.LEFT if right else Align.RIGHT, 9.0, True, paper=True)]

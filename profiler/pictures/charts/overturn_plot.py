"""Overturn ratio, power and the jet-or-skimming view against wall angle, with the grooves as they are."""

import numpy as np

from profiler.explore.why_overturn import STEEPEST_DEG, Why
from profiler.physics.slurry.overturn import STRONG_RATIO, State
from profiler.pictures.basics.display import Align, Area, Dot, FloatArray, Item, Label, Line, Picture, Role, boxed
from profiler.pictures.basics.frame import Frame, framed
from profiler.pictures.basics.state_marks import state_box, state_legend

ANGLE = "wall angle from the axis, °"
MOST_DEPTH_RATIO = 3.0
RATIO_TITLE = "overturn ratio: fall over the mouth / fall of the film's own slope there"
RATIO_MEANS = (
    "How many times as far the stream falls over a groove's mouth as the film falls there by its own slope.\n"
    "Below 0 the mouth lies buried. From 2 on the overturn is called strong: this program's own choice."
)
STEPPED_MEANS = (
    "jet (below): springs clear of the groove, land to land",
    "skimming (above): slides over water turning in the groove",
)
LEGEND_PX = 16.0
MARK_PX = 5.0  # half of a groove's mark
RING_PX = 8.5
LETTER_PX, LINE_PX = 6.0, 11.0


def ratio_plot(w: Why, width: float, height: float) -> Picture:
    low = min(-1.0, float(np.min(w.grooves_ratio)), float(np.min(w.ratio)))
    high = max(float(np.max(w.ratio)), float(np.max(w.grooves_ratio)), 2.5)
    room = 0.06 * (high - low)  # for the numbers of the lowest grooves
    frame = framed(width, height - LEGEND_PX, (0.0, STEEPEST_DEG), (low - room, high + room), ANGLE, RATIO_TITLE)
    items: list[Item] = [
        *frame.grid(),
        *_repose(w, frame),
        _level(frame, 0.0, ()),
        _level(frame, STRONG_RATIO, (6.0, 4.0)),
    ]
    items.append(Line(frame.points(w.angle_deg, w.ratio), Role.WALL, 2.0))
    items += _grooves(w, frame, w.grooves_ratio)
    right = frame.x.end - 6.0
    items.append(Label(right, frame.y.px(STRONG_RATIO) - 9.0, "strong from here", Role.FAINT, Align.RIGHT, 8.0))
    items.append(Label(right, frame.y.px(0.0) - 9.0, "falls", Role.FAINT, Align.RIGHT, 8.0))
    items.append(Label(right, frame.y.px(0.0) + 9.0, "buried", Role.FAINT, Align.RIGHT, 8.0))
    return Picture(width, height, (*items, *frame.scales(), *state_legend(frame.x.start, height - 8.0, width)))


def power_plot(w: Why, width: float, height: float) -> Picture:
    high = max(float(np.max(w.power_w)), float(np.max(w.grooves_power_w)), 1e-3)
    frame = framed(
        width, height, (0.0, STEEPEST_DEG), (0.0, high * 1.05), ANGLE, f"overturn power of groove {w.groove}, W"
    )
    items: list[Item] = [*frame.grid(), *_repose(w, frame)]
    items.append(Line(frame.points(w.angle_deg, w.power_w), Role.WALL, 2.0))
    items += _grooves(w, frame, w.grooves_power_w)
    return Picture(width, height, (*items, *frame.scales()))


def stepped_plot(w: Why, width: float, height: float) -> Picture:
    """Critical depth over step height: under the lower line a jet, over the upper one skimming."""
    title = "critical depth / step height (for orientation only)"
    frame = framed(width, height, (0.0, STEEPEST_DEG), (0.0, MOST_DEPTH_RATIO), ANGLE, title)
    shown = np.isfinite(w.depth_ratio) & (w.depth_ratio <= MOST_DEPTH_RATIO)
    items: list[Item] = [*frame.grid(), *_repose(w, frame)]
    for limit in (w.jet, w.skimming):
        items.append(Line(frame.points(w.angle_deg, limit), Role.SEAT, 1.2, (6.0, 4.0)))
    if shown.any():
        items.append(Line(frame.points(w.angle_deg[shown], w.depth_ratio[shown]), Role.WALL, 2.0))
    left = frame.x.start + 8.0
    for limit, dy, word in ((w.skimming, -10.0, "skimming"), (w.jet, 10.0, "jet")):
        items.append(Label(left, frame.y.px(float(limit[0])) + dy, word, Role.FAINT, Align.LEFT, 8.0))
    for k, words in enumerate(STEPPED_MEANS):
        y = frame.y.end + 26.0 + 14.0 * k
        items.append(Label(frame.x.end - 6.0, y, words, Role.FAINT, Align.RIGHT, 8.0, paper=True))
    return Picture(width, height, (*items, *frame.scales()))


def _repose(w: Why, frame: Frame) -> list[Item]:
    """The repose band upright: left of it a wall shelters, right of it the stream falls."""
    low, middle, high = (frame.x.px(min(max(a, 0.0), STEEPEST_DEG)) for a in w.repose_deg)
    _, top, _, bottom = frame.box
    return [
        Area(boxed(low, top, high, bottom), Role.BAND, 0.55),
        Line(np.array([[middle, top], [middle, bottom]]), Role.REPOSE, 1.4),
        Label(high + 4.0, top + 9.0, "repose", Role.REPOSE, Align.LEFT, 8.0),
    ]


def _level(frame: Frame, value: float, dashes: tuple[float, ...]) -> Item:
    left, _, right, _ = frame.box
    y = frame.y.px(value)
    return Line(np.array([[left, y], [right, y]]), Role.FAINT, 1.0, dashes)


def _grooves(w: Why, frame: Frame, values: FloatArray) -> list[Item]:
    """A mark in the pattern of each groove's state, and its number beside it, clear of marks and other numbers."""
    marks: list[Item] = []
    points = [(i, x, y) for i, (x, y) in enumerate(frame.points(w.grooves_deg, values).tolist()) if frame.holds(x, y)]
    taken = [boxed(x - MARK_PX, y - MARK_PX, x + MARK_PX, y + MARK_PX) for _, x, y in points]
    numbers: list[Item] = []
    for i, x, y in sorted(points, key=lambda p: p[0] + 1 != w.groove):  # the chosen groove's number comes first
        marks += state_box(State(int(w.grooves_state[i])), x - MARK_PX, y - MARK_PX, x + MARK_PX, y + MARK_PX)
        chosen = i + 1 == w.groove
        if chosen:
            marks.append(Dot(x, y, RING_PX, Role.CHOSEN, filled=False))
        place = _free_place(frame, x, y, LETTER_PX * len(str(i + 1)), taken)
        if place is not None:
            left, middle = place
            numbers.append(Label(left, middle, str(i + 1), Role.TEXT, Align.LEFT, 8.0, chosen))
    return [*marks, *numbers]


def _free_place(frame: Frame, x: float, y: float, wide: float, taken: list[FloatArray]) -> tuple[float, float] | None:
    """Left end and middle line of a number near a mark where nothing stands yet, and take it; None where it is full."""
    for away in (9.0, 12.0, 18.0, 28.0, 40.0):
        for dx, dy in ((1, 1), (1, -1), (-1, 1), (-1, -1), (1, 0), (-1, 0), (0, 1), (0, -1)):
            left = x + dx * away - (wide if dx < 0 else 0.5 * wide if dx == 0 else 0.0)
            middle = y + dy * away
            box = boxed(left - 1.0, middle - 0.5 * LINE_PX, left + wide + 1.0, middle + 0.5 * LINE_PX)
            inside = all(frame.holds(px, py) for px, py in box.tolist())
            if inside and not any(_meet(box, other) for other in taken):
                taken.append(box)
                return left, middle
    return None


def _meet(a: FloatArray, b: FloatArray) -> bool:
    return bool(np.all(a.min(axis=0) < b.max(axis=0)) and np.all(b.min(axis=0) < a.max(axis=0)))

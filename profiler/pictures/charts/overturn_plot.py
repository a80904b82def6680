"""Overturn ratio, power and the jet-or-skimming view against wall angle, with the grooves as they are."""

import numpy as np

from profiler.explore.why_overturn import STEEPEST_DEG, Why
from profiler.physics.slurry.overturn import STRONG_RATIO, State
from profiler.pictures.basics.display import Align, Area, Dot, FloatArray, Item, Label, Line, Picture, Role, boxed
from profiler.pictures.basics.frame import Frame, framed
from profiler.pictures.basics.state_marks import STATE_ROLES

ANGLE = "wall angle from the axis, °"
MOST_DEPTH_RATIO = 3.0
NUMBER_PX = 16.0  # below a dot, for its number


def ratio_plot(w: Why, width: float, height: float) -> Picture:
    low = min(-1.0, float(np.min(w.grooves_ratio)), float(np.min(w.ratio)))
    high = max(float(np.max(w.ratio)), float(np.max(w.grooves_ratio)), 2.5)
    room = 0.06 * (high - low)  # for the numbers of the lowest grooves
    frame = framed(width, height, (0.0, STEEPEST_DEG), (low - room, high + room), ANGLE, "overturn ratio")
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
    return Picture(width, height, (*items, *frame.scales()))


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
    items: list[Item] = []
    last = (-99.0, -99.0)
    for i, (x, y) in enumerate(frame.points(w.grooves_deg, values).tolist()):
        if not frame.holds(x, y):
            continue
        chosen = i + 1 == w.groove
        items.append(Dot(x, y, 5.5 if chosen else 4.0, STATE_ROLES[State(int(w.grooves_state[i]))]))
        if chosen:
            items.append(Dot(x, y, 7.5, Role.CHOSEN, filled=False))
        if chosen or np.hypot(x - last[0], y - last[1]) > 22.0:
            foot = y + NUMBER_PX > frame.box[3]  # no room above the axis: beside the dot then
            place = (x + 8.0, y - 4.0) if foot else (x + 7.0, y + 9.0)
            items.append(Label(*place, str(i + 1), Role.TEXT, Align.LEFT, 8.0, chosen))
            last = (x, y)
    return items

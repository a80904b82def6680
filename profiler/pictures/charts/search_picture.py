"""A search, as two plots side by side: every candidate's number in the order they were tried, and the best curves."""

from collections.abc import Sequence
from math import isfinite

import numpy as np

from profiler.assess.shape.shape_stage import wall_as_it_stands
from profiler.explore.search.goal import Goal
from profiler.explore.search.search import best_of
from profiler.explore.search.tried import Tried
from profiler.pictures.basics.display import Align, Dot, FloatArray, Item, Label, Line, Picture, Role, shifted
from profiler.pictures.basics.frame import Frame, framed
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit
from profiler.units import DEGREE

BEST = 5
DRAWN = "as drawn"
CURVE_POINTS = 81
POINT_PX, BEST_PX = 2.0, 4.5


def search_picture(
    goal: Goal,
    tried: Sequence[Tried],
    chosen: Tried | None,
    width: float,
    height: float,
    lengths: LengthUnit = MILLIMETRES,
) -> Picture:
    """`tried` begins with the design as drawn; `chosen` is marked in both plots."""
    left = round(0.5 * width)
    items = _points(goal, tried, chosen, left, height, lengths)
    items += [shifted(item, left, 0.0) for item in _curves(tried, chosen, width - left, height, lengths)]
    return Picture(width, height, tuple(items))


def _points(
    goal: Goal, tried: Sequence[Tried], chosen: Tried | None, width: float, height: float, lengths: LengthUnit
) -> list[Item]:
    values = np.array([t.value for t in tried])
    known = values[np.isfinite(values)]
    low, high = (float(known.min()), float(known.max())) if len(known) else (0.0, 1.0)
    room = 0.05 * (high - low)
    title = "per cent of the height off the course" if goal.quantity is None else _title(goal)
    frame = framed(width, height, (0.0, max(len(tried) - 1.0, 1.0)), (low - room, high + room), "evaluation", title,
                   lengths)  # fmt: skip
    items: list[Item] = [*frame.grid()]
    for i, t in enumerate(tried):
        if isfinite(t.value):
            role = Role.WEAK if t.met else Role.GRID
            items.append(Dot(frame.x.px(float(i)), frame.y.px(t.value), POINT_PX, role))
    for i, t in enumerate(tried):
        if t is chosen:
            items.append(Dot(frame.x.px(float(i)), frame.y.px(t.value), BEST_PX, Role.CHOSEN))
    if tried and isfinite(tried[0].value):
        y = frame.y.px(tried[0].value)
        items.append(Line(np.array([[frame.x.start, y], [frame.x.end, y]]), Role.WALL, 1.0, (6.0, 4.0)))
        items.append(Label(frame.x.end - 6.0, y - 8.0, DRAWN, Role.FAINT, Align.RIGHT, 8.0, paper=True))
    return [*items, *frame.scales()]


def _curves(
    tried: Sequence[Tried], chosen: Tried | None, width: float, height: float, lengths: LengthUnit
) -> list[Item]:
    """Wall angle against height: the best few, the chosen one, and the design as drawn."""
    rows = [(t, Role.GHOST, 1.0) for t in best_of(tried, BEST)]
    rows += [(tried[0], Role.WALL, 1.6)] if tried else []
    rows += [(chosen, Role.CHOSEN, 2.2)] if chosen is not None else []
    curves = [(curve, role, wide) for t, role, wide in rows if (curve := _curve(t)) is not None]
    ends = np.vstack([curve for curve, _, _ in curves]) if curves else np.array([[0.0, 0.0], [30.0, 1.0]])
    low, high = ends.min(axis=0), ends.max(axis=0)
    frame: Frame = framed(
        width,
        height,
        (float(low[0]) - 1.0, float(high[0]) + 1.0),
        (0.0, float(high[1])),
        "wall angle, °",
        "height, mm",
        lengths,
    )
    items: list[Item] = [*frame.grid()]
    items += [Line(frame.points(curve[:, 0], curve[:, 1]), role, wide) for curve, role, wide in curves]
    for k, (word, role) in enumerate(((DRAWN, Role.WALL), ("chosen", Role.CHOSEN), ("other candidates", Role.GHOST))):
        y = frame.y.end + 12.0 + 13.0 * k
        items.append(Label(frame.x.end - 6.0, y, word, role, Align.RIGHT, 8.0, paper=True))
    return [*items, *frame.scales()]


def _curve(t: Tried) -> FloatArray | None:
    """(n, 2) angle in degrees and height in mm; None where there is no wall."""
    wall = wall_as_it_stands(t.design)
    if wall is None:
        return None
    at = np.linspace(0.0, float(wall.height[-1]), CURVE_POINTS)
    return np.column_stack((wall.angle_at(at) / DEGREE, at))


def _title(goal: Goal) -> str:
    q = goal.quantity
    return "" if q is None else f"{q.label.lower()}{', ' + q.unit if q.unit else ''}"

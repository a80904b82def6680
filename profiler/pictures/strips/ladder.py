"""The ore ladder: beside the state tape one narrow tape per duty of the ore window, on the same heights."""

import numpy as np

from profiler.assess import Evaluation
from profiler.physics.slurry.overturn import State
from profiler.pictures.basics.axis import HeightAxis
from profiler.pictures.basics.display import Align, Area, FloatArray, Item, Label, Role, Strokes, boxed
from profiler.pictures.basics.state_marks import STATE_ROLES, pattern, pattern_role, runs_of
from profiler.pictures.strips.scene import Scene

COLUMN_PX = 14.0
TAPE_PX = 11.0
HEADING = "duties"


def ladder_width(columns: int) -> float:
    return COLUMN_PX * columns


def ladder(scene: Scene, left: float) -> list[Item]:
    """The columns from `left` on, in the order of the window; the shown duty's number is bold."""
    e = scene.ladder
    if e is None or e.shape is None or e.flow is None or scene.shown is None or e.shape is not scene.shown.shape:
        return []
    right = left + ladder_width(len(e.duties))
    items: list[Item] = [Label(right, 0.5 * scene.axis.top, HEADING, Role.FAINT, Align.RIGHT, 8.0)]
    for i, duty in enumerate(e.duties):
        at = left + COLUMN_PX * i
        items += state_column(scene.axis, e, i, at, at + TAPE_PX)
        shown = duty.name == scene.shown.duty.name
        role = Role.CHOSEN if shown else Role.FAINT
        items.append(Label(at + 0.5 * TAPE_PX, scene.axis.bottom + 11, str(i + 1), role, Align.CENTRE, 8.0, shown))
    return items


def state_column(axis: HeightAxis, e: Evaluation, duty: int, left: float, right: float) -> list[Item]:
    """A tape of one duty of a batch: the colours and patterns of the state tape, with a line between states.

    The same patterns as beside it, so that one legend serves both; all lines of a role are one item, which is quicker.
    """
    if e.shape is None or e.flow is None:
        return []
    heights = e.shape.stations.height
    items: list[Item] = []
    ends: dict[Role, list[FloatArray]] = {Role.INK: []}
    for state, first, last in runs_of(e.flow.state[duty]):
        low = 0.5 * (heights[first] + heights[max(first - 1, 0)])
        high = 0.5 * (heights[last] + heights[min(last + 1, len(heights) - 1)])
        top, bottom = max(axis.y(high), axis.top), min(axis.y(low), axis.bottom)
        if bottom - top <= 0.5:
            continue
        items.append(Area(boxed(left, top, right, bottom), STATE_ROLES[State(state)]))
        ends[Role.INK].append(np.array([[[left, top], [right, top]]]))
        lines = pattern(State(state), left, top, right, bottom)
        if len(lines):
            ends.setdefault(pattern_role(State(state)), []).append(lines)
    return [*items, *(Strokes(np.concatenate(parts), role, 0.7) for role, parts in ends.items() if parts)]

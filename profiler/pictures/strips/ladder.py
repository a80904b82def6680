"""The ore ladder: beside the state tape one narrow tape per duty of the ore window, on the same heights."""

import numpy as np

from profiler.assess import Evaluation
from profiler.physics.slurry.overturn import State
from profiler.pictures.basics.axis import HeightAxis
from profiler.pictures.basics.display import Align, Area, Item, Label, Role, Strokes, boxed
from profiler.pictures.basics.state_marks import STATE_ROLES, pattern_role, runs_of
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
    """A tape of one duty of a batch: colours, with a line between states; patterns would not show in so narrow one."""
    if e.shape is None or e.flow is None:
        return []
    heights = e.shape.stations.height
    items: list[Item] = []
    ink: list[list[list[float]]] = []
    bare: list[list[list[float]]] = []
    for state, first, last in runs_of(e.flow.state[duty]):
        low = 0.5 * (heights[first] + heights[max(first - 1, 0)])
        high = 0.5 * (heights[last] + heights[min(last + 1, len(heights) - 1)])
        top, bottom = max(axis.y(high), axis.top), min(axis.y(low), axis.bottom)
        if bottom - top <= 0.5:
            continue
        items.append(Area(boxed(left, top, right, bottom), STATE_ROLES[State(state)]))
        ink += [[[x, top], [x, bottom]] for x in _strokes(State(state), left, right)]
        if state == State.NONE:
            bare += _leaning(left, top, right, bottom)
        ink.append([[left, top], [right, top]])
    strokes = ((ink, Role.INK), (bare, pattern_role(State.NONE)))
    return [*items, *(Strokes(np.array(ends).reshape(-1, 2, 2), role, 0.7) for ends, role in strokes if ends)]


def _leaning(left: float, top: float, right: float, bottom: float) -> list[list[list[float]]]:
    """Hatching, from edge to edge: where no state is claimed."""
    step = right - left
    whole = int((bottom - top) // step)
    return [[[left, top + step * (k + 1)], [right, top + step * k]] for k in range(whole)]


def _strokes(state: State, left: float, right: float) -> list[float]:
    """One, two or three upright strokes from matched to strong, none for sheltered: no state by colour alone."""
    count = {State.NONE: 0, State.SHELTERED: 0, State.MATCHED: 1, State.WEAK: 2, State.STRONG: 3}[state]
    return [left + (right - left) * (k + 1) / (count + 1) for k in range(count)]

"""The gutter: the height scale all strips share, and the state tape, the one legend of the states."""

from functools import lru_cache

import numpy as np

from profiler.assess import Evaluation
from profiler.numbers import significant
from profiler.physics.slurry.overturn import State
from profiler.pictures.basics.axis import HeightAxis
from profiler.pictures.basics.display import Align, Area, Item, Label, Line, Picture, Role, Strokes, boxed, hatch
from profiler.pictures.basics.lengths import LengthUnit
from profiler.pictures.basics.state_marks import runs_of, state_box
from profiler.pictures.strips.ladder import ladder, ladder_width, state_column
from profiler.pictures.strips.scene import Scene, entry_mm

TAPE_WIDTH = 16.0


def gutter(scene: Scene, width: float, height: float) -> Picture:
    axis = scene.axis
    tape_left = width - TAPE_WIDTH - 4.0
    columns = 0 if scene.ladder is None else len(scene.ladder.duties)
    scale_right = tape_left - ladder_width(columns) - 5.0
    items: list[Item] = [*_scale(axis, scene.lengths, scale_right)]
    items += ladder(scene, scale_right + 5.0)
    items += _tape(scene, tape_left, width - 4.0)
    if scene.ghost is not None:
        items += state_column(scene.axis, scene.ghost, 0, width - 4.0, width)
    if scene.cursor_mm is not None:
        y = axis.y(scene.cursor_mm)
        items.append(Line(boxed(0, y, width, y)[:2], Role.CURSOR))
    return Picture(width, height, tuple(items))


@lru_cache(maxsize=8)  # a drag moves nothing of it
def _scale(axis: HeightAxis, lengths: LengthUnit, right: float) -> tuple[Item, ...]:
    """The unit, and the round heights in it."""
    shown = [(axis.y(z), significant(lengths.shown(z))) for z in axis.ticks(unit_mm=lengths.mm).tolist()]
    texts = [(axis.bottom + 11, lengths.name), *(s for s in shown if axis.top - 4 <= s[0] <= axis.bottom + 4)]
    return tuple(Label(right, y, text, Role.FAINT, Align.RIGHT, 8.5) for y, text in texts)


def _tape(scene: Scene, left: float, right: float) -> list[Item]:
    e = scene.shown
    if e is None or e.shape is None:
        return []
    if e.flow is None:
        return _unanswered(scene.axis, e.shape.height, left, right)
    heights = e.shape.stations.height
    items: list[Item] = []
    for state, first, last in runs_of(e.flow.state[0]):
        low = 0.5 * (heights[first] + heights[max(first - 1, 0)])
        high = 0.5 * (heights[last] + heights[min(last + 1, len(heights) - 1)])
        top, bottom = max(scene.axis.y(high), scene.axis.top), min(scene.axis.y(low), scene.axis.bottom)
        if bottom - top > 0.5:
            items += state_box(State(state), left, top, right, bottom)
    return [*items, *_entry(scene, e, left, right)]


def _unanswered(axis: HeightAxis, height_mm: float, left: float, right: float) -> list[Item]:
    """Hatched from floor to lip: the model has no answer."""
    top, bottom = max(axis.y(height_mm), axis.top), min(axis.y(0.0), axis.bottom)
    if bottom - top < 1.0:
        return []
    corners = boxed(left, top, right, bottom)
    return [
        Area(corners, Role.PAPER),
        Strokes(hatch(corners, 7.0), Role.FAINT, 1.0),
        Line(np.vstack((corners, corners[:1])), Role.FAINT),
    ]


def _entry(scene: Scene, e: Evaluation, left: float, right: float) -> list[Item]:
    """Below the entry height no state is claimed."""
    z = entry_mm(e)
    if not z:
        return []
    top, bottom = max(scene.axis.y(z), scene.axis.top), min(scene.axis.y(0.0), scene.axis.bottom)
    if bottom - top < 1.0:
        return []
    return [Line(boxed(left - 3, top, right + 3, top)[:2], Role.TEXT, 1.2)]

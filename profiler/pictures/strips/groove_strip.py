"""The groove strip: a row per groove at its own height, with its state and a bar and value of the chosen quantity."""

from math import ceil, floor, isfinite

import numpy as np

from profiler.assess import Evaluation
from profiler.assess.quantities.table import Quantity
from profiler.physics.slurry.overturn import State
from profiler.pictures.basics.axis import round_step
from profiler.pictures.basics.display import Align, Area, FloatArray, Item, Label, Line, Picture, Role, Strokes, boxed
from profiler.pictures.basics.lengths import MILLIMETRES
from profiler.pictures.basics.state_marks import SHORT_WORDS, STATE_ROLES, pattern, pattern_role
from profiler.pictures.strips.scene import Scene

LEAST_ROW_PX = 11.0
WINDOW_ROOM = 1.2
BAR_STEPS = 4.0  # round steps from zero to the longest bar, about


def groove_strip(scene: Scene, quantity: Quantity, width: float, height: float) -> Picture:
    e = scene.shown
    if e is None or e.shape is None or not len(e.shape.mouths):
        empty = Label(width / 2, 0.5 * (scene.axis.top + scene.axis.bottom), "no grooves", Role.FAINT, Align.CENTRE)
        return Picture(width, height, (empty,))
    values = quantity.get(e)
    items: list[Item] = []
    if len(values) == len(e.shape.mouths):
        items += _rows(scene, e, e.shape.mouths.middle, quantity, values, width)
    if e.no_answer:
        items.append(Label(0.5 * width, scene.axis.top + 6.0, "no answer", Role.STOP, Align.CENTRE, 9.0, paper=True))
    if scene.cursor_mm is not None:
        y = scene.axis.y(scene.cursor_mm)
        items.append(Line(boxed(0, y, width, y)[:2], Role.CURSOR))
    return Picture(width, height, tuple(items))


def row_at(scene: Scene, y: float) -> int | None:
    """Number of the groove whose row lies nearest, from 1; None beyond the grooves."""
    e = scene.shown
    if e is None or e.shape is None or not len(e.shape.mouths):
        return None
    middles = scene.axis.ys(e.shape.mouths.middle)
    nearest = int(np.argmin(np.abs(middles - y)))
    return nearest + 1 if abs(float(middles[nearest]) - y) < 14.0 else None


def _rows(
    scene: Scene, e: Evaluation, heights: FloatArray, quantity: Quantity, values: FloatArray, width: float
) -> list[Item]:
    """A row for each groove, at its height (mm), or for every second, third ... where they lie too close."""
    middles = scene.axis.ys(heights)
    pitch = float(np.min(np.abs(np.diff(middles)))) if len(middles) > 1 else 40.0
    every = max(1, int(np.ceil(LEAST_ROW_PX / max(pitch, 0.1))))
    room = min(pitch * every, 18.0)
    bar_left, bar_right, word_left = 44.0, width - 126.0, width - 120.0
    ghost = _ghost_values(scene, quantity)
    finite = np.concatenate((values, ghost))
    finite = finite[np.isfinite(finite)]
    low, high = _bar_range(finite, quantity)
    span = high - low
    zero = bar_left + (0.0 - low) / span * (bar_right - bar_left)
    items: list[Item] = _good_window(scene, quantity, bar_left, bar_right, low, span)
    items.append(Line(boxed(zero, scene.axis.top, zero, scene.axis.bottom)[1:3], Role.FAINT))
    items.append(Label(zero, scene.axis.bottom + 11, "0", Role.FAINT, Align.CENTRE, 8.0))
    first = 0 if scene.groove is None else scene.groove - 1  # the chosen groove is never thinned out
    half = 0.5 * min(room - 2.0, 13.0)
    states = None if e.flow is None else e.flow.groove_state[0].tolist()
    words: list[Item] = []
    rows: dict[State, list[float]] = {}
    for i, (value, y) in enumerate(zip(values.tolist(), middles.tolist(), strict=True)):
        if (i - first) % every or not scene.axis.top - 4 < y < scene.axis.bottom + 4:
            continue
        chosen = scene.groove == i + 1
        if chosen:
            items.append(Area(boxed(2, y - half - 2, width - 2, y + half + 2), Role.CHOSEN, 0.22))
        words.append(Label(20, y, f"{i + 1}", Role.TEXT, Align.RIGHT, 8.5, chosen))
        words.append(Label(width - 6, y, _text(scene, quantity, value), Role.TEXT, Align.RIGHT, 8.5, chosen))
        if isfinite(value):
            x = bar_left + (value - low) / span * (bar_right - bar_left)
            left, right = min(x, zero), max(x, zero)
            items.append(Area(boxed(left, y - 0.6 * half, max(right, left + 1.0), y + 0.6 * half), Role.BAR))
        if states is not None:
            state = State(states[i])
            items.append(Area(boxed(26.0, y - half, 38.0, y + half), STATE_ROLES[state]))
            rows.setdefault(state, []).append(y - half)
            words.append(Label(word_left, y, SHORT_WORDS[state], Role.FAINT, Align.LEFT, 8.5))
    for state, tops in rows.items():  # one pattern for all boxes of a state
        ends = pattern(state, 26.0, 0.0, 38.0, 2.0 * half)
        if len(ends):
            below = np.array([[0.0, top] for top in tops])[:, None, None, :]
            items.append(Strokes((ends + below).reshape(-1, 2, 2), pattern_role(state), 1.0))
    return [*items, *words, *_ghost_marks(scene, bar_left + (ghost - low) / span * (bar_right - bar_left))]


def _bar_range(finite: FloatArray, quantity: Quantity) -> tuple[float, float]:
    """From below to above zero, to round numbers: bars keep their scale while a value moves a little."""
    low, high = (min(0.0, float(finite.min())), max(0.0, float(finite.max()))) if len(finite) else (0.0, 1.0)
    if quantity.good is not None:  # so much of its window that one sees which way it lies
        high = max(high, WINDOW_ROOM * quantity.good[0])
    if low == high:
        return 0.0, 1.0
    step = round_step(max(-low, high) / BAR_STEPS)
    return floor(low / step + 1e-9) * step, ceil(high / step - 1e-9) * step


def _ghost_values(scene: Scene, quantity: Quantity) -> FloatArray:
    """(g,) the ghost's numbers at its own grooves; none without a ghost."""
    e = scene.ghost
    if e is None or e.shape is None or len(values := quantity.get(e)) != len(e.shape.mouths):
        return np.zeros(0)
    return values


def _ghost_marks(scene: Scene, xs: FloatArray) -> list[Item]:
    """A short upright line at each of the ghost's numbers, at the height of its groove."""
    if scene.ghost is None or scene.ghost.shape is None or not len(xs):
        return []
    places = zip(xs.tolist(), scene.axis.ys(scene.ghost.shape.mouths.middle).tolist(), strict=True)
    return [
        Line(np.array([[x, y - 5.0], [x, y + 5.0]]), Role.GHOST, 1.8)
        for x, y in places
        if np.isfinite(x) and scene.axis.top - 4 < y < scene.axis.bottom + 4
    ]


def _good_window(scene: Scene, quantity: Quantity, left: float, right: float, low: float, span: float) -> list[Item]:
    """The window of good values behind the bars, as far as the scale reaches."""
    if quantity.good is None:
        return []
    ends = [left + min(max((g - low) / span, 0.0), 1.0) * (right - left) for g in quantity.good]
    if ends[1] - ends[0] < 1.0:
        return []
    top, bottom = scene.axis.top, scene.axis.bottom
    inside = [x for x, g in zip(ends, quantity.good, strict=True) if low < g < low + span]
    edges: list[Item] = [Line(boxed(x, top, x, bottom)[[0, 2]], Role.REPOSE, 1.0, (4.0, 3.0)) for x in inside]
    return [Area(boxed(ends[0], top, ends[1], bottom), Role.BAND, 0.45), *edges]


def _text(scene: Scene, quantity: Quantity, value: float) -> str:
    if quantity.unit == MILLIMETRES.name and np.isfinite(value):
        return scene.lengths.text(value, quantity.decimals)
    return quantity.text(value)

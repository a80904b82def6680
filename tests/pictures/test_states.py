"""The four states as they look: told apart by pattern and word, never by colour alone."""

from itertools import combinations, pairwise

import numpy as np
import pytest

from profiler.assess.quantities.table import STATE_WORDS
from profiler.physics.slurry.overturn import State
from profiler.pictures.basics.display import Area, Strokes, boxed
from profiler.pictures.basics.state_marks import SHORT_WORDS, STATE_ROLES, runs_of, state_box
from profiler.pictures.strips.gutter_strip import gutter
from tests.pictures.scenes import axis, of_kind, scene

BOXES = {"tape": (16.0, 120.0), "short tape": (16.0, 20.0), "groove row": (12.0, 13.0), "thin row": (12.0, 9.0)}


def pattern(state: State, size: tuple[float, float]) -> set[tuple[float, ...]]:
    """The lines of the pattern as directions and places, whatever their order."""
    strokes = of_kind(state_box(state, 0.0, 0.0, *size), Strokes)
    return {tuple(np.round(e.ravel(), 1)) for s in strokes for e in s.ends}


@pytest.mark.parametrize("size", BOXES.values(), ids=BOXES)
def test_every_state_has_its_own_pattern(size: tuple[float, float]) -> None:
    for one, other in combinations(State, 2):
        assert pattern(one, size) != pattern(other, size), f"{one.name} and {other.name} look alike"


@pytest.mark.parametrize("size", BOXES.values(), ids=BOXES)
def test_patterns_stay_inside_their_box(size: tuple[float, float]) -> None:
    for state in State:
        for line in pattern(state, size):
            assert min(line) >= -0.1 and max(line[0::2]) <= size[0] + 0.1 and max(line[1::2]) <= size[1] + 0.1


def test_every_state_has_its_own_role_and_words() -> None:
    for table in (STATE_ROLES, STATE_WORDS, SHORT_WORDS):
        assert set(table) == set(State) and len(set(table.values())) == len(State)
    for state in State:
        box = of_kind(state_box(state, 0.0, 0.0, 16.0, 40.0), Area)
        assert [area.role for area in box] == [STATE_ROLES[state]]


def test_the_tape_covers_the_wall_from_floor_to_lip_without_a_gap() -> None:
    drawn = scene()
    boxes = [a for a in of_kind(gutter(drawn, 62.0, 532.0), Area) if a.role in STATE_ROLES.values()]
    spans = sorted((float(a.points[:, 1].min()), float(a.points[:, 1].max())) for a in boxes)
    assert spans[0][0] == pytest.approx(drawn.axis.y(330.0), abs=0.01)
    assert spans[-1][1] == pytest.approx(drawn.axis.y(0.0), abs=0.01)
    for (_, end), (start, _) in pairwise(spans):
        assert start == pytest.approx(end, abs=0.01)


def test_the_tape_shows_each_height_in_the_state_the_evaluation_gives_it() -> None:
    drawn = scene()
    at, states = drawn.shown.shape.stations, drawn.shown.flow.state[0]
    boxes = [a for a in of_kind(gutter(drawn, 62.0, 532.0), Area) if a.role in STATE_ROLES.values()]
    for height, state in zip(at.height[5::20], states[5::20], strict=True):
        y = drawn.axis.y(float(height))
        covering = [a for a in boxes if a.points[:, 1].min() - 0.5 <= y <= a.points[:, 1].max() + 0.5]
        assert STATE_ROLES[State(int(state))] in [a.role for a in covering]


def test_zoomed_in_the_tape_ends_where_the_strip_ends() -> None:
    near = scene(on=axis(100.0, 140.0))
    for area in of_kind(gutter(near, 62.0, 532.0), Area):
        assert near.axis.top <= area.points[:, 1].min() <= area.points[:, 1].max() <= near.axis.bottom


def test_runs_are_cut_where_the_value_changes() -> None:
    assert runs_of(np.array([3, 3, 2, 0, 0], dtype=np.int8)) == [(3, 0, 1), (2, 2, 2), (0, 3, 4)]
    assert runs_of(np.array([1], dtype=np.int8)) == [(1, 0, 0)]


def test_a_box_too_small_for_lines_still_has_its_colour() -> None:
    items = state_box(State.WEAK, 0.0, 0.0, 1.0, 1.0)
    assert np.array_equal(of_kind(items, Area)[0].points, boxed(0.0, 0.0, 1.0, 1.0))

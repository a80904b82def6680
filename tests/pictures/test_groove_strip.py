"""The groove strip: one row per groove at its own height, thinned out where rows come too close."""

import numpy as np
import pytest

from profiler.assess.quantities.table import Scope, of_scope, quantity
from profiler.physics.slurry.overturn import State
from profiler.pictures.basics.display import Align, Area, Label, Line, Picture, Role
from profiler.pictures.basics.state_marks import SHORT_WORDS
from profiler.pictures.strips.groove_strip import LEAST_ROW_PX, _bar_range, groove_strip, row_at
from tests.pictures.scenes import STUDY, axis, fine, grooved, of_kind, scene, texts

WIDTH, HEIGHT = 224.0, 532.0
RATIO = quantity("groove_ratio")


def drawn(of, shown=RATIO) -> Picture:
    return groove_strip(of, shown, WIDTH, HEIGHT)


def rows(picture: Picture) -> dict[int, float]:
    """Groove numbers shown, and where."""
    return {int(i.text): i.y for i in of_kind(picture, Label, Role.TEXT) if i.x == 20 and i.align is Align.RIGHT}


def test_every_groove_has_a_row_at_its_own_height_with_state_and_value() -> None:
    of = scene()
    found = rows(drawn(of))
    shape, flow = of.shown.shape, of.shown.flow
    assert list(found) == list(range(1, 15))
    assert list(found.values()) == pytest.approx(of.axis.ys(shape.mouths.middle))
    words = [t.strip("()") for t in texts(drawn(of)) if t.strip("()") in SHORT_WORDS.values()]
    assert words == [SHORT_WORDS[State(int(s))] for s in flow.groove_state[0]]
    values = [RATIO.text(float(v)) for v in flow.groove_ratio[0]]
    assert [t for t in texts(drawn(of)) if t in values] == values


@pytest.mark.parametrize("count", [40, 60, 100])
def test_rows_under_eleven_pixels_thin_out(count: int) -> None:
    of = scene(fine(count))
    assert of.shown.shape is not None
    found = rows(drawn(of))
    assert 10 < len(found) < count
    assert np.min(np.abs(np.diff(list(found.values())))) >= LEAST_ROW_PX - 1e-9
    assert len(set(np.diff(list(found)))) == 1  # every second, or every third, and so on


def test_zoomed_in_the_rows_come_back() -> None:
    of = scene(fine(60), axis(100.0, 140.0))
    found = rows(drawn(of))
    seen = [i + 1 for i, y in enumerate(of.axis.ys(of.shown.shape.mouths.middle)) if 8.0 < y < 512.0]
    assert list(found) == seen


@pytest.mark.parametrize("chosen", [1, 2, 3, 4, 30])
def test_the_chosen_groove_keeps_its_row_where_others_are_left_out(chosen: int) -> None:
    picture = drawn(scene(fine(60), groove=chosen))
    assert chosen in rows(picture)
    assert len(of_kind(picture, Area, Role.CHOSEN)) == 1


def test_the_row_under_the_mouse_is_the_nearest_groove() -> None:
    of = scene()
    ys = of.axis.ys(of.shown.shape.mouths.middle)
    assert [row_at(of, float(y) + 2.0) for y in ys] == list(range(1, 15))
    assert row_at(of, float(ys[0]) + 40.0) is None


def test_bars_are_as_long_as_their_values() -> None:
    picture = drawn(scene(), quantity("groove_overfall_mm"))
    values = scene().shown.flow.groove_overfall[0, 1]
    bars = of_kind(picture, Area, Role.BAR)
    assert len(bars) == len(values)
    widths = np.array([np.ptp(b.points[:, 0]) for b in bars])
    large = np.abs(values) > 0.1 * np.abs(values).max()
    ratio = widths[large] / np.abs(values[large])
    assert ratio == pytest.approx(np.full(len(ratio), ratio[0]))
    lefts = np.array([b.points[:, 0].min() for b in bars])
    assert lefts[values < -1e-3].max() < lefts[values > 1e-3].min() + 1e-9  # negative ones point the other way


@pytest.mark.parametrize("shown", of_scope(Scope.GROOVE), ids=lambda q: q.key)
def test_any_quantity_can_be_shown(shown) -> None:
    picture = drawn(scene(), shown)
    assert len(rows(picture)) == 14
    assert all(np.isfinite(i.x) and np.isfinite(i.y) for i in of_kind(picture, Label))


def test_a_wall_without_grooves_says_so() -> None:
    assert texts(drawn(scene(grooved(count=0)))) == ["no grooves"]


def test_a_single_groove_is_a_single_row() -> None:
    assert list(rows(drawn(scene(grooved(count=1))))) == [1]


def test_numbers_and_words_leave_each_other_room() -> None:
    """The number left, the bar, the word, the value right: no two labels of a row overlap at eight points."""
    for label in of_kind(drawn(scene()), Label):
        reach = 6.0 * len(label.text)
        left = label.x - reach if label.align is Align.RIGHT else label.x
        assert left >= -4.0 and left + reach <= WIDTH + 4.0
    assert STUDY.design.grooves.count == 14


def test_bars_stand_on_a_zero_line_and_their_scale_ends_at_round_numbers() -> None:
    picture = drawn(scene(), quantity("groove_ratio"))
    zero = next(i for i in of_kind(picture, Line, Role.FAINT) if i.points[0, 0] == i.points[1, 0]).points[0, 0]
    assert [label.x for label in of_kind(picture, Label) if label.text == "0"] == [zero]
    for bar in of_kind(picture, Area, Role.BAR):
        assert zero in (pytest.approx(bar.points[:, 0].min()), pytest.approx(bar.points[:, 0].max()))
    assert _bar_range(np.array([-2.43, 3.36]), quantity("groove_ratio")) == (-3.0, 4.0)
    assert _bar_range(np.array([-2.21, 3.9]), quantity("groove_ratio")) == (-3.0, 4.0)
    assert _bar_range(np.zeros(3), quantity("groove_ratio"))[0] == 0.0

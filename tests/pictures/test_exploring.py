"""Pictures of ladder, comparison, map and overturn curves: what they hold, and that nothing leaves them."""

from dataclasses import replace as with_
from itertools import pairwise

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.assess.evaluate.batch import under
from profiler.assess.quantities.table import quantity
from profiler.explore.compare import compare
from profiler.explore.ore_map import asked, ore_map, span
from profiler.explore.why_overturn import why
from profiler.physics.slurry.overturn import State
from profiler.pictures.basics.axis import HeightAxis
from profiler.pictures.basics.display import Area, Dot, Label, Line, Role, Strokes
from profiler.pictures.basics.state_marks import STATE_ROLES, pattern
from profiler.pictures.charts import comparison, overturn_plot
from profiler.pictures.charts.map_picture import ore_map_picture
from profiler.pictures.strips.groove_strip import groove_strip
from profiler.pictures.strips.gutter_strip import gutter
from profiler.pictures.strips.ladder import COLUMN_PX, ladder
from profiler.pictures.strips.scene import Scene
from profiler.study.files.examples import read

STUDY = read("graded")
NOW = evaluate(STUDY.design, STUDY.machine, STUDY.duty)
AXIS = HeightAxis(-20.0, 340.0, 12.0, 500.0)


def scene(duties=STUDY.duties):
    return Scene(NOW, STUDY.design, AXIS, ladder=under(NOW, duties))


def texts(items):
    return [i.text for i in items if isinstance(i, Label)]


def test_the_ladder_has_a_column_per_duty_with_the_states_of_its_own_flow():
    items = ladder(scene(), 100.0)
    flow = under(NOW, STUDY.duties).flow
    for i in range(3):
        left = 100.0 + COLUMN_PX * i
        areas = [a for a in items if isinstance(a, Area) and a.points[:, 0].min() == left]
        shown = {a.role for a in areas}
        assert shown == {STATE_ROLES[State(s)] for s in np.unique(flow.state[i])}
        top, bottom = min(a.points[:, 1].min() for a in areas), max(a.points[:, 1].max() for a in areas)
        assert (top, bottom) == pytest.approx((AXIS.y(330.0), AXIS.y(0.0)))
    assert texts(items) == ["duties", "1", "2", "3"]
    assert [i.bold for i in items if isinstance(i, Label)] == [False, True, False, False]


def test_no_state_of_the_ladder_is_told_by_colour_alone_and_its_patterns_are_those_of_the_tape():
    """One legend serves tape and ladder: what is drawn in a column is `pattern` of its state, as in the tape."""
    items = ladder(scene((STUDY.duty,)), 0.0)
    drawn = np.concatenate([i.ends for i in items if isinstance(i, Strokes)])
    states = {role: state for state, role in STATE_ROLES.items()}
    seen = {}
    for area in (i for i in items if isinstance(i, Area)):
        (left, top), (right, bottom) = area.points.min(axis=0), area.points.max(axis=0)
        lines = pattern(states[area.role], left, top, right, bottom)
        assert all(np.isclose(drawn, line).all(axis=(1, 2)).any() for line in lines)
        seen[area.role] = len(lines)
    assert {role for role, lines in seen.items() if lines} == {Role.STRONG, Role.WEAK, Role.MATCHED, Role.PAPER}
    assert seen[Role.SHELTERED] == 0


def test_the_gutter_keeps_its_scale_clear_of_the_ladder():
    for duties in (STUDY.duties[:1], STUDY.duties, STUDY.duties * 3):
        width = 62.0 + COLUMN_PX * len(duties)
        items = gutter(scene(duties), width, 520.0).items
        columns = min(i.points[:, 0].min() for i in items if isinstance(i, Area))
        ticks = [i for i in items if isinstance(i, Label) and i.role is Role.FAINT and AXIS.top < i.y < AXIS.bottom + 5]
        assert len(ticks) > 3 and all(t.x <= columns for t in ticks)


def test_a_ladder_of_another_shape_is_not_drawn():
    other = evaluate(STUDY.designs[1], STUDY.machine, STUDY.duty)
    assert ladder(with_(scene(), ladder=under(other, STUDY.duties)), 0.0) == []


def test_the_share_bars_fill_their_whole_width():
    c = compare(STUDY)
    shown = tuple(comparison.Shown(s.design.name, s.shown, i) for i, s in enumerate(c.results))
    for by_area in (False, True):
        picture = comparison.share_bars(shown, by_area, 400.0, 220.0)
        bars = [i for i in picture.items if isinstance(i, Area) and i.points[:, 1].max() < 180.0]
        for row in {round(float(b.points[:, 1].min()), 3) for b in bars}:
            parts = sorted(
                (float(b.points[:, 0].min()), float(b.points[:, 0].max()))
                for b in bars
                if round(float(b.points[:, 1].min()), 3) == row
            )
            assert (parts[0][0], parts[-1][1]) == pytest.approx((8.0, 392.0))
            assert all(a[1] == pytest.approx(b[0]) for a, b in pairwise(parts))


def test_walls_are_laid_over_each_other_at_equal_scales():
    c = compare(STUDY)
    shown = tuple(comparison.Shown(s.design.name, s.shown, i) for i, s in enumerate(c.results))
    walls = [
        i for i in comparison.wall_overlay(shown, 600.0, 400.0).items if isinstance(i, Line) and len(i.points) > 300
    ]
    assert len(walls) == 3 and len({(w.role, w.dashes) for w in walls}) == 3
    for wall, s in zip(walls, shown, strict=True):
        at = s.evaluation.shape.stations
        scale = np.ptp(wall.points[:, 1]) / np.ptp(at.height)
        assert np.ptp(wall.points[:, 0]) == pytest.approx(scale * np.ptp(at.radius), rel=1e-6)
        assert wall.points.min() >= 0.0 and wall.points[:, 0].max() <= 600.0


def test_the_ghost_marks_its_own_numbers_at_its_own_grooves():
    other = evaluate(STUDY.designs[1], STUDY.machine, STUDY.duty)
    plain = Scene(NOW, STUDY.design, AXIS)
    marks = [
        i for i in groove_strip(with_(plain, ghost=other), quantity("groove_ratio"), 224.0, 520.0).items
        if isinstance(i, Line) and i.role is Role.GHOST
    ]  # fmt: skip
    assert [m.points[:, 1].mean() for m in marks] == pytest.approx(AXIS.ys(other.shape.mouths.middle).tolist())
    order = np.argsort([m.points[0, 0] for m in marks])
    assert order.tolist() == np.argsort(other.flow.groove_ratio[0]).tolist()
    assert not any(i.role is Role.GHOST for i in groove_strip(plain, quantity("groove_ratio"), 224.0, 520.0).items)


def small_map(key="share_sheltered_pct", groove=None, window=()):
    question = asked(span("solids", count=9), span("d50", count=9), key, groove, NOW)
    return ore_map(question, NOW, window)


NOW_SHELTERED = float(quantity("share_sheltered_pct").get(NOW)[0])


def test_the_map_shows_the_present_point_the_window_and_labelled_levels():
    window = tuple(replace(d, in_window=True) for d in STUDY.duties)
    items = ore_map_picture(small_map(window=window), 800.0, 500.0, (2, 3)).items
    words = texts(items)
    assert f"now {NOW_SHELTERED:.1f} %" in words and {"1", "2", "3"} <= set(words) and {"20", "30"} <= set(words)
    assert "Solids, % by mass" in words and "Size d50, µm" in words
    assert sum(isinstance(i, Dot) and i.role is Role.CHOSEN for i in items) == 3


def test_a_map_of_counts_is_labelled_from_which_number():
    assert any(t.startswith("from ") for t in texts(ore_map_picture(small_map("count_strong"), 800.0, 500.0).items))


def test_a_map_without_a_number_says_so():
    m = small_map()
    empty = with_(m, values=np.full_like(m.values, np.nan))
    assert "no number anywhere on this map" in texts(ore_map_picture(empty, 800.0, 500.0).items)


def _order(w):
    """Places of grooves 1, 2, 3 ... among the marks, of which the chosen one's is drawn first."""
    others = [i for i in range(len(w.grooves_deg)) if i != w.groove - 1]
    drawn = [w.groove - 1, *others]
    return [drawn.index(i) for i in range(len(drawn))]


def test_grooves_are_points_in_the_overturn_plot_at_their_own_ratio():
    w = why(NOW, 5)
    items = overturn_plot.ratio_plot(w, 600.0, 500.0).items
    areas = [i.points for i in items if isinstance(i, Area)]
    marks = [p for p in areas if np.ptp(p, axis=0) == pytest.approx(2.0 * overturn_plot.MARK_PX)]
    rings = [(i.x, i.y) for i in items if isinstance(i, Dot) and not i.filled]
    assert len(marks) == 14 and len(rings) == 1
    middles = np.array([p.mean(axis=0) for p in marks])
    assert middles[0] == pytest.approx(rings[0])  # the chosen groove comes first
    across, up = np.polyfit(w.grooves_deg, middles[_order(w)][:, 0], 1), middles[_order(w)][:, 1]
    assert middles[_order(w)][:, 0] == pytest.approx(np.polyval(across, w.grooves_deg), abs=1e-6)
    assert up == pytest.approx(np.polyval(np.polyfit(w.grooves_ratio, up, 1), w.grooves_ratio), abs=1e-6)
    for plot in (overturn_plot.power_plot, overturn_plot.stepped_plot):
        assert any("wall angle" in t for t in texts(plot(w, 400.0, 300.0).items))

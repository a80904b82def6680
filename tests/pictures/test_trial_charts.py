"""The pictures of a trial: what is drawn where, and that every picture of a verdict holds its interval."""

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess.trials.verdicts import evaluate_trial
from profiler.numbers import fixed
from profiler.pictures.basics.display import Area, Dot, Label, Line, Role, Strokes
from profiler.pictures.charts import trial_charts as charts
from profiler.study.files import examples
from profiler.study.records.trial import Trial
from profiler.words import Structure

TRIAL = examples.read("trial").trials[0]
FOUND = evaluate_trial(TRIAL)
SIZES = ((310.0, 220.0), (420.0, 300.0), (200.0, 150.0))
DRAWS = (charts.differences, charts.run_order, charts.grade_recovery, charts.size_classes)


def texts(picture):
    return [item.text for item in picture.items if isinstance(item, Label)]


@pytest.mark.parametrize("draw", DRAWS)
@pytest.mark.parametrize("size", SIZES)
def test_every_mark_is_finite_and_inside_the_picture(draw, size):
    picture = draw(FOUND, *size)
    for item in picture.items:
        if isinstance(item, Dot | Label):
            assert 0.0 <= item.x <= size[0] and 0.0 <= item.y <= size[1]
        if isinstance(item, Line | Area):
            assert np.isfinite(item.points).all()


def test_differences_are_as_many_as_pairs_and_carry_mean_and_interval():
    picture = charts.differences(FOUND, 310.0, 220.0)
    assert sum(isinstance(item, Dot) for item in picture.items) == 12
    limits = FOUND.judgement.comparison.interval95
    words = f"+{FOUND.judgement.comparison.difference:.2f} (+{limits.low:.2f} to +{limits.high:.2f})"
    assert words in texts(picture)
    band = next(item for item in picture.items if isinstance(item, Area) and item.role is Role.BAND)
    mean = next(i for i in picture.items if isinstance(i, Line) and i.role is charts.NEW_ROLE)
    assert band.points[:, 1].min() < mean.points[0, 1] < band.points[:, 1].max()
    assert "worthwhile" in texts(picture)


def test_the_band_is_the_interval_on_the_scale_of_the_dots():
    """Three heights known in both units: the band's edges, the mean and a pair's dot lie on one straight scale."""
    picture = charts.differences(FOUND, 310.0, 220.0)
    comparison = FOUND.judgement.comparison
    first, second = FOUND.judgement.layout.values("recovery_percent")
    band = next(item for item in picture.items if isinstance(item, Area) and item.role is Role.BAND)
    dots = [item.y for item in picture.items if isinstance(item, Dot)]
    slope, start = np.polyfit(second - first, dots, 1)
    assert np.allclose(dots, slope * (second - first) + start)
    assert band.points[:, 1].min() == pytest.approx(slope * comparison.interval95.high + start)
    assert band.points[:, 1].max() == pytest.approx(slope * comparison.interval95.low + start)


def test_excluded_runs_are_crosses_and_a_chosen_run_is_named():
    plain, marked = charts.run_order(FOUND, 310.0, 220.0), charts.run_order(FOUND, 310.0, 220.0, 3)
    strokes = [item for item in plain.items if isinstance(item, Strokes)]
    assert [len(item.ends) for item in strokes] == [25, 2]  # a bar for each run that counts, a cross for the other
    assert "run 4" in texts(marked) and "run 4" not in texts(plain)


def test_hollow_and_filled_tell_the_designs_apart_beside_their_names():
    picture = charts.grade_recovery(FOUND, 420.0, 300.0)
    assert {"Plain cone", "Graded, first try"} <= set(texts(picture))
    dots = [item for item in picture.items if isinstance(item, Dot)]
    assert {(d.filled, d.role) for d in dots} == {(True, charts.NEW_ROLE), (False, charts.REFERENCE_ROLE)}


def test_a_run_is_found_where_it_is_drawn():
    for points in (charts.order_points, charts.grade_points):
        placed = points(FOUND, 310.0, 220.0)
        assert charts.nearest(placed, placed[5].x + 1.0, placed[5].y) == placed[5].row
        assert charts.nearest(placed, -100.0, -100.0) is None


def test_size_classes_show_an_interval_each_and_fill_only_what_holm_allows():
    picture = charts.size_classes(FOUND, 310.0, 220.0)
    dots = [item for item in picture.items if isinstance(item, Dot)]
    assert [d.filled for d in dots] == [t.holm_p < 0.05 for t in FOUND.sizes.tests]
    parts = {fixed(100.0 * part, 2, signed=True) for part in FOUND.sizes.gain.by_design}
    assert {"+212", "−25", "contributes", *parts} <= set(texts(picture))


@pytest.mark.parametrize("draw", DRAWS)
def test_without_anything_to_draw_a_sentence_says_so(draw):
    picture = draw(evaluate_trial(Trial("T")), 310.0, 220.0)
    assert len(picture.items) == 1 and "no" in texts(picture)[0]


def test_unpaired_runs_are_drawn_against_the_references_mean():
    trial = replace(TRIAL, plan=replace(TRIAL.plan, structure=Structure.UNPAIRED))
    picture = charts.differences(evaluate_trial(trial), 310.0, 220.0)
    assert "new runs less the reference's mean" in texts(picture)
    assert sum(isinstance(item, Dot) for item in picture.items) == 12

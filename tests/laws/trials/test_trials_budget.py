"""Error budget, planner, trends: closed forms, and own examples by two routes."""

import numpy as np
import pytest

from profiler.assess.trials.planning import Question, answer
from profiler.statistics.inference.comparison import Kind
from profiler.statistics.inference.differences import paired, unpaired
from profiler.statistics.inference.trends import lag_one, trend
from profiler.statistics.sampling.budget import Reading, Sampling, error_budget, run_sd
from profiler.statistics.sampling.grains import grain_count, grain_mass_mg, recovery_floor
from profiler.statistics.trial.planner import sample_floor, size_table, trial_size

FED = Sampling(grains_fed=147.0, tail_sample_grains=76.0, tail_rsd=0.08, concentrate_rsd=0.05, mass_rsd=0.01)


def test_parts_add_up_by_squares_and_the_largest_is_named() -> None:
    found = error_budget(40.0, FED)
    assert found.parts[0].name == "grains fed"
    assert found.parts[0].sd_points == pytest.approx(100 * recovery_floor(0.4, 147.0))
    assert found.expected_sd_points**2 == pytest.approx(sum(part.sd_points**2 for part in found.parts))
    assert found.missing == ("grains in the concentrate sample",)
    assert found.reading is Reading.NOT_OBSERVED
    assert "feed more per run" in found.advice


def test_assays_of_the_whole_stream_have_no_grain_part() -> None:
    whole = Sampling(grains_fed=500.0, tail_sample_grains=float("inf"), concentrate_sample_grains=float("inf"))
    found = error_budget(40.0, whole)
    assert found.expected_sd_points == pytest.approx(100 * recovery_floor(0.4, 500.0))


def test_the_budget_of_assays_is_the_error_of_the_built_up_recovery() -> None:
    """R 35 %, concentrate 5 %, tail 8 %, masses 1 %: 2.17 points (the table of the balances)."""
    found = error_budget(35.0, Sampling(tail_rsd=0.08, concentrate_rsd=0.05, mass_rsd=0.01))
    assert found.expected_sd_points == pytest.approx(2.17, abs=5e-3)
    assert found.parts[0].name == "tail assay"


def test_observed_scatter_is_read_against_the_budget() -> None:
    draw = np.random.default_rng(1)
    expected = error_budget(40.0, FED).expected_sd_points
    for factor, reading in ((1.0, Reading.EXPLAINED), (3.0, Reading.UNEXPLAINED), (0.3, Reading.OVERSTATED)):
        lots = draw.normal(40, 3, 12)
        first, second = (lots + draw.normal(0, factor * expected, 12) for _ in range(2))
        found = error_budget(40.0, FED, paired(first, second))
        assert found.reading is reading
        assert found.observed_interval is not None
    assert "less than the budget" in found.advice or "scatter less" in found.advice


def test_more_assays_are_not_called_useless_while_an_assay_error_is_unknown() -> None:
    draw = np.random.default_rng(3)
    lots = draw.normal(40, 3, 12)
    wild = paired(lots + draw.normal(0, 9, 12), lots + draw.normal(0, 9, 12))
    known, unknown = error_budget(40.0, FED, wild), error_budget(40.0, Sampling(grains_fed=147.0), wild)
    assert known.reading is unknown.reading is Reading.UNEXPLAINED
    assert "more assays will not help" in known.advice
    assert "more assays will not help" not in unknown.advice
    assert "duplicates would tell how much of it is tail assay and concentrate assay" in unknown.advice


def test_a_difference_scatters_by_root_two_more_than_a_run() -> None:
    first, second = [40, 42, 41, 43.5], [41, 44, 41.5, 46]
    assert run_sd(paired(first, second)) == pytest.approx(paired(first, second).spread / 2**0.5)
    assert run_sd(unpaired(first, second)) == unpaired(first, second).spread


def test_a_planned_trial_has_six_pairs_at_least_and_more_where_the_spread_is_poorly_known() -> None:
    assert trial_size(5.0, 1.0).units == 6
    known, guessed = trial_size(1.0, 1.5), trial_size(1.0, 1.5, spread_from=4)
    assert known.units == known.cautious == 20
    assert guessed.units == 20
    assert guessed.cautious > 40
    assert known.half_width == pytest.approx(2.093 * 1.5 / 20**0.5, rel=1e-3)  # t table, 19 degrees of freedom
    assert size_table((1.0, 2.0), (1.0, 2.0)) == ((10, 5), (34, 10))
    assert trial_size(1.0, 1.5, Kind.EXCHANGED).units >= known.units


def test_a_sample_below_twenty_grains_is_not_enough() -> None:
    coarse = float(grain_mass_mg(300))
    assert not sample_floor(4.0, 1.0, coarse).enough
    assert sample_floor(4.0, 20.0, coarse).enough
    assert sample_floor(4.0, 1.0, coarse).grains == grain_count(4.0, 1.0, coarse)


def test_a_trend_is_the_least_squares_line() -> None:
    x, y = np.arange(8.0), np.array([40.0, 39.5, 39.9, 39.0, 38.8, 38.9, 38.0, 38.3])
    found = trend(x, y)
    assert found.slope == pytest.approx(np.polyfit(x, y, 1)[0])
    assert found.p == pytest.approx(_linregress_p(x, y))
    assert found.interval95.high < 0.0


def test_groups_keep_their_own_level() -> None:
    x = np.tile(np.arange(6.0), 2)
    y = np.concatenate([40 - 0.1 * np.arange(6), 50 - 0.1 * np.arange(6)]) + np.tile([0.01, -0.01, 0.0], 4)
    found = trend(x, y, np.repeat([0, 1], 6))
    assert found.slope == pytest.approx(-0.1, abs=0.01)
    assert found.slope_error < 0.01


def test_neighbours_alike_and_unlike() -> None:
    assert lag_one([1, 1, 1, 1, -1, -1, -1, -1]) == pytest.approx(5 / 8)
    assert lag_one([1, -1, 1, -1]) == pytest.approx(-3 / 4)
    assert lag_one([2, 2, 2]) == 0.0


def _linregress_p(x: np.ndarray, y: np.ndarray) -> float:
    from scipy import stats

    return float(stats.linregress(x, y).pvalue)


def test_a_spread_that_the_samples_cannot_reach_is_doubted() -> None:
    small, large = (" ".join(answer(Question(sample_kg=kg)).sentences) for kg in (1.0, 100.0))
    assert "The spread of 2.00 given above is less than that" in small and "3.69 at least" in small
    assert "is less than that" not in large
    assert "141\u202f000 grains" in small
    said = answer(Question(sample_kg=1.0))
    assert said.units == 34 and said.planned == 109 and said.of_trial[0].startswith("109 pairs")
    assert "at the 2.00 given, which they do not reach, it would be 34" in said.of_trial[1]
    seen = answer(Question(sample_kg=1.0), was_seen=True)
    assert seen.planned == 34 and "The trial scattered less" in " ".join(seen.of_samples)


def test_no_advice_calls_assays_useless_while_an_assay_error_is_unknown() -> None:
    """Whatever is known and seen: with either assay error unknown, duplicates are asked for instead."""
    seen = paired([40.0, 41.0, 39.0, 42.0, 40.5, 40.2], [43.0, 41.5, 44.0, 43.1, 40.9, 46.0])
    for fed in (None, 500.0, 5e6):
        for tail_rsd in (None, 0.05):
            for concentrate_rsd in (None, 0.05):
                for observed in (None, seen):
                    known = Sampling(grains_fed=fed, mass_rsd=0.01, tail_rsd=tail_rsd, concentrate_rsd=concentrate_rsd)
                    found = error_budget(40.0, known, observed)
                    unknown = tail_rsd is None or concentrate_rsd is None
                    assert not (unknown and ("not help" in found.advice or "cannot help" in found.advice))
                    if unknown and found.reading is not Reading.OVERSTATED:
                        assert "duplicates would tell" in found.advice

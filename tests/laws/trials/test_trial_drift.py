"""Drift of recoveries along run order and wear: one slope, each design at its own level."""

import numpy as np
import pytest

from profiler.assess.trials.drift import drift, run_order
from profiler.assess.trials.verdicts import evaluate_trial
from profiler.statistics.trial.runs import TrialRun
from profiler.study.files import examples

FOUND = evaluate_trial(examples.read("trial").trials[0])


def runs(recoveries: list[float], designs: str) -> list[TrialRun]:
    return [
        TrialRun(run=str(i), design=d, recovery_percent=r)
        for i, (d, r) in enumerate(zip(designs, recoveries, strict=True))
    ]


def test_the_slope_and_its_interval_are_those_of_a_textbook_regression() -> None:
    """scipy.stats.linregress and the t quantile, for a single design."""
    from scipy import stats

    x = [1.0, 2.0, 3.0, 4.0, 5.0, 6.0]
    y = [40.0, 40.4, 40.1, 41.0, 41.2, 40.9]
    found, line = drift(runs(y, "AAAAAA"), x), stats.linregress(x, y)
    assert found is not None
    half = stats.t.ppf(0.975, 4) * line.stderr
    assert found.trend.slope == pytest.approx(line.slope, rel=1e-9)
    assert found.trend.interval95.low == pytest.approx(line.slope - half, rel=1e-6)
    assert (found.levels[0].place, found.levels[0].recovery) == pytest.approx((np.mean(x), np.mean(y)))


def test_a_difference_between_designs_is_no_drift() -> None:
    found = drift(runs([40.0, 50.0, 40.1, 50.1, 40.0, 50.0, 40.1, 50.1], "ABABABAB"), [1.0, 2, 3, 4, 5, 6, 7, 8])
    assert found is not None and abs(found.trend.slope) < 0.05
    assert [level.recovery for level in found.levels] == pytest.approx([40.05, 50.05])


def test_too_few_runs_or_an_axis_that_stands_still_give_none() -> None:
    assert drift([], []) is None
    assert drift(runs([40.0, 41.0], "AB"), [1.0, 2.0]) is None
    assert drift(runs([40.0, 41.0, 42.0, 41.0], "AAAA"), [3.0] * 4) is None


def test_the_example_has_both_and_leaves_excluded_runs_out() -> None:
    assert FOUND.with_order is not None and FOUND.with_wear is not None
    counted = [r for r in FOUND.runs if not r.excluded]
    assert FOUND.with_order.trend.df == len(counted) - 3
    assert sorted(run_order(FOUND.runs)) == [float(i) for i in range(1, len(FOUND.runs) + 1)]

"""Two invented trials, a real gain and no difference: every number by statsmodels and by hand beforehand.

Not field data. The numbers checked here were worked out twice, once with statsmodels, once with least squares.
"""

import numpy as np
import pytest

from profiler.statistics.inference.comparison import Kind
from profiler.statistics.inference.differences import paired, unpaired
from profiler.statistics.inference.permutation import sign_flips
from profiler.statistics.inference.power import detectable, needed
from profiler.statistics.inference.ratio import relative_gain
from profiler.statistics.trial.adjustment import adjust, parallel_slopes_p
from profiler.statistics.trial.runs import TrialPlan, TrialRun
from profiler.words import Structure
from tests.oracles.trials import geometric_ratio

FEED_A = [3.62, 4.10, 3.35, 4.48, 3.90, 2.95, 4.75, 3.70, 4.22, 3.15]
FEED_B = [3.80, 3.95, 3.55, 4.30, 4.05, 3.10, 4.60, 3.45, 4.40, 3.30]
RECOVERY_A = [37.9, 41.2, 36.1, 43.6, 40.4, 33.0, 44.1, 38.9, 42.0, 35.2]
GAIN_B = [41.1, 41.9, 40.0, 44.3, 43.8, 37.1, 46.5, 38.8, 45.6, 38.0]
ALIKE_B = [38.9, 39.6, 37.4, 42.0, 41.9, 33.6, 43.0, 39.9, 40.7, 36.9]


def ledger(recoveries_b: list[float], pairs: int = 10) -> list[TrialRun]:
    """Runs of the invented trial, A and B of each pair in turn, nothing recorded but feed grade and recovery."""
    runs = []
    for row in range(pairs):
        for design, feed, recovery in (
            ("A", FEED_A[row], RECOVERY_A[row]),
            ("B", FEED_B[row], recoveries_b[row]),
        ):
            runs.append(
                TrialRun(
                    run=f"{design}{row + 1}",
                    design=design,
                    block=str(row + 1),
                    recovery_percent=recovery,
                    feed_grade_g_t=feed,
                )
            )
    return runs


def plan(worthwhile: float | None, structure: Structure = Structure.PAIRS) -> TrialPlan:
    return TrialPlan(structure=structure, worthwhile_points=worthwhile)


def test_a_real_gain_by_paired_t() -> None:
    found = paired(RECOVERY_A, GAIN_B)
    assert (found.reference_mean, found.new_mean) == (pytest.approx(39.24), pytest.approx(41.71))
    assert found.difference == pytest.approx(2.4700)
    assert found.spread == pytest.approx(1.50411, abs=5e-6)
    assert found.standard_error == pytest.approx(0.47564, abs=5e-6)
    assert found.t == pytest.approx(5.19300, abs=5e-6)
    assert found.p == pytest.approx(0.000569356, abs=5e-10)
    assert (found.interval95.low, found.interval95.high) == (
        pytest.approx(1.3940, abs=5e-5),
        pytest.approx(3.5460, abs=5e-5),
    )
    assert (found.interval90.low, found.interval90.high) == (
        pytest.approx(1.5981, abs=5e-5),
        pytest.approx(3.3419, abs=5e-5),
    )


def test_the_unpaired_test_would_miss_the_gain() -> None:
    found = unpaired(RECOVERY_A, GAIN_B)
    assert found.p == pytest.approx(0.1305, abs=5e-5)
    assert (found.interval95.low, found.interval95.high) == (
        pytest.approx(-0.81, abs=5e-3),
        pytest.approx(5.75, abs=5e-3),
    )


def test_sign_flips_of_both_sets() -> None:
    assert sign_flips(np.subtract(GAIN_B, RECOVERY_A)).two_sided == 4 / 1024
    assert sign_flips(np.subtract(ALIKE_B, RECOVERY_A)).two_sided == 768 / 1024


def test_the_gain_adjusted_for_feed_grade() -> None:
    loose = adjust(Kind.UNPAIRED, (RECOVERY_A, GAIN_B), (FEED_A, FEED_B))
    assert loose.difference == pytest.approx(2.29117, abs=5e-6)
    assert loose.standard_error == pytest.approx(0.21197, abs=5e-6)
    assert loose.difference / loose.standard_error == pytest.approx(10.8088, abs=5e-4)
    assert loose.slope == pytest.approx(6.38679, abs=5e-6)
    assert (loose.interval95.low, loose.interval95.high) == (
        pytest.approx(1.8439, abs=5e-5),
        pytest.approx(2.7384, abs=5e-5),
    )
    blocked = adjust(Kind.PAIRED, (RECOVERY_A, GAIN_B), (FEED_A, FEED_B))
    assert blocked.difference == pytest.approx(2.25920, abs=5e-6)
    assert blocked.standard_error == pytest.approx(0.19969, abs=5e-6)
    assert (blocked.interval95.low, blocked.interval95.high) == (
        pytest.approx(1.7987, abs=5e-5),
        pytest.approx(2.7197, abs=5e-5),
    )
    assert parallel_slopes_p((RECOVERY_A, GAIN_B), (FEED_A, FEED_B)) == pytest.approx(0.636, abs=5e-4)


def test_the_gain_relative_to_the_reference() -> None:
    found = relative_gain(Kind.PAIRED, RECOVERY_A, GAIN_B)
    assert found is not None
    assert found.estimate == pytest.approx(1.062946, abs=5e-7)
    assert (found.interval.low, found.interval.high) == (
        pytest.approx(1.034368, abs=5e-7),
        pytest.approx(1.093834, abs=5e-7),
    )
    assert found.gain_percent == pytest.approx(6.29, abs=5e-3)
    assert found.gain_interval_percent.low == pytest.approx(3.44, abs=5e-3)
    assert found.gain_interval_percent.high == pytest.approx(9.38, abs=5e-3)
    geometric = geometric_ratio(RECOVERY_A, GAIN_B)
    assert geometric == pytest.approx((1.064338, 1.034280, 1.095269), abs=5e-7)


def test_what_the_trial_could_see_and_what_it_would_take() -> None:
    found = paired(RECOVERY_A, GAIN_B)
    assert (found.difference - 1.0) / found.standard_error == pytest.approx(3.0906, abs=5e-5)
    assert found.p_above(1.0) == pytest.approx(0.00646, abs=5e-6)
    assert detectable(found.standard_error, found.df) == pytest.approx(1.4981, abs=5e-5)
    assert [needed(found, gain) for gain in (1.0, 2.0, 3.0)] == [20, 7, 5]


def test_no_difference_by_paired_t_and_equivalence() -> None:
    found = paired(RECOVERY_A, ALIKE_B)
    assert found.difference == pytest.approx(0.1500)
    assert found.spread == pytest.approx(1.37376, abs=5e-6)
    assert (found.t, found.p) == (pytest.approx(0.34529, abs=5e-6), pytest.approx(0.737812, abs=5e-7))
    assert (found.interval95.low, found.interval95.high) == (
        pytest.approx(-0.8327, abs=5e-5),
        pytest.approx(1.1327, abs=5e-5),
    )
    assert (found.interval90.low, found.interval90.high) == (
        pytest.approx(-0.6463, abs=5e-5),
        pytest.approx(0.9463, abs=5e-5),
    )
    assert found.p_equivalent(1.0) == pytest.approx(0.04104, abs=5e-6)


def test_statsmodels_agrees_on_both_adjustments() -> None:
    from statsmodels import api

    response = np.array(RECOVERY_A + GAIN_B)
    design, feed = np.repeat([0.0, 1.0], 10), np.array(FEED_A + FEED_B)
    blocks = np.tile(np.eye(10), (2, 1))
    for kind, columns in (
        (Kind.UNPAIRED, np.column_stack([design, np.ones(20), feed])),
        (Kind.PAIRED, np.column_stack([design, blocks, feed])),
    ):
        result = api.OLS(response, columns).fit()
        found = adjust(kind, (RECOVERY_A, GAIN_B), (FEED_A, FEED_B))
        assert (found.difference, found.standard_error, found.p) == (
            pytest.approx(result.params[0]),
            pytest.approx(result.bse[0]),
            pytest.approx(result.pvalues[0]),
        )

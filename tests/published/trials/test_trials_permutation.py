"""Permutation tests against Box, Hunter and Hunter (counts of arrangements are exact, so are the checks)."""

import numpy as np
import pytest

from profiler.statistics.inference.permutation import label_shuffles, sign_flips, smallest_two_sided
from tests.published.trials.test_trials_t_tests import SHOES_A, SHOES_B

TOMATOES_A = [29.9, 11.4, 25.3, 16.5, 21.1]
TOMATOES_B = [26.6, 23.7, 28.5, 14.2, 17.9, 24.3]


def test_sign_flips_of_the_shoes_give_the_count_of_the_book() -> None:
    found = sign_flips(np.array(SHOES_B) - SHOES_A)
    assert found.exact
    assert found.arrangements == 1024
    assert found.upper == pytest.approx(7 / 1024, abs=1e-15)  # 3 greater, 4 as great
    assert found.upper_mid == pytest.approx(5 / 1024, abs=1e-15)  # the book's 0.0048828
    assert found.two_sided == pytest.approx(14 / 1024, abs=1e-15)


def test_all_splits_of_the_tomatoes() -> None:
    found = label_shuffles(TOMATOES_A, TOMATOES_B)
    assert found.exact
    assert found.arrangements == 462
    assert found.upper == pytest.approx(154 / 462, abs=1e-15)
    assert found.two_sided == pytest.approx(0.66017, abs=5e-6)


@pytest.mark.parametrize(("pairs", "least"), [(5, 0.0625), (6, 0.03125), (8, 0.0078125)])
def test_few_pairs_cannot_reach_a_small_probability(pairs: int, least: float) -> None:
    assert smallest_two_sided(pairs) == least
    assert sign_flips(np.arange(1.0, pairs + 1.0)).two_sided == least


@pytest.mark.parametrize(("each", "least"), [(3, 0.10), (4, 0.02857)])
def test_few_unpaired_runs_cannot_either(each: int, least: float) -> None:
    found = label_shuffles(np.arange(each), 100.0 + np.arange(each))
    assert found.two_sided == pytest.approx(least, abs=5e-6)


def test_counts_agree_with_the_general_library() -> None:
    from scipy import stats

    result = stats.permutation_test(
        (np.array(SHOES_B) - SHOES_A,), np.mean, permutation_type="samples", alternative="two-sided", n_resamples=np.inf
    )
    assert sign_flips(np.array(SHOES_B) - SHOES_A).two_sided == pytest.approx(result.pvalue, abs=1e-12)

"""Assay error from duplicates: own pairs by two routes, the formula of Stanley and Lawie (2007) being one of them."""

import numpy as np
import pytest

from profiler.statistics.sampling.duplicates import replicate_cv

FIRST = np.array([2.10, 3.95, 0.88, 5.60, 1.42, 7.80, 2.75, 1.05, 4.20, 6.10])
SECOND = np.array([2.40, 3.10, 0.95, 4.90, 1.10, 10.10, 2.62, 1.31, 3.75, 6.90])


def test_error_of_ten_pairs_and_singles_are_passed_over() -> None:
    by_formula = 100 * np.sqrt(2 / FIRST.size * np.sum(((FIRST - SECOND) / (FIRST + SECOND)) ** 2))
    assert by_formula == pytest.approx(12.428834, abs=5e-7)
    cv, df = replicate_cv([*zip(FIRST, SECOND, strict=True), [3.3]])
    assert (100 * cv, df) == (pytest.approx(12.428834, abs=5e-7), 10)

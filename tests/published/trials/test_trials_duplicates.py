"""Assay error: constants of Stanley and Lawie (2007), Horwitz's curve in AOAC's table; own pairs by two routes."""

import numpy as np
import pytest

from profiler.statistics.sampling.duplicates import (
    MEDIAN_DIFFERENCE_TO_SD,
    between_laboratories_rsd,
    duplicate_error,
    error_line,
    nested,
    replicate_cv,
)

FIRST = np.array([2.10, 3.95, 0.88, 5.60, 1.42, 7.80, 2.75, 1.05, 4.20, 6.10])
SECOND = np.array([2.40, 3.10, 0.95, 4.90, 1.10, 10.10, 2.62, 1.31, 3.75, 6.90])


def test_error_of_ten_pairs() -> None:
    found = duplicate_error(FIRST, SECOND)
    assert 100 * found.cv == pytest.approx(12.428834, abs=5e-7)
    assert 100 * found.log_cv == pytest.approx(12.480677, abs=5e-7)
    assert 100 * found.mean_half_difference == pytest.approx(8.00148, abs=5e-6)
    assert 100 * found.mean_relative_difference == pytest.approx(16.00296, abs=5e-6)
    assert found.pooled_sd == pytest.approx(0.617527, abs=5e-7)


def test_replicates_of_two_are_pairs_and_singles_are_passed_over() -> None:
    cv, df = replicate_cv([*zip(FIRST, SECOND, strict=True), [3.3]])
    assert (100 * cv, df) == (pytest.approx(12.428834, abs=5e-7), 10)


def test_constant_of_the_median_method() -> None:
    assert pytest.approx(1 / (2**0.5 * 0.674490), abs=1e-6) == MEDIAN_DIFFERENCE_TO_SD
    assert pytest.approx(1.04836, abs=5e-6) == MEDIAN_DIFFERENCE_TO_SD


@pytest.mark.parametrize("count", [2200, pytest.param(44_000, marks=pytest.mark.long)])
def test_median_method_finds_the_line_of_simulated_pairs(count: int) -> None:
    """Own simulation, s = 0.05 + 0.08 c. Medians of eleven vary, so the constant is loose and the slope less so."""
    draw = np.random.default_rng(11)
    grade = draw.uniform(0.5, 8.0, count)
    sd = 0.05 + 0.08 * grade
    found = error_line(*(grade + sd * draw.standard_normal(count) for _ in range(2)))
    loose = 5.0 / np.sqrt(count)
    assert found.slope == pytest.approx(0.08, abs=0.1 * loose + 0.004)
    assert found.constant == pytest.approx(0.05, abs=0.4 * loose + 0.01)
    assert found.trusted


def test_nested_assays_part_the_test_from_the_assay() -> None:
    found = nested([[38.1, 39.0], [40.6, 41.4], [36.9, 38.2], [41.8, 40.9]])
    assert found.within_square == pytest.approx(0.49375, abs=5e-6)
    assert found.between_square == pytest.approx(6.88458, abs=5e-6)
    assert found.assay_sd == pytest.approx(0.7027, abs=5e-5)
    assert found.test_sd == pytest.approx(1.7876, abs=5e-5)


@pytest.mark.parametrize(("fraction", "table", "formula"), [(1e-6, 16, 15.997), (1e-4, 8, 7.999)])
def test_scatter_between_laboratories(fraction: float, table: float, formula: float) -> None:
    assert 100 * between_laboratories_rsd(fraction) == pytest.approx(formula, abs=5e-4)
    assert 100 * between_laboratories_rsd(fraction) == pytest.approx(table, abs=0.5)

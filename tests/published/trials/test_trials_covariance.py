"""Analysis of covariance against the drug data of Snedecor and Cochran, as printed in a statistics package manual.

The manual prints six decimals; checks are to half the last one.
"""

import numpy as np
import pytest

from profiler.statistics.inference.comparison import Kind
from profiler.statistics.inference.differences import unpaired
from profiler.statistics.inference.regression import least_squares
from profiler.statistics.trial.adjustment import adjust, parallel_slopes_p
from tests.oracles.trials import nested_test

A_X, A_Y = [11, 8, 5, 14, 19, 6, 10, 6, 11, 3], [6, 0, 2, 8, 11, 4, 13, 1, 8, 0]
D_X, D_Y = [6, 6, 7, 8, 18, 8, 19, 8, 5, 15], [0, 2, 3, 1, 18, 4, 14, 9, 1, 9]
F_X, F_Y = [16, 13, 11, 9, 21, 16, 12, 12, 7, 12], [13, 10, 18, 5, 23, 12, 5, 16, 1, 20]
X, Y = np.array(A_X + D_X + F_X, dtype=float), np.array(A_Y + D_Y + F_Y, dtype=float)
GROUPS = np.repeat(np.eye(3), 10, axis=0)


def test_squares_of_groups_and_covariate() -> None:
    full = least_squares(np.column_stack([GROUPS, X]), Y)
    groups = nested_test(full, least_squares(np.column_stack([np.ones(30), X]), Y))
    covariate = nested_test(full, least_squares(GROUPS, Y))
    total = nested_test(full, least_squares(np.ones((30, 1)), Y))
    assert full.residual_square / full.df == pytest.approx(16.046254, abs=5e-7)
    assert (groups.square, groups.f, groups.p) == (
        pytest.approx(68.553711, abs=5e-7),
        pytest.approx(2.136128, abs=5e-7),
        pytest.approx(0.138379, abs=5e-7),
    )
    assert (covariate.square, covariate.f) == (
        pytest.approx(577.897403, abs=5e-7),
        pytest.approx(36.014475, abs=5e-7),
    )
    assert total.f == pytest.approx(18.1039, abs=5e-5)
    assert total.square / (total.square + full.residual_square) == pytest.approx(0.676261, abs=5e-7)


def test_adjusted_means_at_the_mean_covariate() -> None:
    fit = least_squares(np.column_stack([GROUPS, X - X.mean()]), Y)
    assert fit.coefficients == pytest.approx([6.714963, 6.823935, 10.161102, 0.987184], abs=5e-7)


def test_parallel_slopes_of_three_groups() -> None:
    full = least_squares(np.column_stack([GROUPS, GROUPS * X[:, None]]), Y)
    found = nested_test(full, least_squares(np.column_stack([GROUPS, X]), Y))
    assert (found.f, found.p) == (pytest.approx(0.592959, abs=5e-7), pytest.approx(0.560585, abs=5e-7))


def test_a_difference_vanishes_once_unequal_starts_are_allowed_for() -> None:
    raw = unpaired(A_Y, F_Y)
    assert (raw.difference, raw.p) == (pytest.approx(7.0), pytest.approx(0.0199, abs=5e-5))
    found = adjust(Kind.UNPAIRED, (A_Y, F_Y), (A_X, F_X))
    assert found.difference == pytest.approx(3.656696, abs=5e-7)
    assert found.standard_error == pytest.approx(2.232470, abs=5e-7)
    assert found.p == pytest.approx(0.1198, abs=5e-5)


def test_parallel_slopes_of_two_groups_agree_with_the_nested_test() -> None:
    x, y = np.array(A_X + F_X, dtype=float), np.array(A_Y + F_Y, dtype=float)
    groups = np.repeat(np.eye(2), 10, axis=0)
    full = least_squares(np.column_stack([groups, groups * x[:, None]]), y)
    plain = least_squares(np.column_stack([groups, x]), y)
    assert parallel_slopes_p((A_Y, F_Y), (A_X, F_X)) == pytest.approx(nested_test(full, plain).p, rel=1e-9)

"""Reconciliation against the six-stream network of Narasimhan and Jordache (from memory, recomputed) and own runs."""

import numpy as np
import pytest

from profiler.statistics.balances.balance import Streams, balance
from profiler.statistics.balances.reconciliation import reconcile_runs
from tests.oracles.trials import reconcile_linear, stream

NETWORK = [[1, -1, -1, 0, 0, 0], [0, 1, 0, -1, 0, 0], [0, 0, 1, 0, -1, 0], [0, 0, 0, 1, 1, -1]]
MEASURED = [101.91, 64.45, 34.65, 64.20, 36.44, 98.88]


def test_six_stream_network() -> None:
    found = reconcile_linear(MEASURED, np.eye(6), NETWORK)
    assert found.values == pytest.approx([100.22, 64.50, 35.72, 64.50, 35.72, 100.22], abs=5e-3)
    assert found.imbalance == pytest.approx([2.81, 0.25, -1.79, 1.76], abs=1e-9)
    assert found.chi_square == pytest.approx(6.4075, abs=5e-5)
    assert found.df == 4
    assert found.limit == pytest.approx(9.4877, abs=5e-5)
    assert found.closes
    assert np.sqrt(np.diag(found.covariance)) == pytest.approx(np.full(6, 0.57735), abs=5e-6)


def bowl_run() -> Streams:
    return Streams(
        stream(mass=1000, grade=4.0, mass_rsd=0.01, grade_rsd=0.08),
        stream(mass=1.20, grade=1400, mass_rsd=0.005, grade_rsd=0.06),
        stream(mass=np.nan, grade=2.45, grade_rsd=0.08),
    )


def test_one_bowl_run_made_to_close() -> None:
    """Own example, by Lagrange iteration and by general minimisation (repeated below)."""
    found = reconcile_runs(bowl_run())
    assert found.feed_mass[0] == pytest.approx(1000.1401, abs=5e-5)
    assert found.concentrate_mass[0] == pytest.approx(1.199958, abs=5e-7)
    assert found.feed_grade[0] == pytest.approx(4.086034, abs=5e-7)
    assert found.concentrate_grade[0] == pytest.approx(1392.887, abs=5e-4)
    assert found.tail_grade[0] == pytest.approx(2.417763, abs=5e-7)
    assert found.chi_square[0] == pytest.approx(0.106751, abs=5e-7)
    assert 100 * found.recovery[0] == pytest.approx(40.8996, abs=5e-5)
    assert 100 * found.recovery_sd[0] == pytest.approx(2.384, abs=5e-4)
    moved = 100 * found.adjustments[:, 0] * [0.01, 0.005, 0.08, 0.06, 0.08]
    assert moved == pytest.approx([0.014, -0.004, 2.151, -0.508, -1.316], abs=5e-4)


def test_the_same_run_as_measured() -> None:
    found = balance(bowl_run())
    for part, value, sd in [
        (found.two_product, 38.818, 6.938),
        (found.over_feed, 42.000, 4.226),
        (found.built_up, 40.707, 2.429),
    ]:
        assert (100 * part.value[0], 100 * part.sd[0]) == (pytest.approx(value, abs=5e-4), pytest.approx(sd, abs=5e-4))
    assert 100 * found.accountability.value[0] == pytest.approx(103.176, abs=1e-3)
    assert found.built_up_head[0] == pytest.approx(4.12706, abs=5e-6)


def test_minimisation_by_a_general_library_agrees() -> None:
    from scipy import optimize

    measured = np.array([1000, 1.20, 4.0, 1400, 2.45])
    relative = np.array([0.01, 0.005, 0.08, 0.06, 0.08])
    result = optimize.minimize(
        lambda share: np.sum((share / relative) ** 2),
        np.zeros(5),
        method="SLSQP",
        constraints={"type": "eq", "fun": lambda share: _imbalance(measured * (1 + share)) / 4000.0},
        options={"ftol": 1e-14, "maxiter": 500},
    )
    found = reconcile_runs(bowl_run())
    got = [found.feed_mass, found.concentrate_mass, found.feed_grade, found.concentrate_grade, found.tail_grade]
    assert np.concatenate(got) == pytest.approx(measured * (1 + result.x), rel=1e-5)


def test_the_curved_balance_is_the_linear_one_at_its_solution() -> None:
    """One linear reconciliation along the tangent at the solution gives the solution and its chi-square again."""
    found = reconcile_runs(bowl_run())
    measured = np.array([1000, 1.20, 4.0, 1400, 2.45])
    sd = measured * [0.01, 0.005, 0.08, 0.06, 0.08]
    values = np.array([part[0] for part in (found.feed_mass, found.concentrate_mass, found.feed_grade,
                                            found.concentrate_grade, found.tail_grade)])  # fmt: skip
    feed, concentrate, f, c, t = values
    slope = np.array([[f - t, t - c, feed, -concentrate, concentrate - feed]])
    linear = reconcile_linear(measured - values, np.diag(sd**2), slope)
    assert linear.values / sd == pytest.approx(np.zeros(5), abs=1e-9)
    assert linear.chi_square == pytest.approx(found.chi_square[0], rel=1e-9)


def _imbalance(values: np.ndarray) -> float:
    feed, concentrate, f, c, t = values
    return feed * f - concentrate * c - (feed - concentrate) * t

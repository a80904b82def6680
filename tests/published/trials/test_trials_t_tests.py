"""t tests against published data. Tolerances are half the last digit the source prints, unless said otherwise."""

import numpy as np
import pytest

from profiler.statistics.inference.differences import paired, unpaired
from profiler.statistics.inference.regression import least_squares
from tests.oracles.trials import nested_test

# NIST/SEMATECH e-Handbook 7.3.1, times of two assembly processes; data and results from memory, recomputed
OLD_PROCESS = [32, 37, 35, 28, 41, 44, 35, 31, 34, 38, 42]
NEW_PROCESS = [36, 31, 30, 31, 34, 36, 29, 32, 31]
# NIST Dataplot reference manual, paired example after Bowker and Lieberman
FIRST_WEIGHT = [73, 43, 47, 53, 58, 47, 52, 38, 61, 56, 56, 34, 55, 65, 75]
SECOND_WEIGHT = [51, 41, 43, 41, 47, 32, 24, 43, 53, 52, 57, 44, 57, 40, 68]
# Student 1908, hours of sleep gained; data as in the R manual, from memory
DRUG_1 = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0]
DRUG_2 = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4]
# Box, Hunter and Hunter, boys' shoes; data as in the NIST Dataplot file
SHOES_A = [13.2, 8.2, 10.9, 14.3, 10.7, 6.6, 9.5, 10.8, 8.8, 13.3]
SHOES_B = [14.0, 8.8, 11.2, 14.2, 11.8, 6.4, 9.8, 11.3, 9.3, 13.6]
# Box, Hunter and Hunter, industrial experiment in time order
METHOD_A = [89.7, 81.4, 84.5, 84.8, 87.3, 79.7, 85.1, 81.7, 83.7, 84.5]
METHOD_B = [84.7, 86.1, 83.2, 91.9, 86.3, 79.3, 82.6, 89.1, 83.7, 88.5]


def test_welch_reproduces_the_handbook_example() -> None:
    found = unpaired(NEW_PROCESS, OLD_PROCESS)
    assert found.t == pytest.approx(2.2694, abs=5e-5)
    assert found.df == pytest.approx(15.5325, abs=5e-5)
    assert found.p == pytest.approx(0.03788, abs=5e-6)
    assert found.p_above(0.0) == pytest.approx(0.01894, abs=5e-6)
    assert (found.new_mean, found.reference_mean) == (
        pytest.approx(36.0909, abs=5e-5),
        pytest.approx(32.2222, abs=5e-5),
    )
    assert (found.interval95.low, found.interval95.high) == (
        pytest.approx(0.245943, abs=5e-7),  # by scipy.stats.ttest_ind too
        pytest.approx(7.49143, abs=5e-6),
    )


def test_welch_reproduces_the_car_mileage_example_of_nist() -> None:
    """NIST Dataplot, AUTO83B: samples of the published sizes, means and deviations (so to their five decimals)."""
    american = _sample(249, 20.14458, 6.41470)
    japanese = _sample(79, 30.48101, 6.10771)
    found = unpaired(japanese, american)
    assert found.t == pytest.approx(-12.94627, abs=3e-5)
    assert found.df == pytest.approx(136.875, abs=2e-3)
    assert found.p == pytest.approx(1.571e-25, rel=1e-3)
    assert found.interval95.low == pytest.approx(-11.91525, abs=3e-5)
    assert found.interval95.high == pytest.approx(-8.75762, abs=3e-5)


def test_pooled_t_of_the_car_mileage_example() -> None:
    american, japanese = _sample(249, 20.14458, 6.41470), _sample(79, 30.48101, 6.10771)
    t, df = _pooled_t(japanese, american)
    assert (t, df) == (pytest.approx(-12.62059, abs=3e-5), 326)


def test_paired_t_reproduces_the_weights_example_of_nist() -> None:
    found = paired(SECOND_WEIGHT, FIRST_WEIGHT)
    assert found.difference == pytest.approx(8.0, abs=1e-12)
    assert found.spread == pytest.approx(11.02594, abs=5e-6)
    assert found.t == pytest.approx(2.81009, abs=5e-6)
    assert found.df == 14
    assert found.p == pytest.approx(0.013901, abs=5e-7)
    assert found.interval95.low == pytest.approx(1.89404, abs=5e-6)
    assert found.interval95.high == pytest.approx(14.10596, abs=5e-6)


def test_paired_and_unpaired_t_reproduce_the_sleep_data() -> None:
    found = paired(DRUG_2, DRUG_1)
    assert found.t == pytest.approx(-4.062128, abs=5e-7)
    assert found.p == pytest.approx(0.00283289, abs=5e-9)
    assert found.interval95.low == pytest.approx(-2.4598858, abs=5e-8)
    assert found.interval95.high == pytest.approx(-0.7001142, abs=5e-8)
    loose = unpaired(DRUG_2, DRUG_1)
    assert loose.t == pytest.approx(-1.860813, abs=5e-7)
    assert loose.df == pytest.approx(17.77647, abs=5e-6)
    assert loose.p == pytest.approx(0.0793941, abs=1e-7)


def test_pairing_finds_in_the_shoes_what_the_unpaired_test_misses() -> None:
    found = paired(SHOES_A, SHOES_B)
    assert found.difference == pytest.approx(0.41, abs=1e-12)
    assert found.spread == pytest.approx(0.38715, abs=5e-6)
    assert found.t == pytest.approx(3.34888, abs=5e-6)
    assert found.p == pytest.approx(0.008539, abs=5e-7)
    assert found.interval95.low == pytest.approx(0.133046, abs=5e-7)
    assert found.interval95.high == pytest.approx(0.686954, abs=5e-7)
    loose = unpaired(SHOES_A, SHOES_B)
    assert (loose.t, loose.p) == (pytest.approx(0.36891, abs=5e-6), pytest.approx(0.7165, abs=5e-5))


def test_paired_t_squared_is_the_f_of_the_block_analysis() -> None:
    boys = np.tile(np.eye(10), (2, 1))
    material = np.repeat([0.0, 1.0], 10)[:, None]
    values = np.array(SHOES_A + SHOES_B)
    block = nested_test(least_squares(np.hstack([boys, material]), values), least_squares(boys, values))
    assert block.f == pytest.approx(11.2150, abs=1e-4)
    assert block.f == pytest.approx(paired(SHOES_A, SHOES_B).t ** 2, rel=1e-9)


def test_pooled_t_of_the_industrial_experiment() -> None:
    assert np.mean(METHOD_A) == pytest.approx(84.24)
    assert np.mean(METHOD_B) == pytest.approx(85.54)
    t, df = _pooled_t(METHOD_A, METHOD_B)
    assert (t, df) == (pytest.approx(0.88158, abs=5e-6), 18)


def test_randomised_blocks_of_the_penicillin_experiment() -> None:
    """Box, Hunter and Hunter: treatments 70, blocks 264, residual 226; F 1.23894 (p 0.33866), 3.50442 (p 0.04075)."""
    values = np.array(
        [[89, 88, 97, 94], [84, 77, 92, 79], [81, 87, 87, 85], [87, 92, 89, 84], [79, 81, 80, 88]], dtype=float
    )
    blends = np.repeat(np.eye(5), 4, axis=0)
    treatments = np.tile(np.eye(4), (5, 1))[:, 1:]
    response = values.ravel()
    full = least_squares(np.hstack([blends, treatments]), response)
    treatment = nested_test(full, least_squares(blends, response))
    block = nested_test(full, least_squares(np.hstack([np.ones((20, 1)), treatments]), response))
    assert (treatment.square, block.square, full.residual_square) == (
        pytest.approx(70.0),
        pytest.approx(264.0),
        pytest.approx(226.0),
    )
    assert (treatment.f, treatment.p) == (pytest.approx(1.23894, abs=5e-6), pytest.approx(0.33866, abs=5e-6))
    assert (block.f, block.p) == (pytest.approx(3.50442, abs=5e-6), pytest.approx(0.04075, abs=5e-6))


def test_one_way_analysis_of_the_handbook_example() -> None:
    """NIST/SEMATECH e-Handbook 7.4.2: between 27.8973, within 17.4520, F 9.5911, p 0.00325 (from memory)."""
    groups = [[6.9, 5.4, 5.8, 4.6, 4.0], [8.3, 6.8, 7.8, 9.2, 6.5], [8.0, 10.5, 8.1, 6.9, 9.3]]
    response = np.array(groups).ravel()
    full = least_squares(np.repeat(np.eye(3), 5, axis=0), response)
    found = nested_test(full, least_squares(np.ones((15, 1)), response))
    assert (found.square, full.residual_square) == (
        pytest.approx(27.8973, abs=5e-5),
        pytest.approx(17.4520, abs=5e-5),
    )
    assert (found.f, found.p) == (pytest.approx(9.5911, abs=5e-5), pytest.approx(0.00325, abs=5e-6))


def _sample(count: int, mean: float, sd: float) -> np.ndarray:
    values = np.linspace(-1.0, 1.0, count)
    return mean + sd * values / values.std(ddof=1)


def _pooled_t(reference: object, new: object) -> tuple[float, int]:
    first, second = np.asarray(reference, dtype=float), np.asarray(new, dtype=float)
    design = np.concatenate([np.zeros(first.size), np.ones(second.size)])
    fit = least_squares(np.column_stack([np.ones(design.size), design]), np.concatenate([first, second]))
    return float(fit.coefficients[1] / fit.standard_errors[1]), fit.df

"""Size by size: own example by two routes (sums and the split); Holm by statsmodels."""

import numpy as np
import pytest

from profiler.statistics.balances.products import distribution
from profiler.statistics.balances.sizes import SizedStream, class_tests, size_balance, size_gain
from profiler.statistics.inference.comparison import Kind
from profiler.statistics.inference.multiplicity import false_alarm, holm

MASS, GRADE = [6, 14, 24, 22, 16, 18], [3.2, 5.6, 6.1, 4.4, 2.9, 1.6]  # +425 to -25 um, per cent and g/t
A = np.array([0.30, 0.46, 0.58, 0.52, 0.33, 0.08])
B = np.array([0.33, 0.49, 0.60, 0.57, 0.43, 0.12])
FINER = [0.02, 0.08, 0.20, 0.25, 0.25, 0.20]
P_VALUES = [0.004, 0.02, 0.03, 0.2, 0.5, 0.9]


def test_metal_of_the_head_by_size() -> None:
    found = distribution(MASS, GRADE)
    assert found.head_grade == pytest.approx(4.16)
    assert 100 * found.metal_shares == pytest.approx(
        [4.615385, 18.846154, 35.192308, 23.269231, 11.153846, 6.923077], abs=5e-7
    )


def test_recoveries_gain_and_contributions() -> None:
    shares = distribution(MASS, GRADE).metal_shares
    assert 100 * np.dot(shares, A) == pytest.approx(46.800000, abs=5e-7)
    assert 100 * np.dot(shares, B) == pytest.approx(50.763462, abs=5e-7)
    gain = size_gain(shares, A, shares, B)
    assert 100 * gain.raw == pytest.approx(3.963462, abs=5e-7)
    assert 100 * gain.by_design == pytest.approx([0.138462, 0.565385, 0.703846, 1.163462, 1.115385, 0.276923], abs=5e-7)
    assert gain.head == pytest.approx(0.0, abs=1e-12)


def test_a_better_bowl_looks_worse_on_a_finer_head() -> None:
    shares = distribution(MASS, GRADE).metal_shares
    assert 100 * np.dot(FINER, A) == pytest.approx(38.7300)
    assert 100 * np.dot(FINER, B) == pytest.approx(43.9800)
    gain = size_gain(shares, A, FINER, B)
    assert 100 * gain.raw == pytest.approx(-2.820, abs=5e-4)
    assert 100 * gain.design == pytest.approx(4.606731, abs=5e-7)
    assert 100 * gain.head == pytest.approx(-7.426731, abs=5e-7)


@pytest.mark.parametrize("seed", range(5))
def test_design_and_head_add_up_and_change_sign_together(seed: int) -> None:
    draw = np.random.default_rng(seed)
    heads = [part / part.sum() for part in draw.random((2, 5))]
    recoveries = draw.random((2, 5))
    there = size_gain(heads[0], recoveries[0], heads[1], recoveries[1])
    back = size_gain(heads[1], recoveries[1], heads[0], recoveries[0])
    assert there.design + there.head == pytest.approx(there.raw)
    assert (back.design, back.head) == (pytest.approx(-there.design), pytest.approx(-there.head))


def test_class_balance_adds_up_to_the_run() -> None:
    concentrate = SizedStream(1.2, np.array([0.5, 0.3, 0.2]), np.array([900.0, 1500.0, 2600.0]))
    tail = SizedStream(998.8, np.array([0.3, 0.3, 0.4]), np.array([1.0, 2.0, 4.0]))
    found = size_balance(concentrate, tail)
    assert found.head_shares.sum() == pytest.approx(1.0)
    assert found.head_shares @ found.recoveries == pytest.approx(found.recovery)
    caught = 1.2 * (0.5 * 900 + 0.3 * 1500 + 0.2 * 2600)
    assert found.recovery == pytest.approx(caught / (caught + 998.8 * (0.3 + 0.6 + 1.6)))


def test_many_tests_and_their_correction() -> None:
    assert 100 * false_alarm(6) == pytest.approx(26.5, abs=0.05)
    assert holm(P_VALUES) == pytest.approx([0.024, 0.10, 0.12, 0.6, 1.0, 1.0])


def test_corrections_agree_with_statsmodels_in_any_order() -> None:
    from statsmodels.stats import multitest

    values = np.random.default_rng(9).random(12) ** 3
    assert holm(values) == pytest.approx(multitest.multipletests(values, method="holm")[1])


def test_a_missing_class_does_not_count_among_the_tests() -> None:
    assert holm([0.01, np.nan, 0.02])[[0, 2]] == pytest.approx([0.02, 0.02])
    assert np.isnan(holm([0.01, np.nan, 0.02])[1])


def test_class_intervals_from_pairs() -> None:
    draw = np.random.default_rng(5)
    first = A + draw.normal(0, 0.01, (8, 6))
    second = B + draw.normal(0, 0.01, (8, 6))
    second[:, 5] = np.nan
    shares = distribution(MASS, GRADE).metal_shares
    tests = class_tests(Kind.PAIRED, first, second, shares)
    assert tests[5] is None
    for place, found in enumerate(tests[:5]):
        assert found is not None
        assert found.p <= found.holm_p <= 1.0
        assert found.contribution == pytest.approx(shares[place] * found.difference)
        assert found.interval95.low < found.difference < found.interval95.high

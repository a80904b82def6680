"""Size by size: own example by two routes (sums and the split); Holm and Benjamini-Hochberg by statsmodels."""

import numpy as np
import pytest

from profiler.statistics.balances.sizes import (
    SizedStream,
    metal_shares,
    overall,
    paired_classes,
    single_classes,
    size_balance,
    size_gain,
)
from profiler.statistics.inference.multiplicity import false_alarm, false_discovery, holm

MASS, GRADE = [6, 14, 24, 22, 16, 18], [3.2, 5.6, 6.1, 4.4, 2.9, 1.6]  # +425 to -25 um, per cent and g/t
A = np.array([0.30, 0.46, 0.58, 0.52, 0.33, 0.08])
B = np.array([0.33, 0.49, 0.60, 0.57, 0.43, 0.12])
SD = [0.05, 0.03, 0.025, 0.025, 0.03, 0.02]
FINER = [0.02, 0.08, 0.20, 0.25, 0.25, 0.20]
P_VALUES = [0.004, 0.02, 0.03, 0.2, 0.5, 0.9]


def test_metal_of_the_head_by_size() -> None:
    shares, head = metal_shares(MASS, GRADE)
    assert head == pytest.approx(4.16)
    assert 100 * shares == pytest.approx([4.615385, 18.846154, 35.192308, 23.269231, 11.153846, 6.923077], abs=5e-7)


def test_recoveries_gain_and_contributions() -> None:
    shares, _ = metal_shares(MASS, GRADE)
    assert 100 * overall(shares, A)[0] == pytest.approx(46.800000, abs=5e-7)
    assert 100 * overall(shares, B)[0] == pytest.approx(50.763462, abs=5e-7)
    assert 100 * overall(shares, B, SD)[1] == pytest.approx(1.271427, abs=5e-7)
    gain = size_gain(shares, A, shares, B)
    assert 100 * gain.raw == pytest.approx(3.963462, abs=5e-7)
    assert 100 * gain.by_design == pytest.approx([0.138462, 0.565385, 0.703846, 1.163462, 1.115385, 0.276923], abs=5e-7)
    assert gain.head == pytest.approx(0.0, abs=1e-12)


def test_a_better_bowl_looks_worse_on_a_finer_head() -> None:
    shares, _ = metal_shares(MASS, GRADE)
    assert 100 * overall(FINER, A)[0] == pytest.approx(38.7300)
    assert 100 * overall(FINER, B)[0] == pytest.approx(43.9800)
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
    assert false_discovery(P_VALUES) == pytest.approx([0.024, 0.06, 0.06, 0.3, 0.6, 0.9])


def test_corrections_agree_with_statsmodels_in_any_order() -> None:
    from statsmodels.stats import multitest

    values = np.random.default_rng(9).random(12) ** 3
    assert holm(values) == pytest.approx(multitest.multipletests(values, method="holm")[1])
    assert false_discovery(values) == pytest.approx(multitest.multipletests(values, method="fdr_bh")[1])


def test_a_missing_class_does_not_count_among_the_tests() -> None:
    assert holm([0.01, np.nan, 0.02])[[0, 2]] == pytest.approx([0.02, 0.02])
    assert np.isnan(holm([0.01, np.nan, 0.02])[1])


def test_class_intervals_from_pairs() -> None:
    draw = np.random.default_rng(5)
    first = A + draw.normal(0, 0.01, (8, 6))
    second = B + draw.normal(0, 0.01, (8, 6))
    second[:, 5] = np.nan
    shares, _ = metal_shares(MASS, GRADE)
    tests = paired_classes(first, second, shares)
    assert tests[5] is None
    for place, found in enumerate(tests[:5]):
        assert found is not None
        assert found.p <= found.holm_p <= 1.0
        assert found.contribution == pytest.approx(shares[place] * found.difference)
        assert found.interval95.low < found.difference < found.interval95.high


def test_class_intervals_from_one_balance_each() -> None:
    shares, _ = metal_shares(MASS, GRADE)
    tests = single_classes(A, B, SD, SD, shares)
    assert sum(found.contribution for found in tests) == pytest.approx(0.03963462, abs=5e-9)
    half = 1.959964 * 2**0.5 * 0.05
    assert tests[0].interval95.high == pytest.approx(0.03 + half)
    assert tests[0].p == pytest.approx(0.6714, abs=5e-4)  # z 0.4243, normal table

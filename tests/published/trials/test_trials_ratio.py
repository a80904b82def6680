"""Fieller's limits: NIST Dataplot manual, RATIO OF MEANS CONFIDENCE LIMITS, and the examples of the t tests.

The manual's example is the one without limits. The others were also got by root-finding, which a test repeats.
"""

import numpy as np
import pytest

from profiler.statistics.inference.comparison import Kind
from profiler.statistics.inference.differences import paired
from profiler.statistics.inference.probability import t_quantile
from profiler.statistics.inference.ratio import relative_gain
from tests.published.trials.test_trials_t_tests import (
    FIRST_WEIGHT,
    NEW_PROCESS,
    OLD_PROCESS,
    SECOND_WEIGHT,
    SHOES_A,
    SHOES_B,
)


@pytest.mark.parametrize(
    ("kind", "reference", "new", "ratio", "low", "high"),
    [
        (Kind.PAIRED, SECOND_WEIGHT, FIRST_WEIGHT, 1.173160, 1.038740, 1.328585),
        (Kind.PAIRED, SHOES_A, SHOES_B, 1.038570, 1.012635, 1.065808),
        (Kind.UNPAIRED, OLD_PROCESS, NEW_PROCESS, 0.892807, 0.807016, 0.992136),
    ],
)
def test_limits_of_a_ratio(kind: Kind, reference: list, new: list, ratio: float, low: float, high: float) -> None:
    found = relative_gain(kind, reference, new)
    assert found is not None
    assert found.estimate == pytest.approx(ratio, abs=5e-7)
    assert (found.interval.low, found.interval.high) == (pytest.approx(low, abs=5e-7), pytest.approx(high, abs=5e-7))


def test_a_reference_near_zero_has_no_ratio() -> None:
    x = [26881, 4896, 3730, 556, 1463, 1946, 834, 932]
    y = [4123, 760, 721, 142, 187, 331, 127, 219]
    means = np.array(x, dtype=float)
    assert means.mean() ** 2 / (means.var(ddof=1) / 8) == pytest.approx(2.678, abs=5e-4)
    assert t_quantile(0.975, 7) ** 2 == pytest.approx(5.591, abs=5e-4)
    assert np.mean(y) / np.mean(x) == pytest.approx(0.160289, abs=5e-7)
    assert relative_gain(Kind.PAIRED, x, y) is None


@pytest.mark.parametrize(("reference", "new"), [(SECOND_WEIGHT, FIRST_WEIGHT), (SHOES_A, SHOES_B)])
def test_limits_are_where_the_t_test_of_the_ratio_just_rejects(reference: list, new: list) -> None:
    from scipy import optimize

    x, y = np.array(reference, dtype=float), np.array(new, dtype=float)
    limit = t_quantile(0.975, x.size - 1)
    found = relative_gain(Kind.PAIRED, x, y)
    assert found is not None

    def excess(ratio: float) -> float:
        return abs(paired(ratio * x, y).t) - limit

    low = optimize.brentq(excess, 0.9, found.estimate - 1e-6)
    high = optimize.brentq(excess, found.estimate + 1e-6, 1.5)
    assert (found.interval.low, found.interval.high) == (pytest.approx(low), pytest.approx(high))

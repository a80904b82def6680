"""Ounces: the troy ounce of the international pound; a published example of returns, 99 against 94 per cent."""

import pytest

from profiler.statistics.inference.comparison import Interval
from profiler.statistics.trial.worth import (
    TROY_OUNCE_G,
    Amount,
    Downstream,
    Tonnage,
    WearCost,
    net_value,
    worth,
)

PLANT = Tonnage(1.2e6, 4.0)


def test_the_troy_ounce_is_480_grains() -> None:
    assert pytest.approx(480 * 64.79891e-3, rel=1e-12) == TROY_OUNCE_G
    assert pytest.approx(32.1507466, abs=5e-8) == 1000 / TROY_OUNCE_G


@pytest.mark.parametrize(("points", "ounces"), [(2.0, 3086.47), (5.0, 7716.18)])
def test_ounces_caught_in_a_year(points: float, ounces: float) -> None:
    found = worth(Amount(points, Interval(0.0, 2 * points)), PLANT)
    assert found.caught_oz.estimate == pytest.approx(ounces, abs=5e-3)
    assert found.caught_oz.interval.high == pytest.approx(2 * ounces, abs=1e-2)
    assert found.extra_oz is None
    assert found.caught_oz.estimate * TROY_OUNCE_G / 1000 == pytest.approx(48.0 * points)  # kg


def test_only_the_difference_of_the_returns_is_extra_metal() -> None:
    found = worth(Amount(2.0, Interval(1.0, 3.0)), PLANT, Downstream(0.99, 0.94, 1.0))
    assert found.extra_oz is not None
    assert found.extra_oz.estimate == pytest.approx(154.32, abs=5e-3)
    assert found.extra_oz.estimate / found.caught_oz.estimate == pytest.approx(0.05)


def test_a_better_return_downstream_makes_a_gain_a_loss() -> None:
    found = worth(Amount(2.0, Interval(1.0, 3.0)), PLANT, Downstream(0.94, 0.99, 1.0))
    assert found.extra_oz is not None
    assert found.extra_oz.interval.low < found.extra_oz.interval.high < 0.0


def test_wear_and_net_value() -> None:
    assert WearCost(8000, 2000, 15_000).a_year == pytest.approx(60_000)
    value = net_value(Amount(100.0, Interval(50.0, 150.0)), 2000.0, 60_000.0)
    assert (value.estimate, value.interval.low, value.interval.high) == (140_000.0, 40_000.0, 240_000.0)

"""Size of a trial: R manual (power.t.test examples, from memory, recomputed), GUM table E.1, own tables.

The tables of pairs and runs were computed with statsmodels and by the noncentral t by hand.
"""

import pytest

from profiler.statistics.inference.comparison import Kind
from profiler.statistics.inference.power import (
    half_width,
    spread_relative_sd,
    spread_upper_factor,
    units_for,
    whole_units_for,
)
from profiler.statistics.inference.probability import t_power


def test_power_and_sizes_of_the_r_manual() -> None:
    assert t_power(20**0.5 / 2**0.5, 38) == pytest.approx(0.868953, abs=5e-7)
    assert units_for(1.0, 1.0, Kind.UNPAIRED, power=0.90) == pytest.approx(22.0211, abs=5e-5)
    assert units_for(0.5, 1.0, Kind.UNPAIRED) == pytest.approx(63.7656, abs=5e-5)


def test_one_sided_size_of_a_single_sample() -> None:
    """Alpha and beta 0.05, a shift of one deviation: 12.3205 exactly, against 10.82 by the normal curve."""
    assert units_for(1.0, 1.0, power=0.95, one_sided=True) == pytest.approx(12.3205, abs=5e-5)


def test_ten_pairs_see_a_gain_of_one_spread() -> None:
    assert units_for(1.0, 1.0) == pytest.approx(9.93785, abs=5e-6)
    assert t_power(10**0.5, 9) == pytest.approx(0.803097, abs=5e-7)


@pytest.mark.parametrize(
    ("spread", "pairs"),
    [
        (1, (34, 10, 5, 4, 3)),
        (2, (128, 34, 10, 6, 4)),
        (3, (285, 73, 20, 10, 6)),
        (4, (505, 128, 34, 16, 8)),
        (6, (1133, 285, 73, 34, 14)),
    ],
)
def test_pairs_needed_for_gains_of_half_to_five_points(spread: float, pairs: tuple[int, ...]) -> None:
    assert tuple(whole_units_for(gain, spread) for gain in (0.5, 1, 2, 3, 5)) == pairs


@pytest.mark.parametrize(
    ("spread", "runs"),
    [
        (1, (64, 17, 6, 4, 3)),
        (2, (253, 64, 17, 9, 4)),
        (3, (567, 143, 37, 17, 7)),
        (4, (1006, 253, 64, 29, 12)),
    ],
)
def test_unpaired_runs_needed_of_each_design(spread: float, runs: tuple[int, ...]) -> None:
    assert tuple(whole_units_for(gain, spread, Kind.UNPAIRED) for gain in (0.5, 1, 2, 3, 5)) == runs


def test_half_widths_of_small_trials() -> None:
    paired = {2: 8.99, 3: 2.48, 4: 1.59, 5: 1.24, 6: 1.05, 8: 0.836, 10: 0.715, 12: 0.635, 20: 0.468}
    for units, width in paired.items():
        assert half_width(units) == pytest.approx(width, rel=5e-3)
    unpaired = {2: 4.30, 3: 2.27, 4: 1.73, 5: 1.46, 6: 1.29, 8: 1.07, 10: 0.94, 20: 0.64}
    for units, width in unpaired.items():
        assert half_width(units, Kind.UNPAIRED) == pytest.approx(width, rel=5e-3)


def test_a_spread_from_few_differences_is_poorly_known() -> None:
    """GUM (JCGM 100:2008) table E.1, which rounds these to whole percentages."""
    table = {3: 52.3, 4: 42.2, 5: 36.3, 6: 32.3, 8: 27.2, 10: 23.9, 20: 16.3}
    for units, per_cent in table.items():
        assert 100 * spread_relative_sd(units) == pytest.approx(per_cent, abs=0.05)


@pytest.mark.parametrize(("units", "factor"), [(4, 1.73), (6, 1.46), (8, 1.35), (10, 1.29)])
def test_upper_limit_of_a_spread_to_plan_with(units: int, factor: float) -> None:
    assert spread_upper_factor(units) == pytest.approx(factor, abs=5e-3)


@pytest.mark.parametrize("df", [1, 3, 9, 38, 300, 5000])
@pytest.mark.parametrize("noncentrality", [0.0, 0.5, 2.8, 5.9, 9.0486, 20.0, 40.0])
def test_power_agrees_with_the_distribution_of_the_general_library(df: float, noncentrality: float) -> None:
    from scipy import stats

    limit = stats.t.ppf(0.975, df)
    assert t_power(noncentrality, df, one_sided=True, alpha=0.025) == pytest.approx(
        stats.nct.sf(limit, df, noncentrality) if noncentrality else 0.025, abs=1e-9
    )
    assert 0.0 <= t_power(noncentrality, df) <= 1.0


def test_power_agrees_with_statsmodels() -> None:
    from statsmodels.stats import power

    for size, count in [(0.3, 25), (0.8, 12), (1.5, 6)]:
        assert t_power(size * count**0.5, count - 1) == pytest.approx(
            power.TTestPower().power(size, count, 0.05), abs=1e-8
        )
        assert t_power(size * (count / 2) ** 0.5, 2 * count - 2) == pytest.approx(
            power.TTestIndPower().power(size, count, 0.05), abs=1e-8
        )

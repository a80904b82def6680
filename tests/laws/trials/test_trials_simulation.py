"""Simulated trials with fixed seeds: intervals cover as they say, and nothing cries wolf more often than it says.

Limits for 1,000 trials: coverage 930 to 970, false positives 3.5 to 6.5 per cent, two to three deviations of the
count. The long twins run ten times as many and are held to the same shares.
"""

import numpy as np
import pytest

from profiler.statistics.inference.comparison import Comparison, Kind
from profiler.statistics.inference.differences import exchanged, paired, unpaired
from profiler.statistics.inference.permutation import label_shuffles, sign_flips
from profiler.statistics.inference.ratio import relative_gain
from profiler.statistics.sampling.grains import recovery_floor
from profiler.statistics.trial.adjustment import adjust
from profiler.statistics.trial.judge import judge
from profiler.statistics.trial.runs import TrialRun
from profiler.words import VerdictState
from tests.laws.trials.test_trials_two_sets import plan

pytestmark = pytest.mark.no_cover  # repeats by the thousand what others cover
SIZES = [1000, pytest.param(10_000, marks=pytest.mark.long)]


def covered(count: int, hits: int) -> bool:
    return 0.930 <= hits / count <= 0.970


def false_alarms(count: int, alarms: int) -> bool:
    return 0.035 <= alarms / count <= 0.065


@pytest.mark.parametrize("count", SIZES)
@pytest.mark.parametrize("kind", list(Kind))
def test_intervals_cover_the_true_difference(count: int, kind: Kind) -> None:
    draw = np.random.default_rng(100 + list(Kind).index(kind))
    hits = sum(_covers(_trial(draw, kind, gain=1.5), 1.5) for _ in range(count))
    assert covered(count, hits)


@pytest.mark.parametrize("count", SIZES)
@pytest.mark.parametrize("kind", list(Kind))
def test_alike_designs_are_called_different_no_more_often_than_said(count: int, kind: Kind) -> None:
    draw = np.random.default_rng(200 + list(Kind).index(kind))
    assert false_alarms(count, sum(_trial(draw, kind, gain=0.0).p < 0.05 for _ in range(count)))


@pytest.mark.parametrize("count", SIZES)
def test_the_ratio_covers(count: int) -> None:
    draw = np.random.default_rng(301)
    hits = 0
    for _ in range(count):
        lot = draw.normal(40, 3, 10)
        found = relative_gain(Kind.PAIRED, lot + draw.normal(0, 1, 10), 1.05 * lot + draw.normal(0, 1, 10))
        hits += found is not None and found.interval.low <= 1.05 <= found.interval.high
    assert covered(count, hits)


@pytest.mark.parametrize("count", SIZES)
def test_the_adjusted_difference_covers_with_an_independent_feed_sample(count: int) -> None:
    draw = np.random.default_rng(302)
    hits = 0
    for _ in range(count):
        feeds = draw.normal(4.0, 0.3, 10), draw.normal(4.2, 0.3, 10)
        first = 30 + 3 * feeds[0] + draw.normal(0, 1, 10)
        second = 31.5 + 3 * feeds[1] + draw.normal(0, 1, 10)
        limits = adjust(Kind.UNPAIRED, (first, second), feeds).interval95
        hits += limits.low <= 1.5 <= limits.high
    assert covered(count, hits)


@pytest.mark.parametrize("count", SIZES)
def test_permutation_tests_hold_their_level(count: int) -> None:
    """Discrete, so a shade below 5 per cent; pairs of 8 and runs of 6 against 6 with long-tailed errors."""
    draw = np.random.default_rng(303)
    flips = sum(sign_flips(draw.standard_t(3, 8)).two_sided <= 0.05 for _ in range(count))
    shuffles = sum(label_shuffles(draw.standard_t(3, 6), draw.standard_t(3, 6)).two_sided <= 0.05 for _ in range(count))
    assert 0.030 <= flips / count <= 0.065
    assert 0.030 <= shuffles / count <= 0.065


@pytest.mark.parametrize("pairs", [8, 20])
def test_drawn_flips_agree_with_all_flips(pairs: int) -> None:
    """More than 20 pairs are drawn: adding pairs without a difference to reach 21 leaves the exact answer the same."""
    values = np.random.default_rng(304).normal(0.4, 1.0, pairs)
    exact = sign_flips(values)
    drawn = sign_flips(np.concatenate([values, np.zeros(21 - pairs)]))
    assert exact.exact
    assert not drawn.exact
    assert drawn.two_sided == pytest.approx(exact.two_sided, abs=4 * (0.25 / 20_000) ** 0.5)
    assert drawn.upper == pytest.approx(exact.upper, abs=4 * (0.25 / 20_000) ** 0.5)


@pytest.mark.parametrize("count", SIZES)
def test_the_whole_judgement_rarely_finds_a_gain_where_there_is_none(count: int) -> None:
    """A firm word needs an interval clear of zero: 2.5 per cent of alike designs either way, whatever the gates say."""
    draw = np.random.default_rng(305)
    verdicts = [judge(_ledger(draw, 0.0), plan(1.0)).verdict for _ in range(count)]
    for name in ("A", "B"):
        assert 0.015 <= sum(verdict.favours == name for verdict in verdicts) / count <= 0.037
    assert VerdictState.NOT_FAIR not in [verdict.state for verdict in verdicts]


@pytest.mark.parametrize("count", SIZES)
def test_a_trial_sees_its_detectable_gain_four_times_in_five(count: int) -> None:
    """Ten pairs, spread and gain alike: power 0.803 (noncentral t)."""
    draw = np.random.default_rng(306)
    seen = sum(paired(np.zeros(10), draw.normal(1.0, 1.0, 10)).p < 0.05 for _ in range(count))
    assert seen / count == pytest.approx(0.803, abs=0.038)


@pytest.mark.parametrize("count", SIZES)
@pytest.mark.parametrize(
    ("likeness", "alternating", "random", "before_after"),
    [(0.0, 0.047, 0.049, 0.051), (0.3, 0.030, 0.052, 0.137), (0.5, 0.025, 0.054, 0.243), (0.7, 0.020, 0.049, 0.380)],
)
def test_before_and_after_cries_wolf_where_days_resemble_each_other(
    count: int, likeness: float, alternating: float, random: float, before_after: float
) -> None:
    """Ten pairs in twenty runs, neighbours correlated, no difference: own simulation, reproduced within its error."""
    draw = np.random.default_rng(307)
    alarms = np.zeros(3)
    for _ in range(count):
        row = _autocorrelated(draw, 20, likeness)
        first = np.where(draw.random(10) < 0.5, 0, 1)
        pairs = row.reshape(10, 2)
        shuffled = pairs[np.arange(10), first], pairs[np.arange(10), 1 - first]
        alarms += [
            paired(pairs[:, 0], pairs[:, 1]).p < 0.05,
            paired(*shuffled).p < 0.05,
            unpaired(row[:10], row[10:]).p < 0.05,
        ]
    for rate, expected in zip(alarms / count, (alternating, random, before_after), strict=True):
        assert rate == pytest.approx(expected, abs=0.01 + 4 * (expected * (1 - expected) / 2000) ** 0.5)


@pytest.mark.parametrize("count", SIZES)
def test_looking_after_every_pair_finds_gains_that_are_not_there(count: int) -> None:
    """From the fourth pair to the tenth: 13.9 per cent at a nominal 5 (own simulation)."""
    draw = np.random.default_rng(308)
    alarms = 0
    for _ in range(count):
        row = draw.normal(0.0, 1.0, 10)
        alarms += any(paired(np.zeros(pairs), row[:pairs]).p < 0.05 for pairs in range(4, 11))
    assert alarms / count == pytest.approx(0.139, abs=0.035)


@pytest.mark.parametrize("count", SIZES)
def test_the_grain_floor_is_the_scatter_of_perfect_tests(count: int) -> None:
    """Mixed gold of 5 kg at 4 g/t, recovery 0.4 of the grains by chance, perfect assays: 2.06 points simulated."""
    draw = np.random.default_rng(309)
    sizes_um, shares = np.array([38, 75, 150, 300]), np.array([0.4, 0.3, 0.2, 0.1])
    masses = 19_300.0 * np.pi / 6 * (sizes_um * 1e-6) ** 3 * 1e6
    numbers = 4.0 * 5.0 * shares / masses
    caught, lost = (draw.poisson(part * numbers, (count, 4)) @ masses for part in (0.4, 0.6))
    floor = recovery_floor(0.4, 20.0 / float(shares @ masses))
    assert (caught / (caught + lost)).std(ddof=1) == pytest.approx(floor, rel=4 / (2 * count) ** 0.5 + 0.01)


def _trial(draw: np.random.Generator, kind: Kind, *, gain: float) -> Comparison:
    if kind is Kind.UNPAIRED:
        return unpaired(draw.normal(40, 1.0, 8), draw.normal(40 + gain, 2.0, 12))
    lot = draw.normal(40, 3, 10)
    first, second = lot + draw.normal(0, 1, 10), lot + gain + draw.normal(0, 1, 10)
    if kind is Kind.PAIRED:
        return paired(first, second)
    swapped = np.arange(10) >= 5
    return exchanged(first + 4.0 * swapped, second + 4.0 * ~swapped, swapped)


def _covers(found: Comparison, truth: float) -> bool:
    return found.interval95.low <= truth <= found.interval95.high


def _ledger(draw: np.random.Generator, gain: float) -> list[TrialRun]:
    lots = draw.normal(40, 3, 10)
    return [
        TrialRun(
            run=f"{design}{row}",
            design=design,
            block=str(row),
            recovery_percent=float(lot + more + draw.normal(0, 1)),
            feed_grade_g_t=4.0,
        )
        for row, lot in enumerate(lots)
        for design, more in (("A", 0.0), ("B", gain))
    ]


def _autocorrelated(draw: np.random.Generator, length: int, likeness: float) -> np.ndarray:
    row = draw.standard_normal(length)
    for place in range(1, length):
        row[place] = likeness * row[place - 1] + (1 - likeness**2) ** 0.5 * row[place]
    return row

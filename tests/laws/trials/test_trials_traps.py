"""The two traps of adjusting for feed grade: why they are blocked, by simulation, and that they are."""

import numpy as np
import pytest

from profiler.statistics.inference.comparison import Kind
from profiler.statistics.inference.regression import least_squares
from profiler.statistics.trial.adjustment import adjust, caution, trap
from profiler.words import Basis, FeedGrade

READS_FEED = (Basis.TWO_PRODUCT, Basis.OVER_FEED, Basis.RECONCILED)


@pytest.mark.parametrize("runs", [20_000, pytest.param(400_000, marks=pytest.mark.long)])
def test_a_shared_assay_makes_a_slope_out_of_nothing(runs: int) -> None:
    """True recovery 40 % whatever the feed of 4 +- 0.3 g/t; assays 8 % (concentrate 5 %). Points per g/t."""
    draw = np.random.default_rng(6)
    true = draw.normal(4.0, 0.3, runs)
    feed, other = (true * (1 + 0.08 * draw.standard_normal(runs)) for _ in range(2))
    caught = 0.4 * true * (1 + 0.05 * draw.standard_normal(runs))
    lost = 0.6 * true * (1 + 0.08 * draw.standard_normal(runs))
    built_up = 100 * caught / (caught + lost)
    loose = 12.0 / np.sqrt(runs)  # the slope's own error is some 4/sqrt(runs) g/t points
    assert _slope(feed, 100 * 0.4 * true / feed) == pytest.approx(-5.42, abs=0.1 + loose)
    assert _slope(feed, 100 * (1 - 0.6 * true / feed)) == pytest.approx(8.10, abs=0.2 + loose)
    assert _slope(other, built_up) == pytest.approx(0.0, abs=0.03 + loose)
    assert _slope(caught + lost, built_up) < -2.0


@pytest.mark.parametrize("basis", READS_FEED)
@pytest.mark.parametrize("feed", [FeedGrade.ASSAYED_FEED, FeedGrade.NOT_STATED])
def test_a_feed_assay_inside_the_recovery_is_blocked(basis: Basis, feed: FeedGrade) -> None:
    assert trap(basis, feed, in_circuit=False)


@pytest.mark.parametrize("basis", list(Basis))
def test_the_built_up_head_is_blocked_for_every_basis(basis: Basis) -> None:
    assert "false slope" in trap(basis, FeedGrade.BUILT_UP_HEAD, in_circuit=False)


@pytest.mark.parametrize("basis", list(Basis))
def test_an_independent_sample_is_allowed_outside_a_circuit_only(basis: Basis) -> None:
    assert trap(basis, FeedGrade.INDEPENDENT, in_circuit=False) == ""
    assert "outcome" in trap(basis, FeedGrade.INDEPENDENT, in_circuit=True)
    assert trap(basis, FeedGrade.FRESH_FEED, in_circuit=True) == ""


def test_what_is_not_stated_is_allowed_with_a_caution() -> None:
    for basis in (Basis.STATED, Basis.BUILT_UP):
        assert trap(basis, FeedGrade.NOT_STATED, in_circuit=False) == ""
        assert caution(basis, FeedGrade.NOT_STATED)
    assert caution(Basis.STATED, FeedGrade.ASSAYED_FEED)
    assert caution(Basis.BUILT_UP, FeedGrade.ASSAYED_FEED) == ""


def test_a_covariate_that_does_not_vary_is_refused() -> None:
    with pytest.raises(ValueError, match="the same on both sides of every pair"):
        adjust(Kind.PAIRED, ([40, 41, 42.5], [41, 43, 43]), ([4, 5, 6], [4, 5, 6]))
    with pytest.raises(ValueError, match="the same in every run"):
        adjust(Kind.UNPAIRED, ([40, 41, 42.5], [41, 43, 43]), ([4, 4, 4], [4, 4, 4]))


@pytest.mark.parametrize("kind", [Kind.PAIRED, Kind.UNPAIRED, Kind.EXCHANGED])
def test_adjusting_takes_out_exactly_what_the_covariate_adds(kind: Kind) -> None:
    draw = np.random.default_rng(2)
    swapped = np.arange(12) % 2 == 1
    feeds = draw.normal(4, 0.3, 12), draw.normal(4.5, 0.3, 12)
    wear = draw.uniform(0, 100, 12), draw.uniform(0, 100, 12)
    noise = draw.normal(0, 0.3, 12), 2.0 + draw.normal(0, 0.3, 12)
    covariates = tuple(np.column_stack(pair) for pair in zip(feeds, wear, strict=True))
    plain = adjust(kind, noise, covariates, swapped)
    moved = tuple(base + 5 * feed - 0.1 * hours for base, feed, hours in zip(noise, feeds, wear, strict=True))
    found = adjust(kind, moved, covariates, swapped)
    assert found.difference == pytest.approx(plain.difference)
    assert found.standard_error == pytest.approx(plain.standard_error)
    assert found.slope == pytest.approx(plain.slope + 5)


def _slope(covariate: np.ndarray, recovery: np.ndarray) -> float:
    fit = least_squares(np.column_stack([np.ones(covariate.size), covariate - covariate.mean()]), recovery)
    return float(fit.coefficients[1])

"""Laws of balances: units drop out, deviations agree with simulation, reconciling closes and narrows."""

import numpy as np
import pytest

from profiler.statistics.balances.balance import Streams, balance
from profiler.statistics.balances.reconciliation import reconcile_runs, recoveries_on
from profiler.words import Basis
from tests.oracles.trials import stream, two_product_pull, two_product_recovery


def streams(scale_mass: float = 1.0, scale_grade: float = 1.0, tail_mass: float = np.nan) -> Streams:
    return Streams(
        stream(mass=1000 * scale_mass, grade=4.0 * scale_grade, mass_rsd=0.01, grade_rsd=0.08),
        stream(mass=1.2 * scale_mass, grade=1400 * scale_grade, mass_rsd=0.005, grade_rsd=0.06),
        stream(mass=tail_mass * scale_mass, grade=2.45 * scale_grade, mass_rsd=0.01, grade_rsd=0.08),
    )


@pytest.mark.parametrize("tail_mass", [np.nan, 1003.0])
def test_units_of_mass_and_grade_drop_out(tail_mass: float) -> None:
    plain, scaled = balance(streams(tail_mass=tail_mass)), balance(streams(7.0, 0.3, tail_mass))
    for name in ("two_product", "over_feed", "built_up", "accountability", "assay_pull"):
        first, second = getattr(plain, name), getattr(scaled, name)
        assert (first.value[0], first.sd[0]) == (pytest.approx(second.value[0]), pytest.approx(second.sd[0]))


@pytest.mark.parametrize(("feed_mass", "tail_mass"), [(1000.0, np.nan), (np.nan, 990.0), (1000.0, 990.0)])
def test_deviations_agree_with_simulated_measurements(feed_mass: float, tail_mass: float) -> None:
    """A large pull, so that masses matter and the missing one leans on the others. Small errors: first order."""
    draw = np.random.default_rng(21)
    count = 60_000

    def measured(value: float, rsd: float) -> np.ndarray:
        return value * (1 + rsd * draw.standard_normal(count))

    def table(noisy: bool) -> Streams:
        parts = []
        for mass, grade in ((feed_mass, 4.0), (200.0, 12.0), (tail_mass, 2.1)):
            parts.append(
                stream(
                    mass=measured(mass, 0.01) if noisy else mass,
                    grade=measured(grade, 0.008) if noisy else grade,
                    mass_rsd=0.01,
                    grade_rsd=0.008,
                )
            )
        return Streams(*parts)

    simulated, exact = balance(table(True)), balance(table(False))
    for name in ("over_feed", "built_up", "accountability"):
        assert getattr(exact, name).sd[0] == pytest.approx(getattr(simulated, name).value.std(), rel=0.02)


def test_missing_mass_is_the_rest_of_the_others() -> None:
    whole = balance(streams(tail_mass=998.8))
    assert balance(streams()).built_up.value[0] == pytest.approx(whole.built_up.value[0])
    from_tail = Streams(stream(mass=np.nan, grade=4.0), stream(mass=1.2, grade=1400), stream(mass=998.8, grade=2.45))
    assert balance(from_tail).over_feed.value[0] == pytest.approx(whole.over_feed.value[0])
    assert balance(from_tail).mass_pull[0] == pytest.approx(0.0012)


def test_a_balance_that_closes_gives_one_recovery_by_every_route() -> None:
    recovery, pull = two_product_recovery(4.0, 1400.0, 2.45), two_product_pull(4.0, 1400.0, 2.45)
    closed = Streams(
        stream(mass=1000, grade=4.0, grade_rsd=0.08),
        stream(mass=1000 * pull, grade=1400, grade_rsd=0.06),
        stream(mass=np.nan, grade=2.45, grade_rsd=0.08),
    )
    found, made = balance(closed), reconcile_runs(closed)
    for basis in (Basis.BUILT_UP, Basis.OVER_FEED, Basis.TWO_PRODUCT, Basis.RECONCILED):
        assert recoveries_on(basis, found, made).value[0] == pytest.approx(recovery, rel=1e-9)
    assert found.accountability.value[0] == pytest.approx(1.0)
    assert made.chi_square[0] == pytest.approx(0.0, abs=1e-12)


def test_reconciled_runs_close_and_are_known_better_than_any_route() -> None:
    draw = np.random.default_rng(4)
    count = 50
    measured = Streams(
        stream(mass=1000.0, grade=4.0 * (1 + 0.08 * draw.standard_normal(count)), grade_rsd=0.08),
        stream(mass=1.1, grade=1400 * (1 + 0.06 * draw.standard_normal(count)), grade_rsd=0.06),
        stream(mass=np.nan, grade=2.46 * (1 + 0.08 * draw.standard_normal(count)), grade_rsd=0.08),
    )
    made, found = reconcile_runs(measured), balance(measured)
    metal_in = made.feed_mass * made.feed_grade
    metal_out = (
        made.concentrate_mass * made.concentrate_grade + (made.feed_mass - made.concentrate_mass) * made.tail_grade
    )
    assert metal_out == pytest.approx(metal_in, rel=1e-10)
    valid = np.isfinite(found.two_product.sd)
    assert np.all(made.recovery_sd < found.over_feed.sd)
    assert np.all(made.recovery_sd[valid] < found.two_product.sd[valid])
    assert made.recovery_sd.mean() < found.built_up.sd.mean()


@pytest.mark.parametrize("count", [2000, pytest.param(40_000, marks=pytest.mark.long)])
def test_chi_square_of_sound_runs_is_exceeded_once_in_twenty(count: int) -> None:
    draw = np.random.default_rng(14)
    pull = two_product_pull(4.0, 1400.0, 2.45)
    noisy = [
        stream(
            mass=mass * (1 + 0.01 * draw.standard_normal(count)),
            grade=grade * (1 + rsd * draw.standard_normal(count)),
            grade_rsd=rsd,
        )
        for mass, grade, rsd in ((1000.0, 4.0, 0.04), (1000.0 * pull, 1400.0, 0.03), (1000.0, 2.45, 0.04))
    ]
    share = np.mean(reconcile_runs(Streams(*noisy)).chi_square > 3.8415)
    assert share == pytest.approx(0.05, abs=0.004 + 4 * (0.05 * 0.95 / count) ** 0.5)


def test_streams_of_unlike_length_are_refused() -> None:
    with pytest.raises(ValueError, match="as many runs each"):
        Streams(stream(mass=[1, 2], grade=[1, 2]), stream(mass=1, grade=2), stream(mass=1, grade=2))

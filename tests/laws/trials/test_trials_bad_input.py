"""Input that cannot be judged gives one clear sentence, or a flag on the run it concerns."""

from dataclasses import replace

import numpy as np
import pytest

from profiler.statistics.balances.balance import Streams, balance
from profiler.statistics.balances.products import distribution
from profiler.statistics.balances.reconciliation import reconcile_runs
from profiler.statistics.balances.sizes import size_gain
from profiler.statistics.inference.differences import exchanged, paired, unpaired
from profiler.statistics.inference.power import units_for
from profiler.statistics.inference.regression import least_squares
from profiler.statistics.sampling.duplicates import replicate_cv
from profiler.statistics.sampling.grains import grain_count, recovery_floor
from profiler.statistics.trial.judge import judge
from profiler.statistics.trial.run_flags import flag_runs
from profiler.statistics.trial.runs import TrialRun
from profiler.statistics.trial.worth import Tonnage
from profiler.words import Structure
from tests.laws.trials.test_trials_two_sets import GAIN_B, RECOVERY_A, ledger, plan
from tests.oracles.trials import stream


def flags(feed: tuple[float, float], concentrate: tuple[float, float], tail: tuple[float, float]) -> list[str]:
    streams = Streams(*(stream(mass=mass, grade=grade, grade_rsd=0.05) for mass, grade in (feed, concentrate, tail)))
    return [flag.code for flag in flag_runs(streams, balance(streams), reconcile_runs(streams))]


@pytest.mark.parametrize(
    ("feed", "concentrate", "tail", "code"),
    [
        ((1000, 4.0), (1.0, 3.0), (999, 4.1), "concentrate-below-feed"),
        ((1000, 4.0), (1.0, 1500.0), (999, 4.5), "tail-above-feed"),
        ((0.0, 4.0), (1.0, 1500.0), (999, 2.5), "mass-impossible"),
        ((1000, 0.0), (1.0, 1500.0), (999, 2.5), "grade-impossible"),
        ((1000, -4.0), (1.0, 1500.0), (999, 2.5), "grade-impossible"),
        ((1000, 4.0), (1.0, 1500.0), (500, 2.5), "masses-do-not-close"),
        ((1000, 4.0), (1200.0, 5.0), (np.nan, 2.5), "concentrate-above-feed-mass"),
        ((1000, 4.0), (1.0, 5000.0), (999, 2.5), "recovery-above-100"),
        ((1000, 4.0), (1.0, 5000.0), (999, 2.5), "accountability"),
        ((1000, 4.0), (1.0, 5000.0), (999, 2.5), "does-not-close"),
        ((1000, 4.0), (1.0, 5000.0), (999, 2.5), "adjustment"),
    ],
)
def test_an_odd_run_is_flagged(feed: tuple, concentrate: tuple, tail: tuple, code: str) -> None:
    assert code in flags(feed, concentrate, tail)


def test_a_sound_run_has_no_flag_and_gaps_are_no_flag() -> None:
    assert flags((1000, 4.0), (1.0, 1400.0), (999, 2.6)) == []
    assert flags((np.nan, np.nan), (1.0, 1400.0), (999, 2.6)) == []


def test_one_odd_run_leaves_the_others_alone() -> None:
    streams = Streams(
        stream(mass=[1000, 0, 1000, 1000], grade=[4, 4, 0, np.nan], grade_rsd=0.08),
        stream(mass=[1.2, 1.2, 1.2, np.inf], grade=[1400, 1400, 1400, 1400], grade_rsd=0.05),
        stream(mass=[np.nan] * 4, grade=[2.45, 2.45, 2.45, 2.45], grade_rsd=0.08),
    )
    found = balance(streams)
    assert 100 * found.built_up.value[0] == pytest.approx(40.707, abs=5e-4)
    assert np.isnan(found.built_up.value[[1, 3]]).all()
    assert np.isnan(found.over_feed.value[1:]).all()
    assert np.isfinite(found.built_up.value[2])
    assert np.isfinite(reconcile_runs(streams).recovery).tolist() == [True, False, False, False]


def test_accountability_falls_back_to_ten_per_cent_where_errors_are_unknown() -> None:
    def codes(concentrate_grade: float) -> list[str]:
        streams = Streams(
            stream(mass=1000, grade=4.0), stream(mass=1.0, grade=concentrate_grade), stream(mass=999, grade=2.5)
        )
        return [flag.code for flag in flag_runs(streams, balance(streams), reconcile_runs(streams))]

    assert codes(1700.0) == []  # 104.9 %
    assert codes(2000.0) == ["accountability"]  # 112.4 %


@pytest.mark.parametrize(
    ("runs", "sentence"),
    [
        ([], "the ledger is empty"),
        (ledger(GAIN_B)[:1], "exactly two designs; these are of 1: “A”"),
        ([replace(run, excluded=True, exclusion_reason="x") for run in ledger(GAIN_B)], "every run is excluded"),
        (ledger(GAIN_B)[:2], "1 complete pair\\(s\\) give no interval"),
        (ledger(RECOVERY_A), "All 10 pair differences are the same"),
        ([replace(run, block=run.run) for run in ledger(GAIN_B)], "No pair of both designs is left"),
        ([replace(run, recovery_percent=None) for run in ledger(GAIN_B)], "without a recovery: A1"),
        ([replace(run, design=run.run) for run in ledger(GAIN_B)], "exactly two designs; these are of 20"),
        ([replace(run, run="1") for run in ledger(GAIN_B)], "run name “1” stands twice"),
        (
            [replace(run, recovery_percent=float("nan")) for run in ledger(GAIN_B)],
            "Run “A1”: the recovery is nan",
        ),
        ([replace(run, feed_grade_g_t=float("inf")) for run in ledger(GAIN_B)], "the feed grade is inf"),
    ],
)
def test_a_ledger_that_cannot_be_judged_says_why(runs: list[TrialRun], sentence: str) -> None:
    with pytest.raises(ValueError, match=sentence) as caught:
        judge(runs, plan(1.0))
    assert str(caught.value).endswith((".", "?"))
    assert "\n" not in str(caught.value)


def test_a_reference_that_did_not_run_is_refused() -> None:
    with pytest.raises(ValueError, match="The reference “C” is not among the designs that ran: A, B"):
        judge(ledger(GAIN_B), replace(plan(1.0), reference="C"))


def test_differences_alike_but_for_rounding_are_alike() -> None:
    with pytest.raises(ValueError, match="without scatter"):
        paired([40.1, 41.1, 42.3], [41.1, 42.1, 43.3])
    with pytest.raises(ValueError, match="without scatter"):
        unpaired([40.1] * 3, [41.1] * 3)
    with pytest.raises(ValueError, match="without scatter"):
        exchanged([40.0] * 4, [41.0] * 4, [False, False, True, True])


def test_one_unpaired_run_is_refused() -> None:
    with pytest.raises(ValueError, match="1 value\\(s\\) of the reference and 2 of the new design"):
        judge(ledger(GAIN_B)[:2] + ledger(GAIN_B)[3:4], plan(1.0, Structure.UNPAIRED))


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (lambda: units_for(0.0, 1.0), "can never be shown"),
        (lambda: units_for(1.0, 0.0), "spread must be above zero"),
        (lambda: replicate_cv([[1.0], [2.0]]), "No sample was assayed twice"),
        (lambda: grain_count(0.0, 1.0, 0.1), "above zero"),
        (lambda: recovery_floor(1.2, 100.0), "between 0 and 1"),
        (lambda: replicate_cv([[1.0, 0.0]]), "must be above zero"),
        (lambda: distribution([1.0, 2.0], [0.0, 0.0]), "hold no metal"),
        (lambda: least_squares([[1.0, 2.0], [1.0, 2.0], [1.0, 2.0]], [1, 2, 3]), "depend on each other"),
        (lambda: size_gain([1.0], [0.3], [0.9], [0.3]), "must add up to 1"),
        (lambda: Tonnage(0.0, 4.0), "above zero"),
    ],
)
def test_helpers_refuse_what_they_cannot_use(call, sentence: str) -> None:
    with pytest.raises(ValueError, match=sentence):
        call()

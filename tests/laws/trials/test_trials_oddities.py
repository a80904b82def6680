"""Outliers, copies and repeats are named; the numbers stay those of all runs."""

from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from profiler.statistics.trial.account import account
from profiler.statistics.trial.judge import judge
from profiler.statistics.trial.oddities import FAR, MAD_TO_SD, Oddity, OddKind
from profiler.statistics.trial.runs import TrialPlan, TrialRun
from profiler.words import Structure
from tests.laws.trials.test_trials_two_sets import GAIN_B, RECOVERY_A, ledger, plan


def odd(runs: list[TrialRun], of_plan: TrialPlan, kind: OddKind) -> list[Oddity]:
    return [oddity for oddity in judge(runs, of_plan).odd if oddity.kind is kind]


def test_the_invented_trial_has_nothing_odd() -> None:
    assert judge(ledger(GAIN_B), plan(1.0)).odd == ()


def test_a_mistyped_recovery_is_named_by_its_pair_and_stays_in() -> None:
    runs = ledger(GAIN_B)
    runs[7] = replace(runs[7], recovery_percent=4.43)  # 44.3 with the decimal point lost
    judgement = judge(runs, plan(1.0))
    found = odd(runs, plan(1.0), OddKind.OUTLIER)
    assert [oddity.runs for oddity in found] == [("A4", "B4")]
    assert judgement.comparison.units == (10, 10)
    assert "Look at these, nothing is dropped for it: pair 4 (runs A4, B4)" in account(judgement)


@pytest.mark.parametrize("shift", [2.0, 4.0, 5.0, 6.0, 7.0, 9.0, -9.0])
def test_an_outlier_is_far_by_the_robust_spread_of_the_general_library(shift: float) -> None:
    moved = [*GAIN_B[:9], GAIN_B[9] + shift]
    differences = np.array(moved) - RECOVERY_A
    away = np.abs(differences - np.median(differences)) / stats.median_abs_deviation(differences, scale="normal")
    expected = [(f"A{k + 1}", f"B{k + 1}") for k in np.flatnonzero(away > FAR)]
    assert [oddity.runs for oddity in odd(ledger(moved), plan(1.0), OddKind.OUTLIER)] == expected
    assert pytest.approx(1 / 0.674490, abs=1e-6) == MAD_TO_SD


def test_an_unpaired_run_is_held_against_its_own_design() -> None:
    runs = [replace(run, block="") for run in ledger(GAIN_B)]
    runs[0] = replace(runs[0], recovery_percent=80.0)
    found = odd(runs, TrialPlan(structure=Structure.UNPAIRED), OddKind.OUTLIER)
    assert [oddity.runs for oddity in found] == [("A1",)] and found[0].text.endswith("the others of A")


def test_rows_equal_in_all_measured_numbers_are_named_and_one_number_is_chance() -> None:
    runs = [replace(run, measured=(run.recovery_percent, run.feed_grade_g_t, None)) for run in ledger(GAIN_B)]
    assert odd(runs, plan(1.0), OddKind.COPY) == []
    copied = [*runs[:-1], replace(runs[-1], recovery_percent=41.1, measured=runs[1].measured)]
    assert [oddity.runs for oddity in odd(copied, plan(1.0), OddKind.COPY)] == [("B1", "B10")]
    single = [replace(run, measured=(38.9, None, None)) for run in runs]
    assert odd(single, plan(1.0), OddKind.COPY) == []


def test_a_repeat_inside_a_pair_is_named() -> None:
    runs = [*ledger(GAIN_B), replace(ledger(GAIN_B)[1], run="B1 again", recovery_percent=40.7)]
    found = odd(runs, plan(1.0), OddKind.REPEAT)
    assert [oddity.runs for oddity in found] == [("A1", "B1", "B1 again")]
    assert "pair 1 holds 1 runs of A and 2 of B" in found[0].text

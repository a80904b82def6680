"""The account in words: what must stand in it, and what must not."""

import re
from dataclasses import replace
from datetime import date, datetime, timedelta

import pytest
from scipy import stats

from profiler.statistics.balances.closing import Closure, RunClosing
from profiler.statistics.trial.account import account
from profiler.statistics.trial.judge import judge
from profiler.statistics.trial.runs import TrialPlan, TrialRun
from profiler.statistics.trial.worth import Downstream, Tonnage
from profiler.words import Basis, FeedGrade, Ordering, Structure, Waiver
from tests.laws.trials.test_trials_two_sets import ALIKE_B, GAIN_B, RECOVERY_A, ledger, plan

PLANT, NEXT = Tonnage(1.2e6, 4.0), Downstream(0.99, 0.94, 1.0)


def full_ledger(recoveries_b: list[float] = GAIN_B, pairs: int = 10) -> list[TrialRun]:
    """The invented trial with everything recorded, the order in each pair as a coin gave it."""
    heads = [True, False, False, True, True, False, True, False, False, True]
    runs = []
    for row, run in enumerate(ledger(recoveries_b, pairs)):
        pair, new = divmod(row, 2)
        second = bool(new) == heads[pair]
        runs.append(
            replace(
                run,
                order=2 if second else 1,
                began=datetime(2031, 3, 3, 8) + timedelta(days=pair, hours=4 * second),
                machine="pilot",
                feed_f80_um=420.0,
                speed_rpm=640.0,
                water_l_min=40.0,
                feed_t_h=3.0,
                solids_pct=42.0,
                cycle_min=60.0,
                mass_pull_percent=0.08,
                wear_h=10.0 + 5 * pair,
                cleaned_out=True,
                closing=RunClosing(Closure.CLOSES, "accountability 101.2 %, 0.3 standard errors from 100"),
            )
        )
    return runs


FULL_PLAN = TrialPlan(
    structure=Structure.PAIRS,
    worthwhile_points=1.0,
    worthwhile_source="one month's payback",
    basis=Basis.BUILT_UP,
    size_cut="all sizes",
    frozen_on=date(2031, 3, 1),
    planned_units=10,
    ordering=Ordering.RANDOMISED,
    feed_grade=FeedGrade.INDEPENDENT,
)


def test_the_account_of_a_recorded_gain_holds_everything_demanded() -> None:
    text = account(judge(full_ledger(), FULL_PLAN, PLANT, NEXT))
    for part in (
        "10 randomised pairs on one machine",
        "only the bowl changed",
        "recovery on built-up head, all sizes",
        "2031-03-03 to 2031-03-12",
        "order randomised",
        "B recovered 41.7 % (39.4 to 44.0) and A 39.2 % (36.6 to 41.9)",
        "+2.47 percentage points, 95 % interval +1.39 to +3.55",
        "paired t 5.19",
        "p 0.00057",
        "exact sign-flip p 0.0039",
        "+6.3 % relative to A (95 % interval +3.4 to +9.4)",
        "Adjusted for feed grade (independent feed sample): +2.26 points (+1.80 to +2.72)",
        "B is better by more than the worthwhile 1 point",
        "one month's payback; plan frozen 2031-03-01",
        "standard deviation of pair differences is 1.50 points",
        "true difference of 1.50 points with 80 % power",
        "All gates are met.",
        "3812 (2151 to 5472) troy oz a year caught by gravity",
        "191 (108 to 274) is extra metal",
        "99 % (gravity) and 94 % (downstream)",
    ):
        assert part in text


def test_an_unresolved_trial_says_what_more_would_take() -> None:
    text = account(judge(ledger(ALIKE_B), plan(0.5)))
    assert (
        "not resolved, inside experimental error: B less A +0.15 percentage points, 95 % interval -0.83 to +1.13"
        in text
    )
    assert "62 pairs in all, 52 more, would show 0.5 points" in text


def test_without_a_worthwhile_gain_one_is_asked_for() -> None:
    text = account(judge(ledger(ALIKE_B), plan(None)))
    assert "No worthwhile gain was agreed: agree on one" in text
    assert "17 pairs in all would show 1 point, 6 would show 2" in text


def test_pairs_are_not_called_randomised_while_a_gate_is_not_recorded() -> None:
    runs = [replace(run, feed_f80_um=None) for run in full_ledger()]
    text = account(judge(runs, FULL_PLAN))
    assert "randomised pairs" not in text
    assert "In 10 pairs" in text
    assert "Not recorded: feed size." in text


def test_a_bare_table_lists_what_was_not_recorded() -> None:
    text = account(judge(ledger(GAIN_B), plan(1.0)))
    assert "randomised" not in text
    assert re.search(r"Not recorded: .*speed.*fluidising water.*cycle.*order", text)
    assert "on one machine" not in text
    assert "only the bowl changed" not in text


def test_failed_and_waived_gates_are_named_with_numbers_and_reason() -> None:
    runs = [replace(run, speed_rpm=700.0) if run.design == "B" else run for run in full_ledger()]
    text = account(judge(runs, FULL_PLAN, PLANT, NEXT))
    assert "not a fair comparison (speeds differ: 640 against 700 rpm" in text
    assert "Indicative only, the comparison not being fair: At 1\u202f200\u202f000 t" in text
    assert "All gates are met" not in text
    waived = replace(FULL_PLAN, waivers=(Waiver("speed", "the new bowl is made for 700 rpm"),))
    text = account(judge(runs, waived))
    assert "Waived: speed (speeds differ: 640 against 700 rpm" in text
    assert "reason: the new bowl is made for 700 rpm" in text
    assert "B is better by more than the worthwhile 1 point" in text


def test_runs_left_out_and_stopping_early_are_said() -> None:
    runs = full_ledger(pairs=8)
    runs[0] = replace(runs[0], excluded=True, exclusion_reason="feed pump stopped")
    text = account(judge(runs, FULL_PLAN))
    assert "Excluded: A1 (feed pump stopped)" in text
    assert "With the runs left out taken in: B is better" in text
    assert "Left out for want of a partner: B1" in text
    assert "10 pairs were planned and 7 are judged" in text


@pytest.mark.parametrize(("pairs", "said"), [(20, "exact sign-flip p"), (21, "from 20\u202f000 seeded draws")])
def test_the_account_says_whether_the_permutation_was_exact(pairs: int, said: str) -> None:
    runs = [
        TrialRun(run=f"{design}{row}", design=design, block=str(row), recovery_percent=40 + gain + (7 * row) % 5 / 3)
        for row in range(pairs)
        for design, gain in (("A", 0.0), ("B", (row % 7) / 7))
    ]
    assert said in account(judge(runs, plan(1.0)))


def test_the_bare_word_for_an_unlikely_result_never_stands() -> None:
    for recoveries in (GAIN_B, ALIKE_B, RECOVERY_A[::-1]):
        for worthwhile in (None, 0.5, 1.0, 2.0):
            for structure in (Structure.PAIRS, Structure.UNPAIRED, Structure.BEFORE_AFTER):
                text = account(judge(ledger(recoveries), plan(worthwhile, structure), PLANT, NEXT))
                assert "significan" not in text.lower()


def test_a_trap_stands_in_place_of_the_adjusted_difference() -> None:
    shared = replace(FULL_PLAN, basis=Basis.TWO_PRODUCT, feed_grade=FeedGrade.ASSAYED_FEED)
    text = account(judge(full_ledger(), shared))
    assert "Not adjusted for feed grade: the feed assay is part of the recovery" in text
    assert "Adjusted for feed grade (" not in text


def test_a_downstream_stream_is_said_to_agree_or_contradict() -> None:
    for sign, word in ((-1.0, "agrees"), (1.0, "contradicts"), (0.0, "silent")):
        runs = [
            replace(run, downstream_g_t=2.0 + (sign * 0.2 if run.design == "B" else 0.0) + 0.01 * (row * row % 7))
            for row, run in enumerate(full_ledger())
        ]
        text = account(judge(runs, replace(FULL_PLAN, downstream_name="leach feed")))
        assert f"leach feed {word} (" in text


def test_a_stream_that_worsens_with_a_worse_bowl_agrees() -> None:
    worse = [2 * a - b for a, b in zip(RECOVERY_A, GAIN_B, strict=True)]
    runs = [
        replace(run, gold_output_g=30.0 - (2.0 if run.design == "B" else 0.0) + 0.1 * (row * row % 7))
        for row, run in enumerate(full_ledger(worse))
    ]
    assert "gold output agrees (" in account(judge(runs, FULL_PLAN))


def test_the_money_is_reckoned_from_the_mean_weighted_by_metal() -> None:
    runs = [replace(run, feed_metal_g=100.0 if int(run.block) > 5 else 300.0) for run in full_ledger()]
    judgement = judge(runs, FULL_PLAN, PLANT)
    assert judgement.weighted is not None
    assert judgement.worth is not None
    ounces = judgement.weighted.difference / 100 * 1.2e6 * 4.0 / 31.1034768
    assert judgement.worth.caught_oz.estimate == pytest.approx(ounces)
    assert judgement.weighted.difference != pytest.approx(judgement.comparison.difference)
    text = account(judgement)
    assert f"Weighted by metal fed: {judgement.weighted.difference:+.2f} points" in text
    assert "depends on the recovery downstream, which is not given" in text


def test_a_second_covariate_is_named() -> None:
    text = account(judge(full_ledger(), replace(FULL_PLAN, adjust_also=("wear_h",))))
    assert "Not adjusted for feed grade: A covariate is the same on both sides" in text
    runs = [replace(run, wear_h=(run.wear_h or 0) + row % 3) for row, run in enumerate(full_ledger())]
    text = account(judge(runs, replace(FULL_PLAN, adjust_also=("wear_h",))))
    assert "Adjusted for feed grade (independent feed sample) and hours of wear" in text
    with pytest.raises(ValueError, match="no column “wear”"):
        judge(runs, replace(FULL_PLAN, adjust_also=("wear",)))


def test_neighbours_that_resemble_each_other_are_said_to_narrow_the_interval() -> None:
    slow = [2.0, 2.2, 2.1, 1.9, 2.0, -0.2, 0.1, 0.0, -0.1, 0.2]
    recoveries = [a + d for a, d in zip(RECOVERY_A, slow, strict=True)]
    judgement = judge(full_ledger(recoveries), FULL_PLAN)
    assert judgement.drift is not None
    assert judgement.drift.lag_one > judgement.drift.lag_limit
    assert "so the interval is too narrow" in account(judgement)
    assert "too narrow" not in account(judge(full_ledger(), FULL_PLAN))


def test_a_designs_recovery_has_the_interval_of_its_own_mean() -> None:
    """By scipy's one-sample interval."""
    judgement = judge(full_ledger(), FULL_PLAN)
    for found, values in ((judgement.reference_interval, RECOVERY_A), (judgement.new_interval, GAIN_B)):
        limits = stats.ttest_1samp(values, 0.0).confidence_interval(0.95)
        assert found is not None and (found.low, found.high) == pytest.approx((limits.low, limits.high))


def test_two_tests_on_either_side_of_five_per_cent_are_said_to_disagree() -> None:
    """Few runs of a design that scatters much: Welch by scipy 0.06, all 3003 ways of dealing the labels 0.02."""
    first = [40.1, 39.8, 40.0, 40.3, 39.9, 40.2, 40.1, 39.7, 40.0, 40.2]
    second = [40.6, 43.9, 40.1, 42.6, 41.3]
    runs = [
        TrialRun(run=f"{design}{row}", design=design, recovery_percent=value)
        for design, values in (("A", first), ("B", second))
        for row, value in enumerate(values)
    ]
    judgement = judge(runs, plan(1.0, Structure.UNPAIRED))
    assert judgement.comparison.p > 0.05 > judgement.permutation.two_sided
    assert "Welch's t and the permutation test disagree across 0.05" in account(judgement)
    assert "the designs scatter by" in account(judgement)
    assert "disagree across" not in account(judge(full_ledger(), FULL_PLAN))

"""Gates: likeness is shown, not assumed; what is missing is said; only a failure closes the trial."""

from dataclasses import replace
from datetime import date, datetime, timedelta

import numpy as np
import pytest

from profiler.statistics.balances.balance import Streams, balance
from profiler.statistics.balances.closing import DOUBTFUL_ERRORS, Closure, RunClosing, closings, most_doubtful
from profiler.statistics.inference.differences import paired
from profiler.statistics.trial.gates import Gate
from profiler.statistics.trial.judge import Judgement, judge
from profiler.statistics.trial.runs import TrialPlan, TrialRun
from profiler.words import Basis, FeedGrade, GateState, Ordering, Structure, VerdictState, Waiver
from tests.laws.trials.test_trials_sentence import FULL_PLAN, full_ledger
from tests.laws.trials.test_trials_two_sets import FEED_A, FEED_B, GAIN_B, ledger, plan
from tests.oracles.trials import stream


def gate(judgement: Judgement, code: str) -> Gate:
    return next(gate for gate in judgement.verdict.gates if gate.code == code)


def state(runs: list[TrialRun], code: str, of_plan: TrialPlan = FULL_PLAN) -> GateState:
    return gate(judge(runs, of_plan), code).state


def of_b(runs: list[TrialRun], **changes: object) -> list[TrialRun]:
    return [replace(run, **changes) if run.design == "B" else run for run in runs]


def test_a_recorded_trial_meets_every_gate() -> None:
    gates = judge(full_ledger(), FULL_PLAN).verdict.gates
    assert {gate.state for gate in gates} == {GateState.MET}
    assert len(gates) >= 14


def test_a_bare_table_fails_nothing() -> None:
    gates = judge(ledger(GAIN_B), plan(1.0)).verdict.gates
    assert GateState.FAILED not in {gate.state for gate in gates}
    assert gate(judge(ledger(GAIN_B), plan(1.0)), "feed-grade").state is GateState.MET


@pytest.mark.parametrize(
    ("code", "change"),
    [
        ("speed", {"speed_rpm": 660.0}),
        ("water", {"water_l_min": 45.0}),
        ("feed-rate", {"feed_t_h": 3.4}),
        ("solids", {"solids_pct": 50.0}),
        ("cycle", {"cycle_min": 90.0}),
        ("mass-pull", {"mass_pull_percent": 0.10}),
        ("feed-size", {"feed_f80_um": 300.0}),
        ("wear", {"wear_h": 400.0}),
        ("clean-out", {"cleaned_out": False}),
        ("machine", {"machine": "other"}),
    ],
)
def test_another_change_beside_the_bowl_fails_its_own_gate_only(code: str, change: dict[str, object]) -> None:
    judgement = judge(of_b(full_ledger(), **change), FULL_PLAN)
    assert [gate.code for gate in judgement.verdict.failed] == [code]
    assert judgement.verdict.state is VerdictState.NOT_FAIR


@pytest.mark.parametrize(
    ("code", "change"),
    [("speed", {"speed_rpm": 643.0}), ("cycle", {"cycle_min": 65.0}), ("mass-pull", {"mass_pull_percent": 0.085})],
)
def test_a_small_change_is_allowed(code: str, change: dict[str, object]) -> None:
    assert state(of_b(full_ledger(), **change), code) is GateState.MET


def test_settings_may_differ_by_their_own_spread() -> None:
    runs = [
        replace(run, water_l_min=38.0 + row % 5 + (0.5 if run.design == "B" else 0.0))
        for row, run in enumerate(full_ledger())
    ]
    assert state(runs, "water") is GateState.MET


@pytest.mark.parametrize("column", ["speed_rpm", "water_l_min", "feed_f80_um", "wear_h", "cleaned_out"])
def test_a_gap_in_the_record_is_not_recorded(column: str) -> None:
    code = {"speed_rpm": "speed", "water_l_min": "water", "feed_f80_um": "feed-size", "wear_h": "wear"}
    runs = full_ledger()
    runs[3] = replace(runs[3], **{column: None})
    assert state(runs, code.get(column, "clean-out")) is GateState.NOT_RECORDED


def test_feed_is_matched_by_an_interval_within_the_tolerance_not_by_want_of_proof() -> None:
    runs = [
        replace(run, feed_grade_g_t=4.0 + (1.5 if (row * 7) % 3 else -1.5) * (1 if run.design == "B" else 0.4))
        for row, run in enumerate(full_ledger())
    ]
    found = gate(judge(runs, FULL_PLAN), "feed-grade")
    assert found.state is GateState.NOT_RECORDED
    assert "not shown to match" in found.text


def test_feed_shown_to_differ_beyond_the_tolerance_fails() -> None:
    runs = [
        replace(run, feed_grade_g_t=(run.feed_grade_g_t or 0.0) * (1.2 if run.design == "B" else 1.0))
        for run in full_ledger()
    ]
    assert state(runs, "feed-grade") is GateState.FAILED


def test_mismatched_feeds_that_explain_the_gain_close_the_trial_whatever_p_says() -> None:
    """Unpaired runs whose recovery follows the feed grade alone; the richer feed went to B."""
    noise = [0.1, -0.2, 0.15, -0.05, 0.2, -0.1, 0.05, -0.15]
    runs = [
        TrialRun(
            run=f"{design}{row}",
            design=design,
            feed_grade_g_t=start + 0.1 * row,
            recovery_percent=30 + 3 * (start + 0.1 * row) + noise[row if design == "A" else -row - 1],
        )
        for design, start in (("A", 3.0), ("B", 4.0))
        for row in range(8)
    ]
    judgement = judge(runs, plan(1.0, Structure.UNPAIRED))
    assert judgement.comparison.p < 1e-4
    assert judgement.adjustment.result is not None
    assert not judgement.adjustment.result.interval95.excludes_zero()
    assert judgement.verdict.state is VerdictState.NOT_FAIR


def test_a_small_feed_difference_that_explains_the_gain_closes_it_too() -> None:
    """Within 15 per cent agreed, but the feeds hardly overlap and the gain is theirs."""
    noise = [0.1, -0.2, 0.15, -0.05, 0.2, -0.1, 0.05, -0.15]
    runs = [
        TrialRun(
            run=f"{design}{row}",
            design=design,
            feed_grade_g_t=start + 0.02 * row,
            recovery_percent=10 + 10 * (start + 0.02 * row) + noise[row if design == "A" else -row - 1],
        )
        for design, start in (("A", 3.0), ("B", 3.3))
        for row in range(8)
    ]
    judgement = judge(runs, replace(plan(1.0, Structure.UNPAIRED), feed_tolerance_pct=15.0))
    found = gate(judgement, "feed-grade")
    assert found.state is GateState.FAILED
    assert "feed grades explain the difference" in found.text


def test_feeds_that_overlap_do_not_explain_a_gain_away() -> None:
    """Adjusting widens this interval past zero, but the feeds were alike: the pairs stand."""
    feeds = [4.0 + 0.1 * ((row * 5) % 8) for row in range(16)]
    recoveries = [40.0, 41.2, 39.1, 40.9, 41.0, 40.2, 39.6, 40.4, 41.0, 41.9, 40.1, 42.2, 41.8, 41.1, 40.6, 41.3]
    runs = [
        TrialRun(run=str(row), design="A" if row < 8 else "B", feed_grade_g_t=feed + (0.3 if row >= 8 else 0.0),
                 recovery_percent=recovery)
        for row, (feed, recovery) in enumerate(zip(feeds, recoveries, strict=True))
    ]  # fmt: skip
    judgement = judge(runs, plan(0.5, Structure.UNPAIRED))
    assert judgement.comparison.interval95.excludes_zero()
    assert judgement.adjustment.result is not None
    assert not judgement.adjustment.result.interval95.excludes_zero()
    assert gate(judgement, "feed-grade").state is not GateState.FAILED


def test_feed_is_held_against_the_tolerance_at_ninety_per_cent() -> None:
    first, second = (np.array(side) for side in (FEED_A, FEED_B))
    found = paired(first, second)
    middle = (first.mean() + second.mean()) / 2
    narrow, wide = (100 * found.interval(level).high / middle for level in (0.90, 0.95))
    for tolerance, expected in ((narrow - 0.05, GateState.NOT_RECORDED), ((narrow + wide) / 2, GateState.MET)):
        assert state(full_ledger(), "feed-grade", replace(FULL_PLAN, feed_tolerance_pct=tolerance)) is expected


def test_inside_a_circuit_the_bowls_own_feed_grade_is_not_a_gate() -> None:
    runs = [replace(run, since_change_h=30.0) for run in of_b(full_ledger(), feed_grade_g_t=3.0)]
    inside = replace(FULL_PLAN, in_circuit=True, load_residence_h=4.0)
    assert state(runs, "feed-grade", inside) is GateState.NOT_RECORDED
    assert state(runs, "feed-grade", replace(inside, feed_grade=FeedGrade.FRESH_FEED)) is GateState.FAILED


def test_runs_too_soon_after_a_change_of_bowl_fail_inside_a_circuit() -> None:
    inside = replace(FULL_PLAN, in_circuit=True, load_residence_h=4.0, feed_grade=FeedGrade.FRESH_FEED)
    late = [replace(run, since_change_h=13.0) for run in full_ledger()]
    assert state(late, "change-over", inside) is GateState.MET
    late[5] = replace(late[5], since_change_h=11.0)
    assert state(late, "change-over", inside) is GateState.FAILED
    assert all(gate.code != "change-over" for gate in judge(late, FULL_PLAN).verdict.gates)


def test_before_and_after_is_refused_a_firm_verdict_and_cannot_be_waived() -> None:
    forced = replace(FULL_PLAN, structure=Structure.BEFORE_AFTER, waivers=(Waiver("order", "no other way"),))
    judgement = judge(full_ledger(), forced)
    assert gate(judgement, "order").state is GateState.FAILED
    assert judgement.verdict.state is VerdictState.NOT_FAIR
    assert "indicative" in gate(judgement, "order").text


@pytest.mark.parametrize("structure", [Structure.UNPAIRED, Structure.PAIRS])
def test_before_and_after_is_seen_under_another_name(structure: Structure) -> None:
    start = datetime(2031, 5, 1)
    runs = [
        replace(run, began=start + timedelta(days=row + (30 if run.design == "B" else 0)))
        for row, run in enumerate(full_ledger())
    ]
    judgement = judge(runs, replace(FULL_PLAN, structure=structure))
    assert "order" in [gate.code for gate in judgement.verdict.failed]


def test_the_same_design_always_first_fails_whatever_was_intended() -> None:
    runs = [replace(run, order=2 if run.design == "B" else 1) for run in full_ledger()]
    assert state(runs, "order") is GateState.FAILED


def test_order_is_met_only_where_it_is_known_how_it_was_chosen() -> None:
    assert state(full_ledger(), "order") is GateState.MET
    silent = replace(FULL_PLAN, ordering=Ordering.NOT_RECORDED)
    assert state(full_ledger(), "order", silent) is GateState.NOT_RECORDED
    assert state(full_ledger(), "order", replace(FULL_PLAN, ordering=Ordering.FIXED)) is GateState.FAILED


def test_a_drift_of_the_difference_fails_and_a_common_drift_does_not() -> None:
    runs = full_ledger()
    days = [(run.began - datetime(2031, 3, 3)).days if run.began else 0 for run in runs]
    common = [
        replace(run, recovery_percent=(run.recovery_percent or 0) - 2 * day)
        for run, day in zip(runs, days, strict=True)
    ]
    assert state(common, "trend") is GateState.MET
    drifting = [
        replace(run, recovery_percent=(run.recovery_percent or 0) - (2 * day if run.design == "B" else 0))
        for run, day in zip(runs, days, strict=True)
    ]
    assert state(drifting, "trend") is GateState.FAILED


def test_an_exclusion_needs_a_reason() -> None:
    runs = full_ledger()
    runs[4] = replace(runs[4], excluded=True)
    assert state(runs, "exclusions") is GateState.FAILED
    runs[4] = replace(runs[4], exclusion_reason="sample spilt")
    assert state(runs, "exclusions") is GateState.MET


def test_a_plan_frozen_after_the_first_run_is_not_beforehand() -> None:
    assert state(full_ledger(), "stamp") is GateState.MET
    late = replace(FULL_PLAN, frozen_on=date(2031, 3, 4))
    assert state(full_ledger(), "stamp", late) is GateState.NOT_RECORDED
    assert "after the first run" in gate(judge(full_ledger(), late), "stamp").text


def test_cycles_of_one_mounting_do_not_count_as_repeats() -> None:
    runs = [replace(run, installation=f"{run.design}-{row // 6}") for row, run in enumerate(full_ledger())]
    assert state(runs, "units") is GateState.FAILED
    assert "cycles of one mounting are counted as repeats" in gate(judge(runs, FULL_PLAN), "units").text
    single = [replace(run, installation=run.run) for run in full_ledger()]
    assert state(single, "units") is GateState.MET


def test_a_waiver_needs_a_reason_and_a_gate_that_exists() -> None:
    with pytest.raises(ValueError, match="cannot be waived without a reason"):
        judge(of_b(full_ledger(), speed_rpm=700.0), replace(FULL_PLAN, waivers=(Waiver("speed", "  "),)))
    with pytest.raises(ValueError, match="no gate “sped” to waive"):
        judge(full_ledger(), replace(FULL_PLAN, waivers=(Waiver("sped", "typing"),)))


def test_a_waiver_leaves_a_met_gate_met() -> None:
    waived = replace(FULL_PLAN, waivers=(Waiver("speed", "in case"),))
    assert state(full_ledger(), "speed", waived) is GateState.MET


def closing(closure: Closure) -> dict[str, object]:
    return {"closing": RunClosing(closure, f"a run that {closure}")}


def test_a_run_whose_balance_fails_closes_the_trial() -> None:
    runs = full_ledger()
    assert state(runs, "balances") is GateState.MET
    runs[4] = replace(runs[4], **closing(Closure.FAILS))
    judgement = judge(runs, FULL_PLAN)
    assert gate(judgement, "balances").text == "balances do not close (run A3: a run that fails)"
    assert judgement.verdict.state is VerdictState.NOT_FAIR
    runs[4] = replace(runs[4], excluded=True, exclusion_reason="spilt concentrate")
    assert state(runs, "balances") is GateState.MET


@pytest.mark.parametrize(("doubtful", "expected"), [(1, GateState.MET), (4, GateState.MET), (5, GateState.FAILED)])
def test_a_few_doubtful_balances_are_chance_and_many_are_not(doubtful: int, expected: GateState) -> None:
    """20 runs: 20 per cent are four."""
    runs = [
        replace(run, **closing(Closure.DOUBTFUL)) if row < doubtful else run for row, run in enumerate(full_ledger())
    ]
    assert state(runs, "balances") is expected


def test_balances_that_cannot_be_checked_are_not_recorded() -> None:
    assert state([replace(run, closing=None) for run in full_ledger()], "balances") is GateState.NOT_RECORDED
    runs = full_ledger()
    runs[3] = replace(runs[3], closing=None)
    assert "missing in 1 runs" in gate(judge(runs, FULL_PLAN), "balances").text


@pytest.mark.parametrize(
    ("concentrate", "tail", "closure"),
    [(1400.0, 2.45, Closure.CLOSES), (1900.0, 2.45, Closure.DOUBTFUL), (2500.0, 2.45, Closure.FAILS),
     (3.0, 2.45, Closure.FAILS), (1400.0, 1500.0, Closure.FAILS)],
)  # fmt: skip
def test_a_balance_is_judged_by_its_own_standard_error(concentrate: float, tail: float, closure: Closure) -> None:
    """1.2 kg of 1000 at 4 g/t, assays 5, 5 and 4 %: accountability 103, 118 and 136 %, errors 6.1, 7.0 and 8.1."""
    streams = Streams(
        stream(mass=1000, grade=4.0, grade_rsd=0.05),
        stream(mass=1.2, grade=concentrate, grade_rsd=0.05),
        stream(mass=np.nan, grade=tail, grade_rsd=0.04),
    )
    found = closings(streams, balance(streams))[0]
    assert found is not None and found.closure is closure


@pytest.mark.parametrize(("concentrate", "closure"), [(1700.0, "closes"), (2000.0, "doubtful"), (2200.0, "fails")])
def test_without_assay_errors_ten_and_fifteen_per_cent_are_the_limits(concentrate: float, closure: str) -> None:
    streams = Streams(stream(mass=1000, grade=4.0), stream(mass=1.0, grade=concentrate), stream(mass=999, grade=2.5))
    found = closings(streams, balance(streams))[0]
    assert found is not None and found.closure == closure  # 104.9, 112.4 and 117.4 %


def test_one_sound_trial_in_two_has_a_doubtful_run() -> None:
    """Twelve runs at two standard errors: 1 - 0.9545**12 = 43 per cent, so a single flag is no failure."""
    draw = np.random.default_rng(33)
    shares = [np.any(np.abs(draw.standard_normal(12)) > DOUBTFUL_ERRORS) for _ in range(4000)]
    assert np.mean(shares) == pytest.approx(0.43, abs=0.03)
    assert most_doubtful(12) == 3 and most_doubtful(40) == 8


def test_a_run_left_out_takes_its_whole_pair_along() -> None:
    runs = [*full_ledger(), replace(full_ledger()[1], run="B1 again", recovery_percent=40.9)]
    runs[1] = replace(runs[1], excluded=True, exclusion_reason="pump")
    judgement = judge(runs, FULL_PLAN)
    assert judgement.layout.labels == tuple(str(pair) for pair in range(2, 11))
    assert judgement.layout.lone == ("A1", "B1 again")
    assert judgement.with_all is not None and judgement.with_all.comparison.units == (10, 10)


def test_feed_assays_stand_in_for_the_feed_grade_at_the_gate_alone() -> None:
    runs = [replace(run, feed_grade_g_t=None, feed_assay_g_t=run.feed_grade_g_t) for run in full_ledger()]
    judgement = judge(runs, replace(FULL_PLAN, basis=Basis.OVER_FEED, feed_grade=FeedGrade.INDEPENDENT))
    found = gate(judgement, "feed-grade")
    assert found.state is GateState.MET and "the balances' own feed assays" in found.text
    assert judgement.adjustment.result is None
    richer = of_b(runs, feed_assay_g_t=5.0)
    assert "feed grades differ" in gate(judge(richer, FULL_PLAN), "feed-grade").text
    with pytest.raises(ValueError, match="no column “feed_assay_g_t” of the runs to adjust for"):
        judge(runs, replace(FULL_PLAN, adjust_also=("feed_assay_g_t",)))

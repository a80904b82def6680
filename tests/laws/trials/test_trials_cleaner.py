"""A second product and the castings that ran: in the balance of a run, in the verdict, in tables."""

import pytest
from msgspec.structs import replace

from profiler.assess.trials.verdicts import evaluate_trial
from profiler.output.blocks.as_text import blocks_text
from profiler.output.tables.trial_csv import ledger_csv
from profiler.output.trials.run_blocks import run_blocks
from profiler.output.trials.trial_blocks import report_blocks
from profiler.study.ledger.reading import preview
from profiler.study.ledger.text_tables import read_table
from profiler.study.records.trial import Plan, Run, SampledStream, Trial
from profiler.words import Basis, GateState, VerdictState, Waiver


def cleaned_run(name: str, design: str, block: str, rich: float = 1450.0) -> Run:
    """The gold example of the n-product balance: 42.89 % to the cleaner's concentrate, 50.54 % to the bowl's."""
    return Run(
        name, design, block=block, feed=SampledStream(1000.0, (4.2,)), tail=SampledStream(995.35, (2.10,)),
        cleaner_concentrate=SampledStream(1.25, (rich,)), cleaner_tail=SampledStream(3.40, (95.0,)),
    )  # fmt: skip


def trial(basis: Basis) -> Trial:
    runs = []
    for pair in range(8):
        runs.append(cleaned_run(f"A{pair}", "A", str(pair), 1450.0 + 11 * (pair % 3)))
        runs.append(cleaned_run(f"B{pair}", "B", str(pair), 1600.0 + 7 * (pair % 4)))
    return Trial("T", tuple(runs), Plan(basis=basis, worthwhile_points=1.0))


@pytest.mark.parametrize(("basis", "recovery"), [(Basis.CLEANER, 42.8919), (Basis.BUILT_UP, 42.8919 + 7.6436)])
def test_recovery_is_to_either_product(basis, recovery):
    found = evaluate_trial(trial(basis))
    assert found.balances.recovery_pct[0] == pytest.approx(recovery, abs=1e-4)
    assert found.judgement is not None and found.judgement.verdict.favours == "B"
    assert 100 * found.balances.cleaner.to_tail.value[0] == pytest.approx(7.6436, abs=5e-5)
    assert "to the cleaner's tail" in blocks_text(run_blocks(found, 0))


def test_a_cleaner_tail_that_was_not_weighed_is_the_rest():
    run = replace(
        cleaned_run("1", "A", "1"), concentrate=SampledStream(4.65, ()), cleaner_tail=SampledStream(None, (95.0,))
    )
    told = replace(
        cleaned_run("2", "A", "1"),
        feed=SampledStream(1000.0, (4.225735,)),
        tail=SampledStream(None, (2.10,)),
        cleaner_tail=SampledStream(None, (95.0,)),
    )
    found = evaluate_trial(Trial("T", (run, told), Plan(basis=Basis.CLEANER))).balances
    assert found.cleaner.tail.mass == pytest.approx([3.40, 3.40], abs=1e-3)
    assert found.recovery_pct[0] == pytest.approx(42.8919, abs=1e-4)


def test_a_cleaner_that_does_not_close_or_stands_upside_down_is_flagged():
    open_run = replace(cleaned_run("1", "A", "1"), concentrate=SampledStream(4.65, (700.0,)))
    upside = replace(cleaned_run("2", "A", "1"), cleaner_tail=SampledStream(3.4, (1500.0,)))
    flags = [{f.code for f in of} for of in evaluate_trial(Trial("T", (open_run, upside))).balances.flags]
    assert "cleaner-does-not-close" in flags[0] and "cleaner-upside-down" in flags[1]
    sound = evaluate_trial(trial(Basis.CLEANER)).balances.flags
    assert not any(f.code.startswith("cleaner") for of in sound for f in of)


def test_the_new_columns_survive_a_table():
    runs = tuple(
        replace(run, serial=f"S{k % 3}", bowl_t=100.0 * k, removed_because="crack at the lip" if k == 5 else "")
        for k, run in enumerate(trial(Basis.CLEANER).runs)
    )
    seen = preview(read_table(ledger_csv(Trial("T", runs))))
    assert seen.runs == runs and not seen.questions


def with_serials(**by_design: tuple[str, ...]) -> Trial:
    count = dict.fromkeys(by_design, 0)
    runs = []
    for run in trial(Basis.CLEANER).runs:
        serials = by_design[run.design]
        serial = serials[count[run.design] % len(serials)]
        count[run.design] += 1
        runs.append(replace(run, serial=serial, wear_h=10.0 * len(runs)))
    return replace(trial(Basis.CLEANER), runs=tuple(runs))


def test_a_design_that_ran_as_one_casting_cannot_be_told_from_it():
    found = evaluate_trial(with_serials(A=("S1", "S2"), B=("S9",)))
    gate = next(g for g in found.judgement.verdict.gates if g.code == "castings")
    assert gate.state is GateState.FAILED and "all runs of “B” stand on one casting, S9" in gate.text
    assert found.judgement.verdict.state is VerdictState.NOT_FAIR
    waived = with_serials(A=("S1", "S2"), B=("S9",))
    waived = replace(waived, plan=replace(waived.plan, waivers=(Waiver("castings", "one mould, one pour"),)))
    assert evaluate_trial(waived).judgement.verdict.favours == "B"


def test_several_castings_of_each_meet_the_gate_and_none_named_asks_nothing():
    def gate(found):
        return next((g.state for g in found.judgement.verdict.gates if g.code == "castings"), None)

    assert gate(evaluate_trial(with_serials(A=("S1", "S2"), B=("S8", "S9")))) is GateState.MET
    assert gate(evaluate_trial(with_serials(A=("S1", ""), B=("S8", "S9")))) is GateState.NOT_RECORDED
    assert gate(evaluate_trial(trial(Basis.CLEANER))) is None


def test_the_report_lists_the_castings_with_hours_tonnes_and_why_they_were_taken_out():
    ran = with_serials(A=("S1", "S2"), B=("S8", "S9"))
    runs = tuple(replace(r, bowl_t=50.0 * k, removed_because="worn" if k == 15 else "") for k, r in enumerate(ran.runs))
    text = blocks_text(report_blocks(evaluate_trial(replace(ran, runs=runs))))
    assert "Castings that ran" in text and "worn" in text and "S9" in text

"""Runs told apart by their order: stretches of one bowl are no repeats, neighbours can be pairs."""

from dataclasses import replace
from datetime import datetime, timedelta

import numpy as np
import pytest

from profiler.statistics.trial.account import account
from profiler.statistics.trial.gates import Gate
from profiler.statistics.trial.judge import judge
from profiler.statistics.trial.mountings import mountings, neighbours, run_order
from profiler.statistics.trial.runs import TrialPlan, TrialRun
from profiler.words import GateState, Ordering, Structure

UNPAIRED = TrialPlan(structure=Structure.UNPAIRED, worthwhile_points=1.0)


def sequence(designs: str, *, dated: bool = True, gain: float = 0.0) -> list[TrialRun]:
    draw = np.random.default_rng(len(designs))
    start = datetime(2031, 3, 3)
    return [
        TrialRun(
            run=str(row),
            design=design,
            recovery_percent=float(40 + gain * (design == "B") + draw.normal()),
            began=start + timedelta(hours=6 * row) if dated else None,
        )
        for row, design in enumerate(designs)
    ]


def gate(runs: list[TrialRun], plan: TrialPlan = UNPAIRED) -> Gate | None:
    return next((gate for gate in judge(runs, plan).verdict.gates if gate.code == "units"), None)


def test_stretches_are_counted_against_chance() -> None:
    """Wald and Wolfowitz 1940: 2 nA nB/n + 1 runs of one kind in a random row."""
    order = run_order(sequence("AAABBBAAABBB"))
    assert [len(stretch) for stretch in order.stretches] == [3, 3, 3, 3]
    assert order.by_chance == pytest.approx(7.0)
    draw = np.random.default_rng(5)
    rows = [run_order(sequence("".join(draw.permutation(list("AAAAAABBBBBB"))))) for _ in range(2000)]
    assert np.mean([len(row.stretches) for row in rows]) == pytest.approx(7.0, abs=0.15)


@pytest.mark.parametrize("dated", [True, False])
@pytest.mark.parametrize(
    ("designs", "expected"),
    [("AAAABBBBAAAABBBB", GateState.FAILED), ("AAAAAAAABBBBBBBB", GateState.FAILED),
     ("ABABABABABABABAB", GateState.MET), ("AABBAABBAABBAABB", GateState.MET)],
)  # fmt: skip
def test_long_stretches_without_installations_close_the_trial(designs: str, expected: GateState, dated: bool) -> None:
    found = gate(sequence(designs, dated=dated))
    assert found is not None and found.state is expected
    if expected is GateState.FAILED:
        assert "mountings cannot be told apart" in found.text and "name the installation" in found.text


def test_a_ledger_without_dates_that_was_randomised_may_have_been_sorted() -> None:
    plan = replace(UNPAIRED, ordering=Ordering.RANDOMISED)
    found = gate(sequence("AAAAAAAABBBBBBBB", dated=False), plan)
    assert found is not None and found.state is GateState.NOT_RECORDED


def test_with_the_installations_named_the_stretches_do_not_matter() -> None:
    runs = sequence("AAAABBBBAAAABBBBAAAABBBBAAAABBBB")
    names = mountings(runs)
    assert list(dict.fromkeys(names.values())) == ["A-1", "B-1", "A-2", "B-2", "A-3", "B-3", "A-4", "B-4"]
    named = [replace(run, installation=names[run.run]) for run in runs]
    told = gate(named, replace(UNPAIRED, structure=Structure.INSTALLATIONS))
    assert told is not None and told.state is GateState.MET
    counted = gate(named)
    assert counted is not None and counted.state is GateState.FAILED
    assert judge(named, replace(UNPAIRED, structure=Structure.INSTALLATIONS)).comparison.units == (4, 4)


@pytest.mark.parametrize("seed", range(20))
def test_randomised_pairs_never_trip_it(seed: int) -> None:
    draw = np.random.default_rng(seed)
    designs = "".join("AB" if draw.random() < 0.5 else "BA" for _ in range(int(draw.integers(2, 30))))
    assert run_order(sequence(designs)).told_apart


def test_pairs_run_one_design_after_the_other_do_trip_it() -> None:
    runs = [
        replace(run, block=run.run if run.design == "A" else str(int(run.run) - 8))
        for run in sequence("A" * 8 + "B" * 8)
    ]
    found = gate(runs, replace(UNPAIRED, structure=Structure.PAIRS))
    assert found is not None and found.state is GateState.FAILED


def test_neighbours_are_proposed_where_the_designs_alternate() -> None:
    runs = sequence("ABBAABABBAAB")
    assert neighbours(runs) == (("0", "1"), ("2", "3"), ("4", "5"), ("6", "7"), ("8", "9"), ("10", "11"))
    assert "neighbours could be paired (6 pairs)" in account(judge(runs, UNPAIRED))
    assert neighbours(sequence("AAAABBBBAAAABBBB")) == ()
    blocks = {run: str(number) for number, pair in enumerate(neighbours(runs)) for run in pair}
    paired = [replace(run, block=blocks[run.run]) for run in runs]
    assert judge(paired, replace(UNPAIRED, structure=Structure.PAIRS)).neighbours == ()
    assert judge(paired, UNPAIRED).neighbours == ()  # pairs are recorded

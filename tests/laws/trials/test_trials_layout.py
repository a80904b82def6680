"""What counts as one observation: pairs, installations, blocks of two machines."""

from dataclasses import replace
from datetime import datetime, timedelta

import numpy as np
import pytest

from profiler.statistics.inference.comparison import Kind
from profiler.statistics.inference.differences import exchanged, metal_weighted, paired, unpaired
from profiler.statistics.inference.probability import t_quantile
from profiler.statistics.inference.ratio import relative_gain
from profiler.statistics.trial.account import account
from profiler.statistics.trial.judge import judge
from profiler.statistics.trial.layout import lay_out
from profiler.statistics.trial.runs import COLUMNS, TrialPlan, TrialRun
from profiler.words import Structure
from tests.laws.trials.test_trials_two_sets import GAIN_B, RECOVERY_A, ledger, plan


def test_the_reference_is_the_first_design_by_name_unless_named() -> None:
    runs = ledger(GAIN_B)
    for order in (runs, runs[::-1]):  # what ran first is a coin toss
        judgement = judge(order, plan(1.0))
        assert judgement.comparison.difference == pytest.approx(2.47)
        assert "No reference is named: A, the first by name" in account(judgement)
    assert "No reference" not in account(judge(runs, replace(plan(1.0), reference="A")))
    assert judge(runs, replace(plan(1.0), reference="B")).comparison.difference == pytest.approx(-2.47)


def test_the_order_of_rows_does_not_matter() -> None:
    runs = ledger(GAIN_B)
    shuffled = [runs[index] for index in np.random.default_rng(3).permutation(len(runs))]
    named = replace(plan(1.0), reference="A")
    assert judge(shuffled, named).comparison.interval95.low == pytest.approx(
        judge(runs, named).comparison.interval95.low
    )


def test_runs_without_a_partner_are_named_and_left_out() -> None:
    runs = [run for run in ledger(GAIN_B) if run.run not in ("A3", "B7")]
    runs[0] = replace(runs[0], recovery_percent=None)
    layout = lay_out(runs, Structure.PAIRS)
    assert layout.lone == ("B1", "B3", "A7")
    assert layout.unmeasured == ("A1",)
    assert len(layout.reference) == len(layout.new) == 7


def test_cycles_are_averaged_by_metal_within_an_installation() -> None:
    runs = [
        TrialRun(run=f"{design}{mount}{cycle}", design=design, installation=f"{design}{mount}", block=str(mount),
                 recovery_percent=30.0 + 10 * cycle + mount + gain, feed_metal_g=metal)
        for mount in range(3)
        for design, gain in (("A", 0.0), ("B", 2.0 + mount / 10))
        for cycle, metal in enumerate((300.0, 100.0))
    ]  # fmt: skip
    layout = lay_out(runs, Structure.INSTALLATIONS)
    assert (layout.kind, layout.noun) == (Kind.PAIRED, "pair of installations")
    first, second = layout.values("recovery_percent")
    assert first == pytest.approx([32.5, 33.5, 34.5])  # 30 and 40 weighted 3 to 1
    assert second - first == pytest.approx([2.0, 2.1, 2.2])
    assert layout.fed_metal()[0] == pytest.approx([400.0] * 3)
    even = [replace(run, feed_metal_g=None) for run in runs]
    assert lay_out(even, Structure.INSTALLATIONS).values("recovery_percent")[0] == pytest.approx([35, 36, 37])


def test_installations_without_common_blocks_are_compared_unpaired() -> None:
    draw = np.random.default_rng(8)
    runs = [
        TrialRun(run=f"{design}{mount}-{cycle}", design=design, installation=f"{design}{mount}",
                 recovery_percent=float(40 + draw.normal()))
        for design in "AB" for mount in range(3) for cycle in range(20)
    ]  # fmt: skip
    judgement = judge(runs, plan(1.0, Structure.INSTALLATIONS))
    assert judgement.comparison.kind is Kind.UNPAIRED
    assert judgement.comparison.units == (3, 3)  # not 60 and 60
    assert judgement.verdict.state == 6  # four of each are the least for a firm word


def test_an_installation_of_two_designs_is_refused() -> None:
    runs = [replace(run, installation="one") for run in ledger(GAIN_B)]
    with pytest.raises(ValueError, match="Installation “one” holds cycles of more than one design"):
        lay_out(runs, Structure.INSTALLATIONS)


def exchange(machine_gap: float, gain: float, noise: float = 0.3, blocks: int = 8) -> list[TrialRun]:
    draw = np.random.default_rng(12)
    runs = []
    for block in range(blocks):
        for machine in ("north", "south"):
            new = (machine == "south") == (block < blocks // 2)
            recovery = 40 + 0.2 * block + machine_gap * (machine == "south") + gain * new + draw.normal(0, noise)
            runs.append(
                TrialRun(
                    run=f"{block}{machine}",
                    design="B" if new else "A",
                    block=str(block),
                    machine=machine,
                    recovery_percent=float(recovery),
                )
            )
    return runs


def test_exchanging_the_bowls_removes_the_difference_of_the_machines() -> None:
    apart = [judge(exchange(gap, 2.0), plan(1.0, Structure.EXCHANGED)).comparison for gap in (0.0, 10.0)]
    assert apart[0].difference == pytest.approx(apart[1].difference, abs=1e-9)
    assert apart[0].standard_error == pytest.approx(apart[1].standard_error, abs=1e-9)
    assert apart[0].difference == pytest.approx(2.0, abs=3 * apart[0].standard_error)
    pairs = judge(exchange(10.0, 2.0), plan(1.0, Structure.PAIRS)).comparison
    assert pairs.standard_error > 5 * apart[1].standard_error


def test_an_exchange_says_which_machine_carried_which_bowl_and_looks_for_drift_within_each() -> None:
    start = datetime(2031, 4, 1)
    runs = [replace(run, began=start + timedelta(days=int(run.block))) for run in exchange(10.0, 2.0)]
    judgement = judge(runs, plan(1.0, Structure.EXCHANGED))
    assert judgement.layout.swapped == (False,) * 4 + (True,) * 4  # the second machine first carries the new bowl
    assert judgement.permutation.upper == pytest.approx(1 / 70)  # one of the ways to pick 4 blocks of 8
    assert judgement.drift is not None
    assert abs(judgement.drift.slope) < 1.0  # the exchange itself is a step of 20 points


def test_an_exchange_has_the_ratio_where_its_own_t_just_rejects() -> None:
    first, second = np.array(RECOVERY_A), np.array(GAIN_B)
    swapped = np.array([False, False, True, True, True] * 2)
    found = relative_gain(Kind.EXCHANGED, first, second, swapped)
    assert found is not None
    df = exchanged(found.estimate * first, second + 1e-9, swapped).df
    for limit in (found.interval.low, found.interval.high):
        assert abs(exchanged(limit * first, second, swapped).t) == pytest.approx(t_quantile(0.975, df), rel=1e-6)


def test_an_exchange_is_half_the_difference_of_differences() -> None:
    found = exchanged([40, 41, 42, 50, 51, 53], [43, 45, 45, 51, 51, 54], [False] * 3 + [True] * 3)
    between = unpaired([-1, 0, -1], [3, 4, 3])  # second machine less first, before and after the exchange
    assert found.difference == pytest.approx(between.difference / 2)
    assert found.standard_error == pytest.approx(between.standard_error / 2)
    assert found.df == pytest.approx(between.df)


def test_an_exchange_needs_two_named_machines_and_one_design_on_each() -> None:
    runs = exchange(1.0, 1.0)
    with pytest.raises(ValueError, match="need the machine named in every run"):
        lay_out([replace(run, machine="north") for run in runs], Structure.EXCHANGED)
    runs[1] = replace(runs[1], design=runs[0].design)
    assert lay_out(runs, Structure.EXCHANGED).lone == ("0north", "0south")
    mixed = [*exchange(1.0, 1.0), replace(exchange(1.0, 1.0)[0], run="extra", machine="south")]
    with pytest.raises(ValueError, match="Block “0” must hold one design on each"):
        lay_out(mixed, Structure.EXCHANGED)


def test_equal_weights_change_nothing_and_unequal_ones_widen() -> None:
    first, second = np.array(RECOVERY_A), np.array(GAIN_B)
    for found in (paired(first, second), unpaired(first, second)):
        same = metal_weighted(found, (first, second), (np.full(10, 5.0), np.full(10, 5.0)))
        assert same.difference == pytest.approx(found.difference)
        assert same.standard_error == pytest.approx(found.standard_error)
        uneven = np.arange(1.0, 11.0)
        assert metal_weighted(found, (first, second), (uneven, uneven)).standard_error > found.standard_error
    swapped = np.array([False, True] * 5)
    found = exchanged(first, second, swapped)
    same = metal_weighted(found, (first, second), (np.ones(10), np.ones(10)), swapped)
    assert (same.difference, same.standard_error) == (
        pytest.approx(found.difference),
        pytest.approx(found.standard_error),
    )


def test_days_run_on_over_the_turn_of_the_year() -> None:
    get = COLUMNS["started_day"].get
    eve = TrialRun(run="1", design="A", recovery_percent=1.0, began=datetime(2031, 12, 31, 18))
    morning = replace(eve, began=datetime(2032, 1, 1, 6))
    assert (get(morning) or 0) - (get(eve) or 0) == pytest.approx(0.5)


def test_every_column_is_a_field_of_a_run() -> None:
    run = TrialRun(run="1", design="A", recovery_percent=1.0)
    for name, column in COLUMNS.items():
        if name != "started_day":
            assert column.get(replace(run, **{name: 3.5})) == 3.5


@pytest.mark.parametrize("structure", list(Structure))
def test_every_structure_gives_a_verdict(structure: Structure) -> None:
    runs = [replace(run, installation=run.run) for run in exchange(1.0, 2.0, blocks=12)]
    judgement = judge(runs, TrialPlan(structure=structure, worthwhile_points=1.0))
    assert judgement.verdict.interval95.low < judgement.comparison.difference < judgement.verdict.interval95.high

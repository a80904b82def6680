"""Which design is called the reference turns signs and nothing else: a property of whole judgements."""

from dataclasses import replace
from datetime import datetime, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from profiler.statistics.trial.judge import judge
from profiler.statistics.trial.runs import TrialPlan, TrialRun
from profiler.words import Structure


def some_runs(seed: int, structure: Structure, units: int, gain: float) -> list[TrialRun]:
    """A ledger of the structure with feed, settings and start times, some of them a little apart."""
    draw = np.random.default_rng(seed)
    start, runs = datetime(2031, 3, 3, 8), []
    for unit in range(units):
        swapped = structure is Structure.EXCHANGED and unit >= units // 2
        lot, first = draw.normal(40, 2), draw.random() < 0.5
        for design, more in (("A", 0.0), ("B", gain)) if first else (("B", gain), ("A", 0.0)):
            for cycle in range(2 if structure is Structure.INSTALLATIONS else 1):
                runs.append(
                    TrialRun(
                        run=f"{design}{unit}-{cycle}",
                        design=design,
                        block="" if structure is Structure.UNPAIRED else str(unit),
                        installation=f"{design}{unit}",
                        machine=("north" if (design == "A") != swapped else "south"),
                        recovery_percent=float(lot + more + draw.normal(0, 0.8)),
                        began=start + timedelta(hours=5 * len(runs)),
                        feed_grade_g_t=float(draw.normal(4.0, 0.35)),
                        feed_f80_um=float(draw.normal(180, 20)),
                        speed_rpm=float(640 + 8 * draw.integers(0, 2)),
                        cycle_min=float(draw.normal(60, 5)),
                        wear_h=float(draw.uniform(10, 14)),
                        feed_metal_g=float(draw.uniform(100, 200)),
                        downstream_g_t=float(draw.normal(2.4, 0.2)),
                    )
                )
    return runs


@settings(max_examples=40, deadline=None)
@given(
    st.integers(0, 10_000),
    st.sampled_from([s for s in Structure if s is not Structure.BEFORE_AFTER]),
    st.integers(4, 14),
    st.sampled_from([0.0, 0.8, 2.5]),
)
def test_swapping_the_reference_mirrors_the_judgement(seed: int, structure: Structure, units: int, gain: float) -> None:
    runs = some_runs(seed, structure, units, gain)
    plan = TrialPlan(structure=structure, reference="A", worthwhile_points=1.0)
    one, other = judge(runs, plan), judge(runs, replace(plan, reference="B"))
    there, back = one.comparison, other.comparison
    assert back.difference == pytest.approx(-there.difference, abs=1e-12)
    assert (back.interval95.low, back.interval95.high) == pytest.approx((-there.interval95.high, -there.interval95.low))
    assert back.p == pytest.approx(there.p)
    assert other.permutation.two_sided == pytest.approx(one.permutation.two_sided)
    assert (other.verdict.state, other.verdict.favours, other.verdict.size) == (
        one.verdict.state,
        one.verdict.favours,
        one.verdict.size,
    )
    assert [(gate.code, gate.state) for gate in other.verdict.gates] == [
        (gate.code, gate.state) for gate in one.verdict.gates
    ]
    assert (other.needed, other.detectable_points) == (one.needed, pytest.approx(one.detectable_points))


@pytest.mark.parametrize("sizes", [(9, 14), (14, 9), (12, 12)])
def test_drawn_shuffles_are_the_same_seen_from_either_side(sizes: tuple[int, int]) -> None:
    from profiler.statistics.inference.permutation import label_shuffles

    draw = np.random.default_rng(8)
    first, second = draw.normal(40, 1, sizes[0]), draw.normal(40.8, 2, sizes[1])
    one, other = label_shuffles(first, second), label_shuffles(second, first)
    assert not one.exact
    assert one.two_sided == other.two_sided

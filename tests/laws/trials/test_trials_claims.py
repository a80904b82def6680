"""How often a trial speaks: rarely of alike designs, and in 80 of 100 trials of a planned size where it should.

Whole ledgers, judged with all gates; a claim is a firm word for either design. Limits: 3.5 to 6.5 per cent of alike
designs where the structure is told, at most 6.5 where it is not, 77 to 83 per cent at the planner's size. The short
twins of 300 trials get two binomial standard deviations more on either side.
"""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta

import numpy as np
import pytest
from scipy import stats

from profiler.statistics.inference.comparison import Kind
from profiler.statistics.inference.permutation import DRAWS, label_shuffles
from profiler.statistics.trial.judge import verdict_on
from profiler.statistics.trial.mountings import mountings
from profiler.statistics.trial.planner import trial_size
from profiler.statistics.trial.runs import TrialPlan, TrialRun
from profiler.words import GateCode, Ordering, Structure

COUNTS = [300, pytest.param(4000, marks=pytest.mark.long)]
Ledger = Callable[[np.random.Generator, float, int], list[TrialRun]]
START = datetime(2031, 1, 1)
LOT, MOUNTING, CYCLE, CYCLES = 3.0, 1.0, 1.2, 3  # points: from lot to lot, mounting to mounting, cycle to cycle


def run(runs: list[TrialRun], design: str, recovery: float, **members: str) -> None:
    began = START + timedelta(hours=6 * len(runs))
    runs.append(TrialRun(run=str(len(runs)), design=design, recovery_percent=recovery, began=began, **members))  # type: ignore[arg-type]


def pairs(draw: np.random.Generator, gain: float, units: int) -> list[TrialRun]:
    runs: list[TrialRun] = []
    for pair in range(units):
        lot = draw.normal(40, LOT)
        for design in draw.permutation(["A", "B"]):
            run(runs, str(design), lot + gain * (design == "B") + draw.normal(0, 1.0), block=str(pair))
    return runs


def singly_mounted(draw: np.random.Generator, gain: float, units: int) -> list[TrialRun]:
    """Unpaired runs in a random order, each a mounting of its own and named so."""
    runs: list[TrialRun] = []
    for design in draw.permutation(["A", "B"] * units):
        run(runs, str(design), 40 + gain * (design == "B") + draw.normal(0, 1.4), installation=f"m{len(runs)}")
    return runs


def mounted(draw: np.random.Generator, gain: float, units: int) -> list[TrialRun]:
    """Mountings in turn, each cycled three times."""
    runs: list[TrialRun] = []
    for mounting in range(2 * units):
        design = "AB"[mounting % 2]
        level = 40 + gain * (design == "B") + draw.normal(0, MOUNTING)
        for _ in range(CYCLES):
            run(runs, design, level + draw.normal(0, CYCLE), installation=f"{design}{mounting}")
    return runs


def mounted_pairs(draw: np.random.Generator, gain: float, units: int) -> list[TrialRun]:
    """Two mountings on every lot, in a random order."""
    runs: list[TrialRun] = []
    for pair in range(units):
        lot = draw.normal(40, LOT)
        for design in draw.permutation(["A", "B"]):
            level = lot + gain * (design == "B") + draw.normal(0, MOUNTING)
            for _ in range(CYCLES):
                run(runs, str(design), level + draw.normal(0, CYCLE), block=str(pair), installation=f"{design}{pair}")
    return runs


def exchanged(draw: np.random.Generator, gain: float, units: int) -> list[TrialRun]:
    """Two machines, one of them better, whose bowls change places half-way."""
    runs: list[TrialRun] = []
    for block in range(units):
        lot = draw.normal(40, LOT)
        for machine in ("north", "south"):
            design = "A" if (machine == "north") == (block < units // 2) else "B"
            recovery = lot + 2.0 * (machine == "south") + gain * (design == "B") + draw.normal(0, 1.0)
            run(runs, design, recovery, block=str(block), machine=machine)
    return runs


OF_A_MOUNTING = (MOUNTING**2 + CYCLE**2 / CYCLES) ** 0.5
OF_TWO = 2**0.5 * OF_A_MOUNTING
# how the trial is laid out, its kind for the planner, the spread of what repeats, and a gain for which a whole number
# of repeats has 80 to 80.5 per cent power
TOLD = {
    "pairs": (pairs, Structure.PAIRS, Kind.PAIRED, 2**0.5, 1.00 * 2**0.5),
    "single mountings": (singly_mounted, Structure.UNPAIRED, Kind.UNPAIRED, 1.4, 1.26 * 1.4),
    "cycles within mountings": (mounted, Structure.INSTALLATIONS, Kind.UNPAIRED, OF_A_MOUNTING, 1.64 * OF_A_MOUNTING),
    "pairs of mountings": (mounted_pairs, Structure.INSTALLATIONS, Kind.PAIRED, OF_TWO, 1.16 * OF_TWO),
    "exchanged machines": (exchanged, Structure.EXCHANGED, Kind.EXCHANGED, 2**0.5, 0.90 * 2**0.5),
}


def claims(ledger: Ledger, structure: Structure, units: int, gain: float, count: int, seed: int) -> tuple[float, float]:
    """Shares of firm words for the new design and for either."""
    draw = np.random.default_rng(seed)
    plan = TrialPlan(structure=structure, reference="A", worthwhile_points=0.5, ordering=Ordering.RANDOMISED)
    favoured = [verdict_on(ledger(draw, gain, units), plan).favours for _ in range(count)]
    return favoured.count("B") / count, (count - favoured.count(None)) / count


def loose(count: int, share: float) -> float:
    return 2.0 * (share * (1.0 - share) / count) ** 0.5 if count < 1000 else 0.0


@pytest.mark.parametrize("count", COUNTS)
@pytest.mark.parametrize("told", TOLD)
def test_alike_designs_are_rarely_called_different_where_the_structure_is_told(told: str, count: int) -> None:
    ledger, structure, kind, spread, gain = TOLD[told]
    _, either = claims(ledger, structure, trial_size(gain, spread, kind).units, 0.0, count, 501)
    assert 0.035 - loose(count, 0.05) <= either <= 0.065 + loose(count, 0.05)


@pytest.mark.parametrize("count", COUNTS)
@pytest.mark.parametrize("told", TOLD)
def test_a_trial_of_the_planners_size_speaks_of_the_planned_gain(told: str, count: int) -> None:
    ledger, structure, kind, spread, gain = TOLD[told]
    new, either = claims(ledger, structure, trial_size(gain, spread, kind).units, gain, count, 502)
    assert 0.77 - loose(count, 0.8) <= new <= 0.83 + loose(count, 0.8)
    assert either - new < 0.005  # hardly ever for the wrong one


def stretched(least: int, most: int, dated: bool) -> Ledger:
    """Cycles of mountings in turn without a word of installations."""

    def ledger(draw: np.random.Generator, gain: float, units: int) -> list[TrialRun]:
        runs: list[TrialRun] = []
        for mounting in range(2 * units):
            design, level = "AB"[mounting % 2], 40 + draw.normal(0, 1.5)
            for _ in range(int(draw.integers(least, most + 1))):
                run(runs, design, level + draw.normal())
        return (
            runs if dated else [TrialRun(run=r.run, design=r.design, recovery_percent=r.recovery_percent) for r in runs]
        )

    return ledger


@pytest.mark.parametrize(
    ("least", "most", "dated", "count"),
    [(4, 8, True, 300), (2, 4, False, 300)]
    + [pytest.param(*lengths, dated, 4000, marks=pytest.mark.long)
       for lengths in ((4, 8), (3, 5), (2, 6), (2, 4)) for dated in (True, False)],
)  # fmt: skip
def test_alike_designs_in_stretches_are_not_called_different_where_mountings_are_not_told(
    least: int, most: int, dated: bool, count: int
) -> None:
    draw = np.random.default_rng(503)
    plan = TrialPlan(structure=Structure.UNPAIRED, reference="A", worthwhile_points=0.5)
    ledger = stretched(least, most, dated)
    favoured = [verdict_on(ledger(draw, 0.0, 5), plan).favours for _ in range(count)]
    assert (count - favoured.count(None)) / count <= 0.065 + loose(count, 0.05)


@pytest.mark.parametrize("count", COUNTS)
def test_with_the_mountings_told_the_same_ledgers_are_judged_and_rarely_claim(count: int) -> None:
    """The same stretches with the installation named: four mountings of each design and more."""
    draw = np.random.default_rng(504)
    plan = TrialPlan(structure=Structure.INSTALLATIONS, reference="A", worthwhile_points=0.5)
    found = 0
    for _ in range(count):
        runs = stretched(4, 8, True)(draw, 0.0, 5)
        names = mountings(runs)
        verdict = verdict_on([replace(r, installation=names[r.run]) for r in runs], plan)
        assert GateCode.UNITS not in [gate.code for gate in verdict.failed]
        found += verdict.favours is not None
    assert found / count <= 0.065 + loose(count, 0.05)


def test_every_choice_of_the_smaller_side_is_drawn_alike() -> None:
    """Three ones among nineteen zeros: how often all three lie in a side of eight, by the hypergeometric law."""
    values = np.array([1.0] * 3 + [0.0] * 19)
    found = label_shuffles(values[8:], values[:8])  # all three ones in the new side of eight
    expected = stats.hypergeom(22, 3, 8).sf(2)  # more than two of the three
    assert not found.exact
    assert found.upper == pytest.approx(expected, abs=4 * (expected / DRAWS) ** 0.5)

"""From runs to what counts as one observation: a pair, an installation, a run, a block of two machines.

Cycles of one installation are not repeats of the trial; they are averaged first, weighted by the metal fed where
that is known. Runs without a partner are left out and named. Not here: the test (differences).
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np

from profiler.statistics.inference.comparison import Kind, Values
from profiler.statistics.trial.runs import COLUMNS, TrialRun
from profiler.words import Structure

Mounted = tuple[TrialRun, ...]  # runs averaged together: the cycles of one installation, or a single run
Unit = tuple[Mounted, ...]  # one side of an observation: the mean of its installations


@dataclass(frozen=True)
class Layout:
    """Observations of the reference and the new design; paired and exchanged ones stand in the same order.

    `swapped`: exchanged machines only, true where the second machine carries the reference. `lone` names runs
    left out for want of a partner (or with one that was left out), `unmeasured` those without a recovery.
    """

    kind: Kind
    noun: str
    reference_design: str
    new_design: str
    reference: tuple[Unit, ...]
    new: tuple[Unit, ...]
    labels: tuple[str, ...]
    swapped: tuple[bool, ...]
    lone: tuple[str, ...]
    unmeasured: tuple[str, ...]
    _seen: dict[str, tuple[Values, Values]] = field(default_factory=dict, compare=False, repr=False)

    def counted(self, count: int) -> str:
        """The noun for so many observations."""
        if count == 1:
            return self.noun
        return "pairs of installations" if self.noun == "pair of installations" else f"{self.noun}s"

    def values(self, column: str) -> tuple[Values, Values]:
        """A column of `runs.COLUMNS` per observation, (n,) and (m,); NaN where no run of it has a value."""
        if column not in self._seen:  # asked for by every gate: averaged once
            sides = (np.array([_unit_mean(unit, column) for unit in side]) for side in (self.reference, self.new))
            self._seen[column] = next(sides), next(sides)
        return self._seen[column]

    def complete(self, column: str) -> tuple[Values, Values, tuple[bool, ...], int]:
        """Values of the observations that have both sides (paired), `swapped` for these, and how many lack one."""
        first, second = self.values(column)
        if self.kind is Kind.UNPAIRED:
            kept_first, kept_second = np.isfinite(first), np.isfinite(second)
            lost = int(np.count_nonzero(~kept_first) + np.count_nonzero(~kept_second))
            return first[kept_first], second[kept_second], (), lost
        both = np.isfinite(first) & np.isfinite(second)
        turned = tuple(np.array(self.swapped, dtype=bool)[both].tolist()) if self.swapped else ()
        return first[both], second[both], turned, int(np.count_nonzero(~both))

    def fed_metal(self) -> tuple[Values, Values]:
        """Metal fed to each observation in g, NaN where a run of it has none recorded."""
        return (
            np.array([_unit_metal(unit) for unit in self.reference]),
            np.array([_unit_metal(unit) for unit in self.new]),
        )

    def runs(self) -> tuple[TrialRun, ...]:
        """All runs that take part."""
        return tuple(run for unit in (*self.reference, *self.new) for mounted in unit for run in mounted)


def lay_out(runs: Sequence[TrialRun], structure: Structure, reference: str = "") -> Layout:
    """Observations of the runs that are not excluded. ValueError where the structure does not fit the runs."""
    _refuse_repeated_names(runs)
    taken = [run for run in runs if not run.excluded]
    if not taken:
        raise ValueError(
            "There is no run to compare: " + ("every run is excluded." if runs else "the ledger is empty.")
        )
    first, second = _designs(taken, reference)
    unmeasured = tuple(run.run for run in taken if run.recovery_percent is None)
    measured = [run for run in taken if run.recovery_percent is not None]
    kind, noun, sides = _SORT[structure](measured, first, second)
    if structure in _BROKEN_BY_EXCLUSION:
        sides = sides.without({run.block for run in runs if run.excluded and run.block})
    layout = Layout(
        kind=kind,
        noun=noun,
        reference_design=first,
        new_design=second,
        reference=sides.reference,
        new=sides.new,
        labels=sides.labels,
        swapped=sides.swapped,
        lone=sides.lone,
        unmeasured=unmeasured,
    )
    if not layout.reference or not layout.new:
        raise ValueError(_nothing_left(layout, structure))
    return layout


@dataclass(frozen=True)
class _Sides:
    reference: tuple[Unit, ...]
    new: tuple[Unit, ...]
    labels: tuple[str, ...] = ()
    swapped: tuple[bool, ...] = ()
    lone: tuple[str, ...] = ()

    def without(self, blocks: set[str]) -> "_Sides":
        """Leave these pairs out whole; their runs join those without a partner."""
        kept = [k for k, label in enumerate(self.labels) if label not in blocks]
        gone = [k for k, label in enumerate(self.labels) if label in blocks]
        lone = [run.run for k in gone for unit in (self.reference[k], self.new[k]) for runs in unit for run in runs]
        return _Sides(
            tuple(self.reference[k] for k in kept),
            tuple(self.new[k] for k in kept),
            tuple(self.labels[k] for k in kept),
            tuple(self.swapped[k] for k in kept) if self.swapped else (),
            (*self.lone, *lone),
        )


def _refuse_repeated_names(runs: Iterable[TrialRun]) -> None:
    seen: set[str] = set()
    for run in runs:
        if run.run in seen:
            raise ValueError(f"The run name “{run.run}” stands twice in the ledger; each run needs its own.")
        seen.add(run.run)


def _designs(runs: Sequence[TrialRun], reference: str) -> tuple[str, str]:
    """Reference and new design; without a reference named the first by name, never by what happened to run first."""
    designs = sorted({run.design for run in runs})
    if len(designs) != 2:
        named = ", ".join(f"“{design}”" for design in designs)
        raise ValueError(f"A comparison needs runs of exactly two designs; these are of {len(designs)}: {named}.")
    if reference and reference not in designs:
        raise ValueError(f"The reference “{reference}” is not among the designs that ran: {', '.join(designs)}.")
    first = reference or designs[0]
    return first, next(design for design in designs if design != first)


def _pairs(runs: Sequence[TrialRun], first: str, second: str) -> tuple[Kind, str, _Sides]:
    return Kind.PAIRED, "pair", _matched(runs, first, second, lambda run: run.block, _single_runs)


def _unpaired(runs: Sequence[TrialRun], first: str, second: str) -> tuple[Kind, str, _Sides]:
    units: list[tuple[Unit, ...]] = [
        tuple(((run,),) for run in runs if run.design == design) for design in (first, second)
    ]
    return Kind.UNPAIRED, "run", _Sides(units[0], units[1])


def _installations(runs: Sequence[TrialRun], first: str, second: str) -> tuple[Kind, str, _Sides]:
    """Paired by block if every installation belongs to one that holds both designs, otherwise unpaired."""
    mounted = _mounted(runs)
    blocks = {group[0].block for group in mounted}
    both = all({group[0].design for group in mounted if group[0].block == block} == {first, second} for block in blocks)
    if both and "" not in blocks:
        return (
            Kind.PAIRED,
            "pair of installations",
            _matched(runs, first, second, lambda run: run.block, lambda side: tuple(_mounted(side))),
        )
    units = [tuple((group,) for group in mounted if group[0].design == design) for design in (first, second)]
    return Kind.UNPAIRED, "installation", _Sides(units[0], units[1])


def _exchanged(runs: Sequence[TrialRun], first: str, second: str) -> tuple[Kind, str, _Sides]:
    machines = list(dict.fromkeys(run.machine for run in runs))
    if len(machines) != 2 or "" in machines:
        raise ValueError(
            "Two machines with the bowls exchanged need the machine named in every run, and exactly two of them; "
            f"these are: {', '.join(machine or '(none)' for machine in machines)}."
        )
    sides = _matched(runs, first, second, lambda run: run.block, _single_runs)
    swapped = []
    for label, old, new in zip(sides.labels, sides.reference, sides.new, strict=True):
        carried = (
            {run.machine for group in old for run in group},
            {run.machine for group in new for run in group},
        )
        if len(carried[0]) != 1 or len(carried[1]) != 1 or carried[0] == carried[1]:
            raise ValueError(f"Block “{label}” must hold one design on each of the two machines.")
        swapped.append(carried[0] == {machines[1]})
    return (
        Kind.EXCHANGED,
        "block",
        _Sides(sides.reference, sides.new, sides.labels, tuple(swapped), sides.lone),
    )


_SORT: dict[Structure, Callable[[Sequence[TrialRun], str, str], tuple[Kind, str, _Sides]]] = {
    Structure.PAIRS: _pairs,
    Structure.INSTALLATIONS: _installations,
    Structure.UNPAIRED: _unpaired,
    Structure.EXCHANGED: _exchanged,
    Structure.BEFORE_AFTER: _unpaired,
}


_BROKEN_BY_EXCLUSION = (Structure.PAIRS, Structure.EXCHANGED)  # a run left out takes its whole pair along


def _matched(
    runs: Sequence[TrialRun],
    first: str,
    second: str,
    key: Callable[[TrialRun], str],
    mounted: Callable[[Sequence[TrialRun]], Unit],
) -> _Sides:
    blocks: dict[str, list[TrialRun]] = {}
    for run in runs:
        blocks.setdefault(key(run), []).append(run)
    reference: list[Unit] = []
    new: list[Unit] = []
    labels: list[str] = []
    lone: list[str] = []
    for label, members in blocks.items():
        old = [run for run in members if run.design == first]
        fresh = [run for run in members if run.design == second]
        if label == "" or not old or not fresh:
            lone.extend(run.run for run in members)
            continue
        reference.append(mounted(old))
        new.append(mounted(fresh))
        labels.append(label)
    return _Sides(tuple(reference), tuple(new), tuple(labels), (), tuple(lone))


def _single_runs(side: Sequence[TrialRun]) -> Unit:
    return tuple((run,) for run in side)


def _mounted(runs: Sequence[TrialRun]) -> list[Mounted]:
    groups: dict[str, list[TrialRun]] = {}
    for run in runs:
        if not run.installation:
            raise ValueError(f"Run “{run.run}” names no installation; cycles within installations need one each.")
        groups.setdefault(run.installation, []).append(run)
    for name, cycles in groups.items():
        if len({(run.design, run.block) for run in cycles}) != 1:
            raise ValueError(f"Installation “{name}” holds cycles of more than one design or block.")
    return [tuple(cycles) for cycles in groups.values()]


def _unit_mean(unit: Unit, column: str) -> float:
    means = [mean for mean in (_mounted_mean(mounted, column) for mounted in unit) if mean is not None]
    return sum(means) / len(means) if means else float("nan")


def _unit_metal(unit: Unit) -> float:
    metal = [run.feed_metal_g for mounted in unit for run in mounted]
    return sum(float("nan") if grams is None else grams for grams in metal)


def _mounted_mean(mounted: Mounted, column: str) -> float | None:
    get = COLUMNS[column].get
    known = [(value, run.feed_metal_g) for run in mounted if (value := get(run)) is not None]
    if not known:
        return None
    if column == "recovery_percent" and all(metal is not None and metal > 0.0 for _, metal in known):
        total = sum(metal for _, metal in known if metal is not None)
        return sum(value * metal for value, metal in known if metal is not None) / total
    return sum(value for value, _ in known) / len(known)


def _nothing_left(layout: Layout, structure: Structure) -> str:
    reasons = []
    if layout.lone:
        reasons.append(f"without a partner: {', '.join(layout.lone)}")
    if layout.unmeasured:
        reasons.append(f"without a recovery: {', '.join(layout.unmeasured)}")
    return f"No {layout.noun} of both designs is left to compare ({structure.value}; {'; '.join(reasons)})."

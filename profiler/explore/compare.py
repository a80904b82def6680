"""Several designs on one machine under the same duties: every number from evaluate(), side by side.

Better is said only where it has a meaning (`Sense`): a state of the slurry is neither good nor bad by itself, a finding
that stops a design is, and so is the energy a guard must hold.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import Enum
from functools import cached_property
from math import isfinite, nan

from profiler.assess import Evaluation, Severity, evaluate
from profiler.assess.flow.sizes import size_words
from profiler.assess.quantities.table import STATE_KEYS, quantity
from profiler.explore.lineages import Told, lineages
from profiler.explore.what_else import what_else_differs
from profiler.numbers import NOTHING, counted, fixed
from profiler.physics.slurry.overturn import State
from profiler.progress import SILENT, Progress
from profiler.study import Design, Duty, Study


class Sense(Enum):
    """Which way is better, if any."""

    NONE = 0
    LESS = -1
    MORE = 1


@dataclass(frozen=True, slots=True)
class Row:
    """A number that is compared; `get` gives it for one design under one duty, nan where there is none."""

    key: str
    label: str
    unit: str
    decimals: int
    sense: Sense
    get: Callable[[Evaluation], float]

    def text(self, value: float, signed: bool = False, finer: int = 0) -> str:
        """The number with its unit and `finer` more decimals; a dash where there is none."""
        if not isfinite(value):
            return NOTHING
        return f"{fixed(value, self.decimals + finer, signed)} {self.unit}".strip()


@dataclass(frozen=True)
class DesignResult:
    """One design under every duty asked: the one shown first, then those of the ore window."""

    design: Design
    shown: Evaluation
    window: tuple[Evaluation, ...]
    weights: tuple[float, ...]

    @property
    def trouble(self) -> str:
        """Why there is nothing to compare, or nothing."""
        if self.shown.shape is not None:
            return ""
        return next((f.text for f in self.shown.findings if f.severity is Severity.STOP), "It has no shape.")

    def under(self, duty: int) -> Evaluation:
        """Under one of the comparison's duties: 0 the shown one, from 1 those of the ore window."""
        return self.shown if duty == 0 else self.window[duty - 1]

    def spread(self, row: Row) -> "Spread":
        """Over the ore window."""
        values = [row.get(e) for e in self.window]
        if not values or not all(isfinite(v) for v in values):
            return Spread(nan, nan, nan, row.sense)
        total = sum(self.weights)
        mean = sum(w * v for w, v in zip(self.weights, values, strict=True)) / total if total > 0.0 else nan
        return Spread(min(values), max(values), mean, row.sense)

    @cached_property
    def steady(self) -> int:
        """Grooves that are claimed to keep one state under every duty of the ore window."""
        flows = [e.flow for e in self.window if e.flow is not None]
        if not flows or len(flows) != len(self.window):
            return 0
        first = flows[0].groove_state[0]
        claimed = [i for i, state in enumerate(first) if state != State.NONE]
        return sum(all(f.groove_state[0, i] == first[i] for f in flows) for i in claimed)


@dataclass(frozen=True, slots=True)
class Spread:
    """A number over the ore window: lowest, highest, weighted by the duties' shares of time."""

    low: float
    high: float
    weighted: float
    sense: Sense

    @property
    def worst(self) -> float:
        """The end that is worse; nan where neither is."""
        return {Sense.LESS: self.high, Sense.MORE: self.low, Sense.NONE: nan}[self.sense]


class Over(Enum):
    """What a number of the comparison is taken over."""

    DUTY = "under one duty"
    WORST = "ore window, worst"
    WEIGHTED = "ore window, weighted"
    RANGE = "ore window, lowest to highest"


@dataclass(frozen=True, slots=True)
class View:
    """One duty of the comparison, or the ore window in one of three ways."""

    over: Over = Over.DUTY
    duty: int = 0


@dataclass(frozen=True, slots=True)
class Comparison:
    """All designs of a study on its machine under one duty and over its ore window."""

    study: Study
    duty: Duty
    window: tuple[Duty, ...]
    results: tuple[DesignResult, ...]
    lineages: tuple[Told, ...]

    @property
    def reference(self) -> DesignResult:
        design = self.study.reference_design
        return next(s for s in self.results if s.design is design)

    def conditions(self, view: "View") -> tuple[str, ...]:
        """What is the same for all in this view: a line, or over the ore window a line more for each of its duties."""
        machine = self.study.machine.name
        if view.over is Over.DUTY:
            return (f"All on {machine}, {conditions_of(self.duties[view.duty])}.",)
        many = counted(len(self.window), "duty", "duties")
        each = (f"{i}  {conditions_of(d)}, weight {d.weight:g}" for i, d in enumerate(self.window, 1))
        return (f"All on {machine}, over the ore window of {many}:", *each)

    @property
    def remarks(self) -> tuple[str, ...]:
        """What else differs, before all; then what keeps the comparison from saying more: a sentence each."""
        found = list(what_else_differs([s.shown for s in self.results], self.reference.shown))
        if len(self.results) == 1:
            found.append("There is one design only: duplicate it or add another to compare.")
        if not self.window:
            found.append("The ore window is empty: mark duties as belonging to it to see worst and weighted numbers.")
        elif sum(d.weight for d in self.window) <= 0.0:
            found.append("All weights of the ore window are zero: there is no weighted number.")
        found += [f"“{s.design.name}” cannot be compared: {s.trouble}" for s in self.results if s.trouble]
        return tuple(found)

    @property
    def duties(self) -> tuple[Duty, ...]:
        """The shown duty, then those of the ore window."""
        return (self.duty, *self.window)

    def values(self, row: Row, view: "View") -> tuple[float, ...]:
        """One number per design in this view; nan where there is none."""
        if view.over is Over.DUTY:
            return tuple(row.get(s.under(view.duty)) for s in self.results)
        spreads = [s.spread(row) for s in self.results]
        return tuple(spread.worst if view.over is Over.WORST else spread.weighted for spread in spreads)


def conditions_of(d: Duty) -> str:
    """A duty by its name and what it runs at."""
    return (
        f"{d.name}: {d.speed_rpm:g} rpm, {d.dry_feed_t_h:g} t/h dry, {d.solids_pct:g} % solids by mass, "
        f"{size_words(d)}, {d.solids_density_kg_m3:g} kg/m³, {d.water_l_min:g} L/min water"
    )


def best(row: Row, values: Sequence[float]) -> tuple[int, ...]:
    """Places of the best; none where better has no meaning, where one design only has a number, or all are equal."""
    known = [round(v, row.decimals) for v in values if isfinite(v)]
    if row.sense is Sense.NONE or len(known) < 2 or min(known) == max(known):
        return ()
    top = min(known) if row.sense is Sense.LESS else max(known)
    return tuple(i for i, v in enumerate(values) if isfinite(v) and round(v, row.decimals) == top)


def compare(study: Study, designs: Sequence[Design] | None = None, progress: Progress = SILENT) -> Comparison:
    """Evaluate every design (or those given) under the shown duty and every duty of the ore window."""
    chosen = tuple(study.designs if designs is None else designs)
    duties = (study.duty, *study.window)
    results = []
    for i, design in enumerate(chosen):
        found = []
        for k, duty in enumerate(duties):
            progress.at((i + k / len(duties)) / len(chosen))
            found.append(evaluate(design, study.machine, duty))
        weights = tuple(d.weight for d in study.window)
        results.append(DesignResult(design, found[0], tuple(found[1:]), weights))
    progress.at(1.0)
    names = {design.name for design in chosen}
    told = tuple(t for t in lineages(study) if t.design in names)
    return Comparison(study, study.duty, study.window, tuple(results), told)


def _of(key: str, sense: Sense = Sense.NONE, label: str = "") -> Row:
    q = quantity(key)

    def get(e: Evaluation) -> float:
        values = q.get(e)
        return float(values[0]) if len(values) else nan

    return Row(key, label or q.label, q.unit, q.decimals, sense, get)


def _findings(severity: Severity, label: str, sense: Sense) -> Row:
    return Row(
        f"{severity.value}s", label, "", 0, sense, lambda e: float(sum(f.severity is severity for f in e.findings))
    )


_STATES = tuple(STATE_KEYS[s] for s in sorted(State, reverse=True))

ROWS: tuple[Row, ...] = (
    _findings(Severity.STOP, "Stops", Sense.LESS),
    _findings(Severity.CHECK, "Checks", Sense.LESS),
    *(_of(f"count_{s}") for s in _STATES),
    _of("exposed_count"),
    _of("deep_count", Sense.LESS),
    *(_of(f"share_{s}_pct") for s in _STATES),
    *(_of(f"area_{s}_pct") for s in _STATES),
    _of("matched_mm"),
    _of("deepest_mm"),
    _of("power_w"),
    _of("residence_s"),
    _of("mass_kg", Sense.LESS),
    _of("inertia_kg_m2"),
    _of("body_energy_j", Sense.LESS),
)

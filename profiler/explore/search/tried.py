"""One design tried for a goal: seat and least wall before any flow, then one shape and one flow call for all duties."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from math import inf, isfinite, nan

from profiler.assess import Evaluation, Severity, StageCache, Stages, evaluate
from profiler.assess.evaluate.batch import each
from profiler.assess.evaluate.evaluation import fit_of
from profiler.assess.findings.finding import Finding
from profiler.assess.fitting.limits import Room
from profiler.explore.search.goal import Condition, Goal, stages_of
from profiler.numbers import as_printed
from profiler.study import Design, Duty, Machine

CANNOT_JOIN, NO_SHAPE, NO_ROOM, NO_FLOW, STOPS, MISSED = 6.0, 5.0, 4.0, 3.0, 2.0, 0.0
BY_MM = 20.0  # a miss of so many mm weighs a half
NEAR = 0.01  # of a limit: a condition met by less binds


@dataclass(frozen=True, slots=True)
class Reason:
    """What excludes a design or holds the best one back: a key (a quantity's, or a limit's) and a sentence's part."""

    key: str
    words: str


NO_NUMBER = Reason(
    "goal", "the goal has no number: no wall lies above the entry height, or one of the duties gives none"
)


@dataclass(frozen=True, slots=True)
class Tried:
    """What came of one design. `miss` 0: it meets every condition; else the larger, the farther from that."""

    design: Design
    value: float  # of the goal, in the unit shown; nan where there is none
    loss: float
    miss: float = 0.0
    why: Reason | None = None  # what excludes it
    near: tuple[Reason, ...] = ()  # conditions met by next to nothing

    @property
    def had_flow(self) -> bool:
        """Whether it came as far as the flow."""
        return self.miss <= NO_FLOW

    @property
    def met(self) -> bool:
        return self.miss == 0.0 and isfinite(self.loss)


@dataclass(frozen=True, slots=True)
class Judge:
    """Judges designs on one machine under the duties of a goal."""

    machine: Machine
    room: Room | None  # None where the outside follows the wall and no seat is to be kept
    duties: tuple[Duty, ...]
    goal: Goal
    conditions: tuple[Condition, ...]
    no_stop: bool = True
    cache: StageCache = field(default_factory=StageCache)  # machine and duties are looked through once for all designs
    want: Stages = field(init=False)  # what of an evaluation goal and conditions ask for

    def __post_init__(self) -> None:
        asked = [c.quantity for c in self.conditions]
        if self.goal.quantity is not None:
            asked.append(self.goal.quantity)
        want = stages_of(asked) | (Stages.FINDINGS if self.no_stop else Stages(0))
        object.__setattr__(self, "want", want)

    def excluded(self, design: Design) -> Tried | None:
        """What keeps a design out before any flow is asked; None where nothing does."""
        if self.room is None:
            return None
        try:
            miss = self.room.miss(design)
        except ValueError as reason:
            return _out(design, NO_SHAPE, Reason("section", str(reason).rstrip(".")))
        if miss is None:
            return None
        by = miss.by_mm or 0.0
        return _out(design, NO_ROOM + by / (by + BY_MM), Reason(miss.limit.value, miss.words))

    def __call__(self, design: Design, roomy: bool = False) -> Tried:
        """The design's number, or what excludes it; `roomy`: go on to the flow whatever does not fit."""
        kept_out = None if roomy else self.excluded(design)
        if kept_out is not None:
            return kept_out
        cache = self.cache
        shaped = evaluate(design, self.machine, self.duties, Stages(0), cache)
        if shaped.shape is None:
            return _out(design, NO_SHAPE, self._no_answer(shaped))
        if self.no_stop and not roomy and (stop := _stop(fit_of(design, self.machine, shaped.shape, cache))):
            return _out(design, NO_ROOM + 0.5, stop)
        return self._with_flow(evaluate(design, self.machine, self.duties, self.want, cache))

    def _with_flow(self, e: Evaluation) -> Tried:
        design = e.design
        if e.flow is None:
            return _out(design, NO_FLOW, self._no_answer(e))
        found = each(e)
        for one in found:
            if one.flow is None:
                return _out(design, NO_FLOW, self._no_answer(one))
        values = [self.goal.under(one) for one in found]
        value = self.goal.over(values, [d.weight for d in self.duties])
        if not isfinite(value):
            return _out(design, NO_FLOW, _stop(e.findings) or NO_NUMBER)
        if stop := _stop(e.findings):
            return _out(design, STOPS, stop, value, self.goal.loss(value))
        return self._on_conditions(design, value, found)

    def whole(self, design: Design) -> Reason | None:
        """The stop finding that the plain evaluate() has under any of the duties, everything asked; None without."""
        found = (_stop(evaluate(design, self.machine, duty).findings) for duty in self.duties)
        return next((stop for stop in found if stop is not None), None)

    def _on_conditions(self, design: Design, value: float, found: Sequence[Evaluation]) -> Tried:
        slacks = [(c, min(c.slack(one) for one in found)) for c in self.conditions]
        missed = [(c, s) for c, s in slacks if s < 0.0]
        loss = self.goal.loss(value)
        if not missed:
            near = tuple(Reason(c.quantity.key, c.words) for c, s in slacks if s <= NEAR)
            return Tried(design, value, loss, near=near)
        worst, slack = min(missed, key=lambda pair: pair[1])
        miss = sum(1.0 if s == -inf else -s / (1.0 - s) for _, s in missed) / len(slacks)
        words = f"{worst.words}: {worst.missed_by(slack)}"
        return Tried(design, value, loss, MISSED + miss, Reason(worst.quantity.key, words))

    def _no_answer(self, e: Evaluation) -> Reason:
        """The finding that says why there is no shape or no flow, asked for once more where none were wanted."""
        told = e.findings or evaluate(e.design, self.machine, e.duty, Stages.QUICK).findings
        return _stop(told) or Reason("no_flow", f"the model has no answer under “{e.duty.name}”")


def _stop(findings: Iterable[Finding]) -> Reason | None:
    found = next((f for f in findings if f.severity is Severity.STOP), None)
    return None if found is None else Reason(found.code, found.text.rstrip("."))


def cannot_join(design: Design, reason: ValueError) -> Tried:
    return _out(design, CANNOT_JOIN, Reason("ends", str(reason).rstrip(".")))


def _out(design: Design, miss: float, why: Reason, value: float = nan, loss: float = nan) -> Tried:
    return Tried(design, value, loss, miss, Reason(why.key, as_printed(why.words)))

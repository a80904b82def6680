"""What matters: how much chosen quantities change as each input goes over its plus and minus, largest first.

An input nobody gave a plus and minus has none that could be guessed: it is listed as not given, and not ranked.
Friction has its band, and goes from one end of it to the other.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import isfinite, nan

from profiler.assess import Evaluation, Stages
from profiler.assess.evaluate.batch import each, under
from profiler.assess.flow.sizes import held_by, turned
from profiler.assess.quantities.table import Quantity, Scope
from profiler.explore.search.goal import stages_of
from profiler.study import Duty, Field
from profiler.study.records.duty import D50, DRY_FEED, FRICTION, SOLIDS, SOLIDS_DENSITY, SPEED, WATER

INPUTS: dict[str, Field[float]] = {
    "speed": SPEED, "solids": SOLIDS, "d50": D50, "feed": DRY_FEED, "water": WATER, "density": SOLIDS_DENSITY,
}  # fmt: skip
FRICTION_WORD = "friction"


@dataclass(frozen=True, slots=True)
class Effect:
    """One input's: the quantity at its lower and its upper end; nan where it has no number there."""

    word: str
    label: str
    low: float  # the input's ends, in the unit of its field
    high: float
    unit: str
    at_low: float
    at_high: float

    @property
    def change(self) -> float:
        return self.at_high - self.at_low


@dataclass(frozen=True, slots=True)
class Ranking:
    """One quantity: its value now, and the effects on it, largest first, those without a number last."""

    quantity: Quantity
    now: float
    effects: tuple[Effect, ...]


@dataclass(frozen=True, slots=True)
class Matters:
    rankings: tuple[Ranking, ...]
    not_given: tuple[str, ...]  # labels of the inputs without a plus and minus


def what_matters(e: Evaluation, quantities: Sequence[Quantity], plus_minus: Mapping[str, float]) -> Matters:
    """The quantities of the whole bowl over the inputs' plus and minus, under the evaluation's first duty.

    Raises ValueError, one sentence, for an unknown input, a plus and minus that is none, or one that leaves the bounds.
    """
    if e.shape is None or e.flow is None:
        raise ValueError(f"“{e.design.name}” has no flow to ask about as it stands.")
    for q in quantities:
        if q.scope is not Scope.BOWL:
            raise ValueError(f"{q.key} has a number for every {q.scope}: choose one number of the whole bowl.")
    ends = _ends(e.duty, plus_minus)
    want = stages_of(quantities) | Stages.FLOW
    found = each(under(e, [e.duty, *(duty for _, _, _, pair in ends for duty in pair)], want))
    rankings = []
    for q in quantities:
        now, *values = (_value(q, one) for one in found)
        effects = [
            Effect(word, field.label, low, high, field.unit, values[2 * i], values[2 * i + 1])
            for i, (word, field, (low, high), _) in enumerate(ends)
        ]
        effects.sort(key=lambda effect: -abs(effect.change) if isfinite(effect.change) else 1.0)
        rankings.append(Ranking(q, now, tuple(effects)))
    given = {word for word, _, _, _ in ends}
    return Matters(tuple(rankings), tuple(f.label for word, f in INPUTS.items() if word not in given))


End = tuple[str, Field[float], tuple[float, float], tuple[Duty, Duty]]


def _ends(duty: Duty, plus_minus: Mapping[str, float]) -> list[End]:
    """Every input that goes anywhere, with its two ends and the duty at each; friction first."""
    low, high = duty.friction_low, duty.friction_high
    found: list[End] = [(FRICTION_WORD, FRICTION, (low, high), (FRICTION.set(duty, low), FRICTION.set(duty, high)))]
    for word, amount in plus_minus.items():
        field = INPUTS.get(word)
        if field is None:
            raise ValueError(f"“{word}” is not an input that can be varied; {', '.join(INPUTS)} are.")
        if not (isfinite(amount) and amount > 0.0):
            raise ValueError(
                f"Plus and minus {amount:g} is not possible for {field.label.lower()}; give an amount above 0."
            )
        now = held_by(duty, field)
        ends = now - amount, now + amount
        for end in ends:
            objection = field.objection(end)
            if objection is not None:
                raise ValueError(objection)
        found.append((word, field, ends, (turned(duty, field, ends[0]), turned(duty, field, ends[1]))))
    return found


def _value(q: Quantity, e: Evaluation) -> float:
    values = q.get(e)
    return float(values[0]) if len(values) else nan

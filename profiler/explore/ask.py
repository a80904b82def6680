"""Finding one number: which value of one free number makes another number what it is wanted to be.

The free number is tried over its range with evaluate(); where the wanted number is passed, one bracketed root follows.
Of several answers the one nearest to the present value is given, and the others are counted.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from math import isfinite, nan

import numpy as np

from profiler.assess import Evaluation, Stages, evaluate
from profiler.assess.evaluate.batch import each, under
from profiler.assess.flow.sizes import held_by, turned
from profiler.assess.quantities.table import Quantity, Scope
from profiler.assess.shape.held_ends import CannotJoin, joined
from profiler.numbers import fixed, significant
from profiler.progress import SILENT, Progress
from profiler.study import Design, Duty, Field
from profiler.study.records.design import GROOVE_MOUTH, KNOT_ANGLE
from profiler.study.records.duty import D50, DRY_FEED, SOLIDS, SPEED, WATER

TRIES = 37
SPEEDS_RPM = (100.0, 2000.0)  # asked over where the machine says nothing
CLOSE = 1e-9  # of the range: where the root is taken as found


@dataclass(frozen=True, slots=True)
class Free:
    """A number that may be turned: what it is called, its field, its range at first, and how it is turned."""

    words: str
    field: Field[float]
    low: float
    high: float
    now: float
    turned: Callable[[float], Design | Duty]


@dataclass(frozen=True, slots=True)
class Wanted:
    """A quantity at a place (a groove from 1, a height in mm, or the whole bowl) and the value it shall have."""

    quantity: Quantity
    value: float
    groove: int | None = None
    height_mm: float | None = None

    def of(self, e: Evaluation) -> float:
        """The number as it is; nan where there is none."""
        values = self.quantity.get(e)
        if self.quantity.scope is Scope.GROOVE:
            place = (self.groove or 1) - 1
        elif self.quantity.scope is Scope.WALL and e.shape is not None:
            place = int(np.argmin(np.abs(e.shape.stations.height - (self.height_mm or 0.0))))
        else:
            place = 0
        return float(values[place]) if place < len(values) else nan

    @property
    def words(self) -> str:
        label, value = self.quantity.label.lower(), self.quantity.text(self.value)
        if self.groove is not None and self.quantity.key == "groove_overfall_mm" and self.value == 0.0:
            return f"groove {self.groove} is just buried"
        if self.groove is not None:
            return f"{label} of groove {self.groove} is {value}"
        if self.height_mm is not None:
            return f"{label} at {fixed(self.height_mm, 1)} mm is {value}"
        return f"{label} is {value}"


@dataclass(frozen=True, slots=True)
class Answer:
    """The value found with the edit that sets it, or None and why; always one sentence."""

    value: float | None
    sentence: str
    changed: Design | Duty | None = None


def free_numbers(e: Evaluation) -> tuple[Free, ...]:
    """What may be turned in this evaluation: numbers of the duty, the mouth, each knot's angle."""
    duty, design, machine = e.duty, e.design, e.machine
    slow, fast = machine.speed_low_rpm, machine.speed_high_rpm
    speeds = SPEEDS_RPM[0] if slow is None else slow, SPEEDS_RPM[1] if fast is None else fast
    ranges = (
        (SOLIDS, 10.0, 70.0),
        (SPEED, *(speeds if speeds[0] < speeds[1] else SPEEDS_RPM)),
        (WATER, 0.0, max(4.0 * duty.water_l_min, 200.0)),
        (D50, 20.0, 1000.0),
        (DRY_FEED, 0.2 * duty.dry_feed_t_h, 4.0 * duty.dry_feed_t_h),
    )
    found = [
        Free(field.label, field, low, high, held_by(duty, field), partial(turned, duty, field))
        for field, low, high in ranges
    ]
    if design.grooves.count:
        now = GROOVE_MOUTH.get(design)
        mouth = partial(GROOVE_MOUTH.set, design)
        found.append(Free(GROOVE_MOUTH.label, GROOVE_MOUTH, 0.4 * now, 2.0 * now, now, mouth))
    for i, knot in enumerate(design.wall.knots):
        if knot.locked:
            continue
        words = f"Angle of the knot at {significant(knot.height_mm)} mm"
        found.append(Free(words, KNOT_ANGLE.at(i), -5.0, 45.0, knot.angle_deg, partial(_with_angle, design, i)))
    return tuple(found)


def ask(
    e: Evaluation,
    free: Free,
    wanted: Wanted,
    between: tuple[float, float] | None = None,
    progress: Progress = SILENT,
) -> Answer:
    """The value in the range that makes the wanted number true. Raises ValueError on a range that is crossed."""
    low, high = between or (free.low, free.high)
    for end in (low, high):
        objection = free.field.objection(end)
        if objection is not None:
            raise ValueError(objection)
    if not low < high:
        raise ValueError(f"The range is empty: {free.field.text(low)} is not below {free.field.text(high)}.")
    if wanted.quantity.scope is Scope.GROOVE:
        count = 0 if e.shape is None else len(e.shape.mouths)
        if wanted.groove is None or not 1 <= wanted.groove <= count:
            raise ValueError(
                f"Choose a groove from 1 to {count}." if count else "The design has no grooves to ask about."
            )
    tries = np.linspace(low, high, TRIES)
    misses = _misses(e, free, wanted, tries.tolist(), progress)
    brackets = [(i, i + 1) for i in range(TRIES - 1) if misses[i] * misses[i + 1] < 0.0]
    exact = [float(tries[i]) for i in range(TRIES) if misses[i] == 0.0]
    roots = exact + [_root(e, free, wanted, float(tries[a]), float(tries[b])) for a, b in brackets]
    roots = [r for r in roots if isfinite(r)]
    progress.at(1.0)
    if not roots:
        return Answer(None, _nothing(free, wanted, misses, low, high))
    value = min(roots, key=lambda r: abs(r - free.now))
    return Answer(value, _found(free, wanted, value, len(roots)), free.turned(value))


def _misses(e: Evaluation, free: Free, wanted: Wanted, tries: Sequence[float], progress: Progress) -> list[float]:
    """Wanted number less its wanted value at every try; nan where it does not exist."""
    found = []
    for i, value in enumerate(tries):
        progress.at(0.8 * i / len(tries))
        found.append(_miss(e, free, wanted, value))
    return found


def _miss(e: Evaluation, free: Free, wanted: Wanted, value: float) -> float:
    try:
        changed = free.turned(value)
    except CannotJoin:
        return nan
    want = Stages.ALL & ~Stages.FINDINGS
    if isinstance(changed, Duty):
        there = each(under(e, (changed,), want))[0]
    else:
        there = evaluate(changed, e.machine, e.duty, want)
    return wanted.of(there) - wanted.value


def _root(e: Evaluation, free: Free, wanted: Wanted, low: float, high: float) -> float:
    """nan where the number jumps over its wanted value instead of passing it."""
    from scipy.optimize import brentq

    root = float(brentq(lambda v: _miss(e, free, wanted, v), low, high, xtol=CLOSE * (high - low), rtol=1e-12))
    ends = [abs(_miss(e, free, wanted, v)) for v in (low, high)]
    return root if abs(_miss(e, free, wanted, root)) <= 1e-3 * max(ends) else nan


def _found(free: Free, wanted: Wanted, value: float, count: int) -> str:
    more = "" if count == 1 else f" (the nearest of {count} values that do it)"
    shown = f"{fixed(value, max(free.field.decimals, 1))} {free.field.unit}".strip()
    sentence = f"{wanted.words} at {_inside(free.words)} {shown}{more}."
    return f"{sentence[0].upper()}{sentence[1:]}"


def _nothing(free: Free, wanted: Wanted, misses: Sequence[float], low: float, high: float) -> str:
    known = [m + wanted.value for m in misses if isfinite(m)]
    span = f"{free.field.text(low)} and {free.field.with_unit(high)}"
    what = _inside(free.words)
    if not known:
        return f"No {what} between {span} gives any number there: the design cannot be built or has no flow."
    q = wanted.quantity
    how = "goes in jumps from" if min(known) < wanted.value < max(known) else "stays between"
    link = "to" if how.endswith("from") else "and"
    reach = f"{q.label.lower()} {how} {q.text(min(known))} {link} {q.text(max(known))}"
    return f"No {what} between {span} does it: {reach}."


def _inside(words: str) -> str:
    """The words as they stand inside a sentence."""
    return f"{words[0].lower()}{words[1:]}"


def _with_angle(design: Design, index: int, angle_deg: float) -> Design:
    return joined(KNOT_ANGLE.at(index).set(design, angle_deg), index).design

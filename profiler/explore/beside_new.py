"""A bowl beside itself worn: the same machine and duty, so much of the wall gone; and hours until a number is lost."""

from dataclasses import dataclass
from math import inf, isfinite, nan

import numpy as np

from profiler.assess import Evaluation, Severity, evaluate
from profiler.assess.findings.kinds import Kind
from profiler.assess.quantities.quantity import Quantity
from profiler.assess.quantities.table import quantity
from profiler.assess.worn.wear import PER, Course, Rate
from profiler.assess.worn.worn_bowl import WornBowl, worn_bowl
from profiler.numbers import as_printed, counted, fixed
from profiler.study import Design, Duty, Machine

SHOWN = (
    "strong_height_mm", "weak_height_mm", "level_height_mm", "buried_height_mm", "exposed_height_mm", "deepest_bed_mm",
    "power_w", "inlet_kpa", "dry_rings", "volume_total_l", "capacity_total_kg", "fill_min", "mass_kg",
)  # fmt: skip
TRIED_HOURS, HALVINGS = 10, 6
OF_THE_CASTING = (Kind.LIP_RADIUS,)  # a worn lip is wider than the machine's: that is the wear, and no misfit


@dataclass(frozen=True, slots=True)
class Row:
    """One quantity of the new bowl and of the worn one; nan: no number."""

    quantity: Quantity
    new: float
    worn: float


@dataclass(frozen=True, slots=True, eq=False)
class Gone:
    """What is worn away after so many hours, mm along the wall; how far each way that may be off (0: nobody said)."""

    wear: Course
    plus_minus: float
    hours: float

    @property
    def words(self) -> str:
        off = f" ± {fixed(self.plus_minus, 2)}" if self.plus_minus > 0.0 else ""
        most = "" if float(np.ptp(self.wear.value)) == 0.0 else " at most"
        return f"{fixed(self.wear.most, 2)}{off} mm gone{most} after {self.hours:g} h"

    def later(self, rate: Rate, hours: float) -> "Gone":
        """After so many hours since new, the rate led on. Raises ValueError for hours that lie before."""
        if hours < self.hours:
            raise ValueError(f"{hours:g} h lie before the {self.hours:g} h at which it was measured.")
        return Gone(self.more(rate, hours, 0.0), self.plus_minus + rate.plus_minus * (hours - self.hours) / PER, hours)

    def more(self, rate: Rate, hours: float, by: float) -> Course:
        """The wear then, were the rate larger by so much."""
        height = np.unique(np.concatenate((self.wear.height, rate.course.height)))
        share = (hours - self.hours) / PER
        return Course(height, self.wear.at(height) + (rate.course.at(height) + by) * share)


NOTHING_GONE = Gone(Course(np.array([0.0]), np.array([0.0])), 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class BesideNew:
    """The worn copy and both evaluations; `added` are findings, worse than notes, that the new bowl does not have."""

    new: Evaluation
    worn: Evaluation
    bowl: WornBowl
    gone: Gone
    rows: tuple[Row, ...]
    least_water: tuple[float, float]
    added: tuple[str, ...]

    @property
    def sentence(self) -> str:
        """What moved, with how the bowl came to be so."""
        if self.worn.shape is None or self.worn.flow is None:
            why = self.worn.findings[0].text if self.worn.findings else "it has no section."
            return as_printed(f"With {self.gone.words} the bowl has no answer: {why}")
        falls = [
            sum(bool(v) for v in (e.flow.groove_overfall[0, 1] > 0.0)) if e.flow else 0 for e in (self.new, self.worn)
        ]
        grooves = counted(len(self.worn.shape.mouths), "groove")
        speak = "speaks" if len(self.added) == 1 else "speak"
        exposed = next(r for r in self.rows if r.quantity.key == "exposed_height_mm")
        return as_printed(
            f"With {self.gone.words} the stream falls at {falls[1]} of {grooves} at middle friction (new: {falls[0]}), "
            f"{_number(exposed.worn)} mm of the wall are exposed (new: {_number(exposed.new)} mm), and "
            f"{counted(len(self.added), 'finding')} {speak} of the worn bowl alone."
        )


def beside_new(design: Design, machine: Machine, duty: Duty, gone: Gone) -> BesideNew:
    """The bowl with so much gone, beside itself new. Raises ValueError, one sentence, where so much cannot be."""
    bowl = worn_bowl(design, machine, gone.wear, f"{design.name}, {gone.hours:g} h")
    new, worn = (evaluate(d, machine, duty) for d in (design, bowl.design))
    rows = tuple(Row(q, _value(q, new), _value(q, worn)) for q in map(quantity, SHOWN))
    known = {f.kind for f in new.findings}
    added = tuple(
        f.text for f in worn.findings
        if f.severity is not Severity.NOTE and f.kind not in known and f.kind not in OF_THE_CASTING
    )  # fmt: skip
    return BesideNew(new, worn, bowl, gone, rows, (_least_water(new), _least_water(worn)), added)


@dataclass(frozen=True, slots=True)
class Limit:
    """A number of the whole bowl that must stay at least, or at most, so much."""

    quantity: Quantity
    at_least: bool
    value: float


@dataclass(frozen=True, slots=True)
class UntilLost:
    """Hours since new at which the number passes its limit, by the rate's ends; inf: not within `looked`."""

    limit: Limit
    early: float
    middle: float
    late: float
    looked: float

    @property
    def sentence(self) -> str:
        how = "below" if self.limit.at_least else "above"
        what = f"{self.limit.quantity.label} is {how} {self.limit.quantity.text(self.limit.value)}"
        ends = [self.early, self.middle, self.late]
        if not any(map(isfinite, ends)):
            return as_printed(f"{what} at no time within {self.looked:.0f} h, at any end of the rate.")
        early, middle, late = (f"{v:.0f} h" if isfinite(v) else f"more than {self.looked:.0f} h" for v in ends)
        if self.early == self.late:
            return as_printed(f"{what} after about {middle}; no range follows, since the rate was given without one.")
        return as_printed(f"{what} after {early} to {late} ({middle} by the rate's middle).")


def until_lost(
    design: Design, machine: Machine, duty: Duty, gone: Gone, rate: Rate, limit: Limit, looked: float
) -> UntilLost:
    """When the bowl's number first passes a limit: looked for at even steps from now on, then by halving."""

    def lost(hours: float, by: float) -> bool:
        try:
            bowl = worn_bowl(design, machine, gone.more(rate, hours, by), design.name)
        except ValueError:
            return True  # nothing of it is left to have the number
        there = _value(limit.quantity, evaluate(bowl.design, machine, duty))
        return not (there >= limit.value if limit.at_least else there <= limit.value)

    def first(by: float) -> float:
        low, high = gone.hours, gone.hours
        for k in range(TRIED_HOURS + 1):
            high = gone.hours + (looked - gone.hours) * k / TRIED_HOURS
            if lost(high, by):
                break
            low = high
        else:
            return inf
        for _ in range(HALVINGS if high > low else 0):
            middle = 0.5 * (low + high)
            low, high = (low, middle) if lost(middle, by) else (middle, high)
        return high

    middle = first(0.0)
    early, late = (first(rate.plus_minus), first(-rate.plus_minus)) if rate.plus_minus > 0.0 else (middle, middle)
    return UntilLost(limit, min(early, middle), middle, max(late, middle), looked)


def _value(q: Quantity, e: Evaluation) -> float:
    values = q.get(e)
    return float(values[0]) if len(values) else nan


def _least_water(e: Evaluation) -> float:
    """The poorest groove's water against what lifts its bed, at middle friction; nan where there is none."""
    if e.catch is None or not e.catch.water.ratio.size:
        return nan
    return float(e.catch.water.ratio[0, 1].min())


def _number(value: float) -> str:
    return fixed(value, 0) if isfinite(value) else "–"

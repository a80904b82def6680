"""The ore map: one quantity of one design over two numbers of its duty, all else as in the shown duty.

The shape is made once; the flow stage is asked with lists of duties. The shown duty is asked by itself, so that the map
holds there exactly what the window shows.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite, nan

import numpy as np
from msgspec.structs import replace

from profiler.assess import Evaluation, Stages
from profiler.assess.evaluate.batch import each, under
from profiler.assess.flow.sizes import held_by, turned
from profiler.assess.quantities.table import QUANTITIES, Quantity, Scope, quantity
from profiler.geometry.wall import FloatArray
from profiler.progress import SILENT, Progress
from profiler.study import FRICTION_USUAL, Duty, Field
from profiler.study.records.duty import D50, DRY_FEED, FRICTION, SOLIDS, SOLIDS_DENSITY, SPEED, WATER

AT_ONCE = 50  # duties in one batch: a step of some 30 ms, short enough that a drag need not wait for it

NO_BODY = "the section crosses itself or bounds no body, so nothing has a mass, an energy or a stress"


@dataclass(frozen=True, slots=True)
class Axis:
    """A number of the duty that is turned, the word it goes by in the terminal, and the range shown at first."""

    word: str
    field: Field[float]
    low: float
    high: float

    def value(self, duty: Duty) -> float:
        return held_by(duty, self.field)

    def turned(self, duty: Duty, value: float) -> Duty:
        """The duty with this number changed; the friction band and the shares of size classes keep theirs."""
        if self.field is FRICTION:
            share = value / duty.friction
            low, high = duty.friction_low * share, duty.friction_high * share
            return FRICTION.set(replace(duty, friction_low=low, friction_high=high), value)
        return turned(duty, self.field, value)


AXES: tuple[Axis, ...] = (
    Axis("solids", SOLIDS, 20.0, 65.0),
    Axis("d50", D50, 50.0, 400.0),
    Axis("density", SOLIDS_DENSITY, 2600.0, 4200.0),
    Axis("friction", FRICTION, *FRICTION_USUAL),
    Axis("speed", SPEED, 400.0, 800.0),
    Axis("feed", DRY_FEED, 1.0, 6.0),
    Axis("water", WATER, 0.0, 120.0),
)


@dataclass(frozen=True, slots=True)
class Span:
    """An axis with the range and the number of lines wanted."""

    axis: Axis
    low: float
    high: float
    count: int = 40


@dataclass(frozen=True, slots=True)
class Asked:
    """What is mapped; `groove` is a number from 1 for a quantity of the grooves, None for one of the bowl."""

    x: Span
    y: Span
    quantity: Quantity
    groove: int | None = None

    @property
    def title(self) -> str:
        q = self.quantity
        what = q.label if self.groove is None else f"{q.label} of groove {self.groove}"
        return f"{what}, {q.unit}" if q.unit else what


@dataclass(frozen=True, slots=True)
class OreMap:
    asked: Asked
    x: FloatArray  # (nx,)
    y: FloatArray  # (ny,)
    values: FloatArray  # (ny, nx); nan where there is none
    evaluation: Evaluation  # of the shown duty; what the map was made from
    window: tuple[Duty, ...]
    lost: tuple[str, ...] = ()  # in a few words why the model has no answer where there is no number

    @property
    def duty(self) -> Duty:
        return self.evaluation.duty

    @property
    def present(self) -> tuple[float, float]:
        """Where the shown duty lies; it may lie outside the map."""
        return self.asked.x.axis.value(self.duty), self.asked.y.axis.value(self.duty)

    @property
    def present_value(self) -> float:
        return node_value(self.asked, self.evaluation)

    @property
    def remark(self) -> str:
        """What an axis turns besides its own number, or nothing."""
        axes = (self.asked.x.axis.field, self.asked.y.axis.field)
        return "d50 scales every sieve" if D50 in axes and self.duty.size_classes else ""

    def at(self, x: float, y: float) -> tuple[int, int]:
        """Row and column of the nearest node."""
        return int(np.argmin(np.abs(self.y - y))), int(np.argmin(np.abs(self.x - x)))

    def duty_at(self, row: int, column: int) -> Duty:
        return node_duty(self.asked, self.duty, float(self.x[column]), float(self.y[row]))

    def snapped_duty_at(self, row: int, column: int) -> Duty:
        """The duty nearest to a node whose numbers lie on their fields' steps."""
        x, y = (
            s.axis.field.snapped(float(v)) for s, v in ((self.asked.x, self.x[column]), (self.asked.y, self.y[row]))
        )
        return node_duty(self.asked, self.duty, x, y)


def axis(word: str) -> Axis:
    """Raises ValueError, naming the axes there are."""
    for entry in AXES:
        if entry.word == word:
            return entry
    raise ValueError(f"There is no axis “{word}”; there are {', '.join(a.word for a in AXES)}.")


def mappable(e: Evaluation) -> tuple[Quantity, ...]:
    """Quantities that have one number per bowl or per groove and follow the duty; grooves only where there are any."""
    grooves = e.shape is not None and len(e.shape.mouths) > 0
    return tuple(q for q in mapped_quantities() if q.scope is Scope.BOWL or grooves)


def mapped_quantities() -> tuple[Quantity, ...]:
    """The same of any design."""
    return tuple(q for q in QUANTITIES if q.key not in _STILL and q.scope in (Scope.BOWL, Scope.GROOVE))


def span(word: str, low: float | None = None, high: float | None = None, count: int = 40) -> Span:
    """A span of an axis, checked. Raises ValueError with one sentence."""
    found = axis(word)
    low, high = found.low if low is None else low, found.high if high is None else high
    field = found.field
    for value in (low, high):
        objection = field.objection(value)
        if objection is not None:
            raise ValueError(objection)
    if not low < high:
        raise ValueError(
            f"The range of {field.label.lower()} is empty: {field.text(low)} is not below {field.text(high)}."
        )
    if not 2 <= count <= 400:
        raise ValueError(f"A map has 2 to 400 lines each way, not {count}.")
    return Span(found, low, high, count)


def asked(x: Span, y: Span, key: str, groove: int | None, e: Evaluation) -> Asked:
    """A question that can be answered for this evaluation. Raises ValueError with one sentence."""
    if x.axis == y.axis:
        raise ValueError(f"The two axes are both {x.axis.field.label.lower()}; choose two different ones.")
    try:
        q = quantity(key)
    except KeyError:
        known = ", ".join(q.key for q in mappable(e))
        raise ValueError(f"There is no quantity “{key}” to map; there are {known}.") from None
    if q.scope is Scope.WALL:
        raise ValueError(f"“{q.label}” has a number at every height; a map needs one for the bowl or for a groove.")
    if q.scope is Scope.BOWL:
        return Asked(x, y, q, None)
    grooves = 0 if e.shape is None else len(e.shape.mouths)
    if not grooves:
        raise ValueError(f"“{e.design.name}” has no grooves, so there is no {q.label.lower()} to map.")
    if groove is None or not 1 <= groove <= grooves:
        raise ValueError(f"Choose a groove from 1 to {grooves}.")
    return Asked(x, y, q, groove)


def ore_map(question: Asked, e: Evaluation, window: Sequence[Duty] = (), progress: Progress = SILENT) -> OreMap:
    """The map of an evaluation's design and machine around its duty. Raises ValueError where there is no flow."""
    if e.shape is None or e.flow is None:
        why = f"no answer: {e.no_answer}." if e.no_answer else next((f.text for f in e.findings), "it has no flow.")
        raise ValueError(f"“{e.design.name}” cannot be mapped: {why}")
    x, y = (_lines(s, s.axis.value(e.duty)) for s in (question.x, question.y))
    duties = [node_duty(question, e.duty, float(a), float(b)) for b in y for a in x]
    want = wanted_stages(question, e)
    values = np.full(len(duties), nan)
    for first in range(0, len(duties), AT_ONCE):
        progress.at(first / len(duties))
        batch = under(e, duties[first : first + AT_ONCE], want)
        values[first : first + AT_ONCE] = [node_value(question, one) for one in each(batch)]
    grid = values.reshape(len(y), len(x))
    here = np.ix_(y == question.y.axis.value(e.duty), x == question.x.axis.value(e.duty))
    grid[here] = node_value(question, under(e, (e.duty,), want))
    progress.at(1.0)
    lost = [duties[i] for i in np.flatnonzero(~np.isfinite(grid.ravel()))]
    return OreMap(question, x, y, grid, e, tuple(window), _reasons(e, lost, want))


def _reasons(e: Evaluation, lost: Sequence[Duty], want: Stages) -> tuple[str, ...]:
    """Why there is no answer at the first, middle and last of the duties without a number."""
    if not lost:
        return ()
    asked_of = (lost[0], lost[len(lost) // 2], lost[-1])
    found = dict.fromkeys(under(e, (duty,), Stages.FLOW | Stages.FINDINGS).no_answer for duty in asked_of)
    if Stages.BODY in want and under(e, (lost[0],), Stages.BODY).body is None:
        found[NO_BODY] = None
    return tuple(reason for reason in found if reason)


def wanted_stages(question: Asked, e: Evaluation) -> Stages:
    """The flow, where the quantity comes from it; everything but findings for a quantity of a later stage."""
    quick = isfinite(node_value(question, under(e, (e.duty,))))
    return Stages.FLOW if quick else Stages.ALL & ~Stages.FINDINGS


def _lines(s: Span, present: float) -> FloatArray:
    """Equal steps; the inner line nearest to the present value is moved onto it, so that the map holds it exactly."""
    lines = np.linspace(s.low, s.high, s.count)
    lines[0], lines[-1] = s.low, s.high
    if s.count > 2 and s.low < present < s.high:
        lines[1 + int(np.argmin(np.abs(lines[1:-1] - present)))] = present
    return np.asarray(lines)


def node_duty(question: Asked, duty: Duty, x: float, y: float) -> Duty:
    return question.y.axis.turned(question.x.axis.turned(duty, x), y)


def node_value(question: Asked, e: Evaluation) -> float:
    values = question.quantity.get(e)
    place = 0 if question.groove is None else question.groove - 1
    value = float(values[place]) if place < len(values) else nan
    return value if isfinite(value) else nan


_STILL = frozenset(
    (
        "section_area_mm2", "section_length_mm", "body_volume_l", "mass_kg", "inertia_kg_m2", "groove_height_mm",
        "groove_radius_mm", "land_mm", "wall_behind_mm", "hole_count", "hole_mm", "hole_length_mm", "width_over_depth",
        "stays_behind_l", "liner_mass_kg", "shell_mass_kg", "dry_mass_kg",
    )
)  # fmt: skip

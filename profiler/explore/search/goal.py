"""What is wanted of a wall, and on what conditions: numbers at stated friction, never the width of its band.

A goal that a wider band could meet would reward knowing less, so quantities that count states are refused, as goals and
as conditions alike.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import inf, isfinite, nan

import numpy as np

from profiler.assess import Evaluation, Stages
from profiler.assess.quantities.catch_quantities import CATCH_QUANTITIES
from profiler.assess.quantities.course import COURSE_QUANTITIES, course_of
from profiler.assess.quantities.spin_quantities import SPIN_QUANTITIES
from profiler.assess.quantities.table import BODY_QUANTITIES, QUANTITIES, Quantity, Scope
from profiler.numbers import Against, fixed, significant

CLAIM = "Best found for your goal within this model. The model does not know which bowl catches more."
TRIVIAL = (
    "A single height raised alone ends in a trivial wall: one that follows repose all along, or stands off it all "
    "along. State a course, or conditions, for a wall that does several things."
)
OF_THE_BAND = (  # how a key begins whose number changes as the band widens; a test looks for more
    "share_", "area_", "count_", "matched_mm", "repose_low_deg", "repose_high_deg", "kept_um", "washed_um",
)  # fmt: skip
SINGLE_HEIGHTS = tuple(q.key for q in COURSE_QUANTITIES if q.key.endswith("_height_mm"))
COURSE_PARTS = ("strong", "weak", "level", "buried")


class Across(StrEnum):
    """What a goal is taken over; the value is the word for it."""

    DUTY = "duty"
    WINDOW = "window"
    WORST = "worst"


ACROSS_WORDS = {
    Across.DUTY: "under one duty",
    Across.WINDOW: "weighted over the ore window",
    Across.WORST: "at its worst in the ore window",
}


@dataclass(frozen=True, slots=True)
class Goal:
    """One quantity to raise or lower, or a course: shares of the height, strong, weak, level, buried."""

    quantity: Quantity | None
    upward: bool
    course: tuple[float, ...] = ()
    across: Across = Across.DUTY

    @property
    def words(self) -> str:
        over = ACROSS_WORDS[self.across]
        if self.quantity is None:
            parts = ", ".join(
                f"{fixed(100.0 * share, 0)} % {part}" for share, part in zip(self.course, COURSE_PARTS, strict=True)
            )
            return f"a course of {parts}, {over}"
        return f"{'raise' if self.upward else 'lower'} {_inside(self.quantity.label)}, {over}"

    def under(self, e: Evaluation) -> float:
        """The number under the first duty: the quantity, or per cent of the height that is not as the course wants."""
        if self.quantity is not None:
            return float(self.quantity.get(e)[0])
        course = course_of(e)
        if course is None:
            return nan
        return 50.0 * float(np.sum(np.abs(np.array(course.shares) - self.course)))

    def over(self, values: Sequence[float], weights: Sequence[float]) -> float:
        """One number of those under each duty; nan where one of them is missing."""
        if not values or not all(isfinite(v) for v in values):
            return nan
        if self.across is Across.WORST:
            return min(values) if self.upward else max(values)
        total = sum(weights)
        return sum(w * v for w, v in zip(weights, values, strict=True)) / total if total > 0.0 else nan

    def loss(self, value: float) -> float:
        """The number turned so that less is better."""
        return -value if self.upward else value

    def text(self, value: float) -> str:
        return f"{fixed(value, 1)} % off the course" if self.quantity is None else self.quantity.text(value)


@dataclass(frozen=True, slots=True)
class Condition:
    """A quantity at least or at most so much: at every place of the wall, in every groove, under every duty asked."""

    quantity: Quantity
    at_least: bool
    limit: float

    @property
    def words(self) -> str:
        how = "at least" if self.at_least else "at most"
        return f"{_inside(self.quantity.label)} {how} {significant(self.limit)} {self.quantity.unit}".rstrip()

    def slack(self, e: Evaluation) -> float:
        """How far within the limit, as a share of it (of 1, where it is nothing); negative where it is missed.

        Places that have no number are left out; where none has one the condition is not met: minus infinity.
        """
        values = self.quantity.get(e)
        values = values[np.isfinite(values)]
        if not len(values):
            return -inf
        room = float(np.min(values)) - self.limit if self.at_least else self.limit - float(np.max(values))
        return room / (abs(self.limit) or 1.0)

    def missed_by(self, slack: float) -> str:
        """In words, by how much of its limit a condition of this negative slack is missed."""
        if slack == -inf:
            return "there is no number"
        if self.limit == 0.0:  # nothing is no per cent of 0
            return f"missed by {significant(-slack, 4)} {self.quantity.unit}".rstrip()
        return f"missed by {fixed(Against(-100.0 * slack, 0.0), 1)} % of the limit"


def goal_quantity(key: str) -> Quantity:
    """The quantity of the whole bowl with this key. Raises ValueError, one sentence, for one that is no goal."""
    found = _known(key)
    if found.scope is not Scope.BOWL:
        raise ValueError(f"{key} has a number for every {found.scope}: a goal is one number of the whole bowl.")
    return found


def condition_on(key: str, at_least: bool, limit: float) -> Condition:
    """Raises ValueError, one sentence, for a key that is unknown or hangs on the band."""
    return Condition(_known(key), at_least, limit)


def course_goal(parts: Sequence[float], across: Across = Across.WORST) -> Goal:
    """The goal of a course, in per cent or as shares. Raises ValueError where it is none."""
    total = sum(parts)
    whole = 100.0 if total > 2.0 else 1.0
    if len(parts) != len(COURSE_PARTS) or any(not p >= 0.0 for p in parts) or abs(total - whole) > 0.01 * whole:
        raise ValueError(
            "A course is four shares of the height, strong, weak, level and buried, that add up to 100: 20,40,25,15."
        )
    return Goal(None, False, tuple(p / total for p in parts), across)


def goal_keys() -> tuple[str, ...]:
    """What can be raised or lowered."""
    return tuple(q.key for q in QUANTITIES if q.scope is Scope.BOWL and not q.key.startswith(OF_THE_BAND))


def stages_of(quantities: Sequence[Quantity]) -> Stages:
    """The stages these are worked out in."""
    want = Stages.FLOW
    for q in quantities:
        if q in CATCH_QUANTITIES:
            want |= Stages.CATCH
        elif q in SPIN_QUANTITIES:
            want |= Stages.SPIN
        elif q in BODY_QUANTITIES:
            want |= Stages.BODY
    return want


def _known(key: str) -> Quantity:
    found = next((q for q in QUANTITIES if q.key == key), None)
    if found is None:
        raise ValueError(f"There is no quantity “{key}”.")
    if key.startswith(OF_THE_BAND):
        raise ValueError(
            f"{key} hangs on the width of the friction band, so that knowing less would score better: ask for "
            "strong_height_mm, weak_height_mm, level_height_mm, buried_height_mm or exposed_height_mm."
        )
    return found


def _inside(label: str) -> str:
    return f"{label[0].lower()}{label[1:]}"

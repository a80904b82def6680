"""What a quantity is: an entry of the table in `quantities`."""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from math import isfinite

from profiler.assess.evaluate.evaluation import Evaluation
from profiler.assess.evidence.words import as_it_stands
from profiler.geometry.wall import FloatArray
from profiler.numbers import NOTHING, Against, fixed
from profiler.study import Duty


class Scope(StrEnum):
    WALL = "wall"  # one number per station
    GROOVE = "groove"  # one per groove
    BOWL = "bowl"  # one


@dataclass(frozen=True, slots=True, eq=False)  # each stands once, in the table
class Quantity:
    """A number an evaluation holds. `get` gives it in the unit shown, for the first duty; nan where there is none."""

    key: str
    label: str
    unit: str
    decimals: int
    scope: Scope
    get: Callable[[Evaluation], FloatArray]
    equation: str
    source: str
    limits: str = ""
    good: tuple[float, float] | None = None  # window of good values, in the unit shown
    edges: tuple[float, ...] = ()  # where the words told beside it change: its text never reads as one that it is not

    def limits_under(self, duty: Duty) -> str:
        """Its limits, as the model stands to measurements under the duty."""
        return as_it_stands(self.limits, duty)

    def text(self, value: float) -> str:
        """The value with its unit; a dash where there is none."""
        return f"{self.number(value)} {self.unit}".strip() if isfinite(value) else NOTHING

    def number(self, value: float) -> str:
        """The same without its unit."""
        return fixed(Against(value, *self.edges), self.decimals)

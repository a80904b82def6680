"""What a quantity is: an entry of the table in `quantities`."""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from profiler.assess.evaluate.evaluation import Evaluation
from profiler.geometry.wall import FloatArray


class Scope(StrEnum):
    WALL = "wall"  # one number per station
    GROOVE = "groove"  # one per groove
    BOWL = "bowl"  # one


@dataclass(frozen=True, slots=True)
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

    def text(self, value: float) -> str:
        """The value with its unit; a dash where there is none."""
        if not np.isfinite(value):
            return "–"
        return f"{value:.{self.decimals}f} {self.unit}".strip().replace("-", "−")

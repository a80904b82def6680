"""The difference between two designs as a value: estimate, error, intervals, probabilities.

Values are blind to units: recoveries come in percentage points and so do the differences. The difference is
always new minus reference. Not here: how it is worked out (differences).
"""

from dataclasses import dataclass
from enum import Enum
from math import isfinite

import numpy as np
from numpy.typing import NDArray

from profiler.statistics.inference.probability import t_quantile, t_tail, t_two_sided

Values = NDArray[np.float64]


class Kind(Enum):
    """How the two sides of a comparison belong together."""

    PAIRED = "paired"
    UNPAIRED = "unpaired"
    EXCHANGED = "exchanged"


@dataclass(frozen=True)
class Interval:
    """Two finite limits, the lower first."""

    low: float
    high: float

    def __post_init__(self) -> None:
        if not (isfinite(self.low) and isfinite(self.high)):
            raise ValueError(f"An interval needs two finite limits, not {self.low} and {self.high}.")
        if self.low > self.high:
            raise ValueError(f"The lower limit {self.low} lies above the upper limit {self.high}.")

    def within(self, bound: float) -> bool:
        """Whether the whole interval lies strictly between minus and plus the bound."""
        return -bound < self.low and self.high < bound

    def excludes_zero(self) -> bool:
        """Whether both limits lie on one side of zero."""
        return self.low > 0.0 or self.high < 0.0

    def times(self, factor: float) -> "Interval":
        """The interval of a multiple."""
        ends = sorted((self.low * factor, self.high * factor))
        return Interval(ends[0], ends[1])


@dataclass(frozen=True, kw_only=True)
class Comparison:
    """New minus reference, with everything its intervals need.

    `spread` is the standard deviation of what repeats: a pair difference (paired), one run or installation
    (unpaired, pooled), a block difference of the two machines (exchanged). `units` counts them for the
    reference and for the new design; paired and exchanged comparisons have as many of each.
    """

    kind: Kind
    difference: float
    standard_error: float
    df: float
    reference_mean: float
    new_mean: float
    spread: float
    units: tuple[int, int]

    def __post_init__(self) -> None:
        numbers = (
            self.difference,
            self.standard_error,
            self.df,
            self.reference_mean,
            self.new_mean,
            self.spread,
        )
        if not all(isfinite(number) for number in numbers):
            raise ValueError("A comparison needs finite numbers.")
        if self.standard_error <= 0.0 or self.df <= 0.0:
            raise ValueError("A comparison needs a positive standard error and at least one degree of freedom.")

    @property
    def t(self) -> float:
        return self.difference / self.standard_error

    @property
    def p(self) -> float:
        """Two-sided probability of a t this far from zero if the designs were alike."""
        return t_two_sided(self.t, self.df)

    @property
    def interval95(self) -> Interval:
        return self.interval(0.95)

    @property
    def interval90(self) -> Interval:
        return self.interval(0.90)

    def interval(self, confidence: float) -> Interval:
        """Interval of the true difference; confidence as a fraction."""
        half = t_quantile(0.5 + confidence / 2.0, self.df) * self.standard_error
        return Interval(self.difference - half, self.difference + half)

    def p_above(self, bound: float) -> float:
        """One-sided probability of this result or a higher one if the true difference were the bound."""
        return t_tail((self.difference - bound) / self.standard_error, self.df)

    def p_equivalent(self, bound: float) -> float:
        """Two one-sided tests: below 0.05 exactly when the 90 per cent interval lies within +-bound."""
        return max(self.p_above(-bound), 1.0 - self.p_above(bound))

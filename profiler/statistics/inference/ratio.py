"""The gain relative to the reference: the ratio of two means with Fieller's limits.

A ratio has limits only where the reference mean stands clear of zero against its own error; otherwise there is
none, and None says so. Not here: differences in points (differences).
"""

from dataclasses import dataclass
from math import sqrt

import numpy as np
from numpy.typing import ArrayLike, NDArray

from profiler.statistics.inference.comparison import Interval, Kind, Values
from profiler.statistics.inference.differences import welch_df
from profiler.statistics.inference.probability import t_quantile


@dataclass(frozen=True)
class Ratio:
    """New over reference with its interval; 1.06 is 6 per cent more than the reference."""

    estimate: float
    interval: Interval

    @property
    def gain_percent(self) -> float:
        return 100.0 * (self.estimate - 1.0)

    @property
    def gain_interval_percent(self) -> Interval:
        return Interval(100.0 * (self.interval.low - 1.0), 100.0 * (self.interval.high - 1.0))


@dataclass(frozen=True)
class Means:
    """Two means, the variances of these means, their covariance and the degrees of freedom."""

    reference: float
    new: float
    reference_variance: float
    new_variance: float
    covariance: float
    df: float


def fieller(means: Means, confidence: float = 0.95) -> Ratio | None:
    """Fieller's limits of new/reference; None where they are unbounded.

    Roots of (new - r*reference)^2 = t^2 * (v_new - 2 r v_both + r^2 v_reference): NIST Dataplot reference
    manual, RATIO OF MEANS CONFIDENCE LIMITS, with the square on the reference mean's variance term put right.
    """
    t = t_quantile(0.5 + confidence / 2.0, means.df)
    a = means.reference**2 - t**2 * means.reference_variance
    b = means.reference * means.new - t**2 * means.covariance
    e = means.new**2 - t**2 * means.new_variance
    inside = b**2 - a * e
    if a <= 0.0 or inside < 0.0:
        return None
    root = sqrt(inside)
    return Ratio(means.new / means.reference, Interval((b - root) / a, (b + root) / a))


def relative_gain(kind: Kind, reference: ArrayLike, new: ArrayLike, swapped: ArrayLike = ()) -> Ratio | None:
    """Fieller's ratio for the way the two sides belong together; arrays as for `differences.compare`."""
    first = np.asarray(reference, dtype=np.float64)
    second = np.asarray(new, dtype=np.float64)
    if kind is Kind.PAIRED:
        return fieller(_paired_means(first, second))
    if kind is Kind.UNPAIRED:
        return fieller(_unpaired_means(first, second))
    return fieller(_exchanged_means(first, second, np.asarray(swapped, dtype=bool)))


def _paired_means(first: Values, second: Values) -> Means:
    covariance = np.cov(first, second) / first.size
    return Means(
        float(first.mean()),
        float(second.mean()),
        float(covariance[0, 0]),
        float(covariance[1, 1]),
        float(covariance[0, 1]),
        first.size - 1.0,
    )


def _unpaired_means(first: Values, second: Values) -> Means:
    of_first, of_second = float(first.var(ddof=1)) / first.size, float(second.var(ddof=1)) / second.size
    ratio = float(second.mean() / first.mean())
    df = welch_df((ratio**2 * of_first, first.size - 1.0), (of_second, second.size - 1.0))
    return Means(float(first.mean()), float(second.mean()), of_first, of_second, 0.0, df)


def _exchanged_means(first: Values, second: Values, turned: NDArray[np.bool_]) -> Means:
    straight = _paired_means(first[~turned], second[~turned])
    crossed = _paired_means(first[turned], second[turned])
    reference, new = (straight.reference + crossed.reference) / 2.0, (straight.new + crossed.new) / 2.0
    ratio = new / reference
    df = welch_df(
        *(
            (part.new_variance - 2.0 * ratio * part.covariance + ratio**2 * part.reference_variance, part.df)
            for part in (straight, crossed)
        )
    )
    return Means(
        reference,
        new,
        (straight.reference_variance + crossed.reference_variance) / 4.0,
        (straight.new_variance + crossed.new_variance) / 4.0,
        (straight.covariance + crossed.covariance) / 4.0,
        df,
    )

"""The difference between designs at equal feed: analysis of covariance, with its two traps blocked.

Shared assay: a recovery worked out with a feed assay, set against that same assay, shows a slope that assay
error alone has made. Circuit: a machine inside a grinding circuit lowers its own feed grade when it recovers
more, so that grade is an outcome and must not be adjusted for. Either way there is no adjusted difference, and
the reason stands in its place. Not here: whether feeds were alike enough to compare (gates).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from profiler.statistics.inference.comparison import Interval, Kind, Values
from profiler.statistics.inference.probability import t_quantile, t_two_sided
from profiler.statistics.inference.regression import Fit, least_squares
from profiler.words import Basis, FeedGrade

_READS_FEED_ASSAY = (Basis.OVER_FEED, Basis.TWO_PRODUCT, Basis.RECONCILED)


@dataclass(frozen=True)
class Adjusted:
    """New minus reference at equal covariates. `slope` belongs to the first covariate, in points per its unit."""

    difference: float
    standard_error: float
    df: int
    slope: float
    slope_error: float

    @property
    def interval95(self) -> Interval:
        half = t_quantile(0.975, self.df) * self.standard_error
        return Interval(self.difference - half, self.difference + half)

    @property
    def p(self) -> float:
        return t_two_sided(self.difference / self.standard_error, self.df)


@dataclass(frozen=True)
class Adjustment:
    """Either `result`, perhaps with a caution, or the reason why there is none.

    `parallel_p`: how likely slopes this unlike are if both designs had one; below 0.05 a single adjusted
    difference does not describe them. None where it cannot be tested or more than one covariate is used.
    """

    result: Adjusted | None
    reason: str = ""
    caution: str = ""
    parallel_p: float | None = None


def trap(basis: Basis, feed_grade: FeedGrade, *, in_circuit: bool) -> str:
    """Why this feed grade must not be adjusted for; empty if it may be."""
    if in_circuit and feed_grade is not FeedGrade.FRESH_FEED:
        return (
            "inside a circuit the machine lowers its own feed grade when it recovers more, so that grade is an "
            "outcome; only the fresh feed to the circuit may be adjusted for"
        )
    if feed_grade is FeedGrade.BUILT_UP_HEAD:
        return "the built-up head shares its concentrate and tail assays with the recovery, which makes a false slope"
    if basis in _READS_FEED_ASSAY and feed_grade is FeedGrade.ASSAYED_FEED:
        return f"the feed assay is part of the recovery ({basis.value}), which makes a false slope"
    if basis in _READS_FEED_ASSAY and feed_grade is FeedGrade.NOT_STATED:
        return f"the feed grade is not stated to be independent of the feed assay in the recovery ({basis.value})"
    return ""


def caution(basis: Basis, feed_grade: FeedGrade) -> str:
    """What must be said beside an adjusted difference that is not blocked; empty if nothing."""
    if feed_grade is FeedGrade.NOT_STATED:
        return "the feed grade is not stated to be independent of the recovery"
    if basis is Basis.STATED and feed_grade is FeedGrade.ASSAYED_FEED:
        return "how the recoveries were worked out is not stated; they may share the feed assay"
    return ""


def adjust(
    kind: Kind,
    recoveries: tuple[ArrayLike, ArrayLike],
    covariates: tuple[ArrayLike, ArrayLike],
    swapped: ArrayLike = (),
) -> Adjusted:
    """Adjusted difference of (reference, new) recoveries for (reference, new) covariates.

    Recoveries (n,) and (m,); covariates (n, k) and (m, k), or (n,) and (m,) for one. Paired and exchanged: the
    differences against the differences of the covariates. Unpaired: both designs on one slope. Raises ValueError
    if the covariates do not vary where they must or leave no degree of freedom.
    """
    first, second = (np.asarray(side, dtype=np.float64) for side in recoveries)
    of_first, of_second = (_columns(side) for side in covariates)
    if kind is Kind.UNPAIRED:
        return _adjusted(_pooled_fit(first, second, of_first, of_second), column=1)
    change = of_second - of_first
    if np.any(np.all(np.abs(change) <= 1e-12 * np.abs(of_first).max(axis=0), axis=0)):
        raise ValueError("A covariate is the same on both sides of every pair: there is nothing to adjust for.")
    columns = [np.ones((first.size, 1)), change]
    if kind is Kind.EXCHANGED:
        columns.append(np.where(np.asarray(swapped, dtype=bool), -1.0, 1.0)[:, None])
    return _adjusted(least_squares(np.hstack(columns), second - first), column=0)


def parallel_slopes_p(recoveries: tuple[ArrayLike, ArrayLike], covariate: tuple[ArrayLike, ArrayLike]) -> float:
    """Probability of slopes this unlike if both designs had one slope against the covariate."""
    first, second = (np.asarray(side, dtype=np.float64) for side in recoveries)
    of_first, of_second = (_columns(side) for side in covariate)
    product = np.concatenate([np.zeros(first.size), of_second[:, 0] - np.concatenate([of_first, of_second]).mean()])
    columns = np.column_stack([_pooled_columns(of_first, of_second), product])
    fit = least_squares(columns, np.concatenate([first, second]))
    return t_two_sided(float(fit.coefficients[-1] / fit.standard_errors[-1]), fit.df)


def _columns(side: ArrayLike) -> Values:
    array = np.asarray(side, dtype=np.float64)
    return array[:, None] if array.ndim == 1 else array


def _pooled_columns(of_first: Values, of_second: Values) -> Values:
    design = np.concatenate([np.zeros(len(of_first)), np.ones(len(of_second))])
    together = np.vstack([of_first, of_second])
    if np.any(np.ptp(together, axis=0) <= 1e-12 * np.abs(together).max(axis=0)):
        raise ValueError("A covariate is the same in every run: there is nothing to adjust for.")
    return np.column_stack([np.ones(design.size), design, together - together.mean(axis=0)])


def _pooled_fit(first: Values, second: Values, of_first: Values, of_second: Values) -> Fit:
    return least_squares(_pooled_columns(of_first, of_second), np.concatenate([first, second]))


def _adjusted(fit: Fit, *, column: int) -> Adjusted:
    if fit.residual_square <= 0.0 or fit.standard_errors[column] == 0.0:
        raise ValueError("The covariates explain every value exactly: there is no error to judge by.")
    slope = column + 1
    return Adjusted(
        difference=float(fit.coefficients[column]),
        standard_error=float(fit.standard_errors[column]),
        df=fit.df,
        slope=float(fit.coefficients[slope]),
        slope_error=float(fit.standard_errors[slope]),
    )

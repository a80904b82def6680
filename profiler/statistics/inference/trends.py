"""Does the result move with time or wear? Straight lines through differences, and likeness of neighbours.

A drift common to both designs drops out of pairs; a drift of the difference does not. Not here: what a drift
means for the verdict (gates).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from profiler.statistics.inference.comparison import Interval
from profiler.statistics.inference.probability import t_quantile, t_two_sided
from profiler.statistics.inference.regression import Fit, least_squares


@dataclass(frozen=True)
class Trend:
    """Slope in points per unit of the axis (days, hours), and the correlation of each value with the one before.

    `lag_one` near zero: runs do not lean on their neighbours. Beyond `lag_limit` either way they do, and the
    intervals of unpaired runs are then too narrow.
    """

    slope: float
    slope_error: float
    df: int
    lag_one: float
    lag_limit: float

    @property
    def p(self) -> float:
        return t_two_sided(self.slope / self.slope_error, self.df)

    @property
    def interval95(self) -> Interval:
        half = t_quantile(0.975, self.df) * self.slope_error
        return Interval(self.slope - half, self.slope + half)


def trend(axis: ArrayLike, values: ArrayLike, groups: ArrayLike | None = None) -> Trend:
    """Line through values (n,) on an axis (n,); with groups (n,) of integers each keeps its own level.

    Raises ValueError below one degree of freedom or where the axis does not move within the groups.
    """
    x, y = np.asarray(axis, dtype=np.float64), np.asarray(values, dtype=np.float64)
    labels = np.zeros(x.size, dtype=np.int64) if groups is None else np.asarray(groups, dtype=np.int64)
    levels = (labels[:, None] == np.unique(labels)[None, :]).astype(np.float64)
    centred = x - levels @ ((levels.T @ x) / levels.sum(axis=0))
    if np.max(np.abs(centred), initial=0.0) <= 1e-9 * max(float(np.max(np.abs(x), initial=0.0)), 1e-300):
        raise ValueError("All values stand at the same place of the axis, so there is no trend to look for.")
    fit: Fit = least_squares(np.column_stack([centred, levels]), y)
    if fit.standard_errors[0] == 0.0:
        raise ValueError("The values lie on a line exactly: there is no error to judge by.")
    residuals = y - levels @ ((levels.T @ y) / levels.sum(axis=0))
    lag = lag_one(residuals[np.argsort(x, kind="stable")])
    return Trend(float(fit.coefficients[0]), float(fit.standard_errors[0]), fit.df, lag, 2.0 / float(np.sqrt(y.size)))


def lag_one(values: ArrayLike) -> float:
    """Correlation of neighbours in a row of values, about their mean; 0 for a row without scatter."""
    centred: NDArray[np.float64] = np.asarray(values, dtype=np.float64)
    centred = centred - centred.mean()
    square = float(centred @ centred)
    return float(centred[1:] @ centred[:-1]) / square if square > 0.0 else 0.0

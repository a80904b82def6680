"""Closed forms that the program does not need, against which what it does is held; each checked by its own source.

Formulas of handbooks (two products, n products, linear reconciliation, Gy's composition, the F test of nested models),
written plainly for one case at a time.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy import stats

from profiler.statistics.balances.balance import Stream
from profiler.statistics.inference.regression import Fit

Values = NDArray[np.float64]

MASS_RSD = 0.01  # a weighed or belt-metered dry mass, common practice, no source


@dataclass(frozen=True)
class Split:
    """Mass shares (j,) of the feed and recoveries (k, j) of each component to each product, fractions."""

    mass_shares: Values
    recoveries: Values


@dataclass(frozen=True)
class Reconciled:
    """Values (k,) that satisfy the constraints, their covariance (k, k) and the global test."""

    values: Values
    covariance: Values
    imbalance: Values
    chi_square: float
    df: int
    limit: float

    @property
    def closes(self) -> bool:
        """Whether the imbalance is no more than the errors allow, at 95 per cent."""
        return self.chi_square <= self.limit


@dataclass(frozen=True)
class NestedTest:
    """What the extra columns of the fuller model explain."""

    square: float
    f: float
    p: float
    df: tuple[int, int]


def two_product_recovery(feed: float, concentrate: float, tail: float) -> float:
    """Recovery from three grades alone; ValueError unless concentrate > feed > tail >= 0."""
    _refuse_disorder(feed, concentrate, tail)
    return concentrate * (feed - tail) / (feed * (concentrate - tail))


def two_product_pull(feed: float, concentrate: float, tail: float) -> float:
    """Concentrate mass over feed mass from three grades alone; ValueError as for the recovery."""
    _refuse_disorder(feed, concentrate, tail)
    return (feed - tail) / (concentrate - tail)


def equal_error_amplification(recovery: float, pull: float) -> tuple[float, float]:
    """Relative deviation of (recovery, pull) per relative deviation common to all three grades."""
    gap = abs(recovery - pull)
    return (
        float((1.0 - recovery) / gap * np.sqrt(1.0 + pull**2 + (1.0 - pull) ** 2)),
        float((1.0 - pull) / gap * np.sqrt(1.0 + recovery**2 + (1.0 - recovery) ** 2)),
    )


def _refuse_disorder(feed: float, concentrate: float, tail: float) -> None:
    if not feed > 0.0:
        raise ValueError(f"The feed grade must be above zero, not {feed:g}: no recovery without metal in the feed.")
    if not concentrate > feed > tail >= 0.0:
        raise ValueError(
            f"The two-product formula needs concentrate > feed > tail, not {concentrate:g}, {feed:g}, {tail:g} g/t."
        )


def split_by_grades(feed: ArrayLike, products: ArrayLike) -> Split:
    """Feed grades (k,) and product grades (k, j): exact for k = j - 1 components, least squares for more.

    Raises ValueError for fewer components, for products that cannot be told apart and for negative shares.
    """
    head = np.atleast_1d(np.asarray(feed, dtype=np.float64))
    grades = np.atleast_2d(np.asarray(products, dtype=np.float64))
    components, count = grades.shape
    if components < count - 1:
        raise ValueError(f"{count} products need at least {count - 1} assayed components, not {components}.")
    relative = grades[:, :-1] - grades[:, -1:]
    scale = np.abs(head)[:, None]
    if np.any(scale == 0.0) or np.linalg.matrix_rank(relative / scale) < count - 1:
        raise ValueError("The assays do not tell the products apart.")
    first, *_ = np.linalg.lstsq(relative / scale, (head - grades[:, -1]) / np.abs(head), rcond=None)
    shares = np.append(first, 1.0 - first.sum())
    if np.any(shares < 0.0):
        raise ValueError("The assays ask for a product of negative mass: a feed grade lies outside its products'.")
    return Split(shares, shares * grades / head[:, None])


def reconcile_linear(measured: ArrayLike, covariance: ArrayLike, constraints: ArrayLike) -> Reconciled:
    """Measured (k,), covariance (k, k), constraints (m, k) with constraints @ values = 0."""
    y, v, a = (np.asarray(part, dtype=np.float64) for part in (measured, covariance, constraints))
    rank = int(np.linalg.matrix_rank(a))
    if rank < a.shape[0]:
        raise ValueError("The balance equations repeat each other; leave out the ones that follow from the others.")
    imbalance = a @ y
    weight = np.linalg.inv(a @ v @ a.T)
    gain = v @ a.T @ weight
    return Reconciled(
        values=y - gain @ imbalance,
        covariance=v - gain @ a @ v,
        imbalance=imbalance,
        chi_square=float(imbalance @ weight @ imbalance),
        df=rank,
        limit=float(stats.chi2.ppf(0.95, rank)),
    )


def composition(mineral_share: float, mineral_density: float, gangue_density: float) -> float:
    """Gy's c in g/cm3 for a mass share of mineral; densities g/cm3. For gold about density/share."""
    if not 0.0 < mineral_share < 1.0:
        raise ValueError(f"The share of mineral lies between 0 and 1, not {mineral_share:g}.")
    rest = 1.0 - mineral_share
    return rest / mineral_share * (rest * mineral_density + mineral_share * gangue_density)


def geometric_ratio(reference: ArrayLike, new: ArrayLike) -> tuple[float, float, float]:
    """The mean logarithm of new over reference of pairs, turned back, with its 95 per cent limits."""
    logs = np.log(np.asarray(new, dtype=np.float64) / np.asarray(reference, dtype=np.float64))
    half = float(stats.t.ppf(0.975, logs.size - 1)) * float(logs.std(ddof=1)) / float(np.sqrt(logs.size))
    mean = float(logs.mean())
    return float(np.exp(mean)), float(np.exp(mean - half)), float(np.exp(mean + half))


def nested_test(fuller: Fit, plainer: Fit) -> NestedTest:
    """F test of what the fuller model explains beyond the plainer one, fitted to the same values."""
    extra = plainer.df - fuller.df
    if extra < 1:
        raise ValueError("The fuller model must have more columns than the plainer one.")
    square = plainer.residual_square - fuller.residual_square
    f = (square / extra) / (fuller.residual_square / fuller.df)
    return NestedTest(square, f, float(stats.f.sf(f, extra, fuller.df)), (extra, fuller.df))


def stream(
    *, mass: ArrayLike, grade: ArrayLike, mass_rsd: ArrayLike = MASS_RSD, grade_rsd: ArrayLike = np.nan
) -> Stream:
    """A stream from lists or single numbers (taken for every run)."""
    columns = np.broadcast_arrays(
        *(np.atleast_1d(np.asarray(part, float)) for part in (mass, grade, mass_rsd, grade_rsd))
    )
    return Stream(*(np.array(column) for column in columns))

"""Balances of several products, and the mean of several runs.

Not here: the run of one bowl with its deviations (balance).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Values = NDArray[np.float64]


@dataclass(frozen=True)
class Split:
    """Mass shares (j,) of the feed and recoveries (k, j) of each component to each product, fractions."""

    mass_shares: Values
    recoveries: Values


@dataclass(frozen=True)
class Distribution:
    """Metal (j,) in the unit of mass times grade, its shares and the mass shares, and the head grade."""

    metal: Values
    metal_shares: Values
    mass_shares: Values
    head_grade: float


@dataclass(frozen=True)
class MeanRecovery:
    """The plain mean of the runs, and the mean weighted by the metal fed (the one to quote for money)."""

    plain: float
    metal_weighted: float


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


def distribution(masses: ArrayLike, grades: ArrayLike) -> Distribution:
    """Where the metal went, from masses (j,) and grades (j,) of all products."""
    mass, grade = np.asarray(masses, dtype=np.float64), np.asarray(grades, dtype=np.float64)
    metal = mass * grade
    if not metal.sum() > 0.0:
        raise ValueError("The products hold no metal, so there is no distribution.")
    return Distribution(metal, metal / metal.sum(), mass / mass.sum(), float(metal.sum() / mass.sum()))


def mean_recovery(recoveries: ArrayLike, feed_masses: ArrayLike, feed_grades: ArrayLike) -> MeanRecovery:
    """Mean of runs (n,) two ways; they part where rich or large runs recover otherwise than poor or small ones."""
    recovery = np.asarray(recoveries, dtype=np.float64)
    metal = np.asarray(feed_masses, dtype=np.float64) * np.asarray(feed_grades, dtype=np.float64)
    if not metal.sum() > 0.0:
        raise ValueError("No metal was fed, so runs cannot be weighted by it.")
    return MeanRecovery(float(recovery.mean()), float(np.average(recovery, weights=metal)))

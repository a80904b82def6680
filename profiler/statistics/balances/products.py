"""Where the metal went: its distribution over the products of a run, and masses of products from their assays.

Not here: the run of one bowl with its deviations (balance).
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from profiler.statistics.balances.balance import Estimates, Stream

Values = NDArray[np.float64]


@dataclass(frozen=True)
class Distribution:
    """Metal (j,) in the unit of mass times grade, its shares and the mass shares, and the head grade."""

    metal: Values
    metal_shares: Values
    mass_shares: Values
    head_grade: float


def distribution(masses: ArrayLike, grades: ArrayLike) -> Distribution:
    """Where the metal went, from masses (j,) and grades (j,) of all products."""
    mass, grade = np.asarray(masses, dtype=np.float64), np.asarray(grades, dtype=np.float64)
    metal = mass * grade
    if not metal.sum() > 0.0:
        raise ValueError("The products hold no metal, so there is no distribution.")
    return Distribution(metal, metal / metal.sum(), mass / mass.sum(), float(metal.sum() / mass.sum()))


def product_masses(feed_mass: float, feed_grades: ArrayLike, grades: ArrayLike, known: ArrayLike = ()) -> Values:
    """Masses (j,) of the products of a feed assayed for k metals, `grades` (k, j); NaN where they cannot be told.

    The n-product balance: the masses add up to the feed's and so does each metal. `known` (j,) holds masses that were
    weighed, NaN for the others. As many unknown masses as k + 1 are told exactly, fewer by least squares, each equation
    over its own feed (B. A. Wills and J. Finch, Mineral Processing Technology, ch. 3, three-product formula).
    """
    fed, assays = (
        np.atleast_1d(np.asarray(feed_grades, dtype=np.float64)),
        np.atleast_2d(np.asarray(grades, np.float64)),
    )
    masses = np.full(assays.shape[1], np.nan)
    if np.size(known):
        masses = np.array(known, dtype=np.float64)
    unknown = np.isnan(masses)
    if not unknown.any():
        return masses
    rows = np.vstack([np.ones(assays.shape[1]), assays / fed[:, None]])
    rest = feed_mass - rows[:, ~unknown] @ masses[~unknown]
    if not np.all(np.isfinite(rows)) or not np.all(np.isfinite(rest)) or unknown.sum() > rows.shape[0]:
        return masses
    found, _, rank, _ = np.linalg.lstsq(rows[:, unknown], rest, rcond=None)
    if rank == unknown.sum() and np.all(found >= 0.0):
        masses[unknown] = found
    return masses


def product_recoveries(products: Sequence[Stream]) -> tuple[Estimates, ...]:
    """Recovery to each of j products over the head built up of all, as fractions with deviations, arrays (n,) each.

    A product's share falls where another's metal was overstated: d R_j / d ln x_i is R_j (1 - R_j) for i = j, else
    -R_j R_i (first order, errors independent of each other). NaN in a run that lacks a mass or grade.
    """
    metal = np.stack(
        [np.where(p.mass > 0.0, p.mass, np.nan) * np.where(p.grade >= 0.0, p.grade, np.nan) for p in products]
    )
    total = metal.sum(axis=0)
    shares = metal / np.where(total > 0.0, total, np.nan)
    relative = np.stack([np.hypot(p.mass_rsd, p.grade_rsd) for p in products])
    found = []
    for j, share in enumerate(shares):
        along = np.stack([share * ((i == j) - other) for i, other in enumerate(shares)])
        found.append(Estimates(share, np.sqrt(np.sum((along * relative) ** 2, axis=0))))
    return tuple(found)


def together(first: Stream, second: Stream) -> Stream:
    """Two products as the one they came from; its grade is that of both by mass."""
    mass, metal = first.mass + second.mass, first.mass * first.grade + second.mass * second.grade
    by_mass = np.hypot(first.mass * first.mass_rsd, second.mass * second.mass_rsd) / mass
    parts = first.mass * first.grade * first.grade_rsd, second.mass * second.grade * second.grade_rsd
    return Stream(mass, metal / mass, by_mass, np.hypot(*parts) / np.where(metal > 0.0, metal, np.nan))

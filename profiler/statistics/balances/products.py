"""Where the metal went: its distribution over the products of a run.

Not here: the run of one bowl with its deviations (balance).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

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

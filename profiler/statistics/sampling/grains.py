"""The error that no assay removes: a sample or a feed holds only so many grains of gold.

Two identical tests differ because each was fed, and each sample got, a chance number of grains. Only more feed,
larger samples or more tests help. Grade in g/t, masses in kg, diameters in um, grain mass in mg.
Not here: the sampling constant of broken ore (fundamental_error), the sum of all errors (budget).
"""

from dataclasses import dataclass
from math import pi, sqrt

import numpy as np
from numpy.typing import ArrayLike, NDArray

GOLD_DENSITY = 19_300.0  # kg/m3, fine gold; native gold with silver is nearer 16 000
LEAST_GRAINS = 20  # Clifton and others 1969 (USGS Professional Paper 625-C): a sample should hold 20


@dataclass(frozen=True)
class MeanLimits:
    """Exact 95 per cent limits on the mean count behind an observed count of grains."""

    low: float
    high: float


def grain_mass_mg(diameter_um: ArrayLike, density: float = GOLD_DENSITY) -> NDArray[np.float64]:
    """Mass of a sphere of gold."""
    return np.asarray(density * pi / 6.0 * (np.asarray(diameter_um, dtype=np.float64) * 1e-6) ** 3 * 1e6)


def effective_grain_mass_mg(diameters_um: ArrayLike, metal_shares: ArrayLike, density: float = GOLD_DENSITY) -> float:
    """Grain mass that gives the same scatter as gold spread over sizes; shares (k,) of the metal add up to 1."""
    shares = np.asarray(metal_shares, dtype=np.float64)
    if np.any(shares < 0.0) or abs(float(shares.sum()) - 1.0) > 1e-6:
        raise ValueError(f"The shares of the metal must add up to 1, not {shares.sum():g}.")
    return float(np.sum(shares * grain_mass_mg(diameters_um, density)))


def grain_count(grade_g_t: float, mass_kg: float, grain_mg: float) -> float:
    """Mean number of (effective) grains; grade in g/t is also mg per kg."""
    if not (grade_g_t > 0.0 and mass_kg > 0.0 and grain_mg > 0.0):
        raise ValueError("Grains are counted from a grade, a mass and a grain mass above zero.")
    return grade_g_t * mass_kg / grain_mg


def count_rsd(grains: float) -> float:
    """Relative deviation of a chance number of grains."""
    return 1.0 / sqrt(grains)


def mean_limits(count: int) -> MeanLimits:
    """Exact Poisson limits, by chi-square."""
    from profiler.statistics.inference.probability import chi_square_quantile

    low = chi_square_quantile(0.025, 2.0 * count) / 2.0 if count else 0.0
    return MeanLimits(low, chi_square_quantile(0.975, 2.0 * count + 2.0) / 2.0)


def recovery_floor(
    recovery: float, fed: float, tail_sample: float | None = None, concentrate_sample: float | None = None
) -> float:
    """Least standard deviation of a recovery on built-up head, all fractions, from grain counts.

    R(1-R)/n for the grains fed, and [R(1-R)]^2/n for the grains in each sub-sample that was assayed instead of
    the whole stream (None: the whole was assayed).
    """
    if not 0.0 <= recovery <= 1.0:
        raise ValueError(f"A recovery lies between 0 and 1, not {recovery:g}.")
    spread = recovery * (1.0 - recovery)
    variance = spread / fed
    for grains in (tail_sample, concentrate_sample):
        if grains is not None:
            variance += spread**2 / grains
    return sqrt(variance)


def feed_for_floor(recovery: float, floor: float, grade_g_t: float, grain_mg: float) -> float:
    """Feed in kg whose grain floor (fractions, sub-samples apart) is no more than `floor`."""
    if not floor > 0.0:
        raise ValueError("A grain floor of zero would need endless feed.")
    return recovery * (1.0 - recovery) / floor**2 * grain_mg / grade_g_t

"""Gy's fundamental sampling error of broken ore: for planning a sample, uncertain by a factor of about 3.

Duplicates decide (duplicates). Lengths in cm and masses in g, as the published tables have them.
"""

from dataclasses import dataclass
from math import sqrt

NATIVE_GOLD_DENSITY = 16.0  # g/cm3, gold with silver


@dataclass(frozen=True, kw_only=True)
class Ore:
    """What sets the sampling constant.

    `composition` is Gy's c in g/cm3 (see `gold_composition`), `top` the size d passing 95 per cent and `liberation` the
    size at which the mineral is free, both cm. `shape` about 0.5 (flaky gold 0.2), `range` about 0.25 for a wide
    spread of sizes (0.5 where d95/d5 is 2 to 4).
    """

    composition: float
    top: float
    liberation: float
    shape: float = 0.5
    range: float = 0.25
    liberation_exponent: float = 0.5

    @property
    def liberation_factor(self) -> float:
        if self.top <= self.liberation:
            return 1.0
        return float((self.liberation / self.top) ** self.liberation_exponent)

    @property
    def constant(self) -> float:
        """g/cm3: the relative variance is this times top^3 times (1/sample - 1/lot)."""
        return self.shape * self.range * self.composition * self.liberation_factor


def gold_composition(grade_g_t: float, density: float = NATIVE_GOLD_DENSITY) -> float:
    """Gy's c in g/cm3 for gold: density over its mass fraction."""
    if not grade_g_t > 0.0:
        raise ValueError(f"The grade must be above zero, not {grade_g_t:g}.")
    return density / (grade_g_t * 1e-6)


def relative_sd(ore: Ore, sample_g: float, lot_g: float = float("inf")) -> float:
    """Relative standard deviation of the grade of a sample, a fraction."""
    if not 0.0 < sample_g <= lot_g:
        raise ValueError(f"A sample of {sample_g:g} g cannot come from a lot of {lot_g:g} g.")
    return sqrt(ore.constant * ore.top**3 * (1.0 / sample_g - 1.0 / lot_g))


def least_sample_g(ore: Ore, relative: float) -> float:
    """Sample mass from a large lot whose relative standard deviation is no more than `relative`."""
    if not relative > 0.0:
        raise ValueError("An error of zero would need the whole lot.")
    return ore.constant * ore.top**3 / relative**2

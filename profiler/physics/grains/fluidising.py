"""The upflow that loosens a bed, and the upflow that carries its grains away, at any acceleration.

All laws run between the Archimedes number, in which the acceleration stands, and the Reynolds number of the
superficial velocity. What water a groove gets is in `jacket`.
"""

from dataclasses import dataclass

import numpy as np

from profiler.physics.grains import settling
from profiler.physics.rotor.rotation import FloatArray, Values


@dataclass(frozen=True, slots=True)
class Correlation:
    """Re_mf = sqrt(C1^2 + C2 Ar) - C1."""

    name: str
    c1: float
    c2: float


# Wen C.Y. & Yu Y.H. (1966) AIChE J. 12, 610-612; the others as collected in Kunii D. & Levenspiel O. (1991)
# Fluidization Engineering, table 4 of chapter 3, seen as the library chemics 20.9 prints it. They lie a factor of two
# apart: so a band is shown.
CORRELATIONS = (
    Correlation("Wen & Yu", 33.7, 0.0408),
    Correlation("Richardson", 25.7, 0.0365),
    Correlation("Grace", 27.2, 0.0408),
    Correlation("Chitester", 28.7, 0.0494),
    Correlation("Saxena & Vogel", 25.28, 0.0571),
    Correlation("Babu", 25.25, 0.0651),
)


def minimum_reynolds(archimedes: Values, correlation: Correlation) -> FloatArray:
    """Reynolds number [-] of the superficial velocity that just lifts a bed, by grain size."""
    c1, c2 = correlation.c1, correlation.c2
    load = c2 * np.asarray(archimedes)
    return np.asarray(load / (np.sqrt(c1 * c1 + load) + c1))  # the difference of near equals would lose digits


def minimum_velocities(
    grain_size: Values, solids_density: Values, liquid_density: Values, liquid_viscosity: Values, acceleration: Values
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Superficial velocity [m/s] that just lifts a bed: least, median and greatest over the correlations.

    Size [m], densities [kg/m3], viscosity [Pa s], acceleration [m/s2]. Grain size is the coarser sieve's: with a mean
    size the laws read 10 to 15 % low on coarse sand. A bed of 150 um in water at 20 degrees C and 60 g, in mm/s:

    >>> [f"{1e3 * v:.1f}" for v in minimum_velocities(150e-6, 2700.0, 998.2, 1.0016e-3, 60 * 9.80665)]
    ['13.2', '17.3', '26.9']
    """
    number = settling.archimedes_number(grain_size, solids_density, liquid_density, liquid_viscosity, acceleration)
    scale = liquid_viscosity / (liquid_density * grain_size)
    each = np.stack([minimum_reynolds(number, c) * scale for c in CORRELATIONS])
    return np.min(each, axis=0), np.median(each, axis=0), np.max(each, axis=0)

"""The upflow that loosens a bed, and the upflow that carries its grains away, at any acceleration.

All laws run between the Archimedes number, in which the acceleration stands, and the Reynolds number of the
superficial velocity. What water a groove gets is in `jacket`.
"""

from dataclasses import dataclass

import numpy as np

from . import settling
from .rotation import FloatArray, Values


@dataclass(frozen=True, slots=True)
class Correlation:
    """Re_mf = sqrt(C1^2 + C2 Ar) - C1."""

    name: str
    c1: float
    c2: float


WEN_YU = Correlation("Wen & Yu", 33.7, 0.0408)

# Wen C.Y. & Yu Y.H. (1966) AIChE J. 12, 610-612; the others as collected in Kunii D. & Levenspiel O. (1991)
# Fluidization Engineering, table 4 of chapter 3 (from memory). They lie a factor of two apart: so a band is shown.
CORRELATIONS = (
    WEN_YU,
    Correlation("Richardson", 25.7, 0.0365),
    Correlation("Grace", 27.2, 0.0408),
    Correlation("Chitester", 28.7, 0.0494),
    Correlation("Saxena & Vogel", 25.28, 0.0571),
    Correlation("Babu", 25.25, 0.0651),
)


def minimum_reynolds(archimedes: Values, correlation: Correlation = WEN_YU) -> FloatArray:
    """Reynolds number [-] of the superficial velocity that just lifts a bed, by grain size."""
    c1, c2 = correlation.c1, correlation.c2
    load = c2 * np.asarray(archimedes)
    return np.asarray(load / (np.sqrt(c1 * c1 + load) + c1))  # the difference of near equals would lose digits


def minimum_velocity(
    grain_size: Values,
    solids_density: Values,
    liquid_density: Values,
    liquid_viscosity: Values,
    acceleration: Values,
    correlation: Correlation = WEN_YU,
) -> FloatArray:
    """Superficial velocity [m/s] that just lifts a bed; size [m], densities [kg/m3], viscosity [Pa s], [m/s2].

    Grain size is the coarser sieve's: with a mean size the law reads 10 to 15 % low on coarse sand.
    """
    number = settling.archimedes_number(grain_size, solids_density, liquid_density, liquid_viscosity, acceleration)
    return np.asarray(minimum_reynolds(number, correlation) * liquid_viscosity / (liquid_density * grain_size))


def minimum_velocities(
    grain_size: Values, solids_density: Values, liquid_density: Values, liquid_viscosity: Values, acceleration: Values
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Least, median and greatest of `minimum_velocity` over all correlations [m/s]."""
    number = settling.archimedes_number(grain_size, solids_density, liquid_density, liquid_viscosity, acceleration)
    scale = liquid_viscosity / (liquid_density * grain_size)
    each = np.stack([minimum_reynolds(number, c) * scale for c in CORRELATIONS])
    return np.min(each, axis=0), np.median(each, axis=0), np.max(each, axis=0)


def ergun_minimum_velocity(
    grain_size: Values,
    sphericity: Values,
    voidage: Values,
    solids_density: Values,
    liquid_density: Values,
    liquid_viscosity: Values,
    acceleration: Values,
) -> FloatArray:
    """Superficial velocity [m/s] at which Ergun's pressure drop carries a bed of known voidage and sphericity.

    1.75 Re^2/(eps^3 phi) + 150 (1 - eps) Re/(eps^3 phi^2) = Ar; Ergun S. (1952) Chem. Eng. Prog. 48, 89-94.
    """
    number = settling.archimedes_number(grain_size, solids_density, liquid_density, liquid_viscosity, acceleration)
    cube = np.asarray(voidage) ** 3
    inertial = 1.75 / (cube * sphericity)
    viscous = 150.0 * (1.0 - voidage) / (cube * sphericity**2)
    reynolds = 2.0 * number / (viscous + np.sqrt(viscous * viscous + 4.0 * inertial * number))
    return np.asarray(reynolds * liquid_viscosity / (liquid_density * grain_size))


def ergun_pressure_gradient(
    grain_size: Values, voidage: Values, liquid_density: Values, liquid_viscosity: Values, velocity: Values
) -> FloatArray:
    """Pressure lost per length of bed [Pa/m] at a superficial velocity [m/s]; Ergun S. (1952), spheres."""
    solid = 1.0 - voidage
    cube = np.asarray(voidage) ** 3
    viscous = 150.0 * liquid_viscosity * solid**2 / (cube * grain_size**2)
    inertial = 1.75 * liquid_density * solid / (cube * grain_size)
    return np.asarray(velocity * (viscous + inertial * velocity))


def voidage_at(velocity: Values, terminal: Values, exponent: Values) -> FloatArray:
    """Voidage [-] of a bed lifted by a superficial velocity, (U/v)^(1/n), at most 1: Richardson & Zaki (1954).

    A value below the packed bed's says that the bed is not lifted.
    """
    return np.asarray(np.minimum(velocity / terminal, 1.0) ** (1.0 / exponent))

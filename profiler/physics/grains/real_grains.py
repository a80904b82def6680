"""How fast real grains settle: crushed sand and flakes beside the sphere of `settling`, alone and in company.

Size is the sieve size of sand, the diameter of the sphere of equal volume for flakes. Velocities are terminal ones at
the acceleration given, as in `settling`; what keeps a grain in a groove is in `capture`.
"""

from collections.abc import Callable

import numpy as np

from profiler.physics.grains import settling
from profiler.physics.rotor.rotation import FloatArray, Values

SAND_TURBULENT = 1.0  # C2 of natural sand by sieve size, Ferguson & Church (2004)
ANGULARITY = 3.5  # Powers roundness of crushed and placer grains; 6 is perfectly round

SizeLaw = Callable[[FloatArray], FloatArray]

_SMALLEST, _LARGEST = 1e-7, 2e-2  # m, between which a size is sought
_RUNGS = np.linspace(np.log(_SMALLEST), np.log(_LARGEST), 13)
_PASSES, _CLOSE, _EXACT = 60, 1e-6, 1e-13  # until ln size moves less; the secant leaves far less than it moved


def sand_velocity(
    grain_size: Values, solids_density: Values, liquid_density: Values, liquid_viscosity: Values, acceleration: Values
) -> FloatArray:
    """Terminal velocity [m/s] of crushed or natural sand: size [m], densities [kg/m3], viscosity [Pa s], [m/s2].

    Ferguson R.I. & Church M. (2004) J. Sediment. Res. 74(6) 933-937 with C1 18, C2 1.0: within 10 % of the sphere law
    where sand settles in a bowl.
    """
    number = settling.archimedes_number(grain_size, solids_density, liquid_density, liquid_viscosity, acceleration)
    reynolds = settling.ferguson_church_reynolds(number, SAND_TURBULENT)
    return np.asarray(reynolds * liquid_viscosity / (liquid_density * grain_size))


def flake_velocity(
    grain_size: Values,
    solids_density: Values,
    liquid_density: Values,
    liquid_viscosity: Values,
    acceleration: Values,
    flatness: Values,
    roundness: Values = ANGULARITY,
) -> FloatArray:
    """Terminal velocity [m/s] of a flat grain: `flatness` is the Corey shape factor, thickness over sqrt(length width).

    Dietrich W.E. (1982) Water Resour. Res. 18, 1615-1626 (not yet checked against the source; UNCHECKED in assess
    bounds it), for shape factors of 0.2 to 1. With 1
    and a roundness of 6 it is a sphere's law, 2 to 8 % below that of `settling`.
    """
    number = settling.archimedes_number(grain_size, solids_density, liquid_density, liquid_viscosity, acceleration)
    x = np.log10(number)
    flat = 1.0 - flatness
    bend = np.tanh(x - 4.6)
    smooth = -3.76715 + x * (1.92944 + x * (-0.09815 + x * (-0.00575 + x * 0.00056)))
    shape = np.log10(1.0 - flat / 0.85) - flat**2.3 * bend + 0.3 * (0.5 - flatness) * flat**2 * (x - 4.6)
    edges = (0.65 - flatness / 2.83 * bend) ** (1.0 + (3.5 - roundness) / 2.5)
    dimensionless = edges * 10.0 ** (smooth + shape)  # w^3/(R a nu)
    excess = (solids_density - liquid_density) / liquid_density
    return np.asarray(np.cbrt(dimensionless * excess * acceleration * liquid_viscosity / liquid_density))


def hindering_exponent(reynolds: Values) -> FloatArray:
    """n [-] of v (1 - C)^n by the Reynolds number at terminal velocity: 4.7 for fine grains, 2.35 for coarse.

    Rowe P.N. (1987) Chem. Eng. Sci. 42, 2795: one smooth line through Richardson & Zaki's (1954) pieces.
    """
    power = np.asarray(reynolds) ** 0.75
    return np.asarray((4.7 + 0.41 * power) / (1.0 + 0.175 * power))


def hindered(
    velocity: Values, grain_size: Values, solids_fraction: Values, liquid_density: Values, liquid_viscosity: Values
) -> FloatArray:
    """Settling velocity [m/s] among others, v (1 - C)^n: Richardson J.F. & Zaki W.N. (1954), n after Rowe."""
    reynolds = velocity * grain_size * liquid_density / liquid_viscosity
    return np.asarray(velocity * (1.0 - solids_fraction) ** hindering_exponent(reynolds))


def size_that_settles(velocity: FloatArray, law: SizeLaw) -> FloatArray:
    """Size [m] whose velocity by `law` is `velocity` [m/s]; `law` rises with size.

    It is asked with arrays of that shape, and once with one axis more before. Below 0.1 um and above 20 mm the end of
    the range is returned; nan stays nan, and a law without an answer gives nan. Of a few sizes the two that enclose
    it are taken; from there the secant in the logarithms of size and velocity, which are nearly straight.
    """
    with np.errstate(all="ignore"):
        wanted = np.log(velocity)
        rungs = _RUNGS.reshape(-1, *(1,) * np.ndim(velocity)) + np.zeros(np.shape(velocity))
        errors = np.log(law(np.exp(rungs))) - wanted
        below, above = errors[0] >= 0.0, errors[-1] <= 0.0
        which = np.minimum(np.maximum(np.sum(errors < 0.0, axis=0), 1), len(_RUNGS) - 1)[None]
        low, high, here, there = (
            np.take_along_axis(values, at, axis=0)[0] for values in (rungs, errors) for at in (which - 1, which)
        )
        near, far, outside = low, high, below | above
        for _ in range(_PASSES):
            step = np.where(np.abs(there) <= _EXACT, 0.0, there * (far - near) / (there - here))
            near, far, here = far, np.minimum(np.maximum(far - step, low), high), there
            if not np.fmax.reduce(np.where(outside, 0.0, np.abs(step)), axis=None, initial=0.0) > _CLOSE:
                break
            there = np.log(law(np.exp(far))) - wanted
        found = np.where(above, _LARGEST, np.where(below, _SMALLEST, np.exp(far)))
    return np.where(np.isnan(velocity), np.nan, found)

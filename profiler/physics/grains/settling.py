"""How fast a single grain settles, at any acceleration.

Only the submerged weight (solids density less liquid density, times acceleration) drives a grain, and it
stands in the Archimedes number. So the laws here run between Archimedes and Reynolds numbers and know no g.
Hindered settling and flakes are in `real_grains`.
"""

import numpy as np

from profiler.physics.rotor.rotation import FloatArray, Values

# C_D = 24/Re (1 + A Re^B) + C/(1 + D/Re) of a sphere, fitted below Re 2.6e5:
# Haider A. & Levenspiel O. (1989) Powder Technol. 58, 63-70.
_A, _B, _C, _D = 0.1806, 0.6459, 0.4251, 6880.95
_FERGUSON_CHURCH_VISCOUS = 18.0
_START_TURBULENT = 0.5  # keeps the explicit law within a sixth of the drag law's root
_STEPS = 3  # the error squares at each step: from a sixth to 2e-3, 1e-7, rounding


def log_drag_over_reynolds(reynolds: FloatArray) -> tuple[FloatArray, FloatArray]:
    """ln(C_D/Re) of a sphere and its derivative by ln Re: gives the size that settles at a wanted velocity.

    Haider & Levenspiel (1989), for Re < 2.6e5.
    """
    viscous = 24.0 / (reynolds * reynolds)
    mixed = viscous * _A * reynolds**_B
    inertial = _C / (reynolds + _D)
    total = viscous + mixed + inertial
    slope = (-2.0 * viscous + (_B - 2.0) * mixed - inertial * reynolds / (reynolds + _D)) / total
    return np.log(total), slope


def archimedes_number(
    grain_size: Values,
    solids_density: Values,
    liquid_density: Values,
    liquid_viscosity: Values,
    acceleration: Values,
) -> FloatArray:
    """Archimedes number [-], d^3 rho_l (rho_s - rho_l) a / mu^2. Its cube root is the grain number D*."""
    submerged_weight = (solids_density - liquid_density) * acceleration
    viscous = liquid_viscosity * liquid_viscosity
    return np.asarray(grain_size * grain_size * grain_size * liquid_density * submerged_weight / viscous)


def terminal_velocity(
    grain_size: Values,
    solids_density: Values,
    liquid_density: Values,
    liquid_viscosity: Values,
    acceleration: Values,
) -> FloatArray:
    """Terminal velocity [m/s] of a sphere: grain size [m], densities [kg/m3], viscosity [Pa s], [m/s2].

    The drag law above solved to rounding. Arguments broadcast; all must be positive and the grain denser than
    the liquid, else the result is nan. A grain of 150 um in water at 20 degrees C and 60 g:

    >>> f"{terminal_velocity(150e-6, 2700.0, 998.2, 1.0016e-3, 60 * 9.80665):.4f}"
    '0.3668'
    """
    archimedes = archimedes_number(grain_size, solids_density, liquid_density, liquid_viscosity, acceleration)
    return np.asarray(terminal_reynolds(archimedes) * liquid_viscosity / (liquid_density * grain_size))


def terminal_reynolds(archimedes: Values) -> FloatArray:
    """Reynolds number [-] of a sphere at terminal velocity; nan unless the Archimedes number is positive."""
    with np.errstate(divide="ignore", invalid="ignore"):
        log_archimedes = np.log(np.asarray(archimedes, dtype=np.float64))
        log_reynolds = approximate_log_reynolds(archimedes)
        for _ in range(_STEPS):
            log_reynolds, _slope = improve_log_reynolds(log_reynolds, log_archimedes)
        return np.asarray(np.exp(log_reynolds))


def ferguson_church_reynolds(archimedes: Values, turbulent: Values) -> FloatArray:
    """Terminal Reynolds number [-] by the explicit law Re = Ar/(18 + sqrt(0.75 C2 Ar)), C2 = `turbulent`.

    Ferguson R.I. & Church M. (2004) J. Sediment. Res. 74(6) 933-937: C2 1.0 for natural sand by sieve size,
    0.4 for spheres, which lies up to a quarter too high where Re is 12 to 160, the range of sand in a bowl.
    """
    return np.asarray(archimedes / (_FERGUSON_CHURCH_VISCOUS + np.sqrt(0.75 * turbulent * archimedes)))


def approximate_log_reynolds(archimedes: Values) -> FloatArray:
    """ln Re of a sphere within about a sixth: where `improve_log_reynolds` starts."""
    return np.asarray(np.log(ferguson_church_reynolds(archimedes, _START_TURBULENT)))


def improve_log_reynolds(log_reynolds: FloatArray, log_archimedes: FloatArray) -> tuple[FloatArray, FloatArray]:
    """One Newton step of ln(3/4 C_D Re^2) = ln Ar in ln Re; returns the new ln Re and d ln Ar/d ln Re.

    The slope runs from 1 (viscous) to a little over 2 (inertial), so no step can go astray.
    """
    reynolds = np.exp(log_reynolds)
    viscous = 18.0 * reynolds
    mixed = viscous * (_A * np.exp(_B * log_reynolds))
    turbulent = reynolds / (reynolds + _D)
    inertial = (0.75 * _C) * reynolds * reynolds * turbulent
    total = viscous + mixed + inertial
    slope = (viscous + (1.0 + _B) * mixed + (3.0 - turbulent) * inertial) / total
    return log_reynolds + (log_archimedes - np.log(total)) / slope, slope

"""Solids in a liquid: density, and the viscosity fine solids lend it.

Fractions are shares of the volume between 0 and 1. Thirty per cent by mass of a common mineral is about fourteen per
cent by volume. Settling is in `settling`, hindering in `real_grains`.
"""

import numpy as np

from profiler.physics.rotor.rotation import FloatArray, Values


def mixture_density(volume_fraction: Values, solids_density: Values, liquid_density: Values) -> FloatArray:
    """Density [kg/m3] of the slurry.

    >>> f"{mixture_density(0.25, 2650.0, 998.2):.1f}"
    '1411.2'
    """
    return np.asarray(liquid_density + volume_fraction * (solids_density - liquid_density))


def relative_viscosity(volume_fraction: Values) -> FloatArray:
    """Viscosity of the suspension over that of its liquid [-], for volume fractions below 0.6.

    Thomas D.G. (1965) J. Colloid Sci. 20, 267-277. The fit gives 1.0027, not 1, without solids.

    >>> f"{relative_viscosity(0.25):.4f}"
    '2.4263'
    """
    c = volume_fraction
    return np.asarray(1.0 + 2.5 * c + 10.05 * c * c + 0.00273 * np.exp(16.6 * c))

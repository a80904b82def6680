"""From the share of the mass to that of the volume, for slurries that tests state by mass."""

import numpy as np

from profiler.physics.rotor.rotation import FloatArray, Values


def volume_fraction(mass_fraction: Values, solids_density: Values, liquid_density: Values) -> FloatArray:
    """Share of the volume [-] taken by solids that are `mass_fraction` [-] of the mass; densities [kg/m3]."""
    solids = mass_fraction / solids_density
    return np.asarray(solids / (solids + (1.0 - mass_fraction) / liquid_density))

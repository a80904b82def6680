"""How dense a settled bed lies: solids' share, bulk density, settled mass. All for a bed under water."""

import numpy as np

from profiler.physics.rotor.rotation import FloatArray, Values

SETTLED = 0.58  # solids' share of a bed settled under fluidising water
SETTLED_LOW, SETTLED_HIGH = 0.54, 0.62  # random loose 0.555-0.60 (Scott 1960), random close 0.634-0.64; from memory


def bulk_density(solids_density: Values, liquid_density: Values, packing: Values = SETTLED) -> FloatArray:
    """Density [kg/m3] of a bed whose pores are full of liquid."""
    return np.asarray(packing * solids_density + (1.0 - packing) * liquid_density)


def settled_mass(volume: Values, solids_density: Values, packing: Values = SETTLED) -> FloatArray:
    """Dry mass [kg] of the solids of a bed that fills `volume` [m3]."""
    return np.asarray(packing * solids_density * volume)

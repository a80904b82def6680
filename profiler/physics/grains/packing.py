"""How dense a settled bed lies: solids' share, bulk density, settled mass. All for a bed under water."""

import numpy as np

from profiler.physics.rotor.rotation import FloatArray, Values

SETTLED = 0.58  # solids' share of a bed settled under fluidising water
# Random loose 0.555 to 0.60 (Scott 1960), not yet checked against the source; random close 0.634 to 0.64.
SETTLED_LOW, SETTLED_HIGH = 0.54, 0.62


def bulk_density(solids_density: Values, liquid_density: Values, packing: Values = SETTLED) -> FloatArray:
    """Density [kg/m3] of a bed whose pores are full of liquid.

    >>> f"{bulk_density(2650.0, 998.2):.0f}"  # quartz in water
    '1956'
    """
    return np.asarray(packing * solids_density + (1.0 - packing) * liquid_density)


def settled_mass(volume: Values, solids_density: Values, packing: Values = SETTLED) -> FloatArray:
    """Dry mass [kg] of the solids of a bed that fills `volume` [m3]."""
    return np.asarray(packing * solids_density * volume)

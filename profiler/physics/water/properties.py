"""Density and viscosity of clean water at atmospheric pressure.

Dissolved salts, fines and air are not here; fines are counted by whoever sets the carrier's properties. Outside 0 to
100 degrees C both fits are extrapolated, not refused.
"""

import numpy as np

from profiler.physics.rotor.rotation import FloatArray, Values

_KELL_NUMERATOR = (999.83952, 16.945176, -7.9870401e-3, -46.170461e-6, 105.56302e-9, -280.54253e-12)
_KELL_DENOMINATOR = 16.879850e-3
_VISCOSITY_TERMS = ((280.68, -1.9), (511.45, -7.7), (61.131, -19.6), (0.45903, -40.0))
_ICE_POINT = 273.15  # K
_REFERENCE_TEMPERATURE = 300.0  # K


def density(temperature_c: Values) -> FloatArray:
    """Density [kg/m3] of air-free water at 1 atm, 0 to 100 degrees C.

    Kell G.S. (1975) J. Chem. Eng. Data 20(1) 97-105; within 1.5 in 100 000 of IAPWS-95.

    >>> f"{density(20.0):.2f}"
    '998.20'
    """
    t = np.asarray(temperature_c, dtype=np.float64)
    return np.polynomial.polynomial.polyval(t, _KELL_NUMERATOR) / (1.0 + _KELL_DENOMINATOR * t)


def viscosity(temperature_c: Values) -> FloatArray:
    """Dynamic viscosity [Pa s] of liquid water at 0.1 MPa, 0 to 100 degrees C.

    IAPWS SR6-08 (2011), the short fit at 0.1 MPa; within 0.01 % of the full formulation R12-08.

    >>> f"{viscosity(20.0):.4e}"
    '1.0016e-03'
    """
    ratio = (np.asarray(temperature_c, dtype=np.float64) + _ICE_POINT) / _REFERENCE_TEMPERATURE
    return np.asarray(1e-6 * sum(factor * ratio**exponent for factor, exponent in _VISCOSITY_TERMS))

"""Friction of a film running along the wall, and the stress at which grains start to move.

Darcy friction factors throughout (four times the Fanning factor), with the hydraulic diameter of a wide film,
four times its depth. What slope the film takes is in `repose`.
"""

from dataclasses import dataclass
from math import log

import numpy as np
import numpy.typing as npt

from profiler.physics.rotor.rotation import FloatArray, Values

ROUGHNESS_GRAINS = 2.0  # roughness of a bed of grains, in d50
ROUGHNESS_CAP = 0.2  # relative roughness beyond which no friction law is known
REYNOLDS_FLOOR = 500.0  # Reynolds number below which the turbulent law is not followed further
LAMINAR = 96.0  # Darcy factor times Reynolds number of a laminar film

_HAALAND_EXPONENT = 1.11
_HAALAND_FACTOR = 1.8 / log(10.0)


@dataclass(frozen=True, slots=True)
class FilmFriction:
    """Friction factor of a film, how it changes with depth, and whether a limit of the law was reached."""

    factor: FloatArray  # Darcy [-]
    gradient: FloatArray  # d ln(factor) / d ln(depth) [-]
    roughness_capped: npt.NDArray[np.bool_]
    reynolds_floored: npt.NDArray[np.bool_]


def film_friction(depth: Values, grain_size: Values, reynolds: Values) -> FilmFriction:
    """Friction of a film of `depth` [m] over grains of `grain_size` [m] at its Reynolds number 4 q/nu.

    The larger of the laminar film's 96/Re (Nusselt) and turbulent flow with a roughness of two grains: Haaland S.E.
    (1983) J. Fluids Eng. 105, 89-90, within 1.5 % of Colebrook-White for Re 4e3 to 1e8. The relative roughness is held
    at or below 0.2, the Reynolds number in Haaland's law at or above 500: the record says where. A film is smooth below
    a Reynolds number of about 20, rippled to about 1500, then turbulent, which nearly every film in a bowl is.
    """
    roughness = ROUGHNESS_GRAINS * grain_size / (4.0 * depth)
    capped = np.asarray(roughness > ROUGHNESS_CAP)
    floored = np.asarray(reynolds < REYNOLDS_FLOOR)
    rough = _rough_share(np.minimum(roughness, ROUGHNESS_CAP))
    share = rough + 6.9 / np.maximum(reynolds, REYNOLDS_FLOOR)
    log_share = np.log(share)
    turbulent = _darcy(log_share)
    laminar = LAMINAR / reynolds
    gradient = np.where(capped | (laminar > turbulent), 0.0, 2.0 * _HAALAND_EXPONENT * rough / (share * log_share))
    return FilmFriction(np.maximum(laminar, turbulent), gradient, capped, floored)


def critical_shields(grain_number: Values) -> FloatArray:
    """Shields stress [-] at which grains start to move; `grain_number` D* = Ar^(1/3), at the acting field.

    Soulsby R.L. & Whitehouse R.J.S. (1997), .30/(1 + 1.2 D*) + .055 (1 - exp(-.020 D*)), not yet checked against the
    source: half or one and a half times it moves the repose angle by at most half a degree (UNCHECKED in assess).

    >>> f"{critical_shields(14.82):.4f}"  # 150 um of quartz in water at 60 g
    '0.0301'
    """
    return np.asarray(0.30 / (1.0 + 1.2 * grain_number) - 0.055 * np.expm1(-0.020 * grain_number))


def critical_shields_slope(grain_number: Values) -> FloatArray:
    """Derivative of `critical_shields` by the grain number."""
    return np.asarray(0.0011 * np.exp(-0.020 * grain_number) - 0.36 / (1.0 + 1.2 * grain_number) ** 2)


def _rough_share(relative_roughness: Values) -> FloatArray:
    return np.asarray((relative_roughness / 3.7) ** _HAALAND_EXPONENT)


def _darcy(log_share: FloatArray) -> FloatArray:
    root = _HAALAND_FACTOR * log_share
    return np.asarray(1.0 / (root * root))

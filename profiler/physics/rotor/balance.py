"""Balance of a rigid rotor: what unbalance its grade permits, and which missing piece of bed would make as much.

Grades and formula: ISO 21940-11 (formerly ISO 1940-1). A grade is the product of the centre's distance from the axis
and the angular speed, given in mm/s. Flexible rotors and how the unbalance is shared between planes are not here.
"""

import numpy as np

from profiler.physics.rotor.rotation import FloatArray, Values


def permissible_eccentricity(grade: Values, angular_speed: Values) -> FloatArray:
    """Distance [m] of the centre of mass from the axis that a grade [m/s] permits: G/w.

    >>> f"{permissible_eccentricity(6.3e-3, 62.83185) * 1e6:.1f}"  # um, G 6.3 at 600 rpm
    '100.3'
    """
    return np.asarray(grade / np.asarray(angular_speed))


def permissible_unbalance(grade: Values, angular_speed: Values, mass: Values) -> FloatArray:
    """Unbalance [kg m] that a grade [m/s] permits a rotor of `mass` [kg]; two symmetrical planes take half each."""
    return np.asarray(permissible_eccentricity(grade, angular_speed) * mass)


def unbalance_force(unbalance: Values, angular_speed: Values) -> FloatArray:
    """Turning force [N] U w^2 of an unbalance [kg m]."""
    return np.asarray(unbalance * np.square(angular_speed))


def missing_mass(unbalance: Values, radius: Values) -> FloatArray:
    """Mass [kg] that, missing at one place at `radius` [m], makes the unbalance."""
    return np.asarray(unbalance / np.asarray(radius))


def missing_arc(unbalance: Values, ring_mass: Values, radius: Values) -> FloatArray:
    """Angle [rad] of a piece that, missing from a full ring of `ring_mass` [kg] at `radius` [m], makes the unbalance.

    A piece of angle b leaves m r 2 sin(b/2)/(2 pi) behind. Not a number where even half the ring does not.
    """
    share = unbalance * np.pi / (np.asarray(ring_mass) * radius)
    return np.asarray(2.0 * np.arcsin(np.where(share <= 1.0, share, np.nan)))

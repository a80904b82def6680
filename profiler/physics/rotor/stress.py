"""Stress and pressure in a spinning ring: hoop stress thin and thick, liquid pressure, thrust, buckling from outside.

Elastic, small strain, plane stress, each height on its own: bending where a shell meets its floor or rim, holes,
welds and fatigue are not here. Sources: thin ring and thin shell, any strength-of-materials text; disc and thick
ring, Shigley and Hearn (vol. 2, ch. 4); Lamé, the same.
"""

import numpy as np

from profiler.physics.rotor.rotation import FloatArray, Values, rotating_head


def thin_ring(density: Values, angular_speed: Values, radius: Values) -> FloatArray:
    """Hoop stress [Pa] rho w^2 r^2 of a thin ring turning freely.

    >>> f"{thin_ring(7850.0, 314.159265, 0.25) / 1e6:.4f}"  # MPa, steel at 3000 rpm
    '48.4227'
    """
    return np.asarray(density * np.square(angular_speed * radius))


def disc_hoop(
    density: Values, angular_speed: Values, inner: Values, outer: Values, radius: Values, poisson: Values
) -> FloatArray:
    """Hoop stress [Pa] at `radius` of an annular disc with free edges turning at `angular_speed`.

    rho w^2 (3 + nu)/8 [ri^2 + ro^2 + ri^2 ro^2/r^2 - (1 + 3 nu)/(3 + nu) r^2]; largest at the bore. As ri goes to ro
    it goes to the thin ring's. For a long cylinder with free ends put nu/(1 - nu) for nu.
    """
    a, b, r = np.square(inner), np.square(outer), np.square(radius)
    bracket = a + b + a * b / r - (1.0 + 3.0 * poisson) / (3.0 + poisson) * r
    return np.asarray(density * np.square(angular_speed) * (3.0 + poisson) / 8.0 * bracket)


def thin_shell(pressure: Values, radius: Values, thickness: Values, lean: Values = 0.0) -> FloatArray:
    """Hoop stress [Pa] p r/(t cos lean) of a thin cylinder or cone under inner pressure; `lean` from the axis [rad]."""
    return np.asarray(pressure * np.asarray(radius) / (thickness * np.cos(lean)))


def thick_cylinder(pressure: Values, inner: Values, outer: Values, radius: Values) -> FloatArray:
    """Lamé's hoop stress [Pa] at `radius` under pressure on the inside; largest at the bore.

    >>> [f"{thick_cylinder(10.0, 50.0, 100.0, r):.3f}" for r in (50.0, 100.0)]
    ['16.667', '6.667']
    """
    a, b = np.square(inner), np.square(outer)
    return np.asarray(pressure * a / (b - a) * (1.0 + b / np.square(radius)))


def liner_pressure(density: Values, angular_speed: Values, inner: Values, outer: Values) -> FloatArray:
    """Pressure [Pa] of a soft, incompressible liner on the shell it leans on: that of a liquid of its density.

    The larger, safer one of two: free rings without hoop stiffness press with rho w^2 (ro^3 - ri^3)/(3 ro).
    """
    return rotating_head(density, angular_speed, inner, outer)


def end_thrust(
    density: Values, angular_speed: Values, inlet_pressure: Values, inlet: Values, inner: Values, outer: Values
) -> FloatArray:
    """Force [N] along the axis of a turning liquid on a ring-shaped end from `inner` to `outer` [m].

    Its pressure is `inlet_pressure` at the radius `inlet`; where that would be a suction the end is dry. With inner
    and inlet zero: pi R^2 p + pi rho w^2 R^4/4 (the integral of p 2 pi r dr).
    """
    rate = 0.5 * density * np.square(angular_speed)
    free = np.sqrt(np.maximum(np.square(inlet) - inlet_pressure / np.maximum(rate, 1e-300), 0.0))
    a, b = np.square(np.maximum(inner, free)), np.square(outer)
    level = inlet_pressure - rate * np.square(inlet)
    return np.asarray(np.where(b > a, np.pi * (level * (b - a) + 0.5 * rate * (b * b - a * a)), 0.0))


def buckling_pressure(modulus: Values, poisson: Values, thickness: Values, radius: Values) -> FloatArray:
    """Outside pressure [Pa] at which a long thin tube folds in two lobes: E t^3/(4 (1 - nu^2) r^3) (Bresse).

    Ends that hold it round raise this; it is the low, safe side for a bowl held at floor and lip.
    """
    bending = modulus * np.power(thickness, 3) / (4.0 * (1.0 - np.square(poisson)))
    return np.asarray(bending / np.power(radius, 3))

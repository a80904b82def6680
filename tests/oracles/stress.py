"""Stresses that go with those the program works out."""

import numpy as np

from profiler.physics.rotor.stress import FloatArray, Values


def disc_radial(
    density: Values, angular_speed: Values, inner: Values, outer: Values, radius: Values, poisson: Values
) -> FloatArray:
    """Radial stress [Pa] of a turning disc with free edges; Shigley, or Hearn vol. 2, ch. 4."""
    a, b, r = np.square(inner), np.square(outer), np.square(radius)
    return np.asarray(density * np.square(angular_speed) * (3.0 + poisson) / 8.0 * (a + b - a * b / r - r))


def free_rings_pressure(density: Values, angular_speed: Values, inner: Values, outer: Values) -> FloatArray:
    """Pressure [Pa] on a shell of a liner without hoop stiffness, as if cut: rho w^2 (ro^3 - ri^3)/(3 ro)."""
    cubes = np.power(outer, 3) - np.power(inner, 3)
    return np.asarray(density * np.square(angular_speed) * cubes / (3.0 * np.asarray(outer)))

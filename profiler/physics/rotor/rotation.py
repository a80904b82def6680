"""What spinning does to a liquid at rest in the bowl: acceleration, tilt of the level surfaces, rise.

Vertical spin axis, solid-body rotation. The lag of a moving film behind the bowl is in `repose`; pressures in
the jacket are in `fluidising`. Source of every formula: any fluid-mechanics text, "rigid-body rotation".
"""

import numpy as np
import numpy.typing as npt

from profiler.units import GRAVITY, RPM

FloatArray = npt.NDArray[np.float64]
Values = FloatArray | float  # what a function takes: arrays that broadcast against each other, or numbers


def angular_speed(speed_rpm: Values) -> FloatArray:
    """Angular speed [rad/s] of a speed in revolutions per minute."""
    return np.asarray(speed_rpm * RPM)


def acceleration(angular_speed: Values, radius: Values) -> FloatArray:
    """Centrifugal acceleration w^2 r [m/s2] at `radius` [m]."""
    return np.asarray(angular_speed * angular_speed * radius)


def relative_force(acceleration: Values) -> FloatArray:
    """Relative centrifugal force [-]: the acceleration in multiples of standard gravity."""
    return np.asarray(acceleration / GRAVITY)


def tilt(acceleration: Values) -> FloatArray:
    """Lean [rad] from the spin axis of a surface that is level in the rotating bowl: atan(g/a).

    Zero in a field without gravity, pi/2 where nothing turns. A bowl that opens upward by this angle is, to a
    liquid without friction, a level floor.
    """
    return np.asarray(np.arctan2(GRAVITY, acceleration))


def angular_speed_for(relative_force: Values, radius: Values) -> FloatArray:
    """Angular speed [rad/s] that gives the wanted relative force [-] at `radius` [m]."""
    return np.asarray(np.sqrt(relative_force * GRAVITY / radius))


def surface_rise(angular_speed: Values, radius: Values) -> FloatArray:
    """Height [m] of the free surface at `radius` [m] above its lowest point: w^2 r^2/(2 g)."""
    return np.asarray((angular_speed * radius) ** 2 / (2.0 * GRAVITY))

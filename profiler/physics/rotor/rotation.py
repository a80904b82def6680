"""What spinning does to a liquid at rest in the bowl: acceleration, pressure, tilt of the level surfaces.

Vertical spin axis, solid-body rotation. The lag of a moving film behind the bowl is in `repose`; the balance of
the jacket in `jacket`. Source of every formula: any fluid-mechanics text, "rigid-body rotation".
"""

import numpy as np
import numpy.typing as npt

from profiler.units import GRAVITY

FloatArray = npt.NDArray[np.float64]
Values = FloatArray | float  # what a function takes: arrays that broadcast against each other, or numbers


def acceleration(angular_speed: Values, radius: Values) -> FloatArray:
    """Centrifugal acceleration w^2 r [m/s2] at `radius` [m].

    >>> f"{acceleration(62.83185, 0.15):.2f}"  # 600 rpm
    '592.18'
    """
    return np.asarray(angular_speed * angular_speed * radius)


def tilt(acceleration: Values) -> FloatArray:
    """Lean [rad] from the spin axis of a surface that is level in the rotating bowl: atan(g/a).

    Zero in a field without gravity, pi/2 where nothing turns. A bowl that opens upward by this angle is, to a
    liquid without friction, a level floor.

    >>> f"{np.degrees(tilt(592.18)):.3f}"
    '0.949'
    """
    return np.asarray(np.arctan2(GRAVITY, acceleration))


def rotating_head(liquid_density: Values, angular_speed: Values, inner: Values, outer: Values) -> FloatArray:
    """Pressure [Pa] a liquid that turns with the bowl gains from the inner to the outer radius [m].

    >>> f"{rotating_head(998.2, 62.83185, 0.10, 0.18) / 1e3:.3f}"  # kPa, water at 600 rpm
    '44.136'
    """
    return np.asarray(0.5 * liquid_density * np.square(angular_speed) * (np.square(outer) - np.square(inner)))

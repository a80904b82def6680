"""Rotation the other way round."""

import numpy as np

from profiler.physics.rotor.rotation import FloatArray, Values
from profiler.units import GRAVITY


def angular_speed_for(multiple: Values, radius: Values) -> FloatArray:
    """Angular speed [rad/s] at which the acceleration at `radius` [m] is so many times standard gravity."""
    return np.asarray(np.sqrt(multiple * GRAVITY / radius))

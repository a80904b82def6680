"""The drag of a sphere as its law is written, from the form in which the program solves it."""

import numpy as np

from profiler.physics.grains import settling
from profiler.physics.rotor.rotation import FloatArray, Values


def drag_coefficient(reynolds: Values) -> FloatArray:
    """C_D [-] of the law that `settling` gives as ln(C_D/Re)."""
    number = np.asarray(reynolds, dtype=float)
    return np.asarray(np.exp(settling.log_drag_over_reynolds(number)[0]) * number)

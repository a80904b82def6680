"""The local comparison of wall angle and repose band. What the slurry does there is another matter: see `flow`."""

import numpy as np
from numpy.typing import NDArray

from profiler.geometry.wall import FloatArray

SLOPE_WORDS = {-1: "steeper", 0: "within", 1: "shallower"}


def slopes_of(angle: FloatArray, low: FloatArray, high: FloatArray) -> NDArray[np.int8]:
    """1 where the wall opens more than the band (shallower), -1 where it stands nearer the axis (steeper), else 0."""
    return (np.greater(angle, high).astype(np.int8) - np.less(angle, low).astype(np.int8)).astype(np.int8)

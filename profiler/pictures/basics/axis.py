"""The one height axis that all strips share, and round steps for any scale."""

from dataclasses import dataclass
from math import ceil, floor, log10

import numpy as np

from profiler.pictures.basics.display import FloatArray


@dataclass(frozen=True, slots=True)
class HeightAxis:
    """Heights in mm against pixels from the top; `bottom` > `top`."""

    low: float
    high: float
    top: float
    bottom: float

    @property
    def scale(self) -> float:
        """Pixels per mm."""
        return (self.bottom - self.top) / (self.high - self.low)

    def y(self, height: float) -> float:
        return self.bottom - (height - self.low) * self.scale

    def ys(self, height: FloatArray) -> FloatArray:
        return np.asarray(self.bottom - (height - self.low) * self.scale)

    def height(self, y: float) -> float:
        return self.low + (self.bottom - y) / self.scale

    def zoomed(self, factor: float, at_y: float) -> "HeightAxis":
        """The axis with `factor` times the scale, keeping the height under a pixel where it is."""
        z = self.height(at_y)
        low, high = z - (z - self.low) / factor, z + (self.high - z) / factor
        return HeightAxis(low, high, self.top, self.bottom)

    def moved(self, pixels: float) -> "HeightAxis":
        shift = pixels / self.scale
        return HeightAxis(self.low + shift, self.high + shift, self.top, self.bottom)

    def ticks(self, least_gap: float = 34.0, unit_mm: float = 1.0) -> FloatArray:
        """Heights in mm that are round in the unit shown, at least so many pixels apart."""
        step = round_step(least_gap / self.scale / unit_mm) * unit_mm
        return np.asarray(np.arange(ceil(self.low / step - 1e-9), floor(self.high / step + 1e-9) + 1) * step)


def round_step(least: float) -> float:
    """The smallest of 1, 2, 5 times a power of ten that is not below `least`."""
    power = 10.0 ** floor(log10(least))
    return float(next(m * power for m in (1.0, 2.0, 5.0, 10.0) if m * power >= least * (1 - 1e-9)))

"""The rings of water holes as drawings and solids take them: in mm, with an azimuth.

Azimuths count counter-clockwise as seen from the lip, from the datum, which is the X axis of every file; a hole's is
that of its axis where it meets the groove's floor.
"""

from dataclasses import dataclass
from math import asin, cos, pi, sin, sqrt

import numpy as np

from profiler.assess.shape.rings import HoleRings
from profiler.geometry.chain import FloatArray
from profiler.units import MM


@dataclass(frozen=True, slots=True)
class Ring:
    """Equal holes, evenly spread, through one groove's floor. Lengths in mm, angles in rad."""

    groove: int  # from 1 at the floor
    count: int
    diameter: float
    height: float
    inner: float  # radius where a hole's axis meets the groove's floor
    skew: float
    outer: float  # and the outside
    in_jacket: bool
    first: float = 0.0  # azimuth of the first hole

    @property
    def offset(self) -> float:
        """The bore axis' least distance from the spin axis; negative where it leans counter-clockwise."""
        return -self.inner * sin(self.skew)

    @property
    def low(self) -> float:
        return self.height - 0.5 * self.diameter

    @property
    def high(self) -> float:
        return self.height + 0.5 * self.diameter

    @property
    def ways(self) -> FloatArray:
        """(count,) azimuths of the bores' directions."""
        return self.azimuths + self.skew

    @property
    def azimuths(self) -> FloatArray:
        """(count,) of the holes, where their axes meet the groove's floor."""
        return np.asarray(self.first + 2.0 * pi * np.arange(self.count) / self.count)

    @property
    def at_outside(self) -> float:
        """How far round from a hole's azimuth its axis leaves the outside."""
        return self.skew - asin(min(1.0, max(-1.0, self.inner * sin(self.skew) / self.outer)))

    @property
    def length(self) -> float:
        """Along the axis, from the groove's floor to the outside; 0 where there is none."""
        aside = self.inner * sin(self.skew)
        return max(0.0, sqrt(max(0.0, self.outer**2 - aside**2)) - self.inner * cos(self.skew))

    @property
    def words(self) -> str:
        leaning = f", skewed {np.degrees(self.skew):g} deg" if self.skew else ""
        return f"groove {self.groove}: {self.count} holes of diameter {self.diameter:g}{leaning}"


def rings_of(holes: HoleRings | None) -> list[Ring]:
    """The rings that have holes at all."""
    if holes is None:
        return []
    rings = holes.rings
    found = []
    for i in range(len(rings.count)):
        if rings.count[i] > 0 and rings.diameter[i] > 0.0:
            lengths = (float(x[i]) / MM for x in (rings.diameter, rings.height, rings.radius, holes.outer_radius))
            diameter, height, inner, outer = lengths
            in_jacket = bool(holes.in_jacket[i])
            count, skew = int(rings.count[i]), float(holes.skew[i])
            found.append(Ring(i + 1, count, diameter, height, inner, skew, outer, in_jacket, float(holes.first[i])))
    return found

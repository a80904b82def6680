"""The wall line: radius, angle and length along a chain of circular arcs and straight pieces, in closed form.

Within a piece sin(angle) is linear in height: that is a circular arc, or a straight line when its two angles are
equal. The angle is measured from the axis, so r(z) - r1 = (z - z1) tan((t(z) + t1)/2) holds for every piece without
a special case, and the length along it is (z - z1)/(cos((t + t1)/2) sinc((t - t1)/2)).
"""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)  # told apart by being themselves, so that what follows can be kept
class Wall:
    """n pieces from floor to lip. Lengths in one unit, angles in radians."""

    height: FloatArray  # (n+1,) ends of the pieces, increasing
    lower: FloatArray  # (n,) wall angle at each piece's lower end
    upper: FloatArray  # (n,) and at its upper end
    radius: FloatArray  # (n+1,) at the ends
    length: FloatArray  # (n+1,) along the wall, from the floor
    # what follows from them, kept because every question asks for it
    _step: FloatArray = field(init=False, repr=False)  # (n,) height of each piece
    _sine: FloatArray = field(init=False, repr=False)  # (n,) of its lower angle
    _gain: FloatArray = field(init=False, repr=False)  # (n,) of the sine, from end to end
    _cosine: FloatArray = field(init=False, repr=False)  # (n,) of its lower angle

    def __post_init__(self) -> None:
        sine = np.sin(self.lower)
        object.__setattr__(self, "_step", self.height[1:] - self.height[:-1])
        object.__setattr__(self, "_sine", sine)
        object.__setattr__(self, "_gain", np.sin(self.upper) - sine)
        object.__setattr__(self, "_cosine", np.cos(self.lower))

    def piece_at(self, height: ArrayLike, above: bool = True) -> NDArray[np.intp]:
        """Index of the piece at each height; at a joint the one above it, or below it."""
        found = self.height.searchsorted(np.asarray(height, dtype=float), "right" if above else "left") - 1
        return np.asarray(np.minimum(np.maximum(found, 0), len(self.lower) - 1))

    def angle_at(self, height: ArrayLike, above: bool = True) -> FloatArray:
        """Wall angle; at a corner the leaving angle, or the arriving one with `above` False."""
        z = np.asarray(height, dtype=float)
        return self._angle(z, self.piece_at(z, above))

    def radius_at(self, height: ArrayLike) -> FloatArray:
        z = np.asarray(height, dtype=float)
        i = self.piece_at(z)
        sine, up = self._sine_at(z, i), self._sine[i]
        tangent = (sine + up) / (np.sqrt((1.0 - sine) * (1.0 + sine)) + self._cosine[i])  # of the mean of both angles
        return np.asarray(self.radius[i] + (z - self.height[i]) * tangent)

    def length_at(self, height: ArrayLike) -> FloatArray:
        """Length along the wall from the floor."""
        z = np.asarray(height, dtype=float)
        i = self.piece_at(z)
        t, t1 = self._angle(z, i), self.lower[i]
        return np.asarray(self.length[i] + (z - self.height[i]) / (np.cos(0.5 * (t + t1)) * _sinc(0.5 * (t - t1))))

    def height_at(self, length: ArrayLike) -> FloatArray:
        """Height of the point that lies so far along the wall; extends straight beyond both ends."""
        s = np.asarray(length, dtype=float)
        i = np.minimum(np.maximum(self.length.searchsorted(s, "right") - 1, 0), len(self.lower) - 1)
        along = s - self.length[i]
        share = along / (self.length[i + 1] - self.length[i])
        t1 = self.lower[i]
        turn = 0.5 * np.minimum(np.maximum(share, 0.0), 1.0) * (self.upper[i] - t1)
        return np.asarray(self.height[i] + along * np.cos(t1 + turn) * _sinc(turn))

    def bulge(self, start: FloatArray, end: FloatArray) -> FloatArray:
        """Bulge (tan of a quarter of the turning) of the wall going up between heights of one piece each.

        Where a range reaches a hair over a joint, it keeps the turning of the piece it mostly lies on.
        """
        i = self.piece_at(0.5 * (start + end))
        return np.asarray(np.tan(0.25 * (self._angle(start, i) - self._angle(end, i))))

    def curvature(self) -> FloatArray:
        """(n,) Rate at which the angle grows along each piece; negative where the wall bends towards the axis."""
        return np.asarray(self._gain / self._step)

    def _angle(self, z: FloatArray, i: NDArray[np.intp]) -> FloatArray:
        return np.asarray(np.arcsin(self._sine_at(z, i)))

    def _sine_at(self, z: FloatArray, i: NDArray[np.intp]) -> FloatArray:
        share = (z - self.height[i]) / self._step[i]
        return np.asarray(self._sine[i] + np.minimum(np.maximum(share, 0.0), 1.0) * self._gain[i])


def build_wall(
    height: ArrayLike, lower: ArrayLike, upper: ArrayLike, held_radius: float, hold_lip: bool = True
) -> Wall:
    """The wall through the pieces' ends, with the given radius at the lip (or at the floor).

    height (n+1,) increasing; lower, upper (n,) radians within +-90 degrees. Raises ValueError otherwise.
    """
    z, t1, t2 = (np.asarray(a, dtype=float) for a in (height, lower, upper))
    steps = z[1:] - z[:-1]
    if len(z) < 2 or not (steps > 0.0).all():
        raise ValueError("The heights of a wall must increase.")
    if not ((np.abs(t1) < 0.5 * np.pi).all() and (np.abs(t2) < 0.5 * np.pi).all()):
        raise ValueError("Wall angles must lie within 90° of the axis.")
    rise, length = np.zeros(len(z)), np.zeros(len(z))
    mean = 0.5 * (t1 + t2)
    np.add.accumulate(steps * np.tan(mean), out=rise[1:])
    np.add.accumulate(steps / (np.cos(mean) * _sinc(0.5 * (t2 - t1))), out=length[1:])
    radius = held_radius + rise - (rise[-1] if hold_lip else 0.0)
    return Wall(z, t1, t2, radius, length)


def pairs(x: FloatArray, y: FloatArray) -> FloatArray:
    """(n, 2) of two (n,): a third of the time that a general stack takes."""
    both = np.empty((len(x), 2))
    both[:, 0], both[:, 1] = x, y
    return both


def _sinc(x: FloatArray) -> FloatArray:
    near = np.where(x == 0.0, 1e-20, x)
    return np.asarray(np.sin(near) / near)

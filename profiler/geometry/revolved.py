"""What turning bands about the axis gives: bodies known by an inner and an outer radius at a row of heights.

Between neighbouring heights both radii run straight, so the integrals V = pi loop r^2 dz, I = pi/2 loop r^4 dz and
their moments are exact. Outlines of lines and arcs are in `chain`; this is for profiles that come as arrays.
"""

from dataclasses import dataclass

import numpy as np

from profiler.geometry.chain import FEW_SHARES, FEW_WEIGHTS, Figures
from profiler.geometry.wall import FloatArray


@dataclass(frozen=True, slots=True)
class Revolved:
    """Solids of revolution, one for each entry of the leading axes; lengths in the profile's unit."""

    volume: FloatArray
    centre_height: FloatArray  # zero where there is no volume
    polar_inertia: FloatArray  # per density
    transverse_inertia: FloatArray  # per density, about the body's own centre

    def less(self, other: "Revolved") -> "Revolved":
        """This body with the other cut out of it."""
        volume = self.volume - other.volume
        moment = self.volume * self.centre_height - other.volume * other.centre_height
        second = _about_zero(self) - _about_zero(other)
        return _revolved(volume, moment, self.polar_inertia - other.polar_inertia, second)


def of_figures(figures: Figures) -> Revolved:
    """A body known by its outline, in the same form."""
    f = figures
    return Revolved(*(np.asarray(x) for x in (f.volume, f.centre_height, f.polar_inertia, f.transverse_inertia)))


def between(height: FloatArray, inner: FloatArray, outer: FloatArray, density: FloatArray | float = 1.0) -> Revolved:
    """What lies between two radii (..., n) at rising heights (..., n); `density` (..., n) weighs it place by place.

    With a density other than 1 the volume is a mass and the inertias are whole ones.
    """
    inner, outer = np.broadcast_arrays(inner, outer)
    weight = np.broadcast_to(density, inner.shape)
    step = height[..., 1:] - height[..., :-1]
    z, r0, r1, rho = (
        a[..., :-1, None] + (a[..., 1:] - a[..., :-1])[..., None] * FEW_SHARES for a in (height, inner, outer, weight)
    )
    out, bore = r1 * r1, r0 * r0
    ring = np.pi * (out - bore) * rho * step[..., None] * FEW_WEIGHTS
    lever = ring * z
    volume, moment, second, polar = (
        np.sum(values, axis=(-2, -1)) for values in (ring, lever, lever * z, 0.5 * ring * (out + bore))
    )
    return _revolved(volume, moment, polar, second)


def _revolved(volume: FloatArray, moment: FloatArray, polar: FloatArray, second: FloatArray) -> Revolved:
    centre = np.divide(moment, volume, out=np.zeros_like(volume), where=volume != 0.0)
    return Revolved(volume, centre, polar, np.asarray(0.5 * polar + second - centre * moment))


def _about_zero(body: Revolved) -> FloatArray:
    """Second moment of the body about the plane of height zero."""
    return np.asarray(body.transverse_inertia - 0.5 * body.polar_inertia + body.volume * body.centre_height**2)

"""A settled flow read on lattices: what pictures draw, what the bed feels.

Level lines are drawn by whoever has the samples: in counts of the lattice, where it is square, and then put in place.
"""

from dataclasses import dataclass

import numpy as np

from profiler.physics.eddy.evaluation import lattice
from profiler.physics.eddy.flow import Eddy
from profiler.physics.eddy.measures import velocity
from profiler.physics.eddy.pieces import FloatArray

_RIM = 0.1  # of the floor at either end
_INSIDE = 0.01  # of an element: how far from the rim slopes are read, where a rounding's middle folds the map flat


@dataclass(frozen=True, slots=True, eq=False)
class Samples:
    """A flow on a curved lattice (r, c): rows from the floor to the lid, columns from the lower to the upper flank."""

    x: FloatArray  # mouths
    y: FloatArray
    psi: FloatArray
    u: FloatArray  # in-plane velocity along x, of the lid's speed
    v: FloatArray
    w: FloatArray  # around the axis, against the bowl

    @property
    def speed(self) -> FloatArray:
        """In the plane."""
        return np.asarray(np.hypot(self.u, self.v))

    def placed(self, column: FloatArray, row: FloatArray) -> FloatArray:
        """(n, 2) places in mouths of points (n,) told in counts of the lattice, linear between its nodes."""
        i = np.clip(column.astype(np.intp), 0, self.x.shape[1] - 2)
        j = np.clip(row.astype(np.intp), 0, self.x.shape[0] - 2)
        s, t = column - i, row - j
        corners = (
            ((j, i), (1 - s) * (1 - t)),
            ((j, i + 1), s * (1 - t)),
            ((j + 1, i), (1 - s) * t),
            ((j + 1, i + 1), s * t),
        )
        return np.stack([sum(weight * field[at] for at, weight in corners) for field in (self.x, self.y)], axis=1)


@dataclass(frozen=True, slots=True, eq=False)
class FloorShear:
    """Shear on the middle of the floor, or of the bed, over rho U^2; (n,) from the lower flank to the upper.

    The outer tenths of where water enters are left out: at a corner, and where the water from below begins at a step,
    the vorticity grows with the number of elements without end.
    """

    x: FloatArray  # mouths
    y: FloatArray
    along: FloatArray  # toward the upper flank
    around: FloatArray  # the way the bowl turns

    @property
    def largest(self) -> float:
        return float(np.max(np.hypot(self.along, self.around)))


def samples(eddy: Eddy, each: int = 3) -> Samples:
    """The flow at `each` equal parts of every element each way, rim included."""
    counts = [np.arange(count * each + 1) / each for count in eddy.elements]
    at = lattice(counts[0], counts[1], eddy.elements)
    within = [np.clip(count, _INSIDE, count[-1] - _INSIDE) for count in counts]
    moving = velocity(eddy, lattice(within[0], within[1], eddy.elements))
    places = at.places(eddy.block)
    return Samples(places.real, places.imag, at.values(eddy.psi), moving.real, moving.imag, at.values(eddy.w))


def floor_shear(eddy: Eddy, each: int = 4) -> FloorShear:
    """Shear where the flow passes the floor, at `each` equal parts of every element."""
    across = (np.arange(eddy.elements[0] * each) + 0.5) / each
    entered = np.interp(across, 0.5 * np.arange(len(eddy.block.through_floor)), eddy.block.through_floor)
    across = across[(entered > _RIM) & (entered < 1.0 - _RIM)]
    at = lattice(across, np.zeros(1), eddy.elements)
    places = at.places(eddy.block)[0]
    heading = (at.up @ eddy.block.nodes @ at.across_slope.T)[0]
    inward = 1j * heading / np.abs(heading)
    around = (np.conj(inward) * at.gradient(eddy.block, eddy.w)[0]).real
    along = -at.values(eddy.zeta)[0]
    return FloorShear(places.real, places.imag, along / eddy.drive.reynolds, around / eddy.drive.reynolds)

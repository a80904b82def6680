"""Fields between the nodes, by the elements themselves: the biquadratic polynomials on a lattice of the block."""

from dataclasses import dataclass

import numpy as np

from profiler.physics.eddy.block import Block
from profiler.physics.eddy.pieces import ComplexArray, FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class Lattice:
    """Places of a block, counted in elements from its lower left corner, and what turns nodes into values there."""

    across: FloatArray  # (c, 2 columns + 1)
    up: FloatArray  # (r, 2 rows + 1)
    across_slope: FloatArray
    up_slope: FloatArray

    def values(self, nodes: FloatArray) -> FloatArray:
        """(r, c) of a field (2 rows + 1, 2 columns + 1)."""
        return np.asarray(self.up @ nodes @ self.across.T)

    def places(self, block: Block) -> ComplexArray:
        return _product(self.up, block.nodes, self.across)

    def area(self, block: Block) -> FloatArray:
        """(r, c) area per area of the block's own coordinates, an element being 1."""
        across, up = self._stretch(block)
        return np.asarray((np.conj(across) * up).imag)

    def gradient(self, block: Block, nodes: FloatArray) -> ComplexArray:
        """(r, c) gradient of a field, d/dx + i d/dy."""
        across, up = self._stretch(block)
        by_across = self.up @ nodes @ self.across_slope.T
        by_up = self.up_slope @ nodes @ self.across.T
        return np.asarray(1j * (by_up * across - by_across * up) / (np.conj(across) * up).imag)

    def _stretch(self, block: Block) -> tuple[ComplexArray, ComplexArray]:
        """(r, c) how places move with each of the block's coordinates."""
        return _product(self.up, block.nodes, self.across_slope), _product(self.up_slope, block.nodes, self.across)


def lattice(across: FloatArray, up: FloatArray, elements: tuple[int, int]) -> Lattice:
    """Lattice at `across` (c,) and `up` (r,), counted in elements of a block of columns x rows.

    On a line between elements the one to the right, or above, is read.
    """
    (a, da), (b, db) = _quadratics(across, elements[0]), _quadratics(up, elements[1])
    return Lattice(a, b, da, db)


def middles(elements: tuple[int, int], each: int) -> Lattice:
    """The middles of `each` x `each` equal parts of every element."""
    columns, rows = (np.arange(count * each) / each + 0.5 / each for count in elements)
    return lattice(columns, rows, elements)


def moved(fields: FloatArray, elements: tuple[int, int]) -> FloatArray:
    """Fields (k, 2 rows + 1, 2 columns + 1) carried to the nodes of a block of other columns and rows."""
    old = (fields.shape[2] // 2, fields.shape[1] // 2)
    across, up = (np.arange(2 * new + 1) * (0.5 * was / new) for new, was in zip(elements, old, strict=True))
    there = lattice(across, up, old)
    return np.asarray(there.up @ fields @ there.across.T)


def _product(up: FloatArray, nodes: ComplexArray, across: FloatArray) -> ComplexArray:
    """Real weights on complex nodes, part by part: as one complex product it took fifty times as long."""
    return np.asarray(up @ nodes.real @ across.T + 1j * (up @ nodes.imag @ across.T))


def _quadratics(places: FloatArray, elements: int) -> tuple[FloatArray, FloatArray]:
    """(n, 2 elements + 1) weights of the nodes for values and slopes along one direction."""
    element = np.clip(np.floor(places).astype(np.intp), 0, elements - 1)
    t = places - element
    row = np.arange(len(places))
    values, slopes = np.zeros((2, len(places), 2 * elements + 1))
    for k, (value, slope) in enumerate(
        (((1 - t) * (1 - 2 * t), 4 * t - 3), (4 * t * (1 - t), 4 - 8 * t), (t * (2 * t - 1), 4 * t - 1))
    ):
        values[row, 2 * element + k] = value
        slopes[row, 2 * element + k] = slope
    return values, slopes

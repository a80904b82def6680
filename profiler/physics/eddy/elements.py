"""Biquadratic elements on a block: their numbering, masses and stiffnesses (scikit-fem), and the advection tensor.

Every first-order term of the equations is a Jacobian determinant of two fields: with u = (psi_y, -psi_x),
u . grad f = d(f, psi)/d(x, y), and the Coriolis terms are d(w, s)/d(x, y) and d(s, psi)/d(x, y) with s = r . x the
distance along the radius. Such an integral is the same in the element's own coordinates: one tensor of 9 x 9 x 9
numbers serves every element of every groove exactly, and only masses and stiffnesses know the geometry.
"""

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from profiler.physics.eddy.block import Block
from profiler.physics.eddy.pieces import FloatArray

if TYPE_CHECKING:
    from skfem import Basis, MeshQuad2

IntArray = NDArray[np.intp]

NODES = 9  # of an element
_EXACT = 7  # order of the quadrature of masses and stiffnesses on curved elements


@dataclass(frozen=True, slots=True, eq=False)
class Numbering:
    """How the elements of a block of columns x rows hang together; the same for every groove."""

    columns: int
    rows: int
    straight: "MeshQuad2"
    lattice: IntArray  # (n,) place in the block's nodes, row by row, of each degree of freedom of the library
    nodes: IntArray  # (e, 9) places of each element's nodes
    boundary: NDArray[np.bool_]  # (n,) in lattice order
    advection: FloatArray  # (9, 9, 9) integral of phi_i d(phi_j, phi_k)


@dataclass(frozen=True, slots=True)
class Matrices:
    """Local matrices of a block's elements, (e, 9, 9)."""

    mass: FloatArray
    stiffness: FloatArray


@lru_cache(maxsize=8)
def numbering(columns: int, rows: int) -> Numbering:
    from skfem import Basis, ElementQuad2, MeshQuad, MeshQuad2

    even = MeshQuad.init_tensor(np.linspace(0.0, 1.0, columns + 1), np.linspace(0.0, 1.0, rows + 1))
    straight = MeshQuad2.from_mesh(even)
    basis = Basis(straight, ElementQuad2(), intorder=_EXACT)
    column = np.rint(basis.doflocs[0] * 2 * columns).astype(np.intp)
    row = np.rint(basis.doflocs[1] * 2 * rows).astype(np.intp)
    lattice = row * (2 * columns + 1) + column
    inside = np.zeros((2 * rows + 1, 2 * columns + 1), dtype=bool)
    inside[1:-1, 1:-1] = True
    return Numbering(
        columns, rows, straight, lattice, lattice[basis.element_dofs.T], ~inside.ravel(), _advection(basis)
    )


def matrices(block: Block) -> Matrices:
    """Masses and stiffnesses on the true section."""
    from skfem import Basis, ElementQuad2
    from skfem.models.poisson import laplace, mass

    basis = Basis(mesh_of(block), ElementQuad2(), intorder=_EXACT)
    return Matrices(mass.elemental(basis).tolocal(), laplace.elemental(basis).tolocal())


def mesh_of(block: Block) -> "MeshQuad2":
    """The block as the library's mesh of curved elements."""
    from skfem import MeshQuad2

    numbered = numbering(block.columns, block.rows)
    places = block.nodes.ravel()[numbered.lattice]
    return MeshQuad2(np.stack((places.real, places.imag)), numbered.straight.t)


def lid_load(block: Block) -> FloatArray:
    """(n,) boundary integral of u_t phi where the lid runs from the lower to the upper edge with speed 1.

    The lid is straight and its nodes lie midway: Simpson's weights are exact. u_t is counted counter-clockwise: -1.
    """
    ends = np.abs(block.nodes[-1] - block.nodes[-1, 0])[::2]
    sixth = np.diff(ends) / 6.0
    load = np.zeros(block.nodes.shape)
    load[-1, 1::2] = -4.0 * sixth
    load[-1, :-1:2] -= sixth
    load[-1, 2::2] -= sixth
    return load.ravel()


def _advection(basis: "Basis") -> FloatArray:
    """From the first element of a grid of equal rectangles, by its true derivatives: which way round the library walks
    about an element is its own affair, but turned round the flow would run backwards."""
    first = [field[0] for field in basis.basis]
    phi = np.array([np.asarray(field)[0] for field in first])
    by_x, by_y = np.moveaxis(np.array([field.grad[:, 0] for field in first]), 1, 0)
    one_way = np.einsum("q,iq,jq,kq->ijk", basis.dx[0], phi, by_x, by_y)
    return np.asarray(one_way - one_way.transpose(0, 2, 1))

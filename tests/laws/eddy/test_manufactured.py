"""An invented flow put into the equations: how fast the computed one comes to it as the elements become smaller.

psi, zeta and w are smooth fields with water through floor and lid; what they leave in the equations is given as a
source, what they are on the walls as condition. Derived; no source is needed.
"""

from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
import pytest
from skfem import Basis, ElementQuad2, LinearForm

from profiler.physics.eddy.block import Block, block_of
from profiler.physics.eddy.elements import matrices, mesh_of, numbering
from profiler.physics.eddy.newton import PSI, ZETA, Equations, W, settled
from profiler.physics.eddy.section import Groove, sides_of

REYNOLDS, ROTATION, ANGLE = 60.0, 0.7, 0.4
A, B, C = 2.0, 1.5, 1.2  # wave numbers of the invented fields
RADIUS = (np.sin(ANGLE), -np.cos(ANGLE))

SECTIONS = {
    "square": Groove.cut(1.0),
    "slanted, filleted": Groove.cut(1.1, drop=0.25, flank=0.1, floor_radius=0.15, edge_radius=0.06),
    "half full, leaning bed": Groove.cut(1.0, flank=0.1, floor_radius=0.15, fill=0.4, bed_lean=0.2),
}


@dataclass(frozen=True)
class Invented:
    """psi = -0.1 x + sin(A x) cos(B y)/6, w = cos(C x) sin(A y) - 0.4, and what follows from them."""

    x: np.ndarray
    y: np.ndarray

    @property
    def psi(self):
        return -0.1 * self.x + np.sin(A * self.x) * np.cos(B * self.y) / 6.0

    @property
    def psi_slopes(self):
        return (
            -0.1 + A * np.cos(A * self.x) * np.cos(B * self.y) / 6.0,
            -B * np.sin(A * self.x) * np.sin(B * self.y) / 6.0,
        )

    @property
    def zeta(self):
        return (A * A + B * B) * np.sin(A * self.x) * np.cos(B * self.y) / 6.0

    @property
    def zeta_slopes(self):
        return tuple(
            (A * A + B * B) * (slope + shift) for slope, shift in zip(self.psi_slopes, (0.1, 0.0), strict=True)
        )

    @property
    def w(self):
        return np.cos(C * self.x) * np.sin(A * self.y) - 0.4

    @property
    def w_slopes(self):
        return -C * np.sin(C * self.x) * np.sin(A * self.y), A * np.cos(C * self.x) * np.cos(A * self.y)

    def carried(self, slopes):
        psi_x, psi_y = self.psi_slopes
        return psi_y * slopes[0] - psi_x * slopes[1]

    @property
    def transport_left(self):
        w_x, w_y = self.w_slopes
        diffused = -(A * A + B * B) * self.zeta / REYNOLDS
        return self.carried(self.zeta_slopes) - diffused - ROTATION * (RADIUS[1] * w_x - RADIUS[0] * w_y)

    @property
    def azimuthal_left(self):
        psi_x, psi_y = self.psi_slopes
        outward = psi_y * RADIUS[0] - psi_x * RADIUS[1]
        return self.carried(self.w_slopes) + (C * C + A * A) * (self.w + 0.4) / REYNOLDS + ROTATION * outward


def source_of(basis, field):
    return LinearForm(lambda v, at: getattr(Invented(*at.x), field) * v).assemble(basis)


def slip_of(block):
    """(n,) boundary integral of u_t phi, counter-clockwise: Gauss along the curved edge of every element."""
    t, weights = np.polynomial.legendre.leggauss(5)
    values = np.stack((0.5 * t * (t - 1), 1 - t * t, 0.5 * t * (t + 1)))
    slopes = np.stack((t - 0.5, -2 * t, t + 0.5))
    place = np.arange(block.nodes.size).reshape(block.nodes.shape)
    load = np.zeros(block.nodes.size)
    for side in (place[0], place[:, -1], place[-1, ::-1], place[::-1, 0]):
        for k in range(0, len(side) - 2, 2):
            edge = side[k : k + 3]
            at, step = block.nodes.ravel()[edge] @ values, block.nodes.ravel()[edge] @ slopes
            by_x, by_y = Invented(at.real, at.imag).psi_slopes
            load[edge] += values @ (weights * (by_y * step.real - by_x * step.imag))
    return load


def invented_equations(block: Block) -> Equations:
    numbered = numbering(block.columns, block.rows)
    basis = Basis(mesh_of(block), ElementQuad2(), intorder=8)
    exact = Invented(block.nodes.real.ravel(), block.nodes.imag.ravel())
    load = np.zeros((3, block.nodes.size))
    load[ZETA, numbered.lattice] = source_of(basis, "transport_left")
    load[PSI] = slip_of(block)
    load[W, numbered.lattice] = source_of(basis, "azimuthal_left")
    walls = np.stack((exact.zeta, exact.psi, exact.w))
    radius = RADIUS[0] * exact.x + RADIUS[1] * exact.y
    return Equations(numbered, matrices(block), load, walls, radius, REYNOLDS, ROTATION)


def errors(groove: Groove, elements: int) -> np.ndarray:
    """L2 of what is missing to zeta, psi, w."""
    block = block_of(sides_of(groove), elements, elements)
    equations = invented_equations(block)
    found = settled(equations, equations.walls)
    assert found is not None
    basis = Basis(mesh_of(block), ElementQuad2(), intorder=8)
    exact = Invented(*basis.global_coordinates())
    names = ("zeta", "psi", "w")
    lattice = equations.numbered.lattice
    missing = [basis.interpolate(found[k][lattice]) - getattr(exact, name) for k, name in enumerate(names)]
    return np.sqrt([np.sum(part**2 * basis.dx) for part in missing])


@pytest.mark.parametrize("groove", SECTIONS.values(), ids=SECTIONS)
def test_the_flow_comes_to_an_invented_one_with_the_order_of_its_elements(groove):
    coarse, fine = errors(groove, 10), errors(groove, 20)
    zeta, psi, w = np.log2(coarse / fine)
    assert psi >= 2.8
    assert zeta >= 1.3
    assert w >= 2.8


@pytest.mark.long
@pytest.mark.parametrize("groove", SECTIONS.values(), ids=SECTIONS)
def test_the_order_holds_over_two_refinements(groove):
    found = [errors(groove, elements) for elements in (12, 24, 48)]
    for coarse, fine in pairwise(found):
        zeta, psi, w = np.log2(coarse / fine)
        assert psi >= 2.8 and zeta >= 1.3 and w >= 2.8


def test_without_the_sources_another_flow_is_found():
    """The check can fail: the invented flow is no flow of its own accord."""
    block = block_of(sides_of(SECTIONS["square"]), 8, 8)
    equations = invented_equations(block)
    bare = replace(equations, load=np.where(np.arange(3)[:, None] == PSI, equations.load, 0.0))
    with_sources, without = settled(equations, equations.walls), settled(bare, equations.walls)
    assert np.max(np.abs(with_sources[PSI] - without[PSI])) > 1e-3

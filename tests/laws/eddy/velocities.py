"""A third way to the flow, in any section: velocities and pressure on triangles (Taylor-Hood), not psi and zeta.

u, v, w are quadratic, p linear; the momentum equations hold the Coriolis force as it stands, K (w r, -u . r). Of the
program only the outline of the section is used, of the library the assembly: the triangles are cut by Delaunay.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from matplotlib.path import Path as Polygon
from scipy.sparse import bmat
from scipy.sparse.linalg import splu, spsolve
from scipy.spatial import Delaunay, cKDTree
from skfem import Basis, BilinearForm, ElementTriP1, ElementTriP2, LinearForm, MeshTri
from skfem.models.poisson import laplace, mass

from profiler.physics.eddy.flow import Drive


def triangles(outline: np.ndarray, spacing: float) -> MeshTri:
    """Triangles of a polygon (n,) x + i y: its points, as many between them as fit, an even lattice inside."""
    rim = np.concatenate(
        [np.linspace(a, b, max(1, round(abs(b - a) / spacing)), endpoint=False) for a, b in _edges(outline)]
    )
    rows = np.arange(outline.imag.min(), outline.imag.max(), spacing * np.sqrt(0.75))
    columns = np.arange(outline.real.min(), outline.real.max(), spacing)
    lattice = np.concatenate([columns + 0.5 * spacing * (j % 2) + 1j * y for j, y in enumerate(rows)])
    shape = Polygon(_plane(outline))
    clear = cKDTree(_plane(rim)).query(_plane(lattice))[0] > 0.6 * spacing
    points = np.concatenate((rim, lattice[shape.contains_points(_plane(lattice)) & clear]))
    found = Delaunay(_plane(points)).simplices
    inside = shape.contains_points(_plane(points[found].mean(axis=1)))
    return MeshTri(np.ascontiguousarray(_plane(points).T), np.ascontiguousarray(found[inside].T))


@dataclass(frozen=True)
class TaylorHood:
    mesh: MeshTri
    drive: Drive
    foot: complex  # where psi is 0: the lower flank's foot, far from the lid's ends, where velocities jump

    @cached_property
    def quadratic(self):
        return Basis(self.mesh, ElementTriP2(), intorder=5)

    @cached_property
    def linear(self):
        return Basis(self.mesh, ElementTriP1(), intorder=5)

    def least_psi(self, speed) -> float:
        """Least stream function; `speed` gives (3, n) u, v, w at boundary points (n,) x + i y."""
        u, v, _ = (self.quadratic.interpolate(field) for field in self._settled(speed))
        right = LinearForm(lambda g, at: at.u * g.grad[1] - at.v * g.grad[0])
        load = right.assemble(self.quadratic, u=u, v=v)
        free = np.setdiff1d(np.arange(self.quadratic.N), self._start)
        stiffness = laplace.assemble(self.quadratic)
        psi = np.zeros(self.quadratic.N)
        psi[free] = spsolve(stiffness[free][:, free].tocsc(), load[free])
        return self._lowest(psi)

    @property
    def _start(self):
        places = self.quadratic.doflocs[0] + 1j * self.quadratic.doflocs[1]
        return np.argmin(np.abs(places - self.foot))

    def _lowest(self, psi):
        """The lowest point of the paraboloid that fits psi best around its lowest node."""
        places = self.quadratic.doflocs.T
        lowest = np.argmin(psi)
        near = np.hypot(*(places - places[lowest]).T) < 0.09
        x, y = (places[near] - places[lowest]).T
        terms = np.stack((np.ones_like(x), x, y, x * x, x * y, y * y, x**3, x * x * y, x * y * y, y**3), axis=1)
        c = np.linalg.lstsq(terms, psi[near], rcond=None)[0]
        a, b = np.linalg.solve([[2 * c[3], c[4]], [c[4], 2 * c[5]]], -c[1:3])
        return float(c[0] + 0.5 * (c[1] * a + c[2] * b))

    def _settled(self, speed):
        """(3, n) u, v, w: two steps with the carrying flow held, then Newton's."""
        count, pressures = self.quadratic.N, self.linear.N
        rim = self.quadratic.get_dofs().all()
        at = self.quadratic.doflocs
        state = np.zeros(3 * count + pressures)
        state[: 3 * count].reshape(3, count)[:, rim] = speed(at[0, rim] + 1j * at[1, rim])
        inner = np.setdiff1d(np.arange(count), rim)
        free = np.concatenate((inner, count + inner, 2 * count + inner, 3 * count + np.arange(1, pressures)))
        for number in range(20):
            held, whole = self._matrices(state[: 3 * count].reshape(3, count), number < 3)
            change = splu(whole[free][:, free].tocsc()).solve(-(held @ state)[free])
            state[free] += change
            if np.max(np.abs(change[: 2 * len(inner)])) < 1e-8:
                return state[: 3 * count].reshape(3, count)
        raise AssertionError("the velocities do not settle")

    def _matrices(self, fields, hold):
        """The equations with the carrying flow held, and their whole derivative (or the same again)."""
        basis, k = self.quadratic, self.drive.rotation
        r_x, r_y = np.sin(self.drive.wall_angle), -np.cos(self.drive.wall_angle)
        u, v, w = (basis.interpolate(field) for field in fields)
        carried = BilinearForm(lambda f, g, at: (at.u * f.grad[0] + at.v * f.grad[1]) * g).assemble(basis, u=u, v=v)
        moving = carried + laplace.assemble(basis) / self.drive.reynolds
        turned = k * mass.assemble(basis)
        push = [-self._press(0), -self._press(1)]
        held = bmat(
            [
                [moving, None, -r_x * turned, push[0]],
                [None, moving, -r_y * turned, push[1]],
                [r_x * turned, r_y * turned, moving, None],
                [push[0].T, push[1].T, None, None],
            ],
            format="csr",
        )
        if hold:
            return held, held
        slope = BilinearForm(lambda f, g, at: at.slope * f * g)
        rows = [[slope.assemble(basis, slope=field.grad[n]) for n in (0, 1)] + [None, None] for field in (u, v, w)]
        nothing = 0.0 * mass.assemble(self.linear)
        return held, (
            held + bmat([*([*row[:2], 0.0 * turned, None] for row in rows), [None, None, None, nothing]])
        ).tocsr()

    def _press(self, n):
        return BilinearForm(lambda p, g, _: p * g.grad[n]).assemble(self.linear, self.quadratic)


def _edges(outline):
    return zip(outline, np.roll(outline, -1), strict=True)


def _plane(points):
    return np.stack((points.real, points.imag), axis=-1)

"""A second way to the flow in a rectangular slot: central differences on an even grid, vorticity at walls by formula.

Nothing is shared with the program but the equations: nodes of a grid instead of elements, Jensen's formula for the
vorticity at a wall instead of a natural condition, sparse matrices made by Kronecker products, pivoting elimination.
"""

from dataclasses import dataclass

import numpy as np
from scipy import sparse
from scipy.sparse.linalg import spsolve

from profiler.physics.eddy.flow import Drive


@dataclass(frozen=True)
class Grid:
    x: np.ndarray
    y: np.ndarray
    d_x: sparse.csr_matrix
    d_y: sparse.csr_matrix
    laplace: sparse.csr_matrix
    inside: np.ndarray


def grid_of(depth: float, cells: int) -> Grid:
    rows = round(cells * depth)
    x, y = np.linspace(0.0, 1.0, cells + 1), np.linspace(-depth, 0.0, rows + 1)

    def first(n, h):
        return sparse.diags([-np.ones(n - 1), np.ones(n - 1)], [-1, 1]) / (2.0 * h)

    def second(n, h):
        return sparse.diags([np.ones(n - 1), -2.0 * np.ones(n), np.ones(n - 1)], [-1, 0, 1]) / h**2

    h, k = x[1] - x[0], y[1] - y[0]
    one_x, one_y = sparse.identity(len(x)), sparse.identity(len(y))
    inside = np.zeros((len(y), len(x)), dtype=bool)
    inside[1:-1, 1:-1] = True
    return Grid(
        x,
        y,
        sparse.kron(one_y, first(len(x), h)).tocsr(),
        sparse.kron(first(len(y), k), one_x).tocsr(),
        (sparse.kron(one_y, second(len(x), h)) + sparse.kron(second(len(y), k), one_x)).tocsr(),
        inside.ravel(),
    )


def slot_flow(depth: float, drive: Drive, cells: int) -> np.ndarray:
    """psi on the grid, rows from the floor up."""
    grid = grid_of(depth, cells)
    wall, wall_right = _wall_vorticity(grid, drive.through_flow)
    keep = sparse.diags(grid.inside.astype(float))
    edge = sparse.diags((~grid.inside).astype(float))
    r_x, r_y = np.sin(drive.wall_angle), -np.cos(drive.wall_angle)
    outward = r_x * grid.d_y - r_y * grid.d_x  # of psi: u . r
    tilt = r_y * grid.d_x - r_x * grid.d_y  # of w
    shape = (len(grid.y), len(grid.x))
    psi_wall, w_wall = np.zeros(shape), np.zeros(shape)
    psi_wall[:, -1] = -drive.through_flow
    psi_wall[0] = psi_wall[-1] = -drive.through_flow * grid.x
    w_wall[-1] = -drive.lid_lag
    psi, zeta, w = np.zeros((3, grid.inside.size))
    for share in np.linspace(0.25, 1.0, 4):
        reynolds = share * drive.reynolds
        for _ in range(12):
            u, v = grid.d_y @ psi, -(grid.d_x @ psi)
            carry = sparse.diags(u) @ grid.d_x + sparse.diags(v) @ grid.d_y - grid.laplace / reynolds
            moved = [_of_psi(grid, field) for field in (zeta, w)]
            residual = np.concatenate(
                (
                    np.where(grid.inside, grid.laplace @ psi + zeta, psi - psi_wall.ravel()),
                    np.where(grid.inside, carry @ zeta - drive.rotation * (tilt @ w), zeta - wall @ psi - wall_right),
                    np.where(grid.inside, carry @ w + drive.rotation * (outward @ psi), w - w_wall.ravel()),
                )
            )
            jacobian = sparse.bmat(
                [
                    [keep @ grid.laplace + edge, keep, None],
                    [keep @ moved[0] - edge @ wall, keep @ carry + edge, -drive.rotation * (keep @ tilt)],
                    [keep @ (moved[1] + drive.rotation * outward), None, keep @ carry + edge],
                ],
                format="csc",
            )
            step = spsolve(jacobian, -residual).reshape(3, -1)
            psi, zeta, w = psi + step[0], zeta + step[1], w + step[2]
            if np.max(np.abs(step[0])) < 1e-8:
                break
        else:
            raise AssertionError("the differences do not settle")
    return psi.reshape(shape)


def _of_psi(grid, field):
    """How the carrying of a field moves with psi."""
    return sparse.diags(grid.d_x @ field) @ grid.d_y - sparse.diags(grid.d_y @ field) @ grid.d_x


def _wall_vorticity(grid, through_flow):
    """Jensen's formula, second order: zeta = (7 psi_0 - 8 psi_1 + psi_2)/(2 h2) - 3 U/h; psi is linear along walls."""
    shape = (len(grid.y), len(grid.x))
    place = np.arange(grid.inside.size).reshape(shape)
    wall = sparse.lil_matrix((place.size, place.size))
    right = np.zeros(place.size)
    h, k = grid.x[1] - grid.x[0], grid.y[1] - grid.y[0]
    for here, one, two, step, speed in (
        (place[:, 0], place[:, 1], place[:, 2], h, 0.0),
        (place[:, -1], place[:, -2], place[:, -3], h, 0.0),
        (place[0, 1:-1], place[1, 1:-1], place[2, 1:-1], k, 0.0),
        (place[-1, 1:-1], place[-2, 1:-1], place[-3, 1:-1], k, 1.0),
    ):
        for at, factor in ((here, 7.0), (one, -8.0), (two, 1.0)):
            wall[here, at] = factor / (2.0 * step**2)
        right[here] = -3.0 * speed / step
    return wall.tocsr(), right

"""The coupled equations of psi, zeta and w on a block, and Newton's method with their exact Jacobian.

    definition  (zeta, phi) - (grad psi, grad phi) = boundary integral of u_t phi                      for all phi
    transport   (u . grad zeta, phi) + (grad zeta, grad phi)/Re - K (d(w, s)/d(x, y), phi) = 0         inside
    azimuthal   (u . grad (w + K s), phi) + (grad w, grad phi)/Re = 0                                  inside

The wall's speed enters as a natural condition of the definition: no formula for the vorticity at a wall. Unknowns and
equations are paired so that elimination needs no pivoting: transport with zeta, definition with psi, and on the
boundary, where psi is given, definition with zeta. Paired otherwise the same factorisation fills in and takes minutes.
"""

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from profiler.physics.eddy.elements import NODES, IntArray, Matrices, Numbering, numbering
from profiler.physics.eddy.pieces import FloatArray

if TYPE_CHECKING:
    from scipy.sparse.linalg import SuperLU

ZETA, PSI, W = range(3)  # the fields, and in the same order the equations paired with them inside
_COUPLED = np.array([[True, True, True], [True, True, False], [False, True, True]])  # equation, field
_MOST_STEPS = 12
SETTLED = 1e-8  # largest change of psi in a step after which the next would be lost in rounding
_LOST = 1e3  # change of psi, which is of order one, from which nothing comes back


@dataclass(frozen=True, slots=True)
class Equations:
    """One flow to be found: n nodes in lattice order."""

    numbered: Numbering
    local: Matrices
    load: FloatArray  # (3, n) right-hand sides of transport, definition, azimuthal
    walls: FloatArray  # (3, n) psi and w given on the boundary; the row of zeta, and what lies inside, is not read
    radius: FloatArray  # (n,) s = r . x
    reynolds: float
    rotation: float


@dataclass(frozen=True, slots=True, eq=False)
class _Layout:
    """Where the local 27 x 27 matrices go in the compressed columns of the Jacobian; the same for every groove."""

    free: IntArray  # (m,) places in the flattened (3, n) fields of the unknowns, in order
    slots: IntArray  # (e * 729,) into the values; the last one takes what is thrown away
    rows: IntArray  # (values,)
    starts: IntArray  # (m + 1,)
    swapped: FloatArray  # (e, 9) 1 where the definition takes the place of transport


def settled(equations: Equations, start: FloatArray, close: float = SETTLED) -> FloatArray | None:
    """The (3, n) fields that satisfy the equations, from fields near or far; None where Newton's steps do not settle.

    `close` is the change of psi in a step that is small enough to stop at.
    """
    layout = _layout(equations.numbered.columns, equations.numbered.rows)
    fields = np.where(_given(equations.numbered), equations.walls, start)
    for _ in range(_MOST_STEPS):
        step = _step(equations, layout, fields)
        if step is None or not np.all(np.isfinite(step)):
            return None
        fields.ravel()[layout.free] += step
        change = float(np.max(np.abs(step[layout.free // fields.shape[1] == PSI])))
        if change < close:
            return fields
        if change > _LOST:
            return None
    return None


def _given(numbered: Numbering) -> NDArray[np.bool_]:
    """(3, n) where a field is prescribed."""
    return np.stack((np.zeros_like(numbered.boundary), numbered.boundary, numbered.boundary))


def _step(equations: Equations, layout: _Layout, fields: FloatArray) -> FloatArray | None:
    residual, jacobian = _linearised(equations, layout, fields)
    values = np.bincount(layout.slots, weights=jacobian.ravel(), minlength=len(layout.rows) + 1)
    try:
        factors = _factors(np.asarray(values[:-1], dtype=np.float64), layout.rows, layout.starts, "NATURAL")
    except RuntimeError:  # singular to rounding
        return None
    return np.asarray(factors.solve(-residual.ravel()[layout.free]))


def _factors(values: FloatArray, rows: IntArray, starts: IntArray, order: str) -> "SuperLU":
    from scipy.sparse import csc_matrix
    from scipy.sparse.linalg import splu

    matrix = csc_matrix((values, rows, starts), shape=(len(starts) - 1, len(starts) - 1))
    return splu(matrix, permc_spec=order, diag_pivot_thresh=1e-10, options={"SymmetricMode": True})


def _linearised(equations: Equations, layout: _Layout, fields: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Residuals (3, n) and local Jacobians (e, 9, 3, 9, 3): node, equation, node, field."""
    nodes, tensor = equations.numbered.nodes, equations.numbered.advection
    zeta, psi, w = (field[nodes] for field in fields)
    radius = equations.radius[nodes]
    rotation = equations.rotation
    mass, stiffness = equations.local.mass, equations.local.stiffness
    carried = _by(tensor, psi)  # of any field by the flow
    diffused = stiffness / equations.reynolds
    outward = _by(tensor, radius)

    jacobian = np.zeros((len(nodes), NODES, 3, NODES, 3))
    jacobian[:, :, ZETA, :, ZETA] = carried + diffused
    jacobian[:, :, ZETA, :, PSI] = -_by(tensor, zeta)
    jacobian[:, :, ZETA, :, W] = -rotation * outward
    jacobian[:, :, PSI, :, ZETA] = mass
    jacobian[:, :, PSI, :, PSI] = -stiffness
    jacobian[:, :, W, :, W] = carried + diffused
    jacobian[:, :, W, :, PSI] = -_by(tensor, w + rotation * radius)

    local = np.stack(
        (
            _times(carried + diffused, zeta) - rotation * _times(outward, w),
            _times(mass, zeta) - _times(stiffness, psi),
            _times(carried, w + rotation * radius) + _times(diffused, w),
        )
    )
    residual = np.stack([np.bincount(nodes.ravel(), weights=part.ravel()) for part in local]) - equations.load
    residual[ZETA] = np.where(equations.numbered.boundary, residual[PSI], residual[ZETA])
    swap = layout.swapped[:, :, None, None]
    jacobian[:, :, ZETA] += swap * (jacobian[:, :, PSI] - jacobian[:, :, ZETA])
    return residual, jacobian


def _by(tensor: FloatArray, field: FloatArray) -> FloatArray:
    """(e, 9, 9) integrals of phi_i d(phi_j, field); with the sign turned, of phi_i d(field, phi_j)."""
    return np.asarray((field @ tensor.reshape(-1, NODES).T).reshape(-1, NODES, NODES))


def _times(matrix: FloatArray, field: FloatArray) -> FloatArray:
    return np.asarray((matrix @ field[:, :, None])[:, :, 0])


@lru_cache(maxsize=8)
def _layout(columns: int, rows: int) -> _Layout:
    """The unknowns in an order that keeps the factors sparse: found once, used in every step of every groove."""
    numbered = numbering(columns, rows)
    free = np.flatnonzero(~_given(numbered).ravel())
    first = _placed(numbered, free)
    on_diagonal = first.rows == np.repeat(np.arange(len(free)), np.diff(first.starts))
    factors = _factors(np.where(on_diagonal, float(len(free)), 1.0), first.rows, first.starts, "MMD_AT_PLUS_A")
    return _placed(numbered, free[np.argsort(factors.perm_c)])


def _placed(numbered: Numbering, free: IntArray) -> _Layout:
    count = len(numbered.boundary)
    unknown = np.full(3 * count, -1, dtype=np.intp)
    unknown[free] = np.arange(len(free))
    places = unknown.reshape(3, count)[:, numbered.nodes].transpose(1, 2, 0)  # (e, 9, 3)
    shape = (len(places), NODES, 3, NODES, 3)
    row = np.broadcast_to(places[:, :, :, None, None], shape).ravel()
    column = np.broadcast_to(places[:, None, None, :, :], shape).ravel()
    swapped = numbered.boundary[numbered.nodes]
    coupled = np.where(swapped[:, :, None, None], _COUPLED[[PSI, PSI, W]], _COUPLED)  # (e, 9, 3, 3)
    kept = (row >= 0) & (column >= 0) & np.broadcast_to(coupled[:, :, :, None, :], shape).ravel()
    keys, slots = np.unique(column[kept] * len(free) + row[kept], return_inverse=True)
    slot = np.full(len(row), len(keys), dtype=np.intp)
    slot[kept] = slots
    starts = np.searchsorted(keys, np.arange(len(free) + 1) * len(free))
    return _Layout(free, slot, keys % len(free), starts, swapped.astype(float))

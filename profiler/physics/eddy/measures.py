"""What a settled flow says of its groove: how deep it reaches, where it turns, how much goes round and how fast.

Read from the elements' own polynomials on a lattice finer than they are, so that the answers hardly depend on how many
there are: at the nodes alone the reach would jump by a row.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from profiler.physics.eddy.evaluation import Lattice, middles
from profiler.physics.eddy.flow import Eddy
from profiler.physics.eddy.pieces import ComplexArray, FloatArray
from profiler.physics.eddy.section import Point

MOVING = 0.05  # of the lid's speed: slower is called still
_FINENESS = 6  # parts of an element, each way
SLOWEST = 0.05  # of the flow that goes round, outermost: it creeps along the walls and far below, and has no one time
WEAKEST = 1e-4  # of the driven eddy, that a stacked one turns at to be told
LEAST = 2e-3  # of U m, that must go round: what closes with less is the lid's end, and the elements do not hold it
_POLISH = 6  # Newton steps to the lowest point of a biquadratic


@dataclass(frozen=True, slots=True)
class Turn:
    """One eddy: where it turns (mouths, from the lower edge) and psi there: negative where it turns with the lid."""

    centre: Point
    psi: float


@dataclass(frozen=True, slots=True)
class Rise:
    """Speed against the field, toward the axis, at the level at which the driven eddy turns."""

    mean: float  # over the rising part
    peak: float


@dataclass(frozen=True, slots=True)
class Measures:
    """Lengths in mouths m, flows in U m, times in m/U, speeds in the lid's in-plane speed U."""

    psi_min: float
    centre: Point | None  # of the driven eddy; None where the water from below leaves no closed one
    reach: float  # greatest depth below the mouth line at which anything moves in the plane at 5 % of the lid's speed
    circulation: float | None  # flow that goes round between centre and outermost closed streamline
    turnover: float | None  # mean time of going round, but for the slowest 5 % of that flow
    depth: float  # of the floor, or of the bed, at its deepest
    percolation: float  # mean speed of the water from below through the floor: from MOVING up it alone makes the reach
    stacked: tuple[Turn, ...]  # eddies below the driven one, from flank to flank, downward
    area: float  # mouths squared, of all the water
    closed_area: float  # of that which goes round in the driven eddy and leaves it only by mixing
    rise: Rise | None

    @property
    def still_depth(self) -> float:
        """Depth that is left below the reach."""
        return self.depth - self.reach


@dataclass(frozen=True, slots=True, eq=False)
class _Read:
    """A flow on the fine lattice, read once for all measures."""

    eddy: Eddy
    psi: FloatArray
    velocity: ComplexArray
    places: ComplexArray
    area: FloatArray  # of a cell, mouths squared

    @property
    def depth(self) -> FloatArray:
        return _depth(self.eddy, self.places)


def _read(eddy: Eddy) -> _Read:
    fine = middles(eddy.elements, _FINENESS)
    area = fine.area(eddy.block) / _FINENESS**2
    return _Read(eddy, fine.values(eddy.psi), velocity(eddy, fine), fine.places(eddy.block), area)


def measure(eddy: Eddy) -> Measures:
    fine = _read(eddy)
    found = turns(eddy)
    driven = found[0] if found else None
    circulation = None if driven is None else min(0.0, -eddy.drive.through_flow) - driven.psi
    turning = None if circulation is None else _closed_area(fine, SLOWEST * circulation)
    return Measures(
        psi_min=float(np.min(eddy.psi)) if driven is None else driven.psi,
        centre=None if driven is None else driven.centre,
        reach=_reach(fine),
        circulation=circulation,
        turnover=None if circulation is None or turning is None else turning / ((1.0 - SLOWEST) * circulation),
        depth=float(np.max(_depth(eddy, eddy.block.nodes[0]))),
        percolation=abs(eddy.drive.through_flow) / float(np.sum(np.abs(np.diff(eddy.block.nodes[0])))),
        stacked=found[1:],
        area=float(np.sum(fine.area)),
        closed_area=0.0 if driven is None else _closed_area(fine, 0.0),
        rise=None if driven is None else _rise(fine, driven),
    )


def velocity(eddy: Eddy, on: Lattice) -> ComplexArray:
    """(r, c) in-plane velocity u + i v."""
    return np.asarray(-1j * on.gradient(eddy.block, eddy.psi))


def _depth(eddy: Eddy, places: ComplexArray) -> FloatArray:
    """Mouths below the mouth line, square to it."""
    base, along = eddy.groove.mouth_line
    return np.asarray(-((places - base) / along).imag)


def _reach(fine: _Read) -> float:
    """The deepest passing of the moving speed along the lattice's upright lines, linear between its places."""
    speed, depth = np.abs(fine.velocity), fine.depth
    moves = speed >= MOVING
    below, above = speed[:-1], speed[1:]
    passing = moves[1:] & ~moves[:-1]
    with np.errstate(divide="ignore", invalid="ignore"):
        share = (above - MOVING) / (above - below)
    crossed = np.where(passing, depth[1:] + share * (depth[:-1] - depth[1:]), -np.inf)
    return float(max(np.max(crossed), np.max(np.where(moves[0], depth[0], -np.inf))))


def _closed_area(fine: _Read, inward: float) -> float:
    """Area of the driven eddy's closed streamlines, but for those that carry `inward` of the flow, outermost.

    Cells that the outermost of them cuts count in part.
    """
    from scipy.ndimage import label

    outermost = min(0.0, -fine.eddy.drive.through_flow) - inward
    inside = outermost - fine.psi
    places, _ = label(inside > 0.0)
    whole = places == places[np.unravel_index(np.argmax(inside), inside.shape)]
    by_row, by_column = np.gradient(inside)
    span = np.abs(by_row) + np.abs(by_column) + np.finfo(float).tiny
    share = np.clip(0.5 + inside / span, 0.0, 1.0)
    return float(np.sum(np.where(whole, share, 0.0) * fine.area))


def _rise(fine: _Read, driven: Turn) -> Rise:
    """Along the lattice's row that passes the centre: cells count by their length."""
    row = np.unravel_index(int(np.argmin(np.abs(fine.places - complex(*driven.centre)))), fine.places.shape)[0]
    theta = fine.eddy.drive.wall_angle
    against = -(np.conj(complex(np.sin(theta), -np.cos(theta))) * fine.velocity[row]).real
    length = np.abs(np.gradient(fine.places[row]))
    rising = against > 0.0
    return Rise(float(np.sum((against * length)[rising]) / np.sum(length[rising])), float(np.max(against)))


def turns(eddy: Eddy, weakest: float = WEAKEST) -> tuple[Turn, ...]:
    """The driven eddy and those stacked below it, downward, as far as they turn at `weakest` of it; () without one.

    An eddy is an extremum of psi beyond what the walls prescribe. The driven one is the lowest; each below turns the
    other way than the one above it, and nothing in its row turns against it: small eddies in the corners share their
    row with the great one beside them.
    """
    low, high = min(0.0, -eddy.drive.through_flow), max(0.0, -eddy.drive.through_flow)
    inner = eddy.psi[1:-1, 1:-1]
    strength = np.maximum(low - inner, inner - high)
    row, column = np.unravel_index(int(np.argmin(inner)), inner.shape)
    if low - inner[row, column] < LEAST:
        return ()
    least = weakest * (low - inner[row, column])
    found = [_polished(eddy, int(row) + 1, int(column) + 1)]
    clean = {
        True: np.max(inner, axis=1) <= high + least,  # for an eddy that turns with the lid
        False: np.min(inner, axis=1) >= low - least,
    }
    extreme = _extreme(eddy.psi) & (strength > least)
    for j, i in sorted(np.argwhere(extreme[:row]).tolist(), reverse=True):
        with_lid = bool(inner[j, i] < low)
        if with_lid != (found[-1].psi < low) and clean[with_lid][j]:
            found.append(_polished(eddy, j + 1, i + 1))
    return tuple(found)


def _extreme(psi: FloatArray) -> NDArray[np.bool_]:
    """Inner nodes above, or below, all eight around them."""
    rows, columns = psi.shape
    around = np.stack(
        [psi[1 + j : rows - 1 + j, 1 + i : columns - 1 + i] for j in (-1, 0, 1) for i in (-1, 0, 1) if (j, i) != (0, 0)]
    )
    inner = psi[1:-1, 1:-1]
    return np.asarray(np.all(inner < around, axis=0) | np.all(inner > around, axis=0))


def _polished(eddy: Eddy, row: int, column: int) -> Turn:
    """The extremum of the biquadratic through a node and the eight around it."""
    patch = np.s_[row - 1 : row + 2, column - 1 : column + 2]
    psi, places = eddy.psi[patch], eddy.block.nodes[patch]
    s = t = 0.0
    for _ in range(_POLISH):
        (a, da, dda), (b, db, ddb) = _parabola(s), _parabola(t)
        slope = np.array([b @ psi @ da, db @ psi @ a])
        bend = np.array([[b @ psi @ dda, db @ psi @ da], [db @ psi @ da, ddb @ psi @ a]])
        step = np.linalg.solve(bend, slope)
        s, t = (float(v) for v in np.clip((s - step[0], t - step[1]), -1.0, 1.0))
    a, b = _parabola(s)[0], _parabola(t)[0]
    centre = complex(b @ places @ a)
    return Turn((centre.real, centre.imag), float(b @ psi @ a))


def _parabola(t: float) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Weights of three even nodes at -1, 0, 1 for the value, the slope and the bend at t."""
    return (
        np.array([0.5 * t * (t - 1.0), 1.0 - t * t, 0.5 * t * (t + 1.0)]),
        np.array([t - 0.5, -2.0 * t, t + 0.5]),
        np.array([1.0, -2.0, 1.0]),
    )

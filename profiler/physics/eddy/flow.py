"""The eddy in a groove, computed: steady mean flow below a moving lid, in the frame that turns with the bowl.

Lengths are in mouths m, velocities in the lid's in-plane speed U, Re = U m/nu_eff, K = 2 omega m/U, r the unit vector
of the radius in the section, w the azimuthal velocity against the bowl, u = (psi_y, -psi_x), zeta = v_x - u_y:

    lap(psi) = -zeta
    u . grad(zeta) = lap(zeta)/Re + K (r_y w_x - r_x w_y)
    u . grad(w)    = lap(w)/Re    - K (u r_x + v r_y)

The lid moves from the lower to the upper edge with speed 1 and lags the bowl by `lid_lag`; the walls and the bed are at
rest; water comes evenly through the floor and leaves evenly through the lid. Rotation is no detail: at Re 300 it takes
nearly half of the reach. Constant effective viscosity, a groove narrow against its radius, one fluid, no grains.
Derived from the Navier-Stokes equations in a rotating frame; held against published cavities in tests/published/eddy.
"""

from dataclasses import dataclass, replace
from enum import StrEnum
from math import ceil, cos, isfinite, log, pi, sin

import numpy as np

from profiler.physics.eddy.block import Block, block_of
from profiler.physics.eddy.elements import lid_load, matrices, numbering
from profiler.physics.eddy.evaluation import moved
from profiler.physics.eddy.newton import PSI, Equations, W, settled
from profiler.physics.eddy.pieces import FloatArray
from profiler.physics.eddy.section import Groove, Refused, sides_of

COARSE, FINE = (16, 16), (24, 24)  # elements along and across: while a hand moves, and when it rests
USUAL_REYNOLDS, LOW_REYNOLDS, HIGH_REYNOLDS = 300.0, 100.0, 400.0  # effective; an assumption, hence a band
LARGEST_REYNOLDS = 1500.0  # beyond it the elements do not hold the layers
LARGEST_THROUGH_FLOW = 0.5


@dataclass(frozen=True, slots=True)
class _Pace:
    """How the Reynolds number is raised from rest."""

    first: float  # at most this at first
    ratio: float
    close: float  # change of psi that is left at a stage on the way


# The first takes 8 steps of Newton's where the straight way takes 7, but the straight way lost one flow in ten. In 120
# grooves and drives well beyond the usual the first never failed, and both came to the same flow.
_PACES = (_Pace(100.0, 2.2, 0.05), _Pace(30.0, 1.4, 1e-4))


@dataclass(frozen=True, slots=True)
class Drive:
    """What moves the water; without dimension."""

    reynolds: float
    rotation: float = 0.0  # K
    wall_angle: float = 0.0  # rad from the axis to the frame's x axis: the radius is (sin, -cos) of it
    lid_lag: float = 0.0  # -w on the lid, over U: positive where the film turns slower than the bowl
    through_flow: float = 0.0  # water through the floor per circumference, over U m


class Cause(StrEnum):
    """Why there is no eddy to show."""

    REFUSED = "refused"
    UNSETTLED = "unsettled"


@dataclass(frozen=True, slots=True)
class NoEddy:
    """No flow was found, and so there is no number of one; the reason is one sentence."""

    cause: Cause
    reason: str


@dataclass(frozen=True, slots=True, eq=False)
class Eddy:
    """A settled flow on the nodes of its elements: floor to lid, lower flank to upper. Made by `solve` alone."""

    groove: Groove
    drive: Drive
    block: Block
    psi: FloatArray  # (2 rows + 1, 2 columns + 1)
    zeta: FloatArray
    w: FloatArray

    @property
    def elements(self) -> tuple[int, int]:
        """Columns and rows."""
        return self.block.columns, self.block.rows


def solve(groove: Groove, drive: Drive, elements: tuple[int, int] = COARSE, start: Eddy | None = None) -> Eddy | NoEddy:
    """The flow in a groove, from rest or from a neighbouring flow; what does not settle is not a flow.

    From rest Newton's first step is the creeping flow, and the Reynolds number is raised in stages.
    """
    try:
        _refuse(drive)
        block = block_of(sides_of(groove), *elements)
    except Refused as refusal:
        return NoEddy(Cause.REFUSED, str(refusal))
    equations = _equations(block, drive)
    fields = settled(equations, _neighbour(start, elements)) if start is not None else None
    for pace in _PACES:
        fields = _by_stages(equations, pace) if fields is None else fields
    if fields is None:
        return NoEddy(
            Cause.UNSETTLED,
            f"The flow does not settle at Reynolds number {drive.reynolds:g}, rotation {drive.rotation:.3g} and a lag "
            f"of {drive.lid_lag:.3g}: nothing is shown.",
        )
    zeta, psi, w = fields.reshape(3, *block.nodes.shape)
    return Eddy(groove, drive, block, psi, zeta, w)


def _refuse(drive: Drive) -> None:
    if not all(map(isfinite, (drive.reynolds, drive.rotation, drive.wall_angle, drive.lid_lag, drive.through_flow))):
        raise Refused("The drive of the eddy is not fully given: one of its numbers is not a number.")
    if not 0.0 < drive.reynolds <= LARGEST_REYNOLDS:
        raise Refused(
            f"The Reynolds number is {drive.reynolds:g}; a flow is asked for above 0 to {LARGEST_REYNOLDS:g}."
        )
    if drive.rotation < 0.0:
        raise Refused("The rotation number is negative: it counts the bowl's speed, whichever way it turns.")
    if drive.lid_lag < 0.0:
        raise Refused("The film runs ahead of the bowl: one that the bowl drives never does.")
    if abs(drive.wall_angle) >= 0.5 * pi:
        raise Refused("The wall lies flat: there is no groove with its mouth toward the axis.")
    if abs(drive.through_flow) > LARGEST_THROUGH_FLOW:
        raise Refused("More water comes through the floor than a driven eddy stands: it would be blown out.")


def _equations(block: Block, drive: Drive) -> Equations:
    numbered = numbering(block.columns, block.rows)
    walls = np.zeros((3, *block.nodes.shape))
    walls[PSI, :, -1] = -drive.through_flow
    walls[PSI, 0] = -drive.through_flow * block.through_floor
    walls[PSI, -1] = -drive.through_flow * block.through_lid
    walls[W, -1] = -drive.lid_lag
    load = np.zeros((3, block.nodes.size))
    load[PSI] = lid_load(block)
    across = complex(sin(drive.wall_angle), -cos(drive.wall_angle))
    radius = (np.conj(across) * block.nodes.ravel()).real
    return Equations(numbered, matrices(block), load, walls.reshape(3, -1), radius, drive.reynolds, drive.rotation)


def _neighbour(start: Eddy, elements: tuple[int, int]) -> FloatArray:
    """(3, n) another flow's fields at the same places of its block."""
    fields = np.stack((start.zeta, start.psi, start.w))
    return (fields if start.elements == elements else moved(fields, elements)).reshape(3, -1)


def _by_stages(equations: Equations, pace: _Pace) -> FloatArray | None:
    """From rest, the Reynolds number raised in equal ratios, each flow from the one before."""
    stages = ceil(max(0.0, log(equations.reynolds / pace.first) / log(pace.ratio)))
    fields: FloatArray | None = np.zeros_like(equations.walls)
    for stage in range(stages, 0, -1):
        if fields is not None:
            fields = settled(replace(equations, reynolds=equations.reynolds * pace.ratio**-stage), fields, pace.close)
    return None if fields is None else settled(equations, fields)

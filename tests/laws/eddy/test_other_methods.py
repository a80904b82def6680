"""The same flow by methods that share nothing with the program's but the equations."""

import numpy as np
import pytest

from profiler.physics.eddy.flow import FINE, Drive, Eddy, solve
from profiler.physics.eddy.measures import measure
from profiler.physics.eddy.section import Groove, sides_of
from tests.laws.eddy.differences import slot_flow
from tests.laws.eddy.velocities import TaylorHood, triangles

SLOT, SLOT_DRIVE = 0.75, Drive(300.0, rotation=0.8, wall_angle=0.2, lid_lag=0.7, through_flow=0.02)
SLANTED = Groove.cut(1.1, drop=0.2, flank=0.12, fill=0.15, bed_lean=0.2)
SLANTED_DRIVE = Drive(200.0, rotation=0.7, wall_angle=0.35, lid_lag=0.6, through_flow=0.03)
ROUNDED = Groove.cut(0.92, flank=0.1, floor_radius=0.15, edge_radius=0.1)
ROUNDED_DRIVE = Drive(250.0, rotation=0.75, wall_angle=0.3, lid_lag=0.55)


def least(groove, drive):
    eddy = solve(groove, drive, FINE)
    assert isinstance(eddy, Eddy)
    return measure(eddy).psi_min


def test_differences_on_an_even_grid_find_the_same_flow_in_a_slot():
    """Second order: two grids give what an endless one would."""
    coarse, fine = (np.min(slot_flow(SLOT, SLOT_DRIVE, cells)) for cells in (28, 42))
    endless = fine + (fine - coarse) / ((42 / 28) ** 2 - 1.0)
    assert least(Groove.cut(SLOT), SLOT_DRIVE) == pytest.approx(endless, rel=0.01)


def flow_by_velocities(groove, drive, spacing):
    sides = sides_of(groove)
    arcs = np.linspace(0.0, 1.0, 9)[:-1]
    rim = [
        piece.at(arcs if piece.bulge else np.zeros(1))
        for path in (sides.lower, sides.floor, sides.upper)
        for piece in path
    ]
    outline = np.concatenate([*rim, [sides.lid.end]])
    floor, lid = (sides.floor[0].start, sides.floor[-1].end), (sides.lid.start, sides.lid.end)

    def on(line, at):
        along = (at - line[0]) / (line[1] - line[0])
        return (np.abs(along.imag) < 1e-9) & (along.real > 1e-9) & (along.real < 1.0 - 1e-9)

    def speed(at):
        found = np.zeros((3, len(at)))
        for line, slip, lag in ((floor, 0.0, 0.0), (lid, 1.0, drive.lid_lag)):
            here = on(line, at)
            heading = (line[1] - line[0]) / abs(line[1] - line[0])
            velocity = slip * heading + 1j * heading * drive.through_flow / abs(line[1] - line[0])
            found[:, here] = np.array([velocity.real, velocity.imag, -lag])[:, None]
        return found

    return TaylorHood(triangles(outline, spacing), drive, sides.floor[0].start).least_psi(speed)


@pytest.mark.parametrize(
    ("groove", "drive"),
    [
        pytest.param(SLANTED, SLANTED_DRIVE, id="slanted, part full"),
        pytest.param(ROUNDED, ROUNDED_DRIVE, id="rounded", marks=pytest.mark.long),
    ],
)
def test_velocities_and_pressure_on_triangles_find_the_same_flow_in_any_section(groove, drive):
    assert least(groove, drive) == pytest.approx(flow_by_velocities(groove, drive, 0.04), rel=0.01)

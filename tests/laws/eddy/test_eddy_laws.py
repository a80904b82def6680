"""What must hold of any eddy: symmetry, the limits of slow and shallow flow, what turning does, how it scales."""

from dataclasses import replace
from math import radians

import numpy as np
import pytest

from profiler.physics.eddy.block import block_of
from profiler.physics.eddy.flow import COARSE, FINE, Drive, Eddy, _equations, solve
from profiler.physics.eddy.measures import measure
from profiler.physics.eddy.newton import PSI, ZETA, W, settled
from profiler.physics.eddy.samples import floor_shear, samples
from profiler.physics.eddy.section import Groove, sides_of

TYPICAL = Groove.cut(0.92, flank=radians(6.0), floor_radius=0.15, edge_radius=0.045)
DRIVE = Drive(300.0, rotation=0.7, wall_angle=radians(17.0), lid_lag=0.6, through_flow=0.01)


def eddy(groove=TYPICAL, drive=DRIVE, elements=COARSE, start=None) -> Eddy:
    found = solve(groove, drive, elements, start)
    assert isinstance(found, Eddy), found
    return found


@pytest.fixture(scope="module")
def typical() -> Eddy:
    return eddy()


@pytest.mark.parametrize("reynolds", [10.0, 150.0])
@pytest.mark.parametrize("groove", [Groove.cut(1.0), TYPICAL], ids=["square", "typical"])
def test_uniform_angular_momentum_does_not_feel_the_rotation(groove, reynolds):
    """Walls and lid given w = -K (r . x), uniform angular momentum: psi and zeta are exactly those of K 0 (derived)."""
    drive = Drive(reynolds, rotation=0.8, wall_angle=0.3, through_flow=0.01)
    block = block_of(sides_of(groove), *COARSE)
    turning = _equations(block, drive)
    turning.walls[W] = -turning.rotation * turning.radius
    still = replace(_equations(block, drive), rotation=0.0)
    plain = settled(still, np.zeros_like(still.walls))
    assert plain is not None
    found = settled(turning, 0.6 * plain)
    assert found is not None
    assert found[W] == pytest.approx(turning.walls[W], abs=1e-10)
    for field in (PSI, ZETA):
        assert found[field] == pytest.approx(plain[field], abs=1e-10 * np.max(np.abs(plain[field])))


def test_a_slow_eddy_in_an_even_groove_turns_about_its_middle():
    found = measure(eddy(drive=Drive(1e-4)))
    assert found.centre is not None and found.centre[0] == pytest.approx(0.5, abs=1e-6)


def test_over_a_shallow_floor_the_flow_is_that_of_lubrication():
    """Depth d, ten times as long, in the middle: u = 1 + 4 y/d + 3 (y/d)^2; as much goes back as forth (derived)."""
    depth = 0.1
    found = samples(eddy(Groove.cut(depth), Drive(1e-3)), each=2)
    middle = found.x.shape[1] // 2
    y = found.y[:, middle] / depth
    assert found.x[:, middle] == pytest.approx(0.5, abs=1e-9)
    assert found.u[:, middle] == pytest.approx(1.0 + 4.0 * y + 3.0 * y * y, abs=0.01)


LONG = pytest.mark.long


@pytest.mark.parametrize("reynolds", [100.0, pytest.param(200.0, marks=LONG), pytest.param(300.0, marks=LONG), 400.0])
def test_the_faster_the_bowl_turns_the_less_deep_the_eddy_reaches(reynolds):
    reach, start = [], None
    for rotation in (0.0, 0.3, 0.6, 0.9):
        start = eddy(drive=replace(DRIVE, reynolds=reynolds, rotation=rotation), start=start)
        reach.append(measure(start).reach)
    assert np.all(np.diff(reach) < -0.01)


def test_the_more_the_wall_opens_the_less_deep_the_eddy_reaches():
    """At one rotation number: the radius' component along the mouth turns with the wall."""
    found = [measure(eddy(drive=replace(DRIVE, wall_angle=radians(a)))).reach for a in (0.0, 15.0, 30.0)]
    assert np.all(np.diff(found) < -0.03)


def test_the_reach_hardly_depends_on_the_elements(typical):
    found = {n: measure(typical if n == 16 else eddy(elements=(n, n))) for n in (16, 24, 32)}
    assert found[24].reach == pytest.approx(found[32].reach, rel=0.02)
    assert found[16].reach == pytest.approx(found[32].reach, rel=0.02)
    assert found[24].psi_min == pytest.approx(found[32].psi_min, rel=0.002)
    assert found[16].psi_min == pytest.approx(found[32].psi_min, rel=0.01)
    assert found[16].turnover == pytest.approx(found[32].turnover, rel=0.02)


def test_a_floors_shear_hardly_depends_on_the_elements():
    found = [floor_shear(eddy(elements=elements)).largest for elements in (COARSE, FINE)]
    assert found[0] == pytest.approx(found[1], rel=0.02)


def test_the_flow_is_the_same_in_any_frame_and_size(typical):
    """Told in a frame turned by 0.4, in units of half a mouth: psi, reach and time double; the pattern stays."""
    scale, turn = 2.0, np.exp(0.4j)
    corners = tuple((p.real, p.imag) for p in (scale * turn * complex(*c) for c in TYPICAL.corners))
    groove = replace(TYPICAL, corners=corners, floor_radius=scale * 0.15, edge_radius=scale * 0.045)
    drive = Drive(300.0 / scale, 0.7 / scale, DRIVE.wall_angle + 0.4, 0.6, scale * 0.01)
    found, as_told = measure(eddy(groove, drive)), measure(typical)
    assert found.psi_min == pytest.approx(scale * as_told.psi_min, rel=1e-6)
    assert found.circulation == pytest.approx(scale * as_told.circulation, rel=1e-6)
    assert found.reach == pytest.approx(scale * as_told.reach, rel=1e-6)
    assert found.turnover == pytest.approx(scale * as_told.turnover, rel=1e-6)
    place = scale * turn * complex(*as_told.centre)
    assert found.centre == pytest.approx((place.real, place.imag), abs=1e-6)


def test_a_neighbours_flow_is_only_a_shorter_way_to_the_same(typical):
    near = eddy(drive=replace(DRIVE, wall_angle=radians(20.0), through_flow=0.02), elements=FINE)
    assert eddy(start=near).psi == pytest.approx(typical.psi, abs=1e-9)
    deeper = eddy(Groove.cut(1.4), replace(DRIVE, rotation=0.5))
    assert eddy(start=deeper).psi == pytest.approx(typical.psi, abs=1e-9)


def test_on_walls_and_lid_the_speeds_are_the_given_ones(typical):
    found = samples(typical)
    lid = slice(6, -6)  # away from the ends, where the speed jumps
    assert found.u[-1, lid] == pytest.approx(1.0, abs=0.04)
    assert found.w[-1] == pytest.approx(-0.6)
    assert np.max(found.speed[3:24, [0, -1]]) < 0.03
    assert found.w[:-6, [0, -1]] == pytest.approx(0.0)
    assert np.mean(found.psi[0, -1] - found.psi[0, 0]) == pytest.approx(-0.01)


def test_a_tangent_wall_shear_is_the_lubrication_one():
    """u = 1 + 4 y/d + 3 (y/d)^2: du/dy at the floor is -2/d; over Re, toward the lower flank."""
    found = floor_shear(eddy(Groove.cut(0.1), Drive(0.5)))
    middle = np.abs(found.x - 0.5) < 0.1
    assert found.along[middle] == pytest.approx(-2.0 / 0.1 / 0.5, rel=0.01)


def test_the_floor_feels_the_film_that_lags():
    """Without rotation w is carried along between a lid that lags and a floor at rest: in a shallow groove linear."""
    found = floor_shear(eddy(Groove.cut(0.1), Drive(0.01, lid_lag=0.6)))
    middle = np.abs(found.x - 0.5) < 0.1
    assert found.around[middle] == pytest.approx(-0.6 / 0.1 / 0.01, rel=0.01)


def test_mean_time_round_is_that_of_the_shallow_flow():
    """Depth 1/10: all but the slowest 5 % of the flow psi = y (1 + y/d)^2 goes round in area over flow; derived."""
    y = np.linspace(-0.1, 0.0, 100_001)
    psi = y * (1.0 + y / 0.1) ** 2
    peak = -np.min(psi)
    expected = np.mean(psi < -0.05 * peak) * 0.1 / (0.95 * peak)
    found = measure(eddy(Groove.cut(0.1), Drive(1e-3), FINE))
    assert found.circulation == pytest.approx(peak, rel=0.02)
    assert found.turnover == pytest.approx(expected, rel=0.05)  # the ends, one depth each, turn a little faster


def in_steps(fills):
    reach, psi, start = [], [], None
    for fill in fills:
        start = eddy(replace(TYPICAL, fill=float(fill)), start=start)
        found = measure(start)
        reach.append(found.reach)
        psi.append(found.psi_min)
    return np.max(np.abs(np.diff(reach))), np.max(np.abs(np.diff(psi)))


def test_in_a_groove_filled_by_and_by_nothing_jumps():
    """Between fill 0 and 0.2, where the bed climbs out of the floor's roundings."""
    reach, psi = in_steps(np.linspace(0.0, 0.2, 9))
    assert reach < 0.005
    assert psi < 2e-4


@pytest.mark.long
def test_halving_the_steps_of_the_fill_halves_what_the_answers_move():
    wide, narrow = (in_steps(np.linspace(0.0, 0.9, n)) for n in (61, 121))
    assert narrow[0] < 0.7 * wide[0]
    assert narrow[1] < 0.7 * wide[1]

"""Laws of the spinning body: limits, symmetries, scaling, balances of force. Nothing here is a published number."""

from math import cos, pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from profiler.geometry.chain import Chain, figures
from profiler.geometry.revolved import between, of_figures
from profiler.physics.rotor import balance, rotation
from profiler.physics.rotor import body as rotor
from profiler.physics.rotor import stress as rotor_stress
from tests.laws.slurry.walls import FEW
from tests.oracles import stress as oracle

EXACT = 1e-9
INNER, OUTER, SPEED, DENSITY = 0.2, 0.26, 90.0, 7800.0
radii = st.floats(0.05, 2.0)
shares = st.floats(0.3, 0.95)  # thinner bores want a finer quadrature of 1/r^2 than the one below


def mean_over(function, low, high):
    nodes, weights = np.polynomial.legendre.leggauss(24)
    x = 0.5 * (high + low) + 0.5 * (high - low) * nodes
    return 0.5 * float(np.sum(weights * function(x)))


@FEW
@given(radii, shares)
def test_a_discs_hoop_force_balances_half_its_rotation(outer, share):
    # cut along a diameter: the hoop stress over both walls holds rho w^2 times the half section's first moment
    inner = outer * share
    mean = mean_over(lambda r: rotor_stress.disc_hoop(DENSITY, SPEED, inner, outer, r, 0.3), inner, outer)
    assert mean * (outer - inner) == pytest.approx(DENSITY * SPEED**2 * (outer**3 - inner**3) / 3.0, rel=EXACT)


@FEW
@given(radii, shares)
def test_a_thick_cylinders_hoop_force_balances_the_pressure(outer, share):
    inner = outer * share
    mean = mean_over(lambda r: rotor_stress.thick_cylinder(1.0, inner, outer, r), inner, outer)
    assert mean == pytest.approx(rotor_stress.thin_shell(1.0, inner, outer - inner), rel=1e-7)  # quadrature of 1/r^2


def test_a_disc_shrinks_to_the_thin_ring():
    thin = rotor_stress.disc_hoop(DENSITY, SPEED, INNER, INNER * (1.0 + 1e-9), INNER, 0.3)
    assert thin == pytest.approx(rotor_stress.thin_ring(DENSITY, SPEED, INNER), rel=1e-8)


def test_hoop_and_radial_stress_of_a_disc_are_in_balance_with_its_rotation():
    """d(r s_r)/dr = s_h - rho w^2 r^2 at every radius, and no radial stress at the free edges."""
    r = np.linspace(INNER, OUTER, 2001)
    radial = oracle.disc_radial(DENSITY, SPEED, INNER, OUTER, r, 0.3)
    hoop = rotor_stress.disc_hoop(DENSITY, SPEED, INNER, OUTER, r, 0.3)
    scale = DENSITY * SPEED**2 * OUTER**2
    assert radial[[0, -1]] == pytest.approx([0.0, 0.0], abs=1e-12 * scale)
    grown = np.diff(r * radial) / np.diff(r)
    wanted = hoop - DENSITY * SPEED**2 * r**2
    assert grown == pytest.approx(0.5 * (wanted[1:] + wanted[:-1]), abs=1e-5 * scale)  # the trapezium of a smooth curve


def test_hoop_stress_is_largest_at_the_bore():
    r = np.linspace(INNER, OUTER, 50)
    for stress in (
        rotor_stress.disc_hoop(DENSITY, SPEED, INNER, OUTER, r, 0.3),
        rotor_stress.thick_cylinder(1e5, INNER, OUTER, r),
    ):
        assert np.all(np.diff(stress) < 0.0)


@FEW
@given(st.floats(1.0, 4.0), st.floats(0.5, 3.0))
def test_stress_of_rotation_goes_with_speed_and_size_squared(faster, larger):
    one = rotor_stress.disc_hoop(DENSITY, SPEED, INNER, OUTER, INNER, 0.3)
    other = rotor_stress.disc_hoop(DENSITY, faster * SPEED, larger * INNER, larger * OUTER, larger * INNER, 0.3)
    assert other == pytest.approx(one * (faster * larger) ** 2, rel=EXACT)


@FEW
@given(radii, shares)
def test_free_rings_press_less_than_a_liquid_of_their_density(outer, share):
    inner = outer * share
    free = oracle.free_rings_pressure(1150.0, SPEED, inner, outer)
    liquid = rotor_stress.liner_pressure(1150.0, SPEED, inner, outer)
    assert 0.0 < free < liquid


@FEW
@given(st.floats(-40e3, 200e3), st.floats(0.0, 0.2), st.floats(0.0, 0.25))
def test_end_thrust_is_the_integral_of_a_pressure_that_never_sucks(inlet_pressure, inlet, inner):
    outer = 0.3
    r = np.linspace(inner, outer, 200_001)
    pressure = inlet_pressure + rotation.rotating_head(998.0, SPEED, inlet, r)
    expected = np.trapezoid(np.maximum(pressure, 0.0) * 2.0 * pi * r, r)
    found = rotor_stress.end_thrust(998.0, SPEED, inlet_pressure, inlet, inner, outer)
    assert found == pytest.approx(expected, rel=1e-6, abs=1e-3)  # 200 000 strips


def test_buckling_goes_with_the_cube_of_thickness_over_radius():
    one = rotor_stress.buckling_pressure(15e6, 0.49, 0.02, 0.25)
    assert rotor_stress.buckling_pressure(15e6, 0.49, 0.04, 0.25) == pytest.approx(8.0 * one, rel=EXACT)
    assert rotor_stress.buckling_pressure(15e6, 0.49, 0.04, 0.50) == pytest.approx(one, rel=EXACT)


@FEW
@given(st.floats(0.1, 0.9))
def test_a_body_cut_in_two_is_the_same_body_together(share):
    height = np.array([0.0, 0.3 * share, 0.3])
    inner = np.array([0.10, 0.10 + 0.05 * share, 0.15])
    outer = inner + 0.02

    def part(some):
        b = between(height[some], inner[some], outer[some], 7800.0)
        return rotor.Mass(b.volume, b.centre_height, b.polar_inertia, b.transverse_inertia)

    whole, halves = part(slice(None)), rotor.together([part(slice(0, 2)), part(slice(1, 3))])
    for name in ("mass", "centre", "polar", "transverse"):
        assert getattr(halves, name) == pytest.approx(float(getattr(whole, name)), rel=EXACT)


def test_nothing_together_weighs_nothing():
    nothing = rotor.Mass(*(np.zeros(2) for _ in range(4)))
    both = rotor.together([nothing, nothing])
    assert both.mass.tolist() == [0.0, 0.0] and both.centre.tolist() == [0.0, 0.0]


def test_twice_the_lengths_give_eight_times_the_volume_and_thirty_two_times_the_inertia():
    corners = np.array([(40.0, 10.0), (90.0, 10.0), (120.0, 160.0), (75.0, 160.0)])
    curls = np.array([0.0, 0.1, 0.0, -0.05])
    one, two = (of_figures(figures(Chain(corners * k, curls))) for k in (1.0, 2.0))
    assert two.volume == pytest.approx(8.0 * one.volume, rel=EXACT)
    assert two.polar_inertia == pytest.approx(32.0 * one.polar_inertia, rel=EXACT)
    assert two.transverse_inertia == pytest.approx(32.0 * one.transverse_inertia, rel=EXACT)


def test_a_body_lifted_keeps_its_transverse_inertia():
    corners = np.array([(40.0, 10.0), (90.0, 10.0), (120.0, 160.0), (75.0, 160.0)])
    chain = Chain(corners, np.zeros(4))
    one, lifted = figures(chain), figures(Chain(corners + np.array([0.0, 5000.0]), np.zeros(4)))
    assert lifted.transverse_inertia == pytest.approx(one.transverse_inertia, rel=1e-8)  # differences of large numbers


def test_what_is_cut_out_of_a_body_and_put_back_is_the_body():
    height = np.array([0.0, 1.0, 2.0])
    whole = between(height, np.zeros(3), np.full(3, 2.0))
    core = between(height[:2], np.zeros(2), np.full(2, 1.0))
    rest = whole.less(core)
    parts = [rotor.Mass(b.volume, b.centre_height, b.polar_inertia, b.transverse_inertia) for b in (rest, core)]
    back = rotor.together(parts)
    assert back.mass == pytest.approx(float(whole.volume), rel=EXACT)
    assert back.transverse == pytest.approx(float(whole.transverse_inertia), rel=EXACT)


def test_a_weight_that_grows_with_height_lifts_the_centre():
    # density z over a straight column of height 3: the centre lies at two thirds
    b = between(np.array([0.0, 3.0]), np.zeros(2), np.ones(2), np.array([0.0, 3.0]))
    assert b.volume == pytest.approx(pi * 4.5, rel=EXACT)
    assert b.centre_height == pytest.approx(2.0, rel=EXACT)


@FEW
@given(st.floats(0.001, 0.03))
def test_the_missing_arc_makes_the_very_unbalance(unbalance):
    mass, radius = 0.9, 0.22
    arc = float(balance.missing_arc(unbalance, mass, radius))
    turned = np.linspace(-0.5 * arc, 0.5 * arc, 20_001)
    left = mass / (2.0 * pi) * radius * np.trapezoid(np.cos(turned), turned)
    assert left == pytest.approx(unbalance, rel=1e-7)  # 20 000 strips


def test_a_ring_too_light_has_no_such_arc():
    assert np.isnan(balance.missing_arc(0.2, 0.9, 0.22))
    assert balance.missing_arc(0.9 * 0.22 / pi, 0.9, 0.22) == pytest.approx(pi, rel=EXACT)  # half the ring


def test_feed_power_is_torque_times_speed_and_half_is_carried_out():
    power, speed, radius, flow = rotor.feed_power(3.0, 70.0, 0.25, 0.1), 70.0, 0.25, 3.0
    torque = flow * radius * speed * radius * 0.9
    assert power == pytest.approx(torque * speed, rel=EXACT)
    assert rotor.feed_power(flow, speed, radius) == pytest.approx(2.0 * flow * 0.5 * (speed * radius) ** 2, rel=EXACT)


def test_spinning_up_puts_in_the_kinetic_energy():
    up = rotor.spin_up(1.7, 66.0, 45.0)
    assert 0.5 * up.peak_power * 45.0 == pytest.approx(float(rotor.kinetic_energy(1.7, 66.0)), rel=EXACT)


def test_the_permitted_force_is_that_of_the_moved_centre():
    unbalance = balance.permissible_unbalance(6.3e-3, 67.0, 80.0)
    shift = balance.permissible_eccentricity(6.3e-3, 67.0)
    assert balance.unbalance_force(unbalance, 67.0) == pytest.approx(80.0 * float(shift) * 67.0**2, rel=EXACT)


def test_a_cone_is_stretched_more_than_a_cylinder_of_its_radius():
    lean = 0.3
    assert rotor_stress.thin_shell(1e5, 0.25, 0.01, lean) == pytest.approx(1e5 * 0.25 / 0.01 / cos(lean), rel=EXACT)

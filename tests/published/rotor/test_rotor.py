"""The spinning body against handbook examples and closed forms.

Disc: the shrink-fitted disc of Ugural and Fenster, its answers as given on a public answer site; Hearn, "Mechanics of
Materials 2", example 4.1, and a steel ring of a machine-design exercise, whose statements were found and whose answers
are computed from them. Liquid: Berk, "Food Process Engineering and Technology", example 9.5. Thin ring, Lamé,
long cylinder: closed forms worked by hand. Balance: ISO 21940-11 as pump and fan handbooks print it.
"""

from math import pi, sqrt

import numpy as np
import pytest

from profiler.geometry.chain import Chain, figures
from profiler.geometry.revolved import between, of_figures
from profiler.physics.rotor import balance, rotation
from profiler.physics.rotor import body as rotor
from profiler.physics.rotor import stress as rotor_stress
from profiler.units import GRAVITY, RPM
from tests.oracles import stress as oracle

PRINTED = 5e-7  # closed forms printed to seven digits or so
MM, MPA = 1e-3, 1e6


@pytest.mark.parametrize(("density", "stress_mpa"), [(7850.0, 48.4227), (1150.0, 7.0938)])
def test_a_thin_ring_carries_its_own_rotation(density, stress_mpa):
    # worked by hand, printed to four decimals of a megapascal
    assert rotor_stress.thin_ring(density, 3000 * RPM, 0.25) / MPA == pytest.approx(stress_mpa, abs=5e-5)


def test_the_shrink_fitted_disc_has_its_published_stresses():
    density, speed, nu, inner, outer = 7800.0, 6900 * RPM, 0.3, 0.05, 0.25
    turning = rotor_stress.disc_hoop(density, speed, inner, outer, inner, nu)
    assert turning / MPA == pytest.approx(212.0, abs=0.5)  # the answer, printed to three digits
    assert turning / MPA == pytest.approx(211.7646, abs=5e-5)  # recomputed from the statement
    rim = rotor_stress.disc_hoop(density, speed, inner, outer, outer, nu)
    assert rim / MPA == pytest.approx(52.9412, abs=5e-5)
    middle = oracle.disc_radial(density, speed, inner, outer, sqrt(inner * outer), nu)
    assert middle / MPA == pytest.approx(67.1945, abs=5e-5)
    # the fit just opens at speed: what the bore grows by, less what the solid shaft does, rho w^2 r^3 (1 - nu)/(4 E)
    shaft = density * speed**2 * inner**3 * (1.0 - nu) / (4.0 * 200e9)
    assert turning * inner / 200e9 - shaft == pytest.approx(5.26e-5, abs=2e-7)  # the answer, printed to three digits
    assert turning * inner / 200e9 - shaft == pytest.approx(5.2496e-5, abs=5e-10)  # recomputed


def test_the_fit_of_the_disc_at_rest_has_its_published_stress():
    # solid shaft of the same steel: radial interference d gives p = E d (ro^2 - ri^2)/(2 ri ro^2) at the fit
    inner, outer, allowance = 0.05, 0.25, 5.2496e-5
    pressure = 200e9 * allowance * (outer**2 - inner**2) / (2 * inner * outer**2)
    hoop = rotor_stress.thick_cylinder(pressure, inner, outer, inner)
    assert hoop / MPA == pytest.approx(109.2, abs=0.05)  # the published answer
    assert hoop / MPA == pytest.approx(109.1911, abs=1e-3)  # the allowance has five digits


def test_hearns_ring_reaches_its_limit_at_the_computed_speed():
    inner, outer, nu, density = 0.1, 0.15, 0.3, 7470.0
    fit = rotor_stress.thick_cylinder(30e6, inner, outer, inner)
    assert fit / MPA == pytest.approx(78.0, abs=1e-9)
    total = fit + rotor_stress.disc_hoop(density, 1033.27, inner, outer, inner, nu)
    assert total / MPA == pytest.approx(240.0, rel=1e-5)  # the speed is printed to six digits, and enters squared


def test_a_steel_ring_yields_at_the_computed_speed():
    inch, pound_inch3, ksi = 0.0254, 27679.905, 6.894757e6
    gravity = 386.0886 / 386.0  # the exercise rounds it to 386 in/s2
    hoop = rotor_stress.disc_hoop(0.282 * pound_inch3 * gravity, 1361.0, 3 * inch, 5 * inch, 3 * inch, 0.292)
    assert hoop / ksi == pytest.approx(30.0, rel=1e-4)  # the speed is printed to five digits, and enters squared


def test_a_long_cylinder_uses_the_plane_strain_ratio():
    nu = 0.3 / 0.7
    bore = rotor_stress.disc_hoop(7470.0, 4000 * RPM, 0.075, 0.225, 0.075, nu)
    rim = rotor_stress.disc_hoop(7470.0, 4000 * RPM, 0.075, 0.225, 0.225, nu)
    assert (bore / MPA, rim / MPA) == pytest.approx((57.928, 15.798), abs=5e-4)


def test_liquid_in_a_basket_presses_as_in_the_food_engineering_example():
    # 50 kg of water in a basket 0.6 m across and 0.4 m high at 6000 rpm; the book rounds the inner radius
    inner = sqrt(0.09 - 50.0 / (1000.0 * pi * 0.4))
    found = rotation.rotating_head(1000.0, 6000 * RPM, inner, 0.3)
    assert found == pytest.approx(7.85e6, abs=5e3)
    assert found == pytest.approx(7_853_982.0, abs=0.5)
    assert found == pytest.approx(7_848_241.0, rel=1e-3)


def test_liquid_pressure_and_acceleration_of_the_worked_case():
    speed = 1500 * RPM
    assert rotation.rotating_head(1200.0, speed, 0.15, 0.25) == pytest.approx(592_176.26, abs=5e-3)
    assert speed**2 * 0.25 / GRAVITY == pytest.approx(629.012, abs=5e-4)


@pytest.mark.parametrize(
    ("thickness", "thin", "bore", "rim"), [(5.0, 29.6088, 29.9078, 29.3157), (20.0, 7.4022, 7.7097, 7.1175)]
)
def test_a_cylinder_under_pressure_thin_and_thick(thickness, thin, bore, rim):
    pressure, inner, wall = 592_176.26, 0.25, thickness * MM
    found = [
        rotor_stress.thin_shell(pressure, inner, wall),
        rotor_stress.thick_cylinder(pressure, inner, inner + wall, inner),
        rotor_stress.thick_cylinder(pressure, inner, inner + wall, inner + wall),
    ]
    assert np.array(found) / MPA == pytest.approx([thin, bore, rim], abs=1e-4)


def test_lames_cylinder_of_radius_fifty_and_a_hundred():
    found = [rotor_stress.thick_cylinder(10.0, 50.0, 100.0, r) for r in (50.0, 100.0)]
    assert found == pytest.approx([50.0 / 3.0, 20.0 / 3.0], rel=1e-12)


def test_a_liner_presses_on_its_shell_between_the_two_bounds():
    # worked by hand, printed to a tenth of a pascal
    speed = 1500 * RPM
    assert rotor_stress.liner_pressure(1150.0, speed, 0.23, 0.25) == pytest.approx(136_200.5, abs=0.05)
    assert oracle.free_rings_pressure(1150.0, speed, 0.23, 0.25) == pytest.approx(130_828.2, abs=0.05)


LARGE_SPEED = sqrt(60.0 * GRAVITY / 0.6)  # 60 g at a radius of 0.6 m: the large bowl of the next three checks


def test_the_jacket_loads_the_large_shell_far_more_than_its_own_rotation():
    pressure = 60e3 + rotation.rotating_head(998.2, LARGE_SPEED, 0.0, 0.66)
    assert pressure / 1e3 == pytest.approx(273.0, abs=0.5)  # printed to three digits
    assert rotor_stress.thin_shell(pressure, 0.66, 0.01) / MPA == pytest.approx(18.0, abs=0.05)
    assert rotor_stress.thin_ring(7850.0, LARGE_SPEED, 0.66) / MPA == pytest.approx(3.4, abs=0.05)


def test_end_thrust_of_the_large_bowl_belongs_to_its_lip_radius():
    # pi R^2 p + pi rho w^2 R^4/4 gives the 167 kN handed down for this bowl at its lip radius of 0.60 m; at the shell's
    # 0.66 m, where the pressure above is meant, it is 228 kN
    thrust = rotor_stress.end_thrust(998.2, LARGE_SPEED, 60e3, 0.0, 0.0, np.array([0.60, 0.66]))
    assert thrust / 1e3 == pytest.approx([167.5, 228.0], abs=0.1)


def test_a_soft_cone_folds_under_less_than_a_kilopascal():
    # 0.6 kPa, one digit: soft polyurethane (E 30 MPa, nu 0.49) of 25 mm at 0.6 m
    assert rotor_stress.buckling_pressure(30e6, 0.49, 0.025, 0.6) / 1e3 == pytest.approx(0.6, abs=0.2)
    # long steel tube, t/r 1/50: E/(4 (1 - nu^2)) (t/r)^3, the textbook form
    assert rotor_stress.buckling_pressure(210e9, 0.3, 0.01, 0.5) == pytest.approx(210e9 / 3.64 * 8e-6, rel=1e-12)


@pytest.mark.parametrize(
    ("grade", "rpm", "mass", "eccentricity_um", "unbalance_g_mm", "force"),
    [
        (6.3, 3000, 100, 20.0535, 2005.35, 197.920),
        (6.3, 1500, 250, 40.1070, 10026.76, 247.400),
        (6.3, 1000, 50, 60.1606, 3008.03, 32.987),
        (16.0, 1200, 80, 127.3240, 10185.92, 160.850),
        (2.5, 3000, 3600, 7.9577, 28647.89, 2827.433),  # the standard's own turbine example, from memory 29 to 30e3
    ],
)
def test_balance_grades_permit_what_the_standard_prints(grade, rpm, mass, eccentricity_um, unbalance_g_mm, force):
    speed = rpm * RPM
    assert balance.permissible_eccentricity(grade * MM, speed) * 1e6 == pytest.approx(eccentricity_um, abs=6e-5)
    unbalance = balance.permissible_unbalance(grade * MM, speed, mass)
    assert unbalance * 1e6 == pytest.approx(unbalance_g_mm, abs=6e-3)
    assert balance.unbalance_force(unbalance, speed) == pytest.approx(force, abs=6e-4)
    # handbooks print U = 9549 G m/n; the constant is 9549.2966
    assert unbalance * 1e6 == pytest.approx(9549.0 * grade * mass / rpm, rel=4e-5)


def test_kinetic_energy_and_the_feeds_power():
    assert rotor.kinetic_energy(1.25, 3000 * RPM) == pytest.approx(61_685.03, abs=5e-3)
    # 100 kg/s leaving at 0.53 m and 340 rpm without lag, worked by hand
    assert rotor.rim_speed(340 * RPM, 0.53) == pytest.approx(18.8705, abs=5e-5)
    assert rotor.feed_power(100.0, 340 * RPM, 0.53) / 1e3 == pytest.approx(35.610, abs=5e-4)


GROOVED = (
    (100.0, 0.0, 0.0), (104.2, 28.0, 0.5), (107.8, 52.0, 0.0), (113.2, 88.0, 0.5), (116.8, 112.0, 0.0),
    (122.2, 148.0, 0.5), (125.8, 172.0, 0.0), (130.0, 200.0, 0.0), (150.0, 200.0, 0.0), (120.0, 0.0, 0.0),
)  # fmt: skip


def test_the_transverse_inertia_is_the_modellers():
    # the ring with three round grooves, worked with a solid modeller, printed to a hundredth of mm5
    table = np.array(GROOVED)
    found = figures(Chain(table[:, :2], table[:, 2]))
    assert found.transverse_inertia == pytest.approx(33_333_287_833.68, abs=5e-3)


def test_a_frustum_given_as_a_profile_has_its_handbook_figures():
    height, outer = np.array([0.0, 200.0]), np.array([100.0, 130.0])
    found = between(height, np.zeros(2), outer)
    assert found.volume == pytest.approx(8_356_636.4585, abs=5e-5)
    assert found.polar_inertia == pytest.approx(56_819_473_051.36, abs=5e-3)
    assert found.centre_height == pytest.approx(108.646617, abs=5e-7)


def test_a_tube_given_as_a_profile_has_its_handbook_figures():
    found = between(np.array([0.0, 70.0, 200.0]), np.full(3, 100.0), np.full(3, 120.0))
    assert found.volume == pytest.approx(2_764_601.5352, abs=5e-5)
    assert found.polar_inertia == pytest.approx(33_728_138_728.94, abs=5e-3)
    # m (3 (ro^2 + ri^2) + h^2)/12 about the centre, any mechanics text
    assert found.transverse_inertia == pytest.approx(found.volume * (3 * 24400.0 + 40000.0) / 12.0, rel=1e-12)


def test_outline_and_profile_agree_on_a_hollow_cone():
    corners = np.array([(40.0, 10.0), (90.0, 10.0), (120.0, 160.0), (75.0, 160.0)])
    outline = of_figures(figures(Chain(corners, np.zeros(4))))
    profile = between(np.array([10.0, 160.0]), np.array([40.0, 75.0]), np.array([90.0, 120.0]))
    for name in ("volume", "centre_height", "polar_inertia", "transverse_inertia"):
        assert getattr(profile, name) == pytest.approx(float(getattr(outline, name)), rel=1e-12)

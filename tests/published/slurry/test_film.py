"""Friction of films and the threshold of motion, against a general library and printed values."""

import fluids
import numpy as np
import pytest
from fluids.friction import Haaland
from scipy.optimize import brentq

from profiler.physics.grains import settling
from profiler.physics.slurry import film
from profiler.units import DEGREE, GRAVITY, MICRON

WATER, WATER_VISCOSITY = 998.2, 1.0016e-3  # 20 degrees C
KINEMATIC = WATER_VISCOSITY / WATER


def depth_of(flow: float, driving: float, grain_size: float, kinematic: float = KINEMATIC) -> float:
    """Depth at which V^2 = 8 a sin(slope) h/f carries `flow` [m2/s]."""

    def excess(depth: float) -> float:
        factor = film.film_friction(depth, grain_size, 4.0 * flow / kinematic).factor
        return float(8.0 * driving * depth / factor - (flow / depth) ** 2)

    return float(brentq(excess, 1e-6, 1.0, xtol=1e-15))


def turbulent(reynolds: float, roughness: float) -> float:
    """Friction factor where the roughness, two grains, is so much of four depths."""
    return float(film.film_friction(1.0, 2.0 * roughness, reynolds).factor)


def laminar_depth(mass_flow: float, density: float, viscosity: float, driving: float) -> float:
    """Nusselt's film; Bird, Stewart & Lightfoot, Transport Phenomena: (3 mu Gamma/(rho^2 a sin))^(1/3), m."""
    return float(np.cbrt(3.0 * viscosity * mass_flow / (density * density * driving)))


@pytest.mark.parametrize(
    ("reynolds", "roughness", "factor"),
    [  # Haaland (1983), worked by hand
        (1e4, 0.0, 0.030886203731320925),
        (1e5, 1e-3, 0.021966214014076613),
        (1e6, 1e-4, 0.013326159538701882),
        (1e4, 1e-2, 0.0430449035182196),
    ],
)
def test_turbulent_friction_agrees_with_haaland_and_colebrook(reynolds: float, roughness: float, factor: float) -> None:
    assert turbulent(reynolds, roughness) == pytest.approx(factor, rel=1e-9)
    assert turbulent(reynolds, roughness) == pytest.approx(Haaland(reynolds, roughness), rel=1e-12)
    # Colebrook-White by fluids 1.3: Haaland's own stated accuracy is 1.5 %
    colebrook = fluids.friction_factor(Re=reynolds, eD=roughness, Method="Colebrook")
    assert turbulent(reynolds, roughness) == pytest.approx(colebrook, rel=0.015)


def test_friction_factor_is_darcy_and_not_fanning() -> None:
    # a smooth pipe at Re 1e5 has Darcy f 0.018 (Moody's chart, from memory); Fanning's would be 0.0045
    assert turbulent(1e5, 0.0) == pytest.approx(0.018, rel=0.02)


def test_hydraulic_diameter_of_a_film_is_four_depths() -> None:
    # roughness two grains over D_h = 4 h: a film of 2 mm on 100 um grains has 0.2/8 = 0.025, not 0.1
    friction = film.film_friction(2e-3, 100e-6, 2e4)
    assert friction.factor == pytest.approx(Haaland(2e4, 0.025), rel=1e-12)


@pytest.mark.parametrize(
    ("flow", "depth_mm", "velocity", "reynolds"),
    [(1.768e-3, 0.7776, 2.274, 7050), (7.368e-3, 1.778, 4.143, 29373)],
)
def test_water_film_in_a_strong_field_agrees_with_the_worked_values(
    flow: float, depth_mm: float, velocity: float, reynolds: float
) -> None:
    # worked by hand: water, 60 g, slope 6 degrees, roughness 150 um (two grains of 75 um); printed digits
    depth = depth_of(flow, 60.0 * GRAVITY * np.sin(6.0 * DEGREE), 75.0 * MICRON)
    assert depth * 1e3 == pytest.approx(depth_mm, rel=3e-4)
    assert flow / depth == pytest.approx(velocity, rel=4e-4)
    assert 4.0 * flow / KINEMATIC == pytest.approx(reynolds, rel=3e-4)
    thin = laminar_depth(WATER * flow, WATER, WATER_VISCOSITY, 60.0 * GRAVITY * np.sin(6.0 * DEGREE))
    assert thin < 0.6 * depth  # the laminar formula has no business there


def test_laminar_film_agrees_with_the_textbook_example() -> None:
    # Bird, Stewart & Lightfoot, Transport Phenomena, falling film of oil: nu 2e-4, 800 kg/m3, 2.5 mm, g 9.80:
    # 0.204 kg/(m s), Re 5.1 (from memory, and worked by hand to 0.204167)
    density, kinematic, mass_flow = 800.0, 2e-4, 0.204167
    depth = laminar_depth(mass_flow, density, density * kinematic, 9.80)
    assert depth == pytest.approx(2.5e-3, rel=1e-5)
    assert 4.0 * mass_flow / (density * kinematic) == pytest.approx(5.1, abs=0.01)


def test_laminar_film_of_water_agrees_with_the_worked_value() -> None:
    # worked by hand: 0.05 kg/(m s) down a vertical wall
    assert laminar_depth(0.05, WATER, WATER_VISCOSITY, GRAVITY) == pytest.approx(2.48662e-4, rel=1e-5)


def test_film_friction_at_low_reynolds_number_is_the_laminar_film() -> None:
    # f = 96/Re in V^2 = 8 a h sin/f is Nusselt's film exactly (by hand); thick oil over fine grains
    flow, driving, kinematic = 1e-4, 50.0, 5e-5
    laminar = laminar_depth(flow, 1.0, kinematic, driving)
    assert depth_of(flow, driving, 1e-6, kinematic) == pytest.approx(float(laminar), rel=1e-9)


def test_limits_of_the_friction_law_are_reported() -> None:
    friction = film.film_friction(np.array([1e-3, 1e-4]), 150e-6, np.array([400.0, 2e4]))
    assert friction.roughness_capped.tolist() == [False, True]
    assert friction.reynolds_floored.tolist() == [True, False]
    assert friction.factor[1] == pytest.approx(Haaland(2e4, film.ROUGHNESS_CAP))


@pytest.mark.parametrize(("depth", "reynolds"), [(3e-3, 3e4), (0.9e-3, 2e3), (2e-4, 2e4), (2e-3, 80.0)])
def test_gradient_is_the_derivative_of_the_factor(depth: float, reynolds: float) -> None:
    step = 1e-5
    up, down = (film.film_friction(depth * np.exp(s), 100e-6, reynolds).factor for s in (step, -step))
    slope = (np.log(up) - np.log(down)) / (2.0 * step)
    gradient = film.film_friction(depth, 100e-6, reynolds).gradient
    assert gradient == pytest.approx(float(slope), rel=1e-7, abs=1e-9)  # central difference


@pytest.mark.parametrize(
    ("grain_number", "shields"),
    [
        (1.893, 0.09374162646241511),
        (7.571, 0.03747479419968471),
        (14.819, 0.030079293206767936),
        (29.639, 0.032800801618224885),
    ],
)
def test_threshold_agrees_with_soulsby_and_whitehouse(grain_number: float, shields: float) -> None:
    # Soulsby & Whitehouse (1997), closed form from memory, worked by hand
    assert film.critical_shields(grain_number) == pytest.approx(shields, rel=1e-9)


@pytest.mark.parametrize(
    ("size_um", "multiple", "grain_number", "shields", "stress"),
    [(150, 1, 3.785, 0.0581, 0.141), (150, 60, 14.82, 0.0301, 4.37), (300, 60, 29.64, 0.0328, 9.54)],
)
def test_threshold_of_quartz_is_taken_in_the_field_of_the_bowl(
    size_um: float, multiple: float, grain_number: float, shields: float, stress: float
) -> None:
    # worked by hand: relative density 2.65, water 20 C; printed to three or four digits
    solids, acceleration, size = 2.65 * WATER, multiple * GRAVITY, size_um * MICRON
    number = np.cbrt(settling.archimedes_number(size, solids, WATER, WATER_VISCOSITY, acceleration))
    assert number == pytest.approx(grain_number, rel=1e-3)
    assert film.critical_shields(number) == pytest.approx(shields, rel=2e-3)
    assert film.critical_shields(number) * (solids - WATER) * acceleration * size == pytest.approx(stress, rel=3e-3)


def test_threshold_slope_is_its_derivative() -> None:
    number, step = np.array([0.5, 3.0, 15.0, 80.0]), 1e-5
    difference = film.critical_shields(number + step) - film.critical_shields(number - step)
    assert film.critical_shields_slope(number) == pytest.approx(difference / (2.0 * step), rel=1e-6)

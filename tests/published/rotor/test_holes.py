"""Flow through drilled holes and the rotating head, against printed tables and worked numbers."""

import numpy as np
import pytest

from profiler.physics.rotor import rotation
from profiler.physics.water import hole_flow
from profiler.units import RPM

WATER, VISCOSITY = 998.2, 1.0016e-3  # 20 degrees C


@pytest.mark.parametrize(
    ("ratio", "reynolds", "coefficient"),
    [  # Lichtarowicz, Duggins & Markland (1965) eq. 12, four digits as tabulated from the paper
        (2.0, 10.0, 0.0817), (2.0, 100.0, 0.4284), (2.0, 1e3, 0.7446), (2.0, 1e4, 0.8081), (2.0, 2e4, 0.8088),
        (3.0, 100.0, 0.3575), (3.0, 1e3, 0.7142), (3.0, 1e4, 0.7994), (3.0, 2e4, 0.8001),
        (5.0, 100.0, 0.2685), (5.0, 1e3, 0.6598), (5.0, 1e4, 0.7819), (5.0, 2e4, 0.7826),
    ],
)  # fmt: skip
def test_a_short_hole_lets_through_what_the_table_says(ratio: float, reynolds: float, coefficient: float) -> None:
    assert hole_flow.discharge_coefficient(reynolds, ratio) == pytest.approx(coefficient, abs=6e-5)


@pytest.mark.parametrize(("ratio", "coefficient"), [(0.0, 0.5923), (0.4, 0.6202), (1.0, 0.7538), (2.0, 0.8032)])
def test_a_thick_edged_hole_has_the_handbooks_loss(ratio: float, coefficient: float) -> None:
    # Idelchik, Handbook of Hydraulic Resistance, diagram 4-18, without friction: 1/sqrt(zeta)
    assert 1.0 / np.sqrt(hole_flow.idelchik_loss(ratio)) == pytest.approx(coefficient, abs=6e-5)


@pytest.mark.parametrize(("ratio", "coefficient"), [(10.0, 0.721), (15.0, 0.688), (20.0, 0.659)])
def test_a_long_hole_loses_friction_too(ratio: float, coefficient: float) -> None:
    # 1/sqrt(1.55 + f L/d) at Re 5000 with Colebrook's smooth pipe, three digits; ours has Haaland's, 0.1 % off
    assert hole_flow.discharge_coefficient(5000.0, ratio + 1e-9) == pytest.approx(coefficient, abs=1.2e-3)


def test_the_two_laws_of_a_hole_join_within_what_either_is_known_to() -> None:
    for ratio in (hole_flow.SHORTEST, hole_flow.LONGEST_SHORT):
        for reynolds in (2e3, 5e3, 2e4):
            below, above = (float(hole_flow.discharge_coefficient(reynolds, ratio + d)) for d in (-1e-9, 1e-9))
            assert below == pytest.approx(above, rel=0.10)


@pytest.mark.parametrize("ratio", [0.5, 1.5, 3.0, 8.0, 14.0])
def test_more_pressure_never_gives_less_water_and_creeping_flow_follows_it(ratio: float) -> None:
    drop = np.geomspace(1e-6, 1e6, 200)
    velocity = hole_flow.hole_velocity(drop, 1e-3, ratio * 1e-3, WATER, VISCOSITY)
    assert np.all(np.diff(velocity) > 0.0)
    slope = np.diff(np.log(velocity)) / np.diff(np.log(drop))
    assert slope[0] == pytest.approx(1.0, abs=0.02)  # viscous: in proportion to the pressure
    assert slope[-1] == pytest.approx(0.5, abs=0.02)  # a jet: with its root


def test_a_hole_passes_the_water_worked_by_hand() -> None:
    # 1.5 mm, L/d 3, 50 kPa, 20 C: Re 11 965, Cd 0.7997, 8.004 m/s, 0.8487 L/min; derived, four digits
    velocity = float(hole_flow.hole_velocity(50e3, 1.5e-3, 4.5e-3, WATER, VISCOSITY))
    assert velocity == pytest.approx(8.004, abs=6e-4)
    assert velocity * 1.5e-3 * WATER / VISCOSITY == pytest.approx(11965.0, abs=1.5)
    assert velocity * 0.25 * np.pi * 1.5e-3**2 * 6e4 == pytest.approx(0.8487, abs=6e-5)
    assert hole_flow.hole_velocity(-50e3, 1.5e-3, 4.5e-3, WATER, VISCOSITY) == pytest.approx(-velocity)
    assert hole_flow.hole_velocity(0.0, 1.5e-3, 4.5e-3, WATER, VISCOSITY) == 0.0


@pytest.mark.parametrize(
    ("rpm", "inner", "outer", "pressure"), [(600.0, 0.10, 0.18, 44136.0), (300.0, 0.30, 0.65, 163787.0)]
)
def test_the_rotating_head_is_that_of_the_closed_form(rpm: float, inner: float, outer: float, pressure: float) -> None:
    # 1/2 rho w^2 (r2^2 - r1^2), derived, five digits
    assert rotation.rotating_head(WATER, rpm * RPM, inner, outer) == pytest.approx(pressure, rel=2e-5)


def test_a_skewed_hole_is_longer_by_plane_geometry() -> None:
    assert hole_flow.skewed_length(0.2, 0.214, 0.0) == pytest.approx(0.014)
    start, lean = np.array([0.2, 0.0]), np.radians(40.0)
    end = start + hole_flow.skewed_length(0.2, 0.214, lean) * np.array([np.cos(lean), np.sin(lean)])
    assert np.hypot(*end) == pytest.approx(0.214, rel=1e-12)

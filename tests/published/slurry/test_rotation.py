"""Rigid-body rotation. Formulas: any fluid-mechanics text (e.g. White, "Fluid Mechanics", rigid-body rotation)."""

import numpy as np
import pytest

from profiler.physics.rotor import rotation
from profiler.units import DEGREE, GRAVITY, RPM
from tests.oracles.rotation import angular_speed_for

CLOSED_FORM = 1e-9  # both sides are the same closed form in float64


@pytest.mark.parametrize(
    ("rpm", "radius", "force", "tilt_deg"),
    [
        (3000.0, 0.10, 1006.4195623469136, 0.056930293091439814),  # worked by hand from w^2 r/g and atan(g/(w^2 r))
        (600.0, 0.15, 60.38517374081481, 0.9487518065154029),
        (300.0, 0.60, 60.38517374081481, 0.9487518065154029),
    ],
)
def test_force_and_tilt_agree_with_the_worked_values(rpm: float, radius: float, force: float, tilt_deg: float) -> None:
    acceleration = rotation.acceleration(rpm * RPM, radius)
    assert acceleration / GRAVITY == pytest.approx(force, rel=CLOSED_FORM)
    assert rotation.tilt(acceleration) / DEGREE == pytest.approx(tilt_deg, rel=CLOSED_FORM)


def test_force_agrees_with_the_laboratory_centrifuge_form() -> None:
    # 1.118e-5 r_cm rpm^2, the constant printed on laboratory centrifuges; from memory, rounded to four digits
    assert rotation.acceleration(3000.0 * RPM, 0.10) / GRAVITY == pytest.approx(1.118e-5 * 10.0 * 3000.0**2, rel=1e-3)


@pytest.mark.parametrize(
    ("force", "radius", "rpm"),
    [(60.0, 0.15, 598.0834), (60.0, 0.60, 299.0417), (100.0, 0.15, 772.1223), (150.0, 0.25, 732.4995)],
)
def test_speed_for_a_wanted_force_agrees_with_the_worked_values(force: float, radius: float, rpm: float) -> None:
    # worked by hand, printed to seven digits
    assert angular_speed_for(force, radius) / RPM == pytest.approx(rpm, rel=1e-6)


def test_free_surface_leans_from_the_axis_by_the_tilt() -> None:
    """A free surface stands at w^2 r^2/(2 g): the paraboloid of every fluid-mechanics text."""
    speed, radius, step = 40.0, 0.2, 1e-6
    rise = speed**2 * ((radius + step) ** 2 - (radius - step) ** 2) / (2.0 * GRAVITY)
    lean = np.arctan2(2.0 * step, rise)  # from the axis
    assert rotation.tilt(rotation.acceleration(speed, radius)) == pytest.approx(lean, rel=1e-6)  # finite difference


def test_wall_that_opens_upward_by_the_tilt_is_level() -> None:
    # driving force along a wall at t over the force on it is tan(t - tilt): once, and with this sign (by hand)
    acceleration = 7.0 * GRAVITY
    tilt = rotation.tilt(acceleration)
    for angle in (0.02, float(tilt), 0.3, 0.8):
        along = acceleration * np.sin(angle) - GRAVITY * np.cos(angle)
        across = acceleration * np.cos(angle) + GRAVITY * np.sin(angle)
        assert along / across == pytest.approx(np.tan(angle - tilt), abs=1e-12)


def test_nothing_turning_leaves_a_level_floor() -> None:
    assert rotation.tilt(0.0) == pytest.approx(np.pi / 2.0)


def test_arrays_broadcast() -> None:
    assert rotation.acceleration(np.array([[10.0], [20.0]]), np.array([0.1, 0.2, 0.3])).shape == (2, 3)

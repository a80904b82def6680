"""Minimum fluidisation and expansion against worked examples, a general library and measured sand."""

import numpy as np
import pytest
from fluids.packed_bed import Ergun

from profiler.physics import fluidising as f
from profiler.units import GRAVITY, MICRON

WATER, VISCOSITY = 998.2, 1.0016e-3  # 20 degrees C


@pytest.mark.parametrize(
    ("multiple", "size_um", "solids", "velocity"),
    [  # Wen & Yu's line worked by hand, all digits; derived
        (1.0, 150.0, 2700.0, 2.2682933801601254e-4),
        (60.0, 150.0, 2700.0, 1.322847977867794e-2),
        (60.0, 300.0, 2700.0, 4.5345291748009796e-2),
        (60.0, 150.0, 5200.0, 3.1428986304507654e-2),
        (100.0, 150.0, 2700.0, 2.1654320667135688e-2),
    ],
)
def test_wen_and_yu_gives_the_velocity_worked_by_hand(
    multiple: float, size_um: float, solids: float, velocity: float
) -> None:
    found = f.minimum_velocity(size_um * MICRON, solids, WATER, VISCOSITY, multiple * GRAVITY)
    assert found == pytest.approx(velocity, rel=1e-10)  # the form without cancellation differs in the last digits


@pytest.mark.parametrize(
    ("upper_mm", "measured_m_h", "tolerance"),
    [  # Hendricks D.W. (2011) Fundamentals of Water Treatment Unit Processes, table 12.9: sand in water at 25 C, the
        # upper sieve of each fraction; density 2650 assumed. Sand of one sieve scatters: his own prediction
        # is 10 % high, 1 % low, 6 % high and 26 % low
        (2.0, 79.2, 0.15),
        (1.4, 57.6, 0.05),
        (1.0, 32.4, 0.10),
        (0.6, 18.0, 0.30),
    ],
)
def test_wen_and_yu_lies_on_measured_sand(upper_mm: float, measured_m_h: float, tolerance: float) -> None:
    found = f.minimum_velocity(upper_mm * 1e-3, 2650.0, 997.05, 0.890e-3, GRAVITY) * 3600.0
    assert found == pytest.approx(measured_m_h, rel=tolerance)


def test_the_correlations_spread_over_a_factor_of_two() -> None:
    # six published lines worked by hand at 60 g, 150 um, 2700, water 20 C; mm/s, three digits
    grain = (150e-6, 2700.0, WATER, VISCOSITY, 60.0 * GRAVITY)
    each = [float(f.minimum_velocity(*grain, correlation=c)) * 1e3 for c in f.CORRELATIONS]
    assert each == pytest.approx([13.2, 15.3, 16.2, 18.5, 23.7, 26.9], abs=0.06)
    low, middle, high = (float(v) * 1e3 for v in f.minimum_velocities(*grain))
    assert (low, high) == (pytest.approx(min(each)), pytest.approx(max(each)))
    assert middle == pytest.approx(np.median(each))


def test_ergun_gives_the_bed_of_the_particle_technology_textbook() -> None:
    # Rhodes, Introduction to Particle Technology, ch. 7 (from memory): 3.6 kg of 2590, 748 um, bed 0.475 m by 75.7 mm
    # across, water: voidage 0.350, pressure drop 4817 Pa, 3.65 mm/s
    area = 0.25 * np.pi * 0.0757**2
    voidage = 1.0 - 3.6 / 2590.0 / (area * 0.475)
    assert voidage == pytest.approx(0.3498, abs=1e-4)
    assert 3.6 / 2590.0 * 1590.0 * 9.81 / area == pytest.approx(4817.1, rel=1e-3)
    found = f.ergun_minimum_velocity(748e-6, 1.0, voidage, 2590.0, 1000.0, 1e-3, 9.81)
    assert found == pytest.approx(3.652e-3, rel=1e-3)


def test_ergun_gives_the_resin_bed_of_the_unit_operations_textbook() -> None:
    # McCabe, Smith & Harriott, Unit Operations, ch. 7 (0.194 cm/s from memory): 1.1 mm, 1240, voidage 0.40, water
    assert f.ergun_minimum_velocity(1.1e-3, 1.0, 0.40, 1240.0, 1000.0, 1e-3, 9.81) == pytest.approx(1.94e-3, rel=5e-3)


def test_ergun_gives_the_gas_bed_of_the_fluidisation_textbook() -> None:
    # Kunii & Levenspiel, Fluidization Engineering, ch. 3 example (4.01 cm/s from memory, which leaves out the inertial
    # term, worth 0.7 %): 160 um, sphericity 0.67, voidage 0.55, 2600 in 1.2 kg/m3, 1.8e-5 Pa s
    found = f.ergun_minimum_velocity(160e-6, 0.67, 0.55, 2600.0, 1.2, 1.8e-5, 9.8)
    assert found == pytest.approx(0.0401, rel=0.01)


@pytest.mark.parametrize("velocity", [1e-4, 1e-2, 0.3])
def test_ergun_pressure_agrees_with_the_library(velocity: float) -> None:
    # fluids 1.3, the same published equation: to rounding
    library = Ergun(dp=1e-3, voidage=0.5, vs=velocity, rho=800.0, mu=2e-3, L=1.0)
    assert f.ergun_pressure_gradient(1e-3, 0.5, 800.0, 2e-3, velocity) == pytest.approx(library, rel=1e-12)


def test_ergun_pressure_gives_the_textbook_exercise() -> None:
    # Rhodes, ch. 7 exercise (6560 Pa from memory): 1 mm, voidage 0.5, 800 kg/m3, 2e-3 Pa s, 1 m, 0.01 m/s
    assert f.ergun_pressure_gradient(1e-3, 0.5, 800.0, 2e-3, 0.01) == pytest.approx(6560.0, rel=1e-6)


def test_at_the_lifting_velocity_the_pressure_carries_the_bed() -> None:
    grain, voidage, field = 3e-4, 0.42, 60.0 * GRAVITY
    velocity = f.ergun_minimum_velocity(grain, 1.0, voidage, 2700.0, WATER, VISCOSITY, field)
    carried = (1.0 - voidage) * (2700.0 - WATER) * field
    assert f.ergun_pressure_gradient(grain, voidage, WATER, VISCOSITY, velocity) == pytest.approx(carried, rel=1e-12)


def test_expansion_gives_the_voidage_worked_by_hand() -> None:
    # 0.5 mm sand, 20 C, terminal 0.07716 m/s, n 2.980 (derived): 0.3991, 0.5037, 0.6356 at 5, 10, 20 mm/s
    found = f.voidage_at(np.array([5e-3, 10e-3, 20e-3]), 0.07716, 2.980)
    assert found == pytest.approx([0.3991, 0.5037, 0.6356], abs=2e-4)
    assert float(f.voidage_at(1.0, 0.07716, 2.980)) == 1.0

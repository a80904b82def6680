"""Fractions, densities and viscosity of a slurry, against worked examples and printed tables."""

import numpy as np
import pytest

from profiler.physics.grains import suspension
from tests.oracles.suspension import volume_fraction

WATER = 1000.0


@pytest.mark.parametrize(
    ("specific_gravity", "by_mass", "by_volume", "density"),
    [  # closed forms, worked by hand; densities relative to the liquid
        (2.7, 0.30, 0.136986301369863, 1.2328767123287672),
        (2.7, 0.45, 0.23255813953488366, 1.3953488372093021),
        (2.7, 0.60, 0.35714285714285704, 1.607142857142857),
        (3.2, 0.45, 0.20361990950226244, 1.4479638009049773),
    ],
)
def test_mass_fraction_becomes_volume_fraction_and_density(
    specific_gravity: float, by_mass: float, by_volume: float, density: float
) -> None:
    fraction = volume_fraction(by_mass, specific_gravity * WATER, WATER)
    assert fraction == pytest.approx(by_volume, rel=1e-9)
    mixture = suspension.mixture_density(fraction, specific_gravity * WATER, WATER)
    assert mixture / WATER == pytest.approx(density, rel=1e-9)


def test_slurry_of_quartz_at_1400_is_46_per_cent_solids() -> None:
    # Wills & Finch, Mineral Processing Technology, ch. 3: 45.9 % by mass and 330.5 kg/h from 1 L in 7 s (from memory)
    by_volume = (1400.0 - WATER) / (2650.0 - WATER)
    by_mass = by_volume * 2650.0 / float(suspension.mixture_density(by_volume, 2650.0, WATER))
    assert volume_fraction(by_mass, 2650.0, WATER) == pytest.approx(by_volume)
    assert by_mass == pytest.approx(0.458874, rel=1e-5)
    assert 1.4 * by_mass / 7.0 * 3600.0 == pytest.approx(330.5, abs=0.2)


def test_heavy_liquid_suspension_agrees_with_the_worked_problem() -> None:
    # textbook problem: 35 % by mass of solids of 2.2 in a liquid of 1.2
    by_volume = volume_fraction(0.35, 2200.0, 1200.0)
    assert by_volume == pytest.approx(0.22703, abs=5e-6)
    assert suspension.mixture_density(by_volume, 2200.0, 1200.0) == pytest.approx(1427.027, rel=1e-6)


def test_thirty_per_cent_by_mass_is_about_fourteen_by_volume() -> None:
    # common practice, no source
    assert volume_fraction(0.30, 2700.0, WATER) == pytest.approx(0.14, abs=0.005)


def test_solids_weigh_their_share_of_the_mixture() -> None:
    by_mass = np.linspace(0.0, 1.0, 21)
    by_volume = volume_fraction(by_mass, 3300.0, 998.0)
    mixture = suspension.mixture_density(by_volume, 3300.0, 998.0)
    assert by_volume * 3300.0 / mixture == pytest.approx(by_mass, abs=1e-14)


@pytest.mark.parametrize(
    ("fraction", "relative"),
    [(0.10, 1.36485791860534), (0.25, 2.4262998208138766), (0.40, 5.696709330944705), (0.50, 15.747671635134914)],
)
def test_viscosity_agrees_with_thomas(fraction: float, relative: float) -> None:
    # Thomas (1965), closed form worked by hand
    assert suspension.relative_viscosity(fraction) == pytest.approx(relative, rel=1e-9)


def test_viscosity_agrees_with_an_open_slurry_library() -> None:
    # DHLLDV (open slurry-transport library), its own test: C 0.25, 2650 in 998.2, 1.005e-3 Pa s, kinematic
    density = suspension.mixture_density(0.25, 2650.0, 998.2)
    assert 1.005e-3 * suspension.relative_viscosity(0.25) / density == pytest.approx(1.7279746e-6, rel=1e-6)


def test_thomas_without_solids_is_not_quite_one() -> None:
    # the exponential term of the published fit: 0.00273 is left over at zero
    assert suspension.relative_viscosity(0.0) == pytest.approx(1.00273, rel=1e-12)


def test_few_solids_thicken_as_einstein_says() -> None:
    # Einstein (1906): 1 + 2.5 C for dilute suspensions; the fit's second-order and leftover terms stay below 1 %
    assert suspension.relative_viscosity(0.02) == pytest.approx(1.05, rel=0.01)

"""Densities of settled beds and of the minerals in them, from unit cells and printed tables."""

import pytest

from profiler.physics.grains import packing

WATER = 998.2
AVOGADRO = 6.02214076e23


@pytest.mark.parametrize(
    ("solids", "low", "usual", "high"),
    [  # saturated bulk density at solids 0.55, 0.58, 0.64 by volume, worked by hand, four digits
        (2650.0, 1907.0, 1956.0, 2055.0),
        (4250.0, 2787.0, 2884.0, 3079.0),
        (5180.0, 3298.0, 3424.0, 3675.0),
    ],
)
def test_bulk_density_is_that_of_grains_and_water(solids: float, low: float, usual: float, high: float) -> None:
    assert packing.bulk_density(solids, WATER, 0.55) == pytest.approx(low, abs=0.6)
    assert packing.bulk_density(solids, WATER) == pytest.approx(usual, abs=0.6)
    assert packing.bulk_density(solids, WATER, 0.64) == pytest.approx(high, abs=0.6)


@pytest.mark.parametrize(
    ("cell_volume_nm3", "formulas", "molar_mass", "density"),
    [  # unit cells (constants from memory): pyrite, magnetite; what the heavy density's default lies between
        (0.54179**3, 4, 0.119975, 5011.0),
        (0.8396**3, 8, 0.231533, 5197.0),
    ],
)
def test_the_default_heavy_mineral_is_as_dense_as_its_crystals(
    cell_volume_nm3: float, formulas: int, molar_mass: float, density: float
) -> None:
    assert formulas * molar_mass / AVOGADRO / (cell_volume_nm3 * 1e-27) == pytest.approx(density, rel=1e-3)


def test_settled_mass_is_the_solids_share_of_the_volume() -> None:
    assert packing.settled_mass(1e-3, 5000.0) == pytest.approx(2.9)
    assert packing.SETTLED_LOW < packing.SETTLED < packing.SETTLED_HIGH
    assert packing.bulk_density(5000.0, WATER) == pytest.approx(2.9e3 + 0.42 * WATER)

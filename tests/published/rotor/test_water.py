"""Water against IAPWS-95 and the IAPWS 2008 viscosity formulation, by the general library `iapws`."""

import numpy as np
import pytest
from iapws import IAPWS95

from profiler.physics.water import properties as water

ATMOSPHERE_MPA = 0.101325
TEMPERATURES_C = (0.1, 4.0, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 60.0, 80.0, 99.0)


@pytest.mark.parametrize("temperature_c", TEMPERATURES_C)
def test_density_agrees_with_iapws_95(temperature_c: float) -> None:
    # 1.5e-5: what the 1975 fit (older temperature scale) keeps over 0 to 100 degrees
    reference = IAPWS95(T=temperature_c + 273.15, P=ATMOSPHERE_MPA).rho
    assert water.density(temperature_c) == pytest.approx(reference, rel=1.5e-5)


@pytest.mark.parametrize("temperature_c", TEMPERATURES_C)
def test_viscosity_agrees_with_the_iapws_formulation(temperature_c: float) -> None:
    reference = IAPWS95(T=temperature_c + 273.15, P=ATMOSPHERE_MPA).mu
    assert water.viscosity(temperature_c) == pytest.approx(reference, rel=1e-4)  # the fit's stated accuracy


@pytest.mark.parametrize(
    ("temperature_c", "density", "viscosity"),
    [  # iapws 1.5.5: IAPWS-95 and R12-08, at 0.101325 MPa
        (4.0, 999.9749, 1.56729e-3),
        (10.0, 999.7025, 1.30590e-3),
        (20.0, 998.2072, 1.00160e-3),
        (25.0, 997.0476, 8.90022e-4),
        (40.0, 992.2164, 6.52729e-4),
        (60.0, 983.1958, 4.66035e-4),
    ],
)
def test_water_agrees_with_the_printed_table(temperature_c: float, density: float, viscosity: float) -> None:
    assert water.density(temperature_c) == pytest.approx(density, rel=1e-5)
    assert water.viscosity(temperature_c) == pytest.approx(viscosity, rel=1e-4)


def test_water_at_twenty_degrees_is_the_handbook_value() -> None:
    # 998.2 kg/m3 and 1.0016 mPa s (ISO/TR 3666:1998), from memory
    assert water.density(20.0) == pytest.approx(998.2, abs=0.01)
    assert water.viscosity(20.0) == pytest.approx(1.0016e-3, rel=1e-4)


def test_water_is_densest_near_four_degrees() -> None:
    temperature_c = np.linspace(0.0, 100.0, 100_001)
    assert temperature_c[np.argmax(water.density(temperature_c))] == pytest.approx(3.98, abs=0.02)


def test_water_thins_as_it_warms() -> None:
    assert np.all(np.diff(water.viscosity(np.linspace(0.0, 100.0, 501))) < 0.0)

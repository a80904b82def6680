"""Minimum fluidisation against worked examples, measured sand, and the pressure drop of a general library."""

import numpy as np
import pytest
from fluids.packed_bed import Ergun
from scipy.optimize import brentq

from profiler.physics.grains import fluidising as f
from profiler.physics.grains import settling
from profiler.units import GRAVITY, MICRON

WATER, VISCOSITY = 998.2, 1.0016e-3  # 20 degrees C


def velocity_by(
    correlation: f.Correlation, size: float, solids: float, liquid: float, viscosity: float, field: float
) -> float:
    """m/s by one of the correlations; the first is Wen & Yu's."""
    number = settling.archimedes_number(size, solids, liquid, viscosity, field)
    return float(f.minimum_reynolds(number, correlation) * viscosity / (liquid * size))


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
    found = velocity_by(f.CORRELATIONS[0], size_um * MICRON, solids, WATER, VISCOSITY, multiple * GRAVITY)
    assert found == pytest.approx(velocity, rel=1e-10)  # the form without cancellation differs in the last digits


def test_the_correlations_are_those_of_the_collected_table() -> None:
    """Kunii & Levenspiel (1991), table 4 of chapter 3, as the library chemics 20.9 prints it, to three digits."""
    printed = {
        "Wen & Yu": (33.7, 0.0408), "Richardson": (25.7, 0.0365), "Saxena & Vogel": (25.3, 0.0571),
        "Babu": (25.3, 0.0651), "Grace": (27.2, 0.0408), "Chitester": (28.7, 0.0494),
    }  # fmt: skip
    for c in f.CORRELATIONS:
        assert (c.c1, c.c2) == pytest.approx(
            printed[c.name], rel=2.5e-3 if c.c1 < 25.3 else 1e-12
        )  # two are printed rounded
    # its worked example: 0.5 mm of 2500 kg/m3 in a gas of 0.44 kg/m3 and 3.6e-5 Pa s, Richardson's line
    richardson = next(c for c in f.CORRELATIONS if c.name == "Richardson")
    assert velocity_by(richardson, 0.5e-3, 2500.0, 0.44, 3.6e-5, 9.81) == pytest.approx(0.1192, abs=5e-5)


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
    found = velocity_by(f.CORRELATIONS[0], upper_mm * 1e-3, 2650.0, 997.05, 0.890e-3, GRAVITY) * 3600.0
    assert found == pytest.approx(measured_m_h, rel=tolerance)


def test_the_correlations_spread_over_a_factor_of_two() -> None:
    # six published lines worked by hand at 60 g, 150 um, 2700, water 20 C; mm/s, three digits
    grain = (150e-6, 2700.0, WATER, VISCOSITY, 60.0 * GRAVITY)
    each = [velocity_by(c, *grain) * 1e3 for c in f.CORRELATIONS]
    assert each == pytest.approx([13.2, 15.3, 16.2, 18.5, 23.7, 26.9], abs=0.06)
    low, middle, high = (float(v) * 1e3 for v in f.minimum_velocities(*grain))
    assert (low, high) == (pytest.approx(min(each)), pytest.approx(max(each)))
    assert middle == pytest.approx(np.median(each))


def ergun_lifting(
    size: float, sphericity: float, voidage: float, solids: float, liquid: float, viscosity: float, field: float
) -> float:
    """Where the pressure drop of `fluids` 1.3 (Ergun S. (1952) Chem. Eng. Prog. 48, 89-94) carries the bed, m/s."""
    carried = (1.0 - voidage) * (solids - liquid) * field
    given = {"dp": size * sphericity, "voidage": voidage, "rho": liquid, "mu": viscosity, "L": 1.0}
    return float(brentq(lambda v: Ergun(vs=v, **given) - carried, 1e-9, 50.0))


@pytest.mark.parametrize(
    ("bed", "printed", "tolerance"),
    [  # McCabe, Smith & Harriott, Unit Operations, ch. 7 (0.194 cm/s from memory): resin 1.1 mm, 1240, voidage 0.40
        ((1.1e-3, 1.0, 0.40, 1240.0, 1000.0, 1e-3, 9.81), 1.94e-3, 5e-3),
        # Kunii & Levenspiel, Fluidization Engineering, ch. 3 example (4.01 cm/s from memory, without the inertial term,
        # worth 0.7 %): 160 um, sphericity 0.67, voidage 0.55, 2600 in 1.2 kg/m3, 1.8e-5 Pa s
        ((160e-6, 0.67, 0.55, 2600.0, 1.2, 1.8e-5, 9.8), 0.0401, 0.01),
    ],
)
def test_the_band_holds_the_beds_of_two_textbooks(bed: tuple[float, ...], printed: float, tolerance: float) -> None:
    assert ergun_lifting(*bed) == pytest.approx(printed, rel=tolerance)
    low, _, high = f.minimum_velocities(bed[0], *bed[3:])
    assert low < printed < high


@pytest.mark.parametrize("multiple", [20.0, 60.0, 150.0])
@pytest.mark.parametrize("size_um", [50.0, 110.0, 300.0, 800.0])
@pytest.mark.parametrize("solids", [2650.0, 5000.0])
def test_the_band_holds_crushed_sand_by_erguns_pressure_at_any_field(
    multiple: float, size_um: float, solids: float
) -> None:
    # no correlation but a balance, with voidage and shape put in: sphericity 0.8, beds of 0.45 and 0.50 voids
    for voidage in (0.45, 0.50):
        found = ergun_lifting(size_um * MICRON, 0.8, voidage, solids, WATER, VISCOSITY, multiple * GRAVITY)
        low, _, high = f.minimum_velocities(size_um * MICRON, solids, WATER, VISCOSITY, multiple * GRAVITY)
        assert low < found < high

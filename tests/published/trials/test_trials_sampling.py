"""Sampling error: Gy's formula against a textbook table, grain counts against Poisson limits and the USGS rule.

Table: Wills, lead ore with 5 % Pb as 86.6 % mineral. Rule of 20 grains: Clifton and others, USGS Professional
Paper 625-C (1969). Gold rows and recovery floors: own, by two routes (formula and simulation or consistency).
"""

from math import pi

import numpy as np
import pytest

from profiler.statistics.sampling.fundamental_error import Ore, gold_composition, least_sample_g, relative_sd
from profiler.statistics.sampling.grains import (
    count_rsd,
    effective_grain_mass_mg,
    feed_for_floor,
    grain_count,
    grain_mass_mg,
    mean_limits,
    recovery_floor,
)
from tests.oracles.trials import composition

MIXED = effective_grain_mass_mg([38, 75, 150, 300], [0.4, 0.3, 0.2, 0.1])


@pytest.mark.parametrize(
    ("top_cm", "liberation", "constant", "mass_g"),
    [
        (2.5, 0.077460, 1.140884, 1_369_632),
        (0.5, 0.173205, 2.551094, 24_501),
        (0.1, 0.387298, 5.704420, 438),
        (0.004, 1.0, 14.728750, 0.07),
    ],
)
def test_sampling_stages_of_the_lead_ore(top_cm: float, liberation: float, constant: float, mass_g: float) -> None:
    ore = _lead_ore(top_cm)
    assert ore.liberation_factor == pytest.approx(liberation, abs=5e-7)
    assert ore.constant == pytest.approx(constant, abs=5e-6)
    needed = 2 * 4 * least_sample_g(ore, 0.02 / 1.96)  # four stages, safety factor 2, +-2 % at 95 %
    assert needed == pytest.approx(mass_g, abs=0.5 if mass_g > 1 else 5e-3)


def test_single_stage_of_the_lead_ore() -> None:
    assert composition(0.05 / 0.866, 7.5, 2.65) == pytest.approx(117.830, abs=5e-4)
    assert least_sample_g(_lead_ore(2.5), 0.01) == pytest.approx(178_263, abs=0.5)


@pytest.mark.parametrize(
    ("grade", "free_um", "top_um", "mass_g", "shape", "factor", "native", "fine"),
    [
        (5, 100, 1000, 1000, 0.5, 0.316228, 35.57, 39.06),
        (4, 75, 850, 1000, 0.5, 0.297044, 30.20, 33.17),
        (4, 212, 850, 20_000, 0.5, 0.499411, 8.76, 9.62),
        (4, 75, 106, 50, 0.2, 0.841158, 6.33, 6.95),
        (4, 75, 75, 30, 0.2, 1.0, 5.30, 5.82),
    ],
)
def test_fundamental_error_of_gold_samples(
    grade: float, free_um: float, top_um: float, mass_g: float, shape: float, factor: float, native: float, fine: float
) -> None:
    for density, per_cent in ((16.0, native), (19.3, fine)):
        ore = Ore(
            composition=gold_composition(grade, density), top=top_um * 1e-4, liberation=free_um * 1e-4, shape=shape
        )
        assert ore.liberation_factor == pytest.approx(factor, abs=5e-7)
        assert 100 * relative_sd(ore, mass_g) == pytest.approx(per_cent, abs=6e-3)


def test_gold_variant_of_the_liberation_exponent() -> None:
    ore = Ore(composition=gold_composition(5, 16.0), top=0.1, liberation=0.01, liberation_exponent=1.5)
    assert 100 * relative_sd(ore, 1000) == pytest.approx(11.25, abs=5e-3)


def test_formula_and_grain_count_are_one_for_free_spheres() -> None:
    """Shape pi/6, range and liberation 1: the relative variance is one over the number of grains."""
    ore = Ore(composition=gold_composition(4, 19.3), top=75e-4, liberation=75e-4, shape=pi / 6, range=1.0)
    variance = relative_sd(ore, 30.0) ** 2
    assert variance == pytest.approx(0.0355270, abs=5e-8)
    assert variance == pytest.approx(1 / grain_count(4, 0.030, float(grain_mass_mg(75))), rel=1e-12)


def test_masses_of_gold_grains() -> None:
    sizes = [25, 53, 75, 106, 150, 212, 300, 425, 600, 850]
    masses = [0.0001579, 0.001504, 0.004263, 0.01204, 0.03411, 0.09629, 0.2728, 0.7758, 2.183, 6.206]
    assert grain_mass_mg(sizes) == pytest.approx(masses, rel=5e-4)


@pytest.mark.parametrize(
    ("size_um", "counts", "per_cents"),
    [
        (75, (28.1, 938, 18_765), (18.8, 3.3, 0.7)),
        (106, (9.97, 332, 6_650), (31.7, 5.5, 1.2)),
        (150, (3.52, 117, 2_350), (53.3, 9.2, 2.1)),
        (300, (0.44, 14.7, 293), (151, 26, 5.8)),
        (600, (0.055, 1.8, 37), (426, 74, 16.5)),
    ],
)
def test_grains_in_samples_of_four_grams_a_tonne(size_um: float, counts: tuple, per_cents: tuple) -> None:
    """Samples of 30 g, 1 kg and 20 kg; the table prints two or three figures."""
    for mass_kg, count, per_cent in zip((0.030, 1.0, 20.0), counts, per_cents, strict=True):
        grains = grain_count(4, mass_kg, float(grain_mass_mg(size_um)))
        assert grains == pytest.approx(count, rel=2e-2)
        assert 100 * count_rsd(grains) == pytest.approx(per_cent, rel=5e-2)


def test_mixed_gold_scatters_like_few_coarse_grains() -> None:
    for mass_kg, per_cent in ((0.030, 54.47), (1.0, 9.43), (20.0, 2.11)):
        assert 100 * count_rsd(grain_count(4, mass_kg, MIXED)) == pytest.approx(per_cent, abs=6e-3)
    coarsest = 0.1 * float(grain_mass_mg(300)) / MIXED
    assert 100 * coarsest == pytest.approx(76.6, abs=0.05)


def test_twenty_grains_and_their_exact_limits() -> None:
    limits = mean_limits(20)
    assert 100 * count_rsd(20) == pytest.approx(22.36, abs=5e-3)
    assert limits.low == pytest.approx(12.22, abs=5e-3)
    assert limits.high == pytest.approx(30.89, abs=5e-3)
    assert mean_limits(0).low == 0.0
    assert np.exp(-mean_limits(0).high) == pytest.approx(0.025)


@pytest.mark.parametrize(("size_um", "points"), [(300, 4.05), (150, 1.43), (75, 0.51)])
def test_recovery_floor_of_ten_kilograms(size_um: float, points: float) -> None:
    grains = grain_count(4, 10, float(grain_mass_mg(size_um)))
    assert 100 * recovery_floor(0.4, grains) == pytest.approx(points, abs=6e-3)


def test_147_grains_hide_four_points() -> None:
    assert grain_count(4, 10, float(grain_mass_mg(300))) == pytest.approx(147, abs=0.5)


@pytest.mark.parametrize(("mass_kg", "points"), [(1, 4.62), (5, 2.07), (20, 1.03), (100, 0.46)])
def test_recovery_floor_of_mixed_gold(mass_kg: float, points: float) -> None:
    assert 100 * recovery_floor(0.4, grain_count(4, mass_kg, MIXED)) == pytest.approx(points, abs=6e-3)
    assert feed_for_floor(0.4, recovery_floor(0.4, grain_count(4, mass_kg, MIXED)), 4, MIXED) == pytest.approx(mass_kg)


def test_a_small_tail_sample_has_a_floor_of_its_own() -> None:
    grains = grain_count(2.6, 1.0, float(grain_mass_mg(150)))
    assert grains == pytest.approx(76, abs=0.5)
    alone = recovery_floor(0.35, float("inf"), tail_sample=grains)
    assert 100 * alone == pytest.approx(2.6, abs=0.05)
    both = recovery_floor(0.35, 500.0, tail_sample=grains, concentrate_sample=300.0)
    assert both**2 == pytest.approx(0.35 * 0.65 / 500 + (0.35 * 0.65) ** 2 * (1 / grains + 1 / 300), rel=1e-12)


def _lead_ore(top_cm: float) -> Ore:
    return Ore(composition=composition(0.05 / 0.866, 7.5, 2.65), top=top_cm, liberation=0.015)

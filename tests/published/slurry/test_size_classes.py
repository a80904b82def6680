"""Size classes against what is published of the contact load, of drag and of sieve curves.

F = exp(-0.0097 V/v): Gillies, Shook & Xu (2004) Can. J. Chem. Eng. 82, 1060-1065, coefficient from memory; summed over
classes and with the carrier's fines counted as liquid, as that model has it. Settling velocities by the drag law of the
library `fluids`, roots by scipy.
"""

from itertools import pairwise

import numpy as np
import pytest
from fluids.drag import Haider_Levenspiel
from scipy.optimize import brentq

from profiler.physics.grains import classed_grains
from profiler.physics.grains.classed_grains import Mixture, divide, liquid_size, passing_size, sieve_classes
from profiler.physics.rotor.rotation import FloatArray
from profiler.physics.slurry.repose import Film, Slurry, repose
from profiler.units import GRAVITY, MICRON
from tests.oracles.rotation import angular_speed_for
from tests.oracles.suspension import volume_fraction

WATER, WATER_VISCOSITY = 998.2, 1.0016e-3  # 20 degrees C
SOLIDS = 2.7 * WATER


def library_velocity(size: float, acceleration: float, liquid: float = WATER, viscosity: float = 1.0016e-3) -> float:
    """Terminal velocity by the library's drag law and a general root finder."""

    def excess(velocity: float) -> float:
        drag = Haider_Levenspiel(liquid * velocity * size / viscosity)
        return 0.75 * drag * liquid * velocity**2 - (SOLIDS - liquid) * acceleration * size

    return float(brentq(excess, 1e-9, 100.0, xtol=1e-15))


# At 60 g and V 2.2 m/s F is 0.9, 0.5 and 0.1 at these sizes (um): worked by hand from the law and sphere drag, to 1 um
BY_HAND = [(89.0, 0.9), (25.0, 0.5), (13.0, 0.1)]


@pytest.mark.parametrize(("size_um", "fraction"), BY_HAND)
def test_contact_load_of_a_class_is_what_the_law_gives(size_um: float, fraction: float) -> None:
    acceleration, velocity = np.asarray(60.0 * GRAVITY), 2.2
    size = size_um * MICRON
    archimedes = np.asarray(WATER * (SOLIDS - WATER) * acceleration * size**3 / WATER_VISCOSITY**2)
    log_reynolds = classed_grains.start_log_reynolds(np.log(archimedes), None)
    pull = np.asarray(classed_grains.CONTACT_DECAY * velocity * WATER * size / WATER_VISCOSITY)
    for _ in range(4):
        load = classed_grains.contact_load(log_reynolds, np.log(archimedes), pull, None)
        log_reynolds = load.log_reynolds
    assert load.fraction == pytest.approx(fraction, abs=0.025)
    settles = library_velocity(size, float(acceleration))
    assert load.fraction == pytest.approx(np.exp(-0.0097 * velocity / settles), rel=1e-6)


def test_what_counts_as_liquid_is_finer_than_about_25_um_at_60_g() -> None:
    assert liquid_size(2.2, 60.0 * GRAVITY, SOLIDS, WATER, WATER_VISCOSITY) == pytest.approx(25e-6, abs=1e-6)


@pytest.mark.parametrize("multiple", [1.0, 20.0, 60.0, 150.0])
@pytest.mark.parametrize("velocity", [0.8, 2.2, 5.0])
def test_grains_of_the_liquid_size_half_leave_the_contact_load(multiple: float, velocity: float) -> None:
    size = float(liquid_size(velocity, multiple * GRAVITY, SOLIDS, WATER, WATER_VISCOSITY))
    settles = library_velocity(size, multiple * GRAVITY)
    assert np.exp(-0.0097 * velocity / settles) == pytest.approx(0.5, rel=1e-6)


def test_at_1_g_far_coarser_grains_count_as_liquid() -> None:
    # the pipe model, at 1 g and 2 to 5 m/s, counts what is finer than 74 um
    sizes = liquid_size(np.array([2.0, 5.0]), GRAVITY, SOLIDS, WATER, WATER_VISCOSITY)
    assert 74e-6 < sizes[0] < sizes[1] < 600e-6


# An invented feed: sieve um, per cent retained. Passing 250: 96, 180: 84, 125: 66, 90: 47, 63: 30, 45: 19 %.
SIEVES = np.array([250.0, 180.0, 125.0, 90.0, 63.0, 45.0, 22.5]) * MICRON
RETAINED = np.array([4.0, 12.0, 18.0, 19.0, 17.0, 11.0, 19.0])


def test_median_and_80_per_cent_size_lie_on_the_straight_lines_between_sieves() -> None:
    # by hand: 50 % lies 3/19 of the way from 90 (47 %) to 125 um (66 %); 80 % lies 14/18 from 125 (66 %) to 180 (84 %)
    feed = sieve_classes(SIEVES, RETAINED)
    assert passing_size(feed, 0.5) == pytest.approx(90e-6 * (125.0 / 90.0) ** (3.0 / 19.0), rel=1e-12)
    assert passing_size(feed, 0.8) == pytest.approx(125e-6 * (180.0 / 125.0) ** (14.0 / 18.0), rel=1e-12)
    logs = np.log(np.append(250.0 * 250.0 / 180.0, SIEVES / MICRON))
    passing = np.array([100.0, 96.0, 84.0, 66.0, 47.0, 30.0, 19.0, 0.0])
    for share in np.linspace(0.01, 0.99, 31):
        expected = np.exp(np.interp(100.0 * share, passing[::-1], logs[::-1]))
        assert passing_size(feed, share) / MICRON == pytest.approx(expected, rel=1e-9)


def test_fines_are_what_passes_the_liquid_size() -> None:
    # by hand: from 22.5 to 45 um the passing curve rises by 19 %; 30 um lies ln(30/22.5)/ln 2 = 0.4150 of the way
    cut = divide(sieve_classes(SIEVES, RETAINED), 30e-6)
    assert cut.fine == pytest.approx(0.19 * np.log(30.0 / 22.5) / np.log(2.0), rel=1e-12)
    assert cut.median == pytest.approx(passing_size(sieve_classes(SIEVES, RETAINED), 0.5 + 0.5 * cut.fine), rel=1e-12)
    assert np.sum(cut.share) == pytest.approx(1.0, rel=1e-12)


def test_fines_thicken_the_liquid_as_thomas_has_it() -> None:
    # Thomas (1965) J. Colloid Sci. 20, 267-277: 1.3649, 2.4263 at C 0.10, 0.25; 1.00273 at nothing, which is taken out
    for fines, relative in ((0.10, 1.3649), (0.25, 2.4263)):
        found = classed_grains.thickened(fines, WATER_VISCOSITY)
        assert found == pytest.approx(WATER_VISCOSITY * relative / 1.00273, rel=5e-5)
    assert classed_grains.thickened(0.0, WATER_VISCOSITY) == WATER_VISCOSITY


def film_of(mixture: Mixture | None, median: float, lag: bool, friction: float = 0.60, slip: float = 0.6) -> Film:
    slurry = Slurry(SOLIDS, median, WATER, WATER_VISCOSITY, mixture)
    fraction = volume_fraction(0.45, 2.7, 1.0)
    speed = angular_speed_for(60.0, 0.15)
    return repose(0.15, speed, 6.0 / 3600.0, fraction, slurry, friction, lag=lag, slip=slip)


@pytest.mark.parametrize("lag", [False, True])
def test_worked_example_the_film_found_has_the_contact_load_of_its_classes(lag: bool) -> None:
    """An invented feed of four classes: F by hand from library settling velocities, then the balance of the slope.

    F enters what stands in place linearly, so the sum over the classes is exact.
    """
    sizes, shares = np.array([300.0, 150.0, 75.0, 38.0]) * MICRON, np.array([0.15, 0.35, 0.30, 0.20])
    film = film_of(Mixture(sizes, shares), 120e-6, lag)
    velocity = float(film.velocity / np.cos(film.lag_angle))
    field = float(film.acceleration)
    settles = [library_velocity(float(size), field) for size in sizes]
    expected = sum(s * np.exp(-0.0097 * velocity / v) for s, v in zip(shares, settles, strict=True))
    assert film.contact_fraction == pytest.approx(expected, rel=1e-8)
    fraction = float(volume_fraction(0.45, 2.7, 1.0))
    each = [s * fraction * np.exp(-0.0097 * velocity / v) for s, v in zip(shares, settles, strict=True)]
    standing = sum(c * (1.0 / 0.6 - 1.0) for c in each)  # slip 0.6 of Abrahams (2003); far from packed here
    contact = (sum(each) + standing) / (1.0 + standing)
    carried = (1.0 - expected) * fraction / (1.0 + standing)
    assert film.in_place_fraction == pytest.approx(contact + carried, rel=1e-8)
    grain = 120e-6 * (1.7 * field / (WATER_VISCOSITY / WATER) ** 2) ** (1.0 / 3.0)
    threshold = 0.30 / (1.0 + 1.2 * grain) + 0.055 * (1.0 - np.exp(-0.020 * grain))  # Soulsby & Whitehouse (1997)
    bed = contact * 1.7 * 0.60 + threshold * 1.7 * 120e-6 / float(film.depth)
    tangent = np.cos(float(film.lag_angle)) * bed / (1.0 + (contact + carried) * 1.7)
    assert np.tan(float(film.slope)) == pytest.approx(tangent, rel=1e-8)


def test_one_class_gives_the_published_case_of_one_size() -> None:
    # r 0.15 m, 60 g, 6 m3/h, 45 % by mass, S 2.7, 150 um, no lag: F 0.943992, theta 8.1991 degrees at friction 0.45 of
    # the delivered grains; F 0.93362, slope 12.0707 degrees at friction 0.60 of the grains in place
    mixture = Mixture(np.array([150e-6]), np.array([1.0]))
    film = film_of(mixture, 150e-6, False, 0.45, 1.0)
    assert np.degrees(film.angle) == pytest.approx(8.1991, abs=5e-5)
    assert film.contact_fraction == pytest.approx(0.943992, abs=5e-7)
    film = film_of(mixture, 150e-6, False)
    assert np.degrees(film.slope) == pytest.approx(12.0707, abs=5e-5)
    assert film.contact_fraction == pytest.approx(0.93362, abs=5e-6)


def spread(width: float, median: float = 150e-6, count: int = 20) -> FloatArray:
    return np.asarray(median * np.exp(np.linspace(width, -width, count)))


def test_a_narrow_feed_tends_to_its_median() -> None:
    one = film_of(None, 150e-6, lag=True)
    gaps = []
    for width in (0.4, 0.2, 0.1, 0.05):
        film = film_of(Mixture(spread(width), np.full(20, 0.05)), 150e-6, lag=True)
        gaps.append(abs(float(film.angle - one.angle)))
    assert gaps[-1] < 1e-4
    for wide, narrow in pairwise(gaps):
        assert wide / narrow == pytest.approx(4.0, rel=0.1)  # as the square of the width

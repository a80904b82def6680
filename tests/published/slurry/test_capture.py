"""Real grains, hindered settling, arrival and retention, against worked examples and printed tables."""

import numpy as np
import pytest

from profiler.physics.grains import capture, settling
from profiler.physics.grains import real_grains as grains
from profiler.physics.slurry import film
from profiler.units import GRAVITY, MICRON, RPM

WATER, VISCOSITY = 998.2, 1.0016e-3  # 20 degrees C


@pytest.mark.parametrize(
    ("multiple", "size_um", "velocities"),
    [  # Dietrich (1982), formula from memory, gold 19 300 in water 20 C at shape factors 1 (roundness 6), .7 .5 .3 .2
        # (3.5); three digits, worked apart from this program
        (60.0, 38.0, (0.389, 0.340, 0.314, 0.262, 0.193)),
        (60.0, 75.0, (0.876, 0.741, 0.673, 0.555, 0.408)),
        (60.0, 150.0, (1.738, 1.312, 1.132, 0.858, 0.597)),
        (1.0, 75.0, (0.0378, 0.0335, 0.0308, 0.0254, 0.0184)),
    ],
)
def test_flat_gold_settles_as_the_flake_law_says(
    multiple: float, size_um: float, velocities: tuple[float, ...]
) -> None:
    flatness, roundness = np.array([1.0, 0.7, 0.5, 0.3, 0.2]), np.array([6.0, 3.5, 3.5, 3.5, 3.5])
    found = grains.flake_velocity(size_um * MICRON, 19300.0, WATER, VISCOSITY, multiple * GRAVITY, flatness, roundness)
    assert found == pytest.approx(velocities, rel=2e-3, abs=6e-5)


@pytest.mark.parametrize("size_um", [20.0, 75.0, 300.0])
def test_the_flake_law_ends_in_the_spheres_law(size_um: float) -> None:
    given = (size_um * MICRON, 19300.0, WATER, VISCOSITY, 60.0 * GRAVITY)
    round_grain = grains.flake_velocity(*given, 1.0, 6.0)
    assert round_grain == pytest.approx(settling.terminal_velocity(*given), rel=0.09)  # two fits of one curve


@pytest.mark.parametrize(
    ("size_um", "velocity"), [(50, 0.002103), (75, 0.004492), (150, 0.014921), (500, 0.071034), (1000, 0.126254)]
)
def test_sand_settles_as_ferguson_and_church_say(size_um: float, velocity: float) -> None:
    # Ferguson & Church (2004), C1 18, C2 1.0, worked by hand: R 1.65, nu 1e-6, 1 g; four to five digits
    assert grains.sand_velocity(size_um * MICRON, 2650.0, 1000.0, 1e-3, GRAVITY) == pytest.approx(velocity, rel=3e-4)


def test_crushed_sand_at_sixty_g_lies_within_a_tenth_of_the_sphere() -> None:
    given = (150e-6, 2700.0, WATER, VISCOSITY, 60.0 * GRAVITY)
    assert grains.sand_velocity(*given) == pytest.approx(0.3297, abs=6e-5)  # worked by hand
    assert grains.sand_velocity(*given) == pytest.approx(settling.terminal_velocity(*given), rel=0.11)


@pytest.mark.parametrize(
    ("reynolds", "rowe"),
    [(0.1, 4.628859848), (1.0, 4.348936170), (10.0, 3.530874905), (100.0, 2.703608282), (500.0, 2.463711491)],
)
def test_the_hindering_exponent_is_that_of_the_closed_form(reynolds: float, rowe: float) -> None:
    assert grains.hindering_exponent(reynolds) == pytest.approx(rowe, rel=1e-8)


def test_the_hindering_exponent_is_known_within_six_tenths() -> None:
    # Garside & Al-Dibouni (1977) IEC Process Des. Dev. 16, 206-214 (from memory): (5.1 - n)/(n - 2.7) = 0.1 Re^0.9,
    # another line through other data; at C 0.1 the velocities then differ by at most 6 %
    reynolds = np.geomspace(1e-3, 1e4, 200)
    load = 0.1 * reynolds**0.9
    garside = (5.1 + 2.7 * load) / (1.0 + load)
    assert garside[np.argmin(abs(reynolds - 10.0))] == pytest.approx(4.04, abs=0.05)
    assert np.max(np.abs(grains.hindering_exponent(reynolds) - garside)) < 0.6


@pytest.mark.parametrize(("reynolds", "exponent"), [(0.1, 4.65), (10.0, 3.535), (100.0, 2.808), (500.0, 2.39)])
def test_rowes_line_runs_through_richardson_and_zakis_pieces(reynolds: float, exponent: float) -> None:
    # Richardson & Zaki (1954): 4.65, 4.45 Re^-.1 (1 to 500), 2.39; a smooth line through them is within 5 %
    assert grains.hindering_exponent(reynolds) == pytest.approx(exponent, rel=0.05)


@pytest.mark.parametrize(
    ("size_mm", "alone", "among"),
    [  # open slurry library's test data: sand 2650, Ruby & Zanke's terminal velocity, Rowe's n, C 0.10; seven digits
        (0.075, 0.0044591, 0.002766062), (0.2, 0.0256840, 0.017171128), (0.4, 0.0592375, 0.042443520),
        (0.8, 0.1020475, 0.076343479), (1.6, 0.1549654, 0.118563740),
    ],
)  # fmt: skip
def test_hindered_sand_gives_the_slurry_librarys_numbers(size_mm: float, alone: float, among: float) -> None:
    viscosity = 1.0068122620717291e-6 * WATER
    found = grains.hindered(alone, size_mm * 1e-3, 0.10, WATER, viscosity)
    assert found == pytest.approx(among, rel=2e-5)  # `alone` is printed to five or six digits


def test_an_interface_falls_as_in_the_textbook_problem() -> None:
    # Rhodes, Introduction to Particle Technology: 100 um, 1.1 mm/s alone, C 0.20, n 4.65: 0.3897 mm/s (derived)
    fine = grains.hindered(1.1e-3, 100e-6, 0.20, 1000.0, 1e-3)
    assert fine == pytest.approx(0.3897e-3, rel=0.03)  # Rowe's n at Re 0.11 is 4.62


def test_the_size_that_settles_is_the_inverse_of_the_law() -> None:
    sizes = np.geomspace(1e-6, 1e-3, 25)
    for law in (
        lambda d: grains.sand_velocity(d, 2700.0, WATER, VISCOSITY, 700.0),
        lambda d: grains.flake_velocity(d, 17500.0, WATER, VISCOSITY, 700.0, 0.3),
        lambda d: settling.terminal_velocity(d, 17500.0, WATER, VISCOSITY, 700.0),
    ):
        assert grains.size_that_settles(law(sizes), law) == pytest.approx(sizes, rel=1e-9)
    assert np.isnan(grains.size_that_settles(np.array([np.nan]), law)[0])
    for lost in (-1.0, 0.0, np.inf):  # no velocity, nothing that settles, everything wanted
        ends = grains.size_that_settles(np.array([lost]), law)[0]
        assert np.isnan(ends) if lost < 0.0 else ends == (1e-7 if lost == 0.0 else 2e-2)
    assert np.isnan(grains.size_that_settles(np.array([0.01]), lambda d: np.full(np.shape(d), np.nan))).all()


def ambler_sigma(speed: float, volume: float, inner: float, outer: float) -> float:
    """m2: Ambler C.M. (1952) Chem. Eng. Prog. 48, 150-158: half is caught where Q = 2 v Sigma, v at 1 g."""
    return float(speed**2 * volume / (2.0 * GRAVITY * np.log(2.0 * outer / (inner + outer))))


def test_arrival_in_a_thin_film_is_that_of_a_tubular_bowl() -> None:
    # Geankoplis, ch. 14 example (0.746 um, 196.3 m2 from memory): 23 000 rpm, r 7.16 to 22.25 mm, 0.197 m long,
    # 0.002832 m3/h, 1461 in 801 kg/m3, 0.1 Pa s: so the formula is the published one
    inner, outer, speed = 0.00716, 0.02225, 23000.0 * RPM
    sigma = ambler_sigma(speed, np.pi * 0.1970 * (outer**2 - inner**2), inner, outer)
    assert sigma == pytest.approx(196.3, rel=2e-3)
    velocity = 0.002832 / 3600.0 / (2.0 * sigma)
    assert np.sqrt(18.0 * 0.1 * velocity / (660.0 * GRAVITY)) == pytest.approx(0.746e-6, rel=2e-3)
    # a film of 1 mm at 0.15 m, 60 g: Hazen's plug flow lets half arrive at the same flow, to depth over radius
    inner, outer, speed = 0.149, 0.150, np.sqrt(60.0 * GRAVITY / 0.15)
    sigma = ambler_sigma(speed, np.pi * 0.3 * (outer**2 - inner**2), inner, outer)
    settling_at_1g = 2e-5
    flow = 2.0 * settling_at_1g * sigma
    share = capture.arrival_plug(60.0 * settling_at_1g, flow, 2.0 * np.pi * outer * 0.3)
    assert share == pytest.approx(0.5, rel=0.01)


def test_overflow_velocity_and_arrival_are_hazens() -> None:
    # bowl of radius 0.15 m, 0.3 m long, 6 m3/h: 5.8946 mm/s; mixed arrival .3935 .6321 .8647 .9502 (derived)
    area = 2.0 * np.pi * 0.15 * 0.3
    needed = float(capture.overflow_velocity(6.0 / 3600.0, area))
    assert needed == pytest.approx(5.8946e-3, rel=1e-5)
    loads = np.array([0.5, 1.0, 2.0, 3.0])
    assert capture.arrival_mixed(loads * needed, 6.0 / 3600.0, area) == pytest.approx(
        [0.3935, 0.6321, 0.8647, 0.9502], abs=6e-5
    )
    assert capture.arrival_plug(loads * needed, 6.0 / 3600.0, area) == pytest.approx([0.5, 1.0, 1.0, 1.0])


@pytest.mark.parametrize(
    ("solids", "size_um", "groups"),
    [  # groove 5 mm wide, stream 2 m/s, 60 g: v/(0.02 U), Stokes number; two digits, by hand with the sphere law
        (2700.0, 150.0, (9.2, 0.25)), (19300.0, 75.0, (22.0, 0.61)), (2700.0, 20.0, (0.50, 0.014)),
        (19300.0, 10.0, (1.3, 0.036)),
    ],
)  # fmt: skip
def test_retention_groups_are_those_worked_by_hand(solids: float, size_um: float, groups: tuple[float, float]) -> None:
    field = 60.0 * GRAVITY
    velocity = settling.terminal_velocity(size_um * MICRON, solids, WATER, VISCOSITY, field)
    exchange = velocity / capture.exchange_velocity(2.0, capture.EXCHANGE[1])
    assert (exchange, capture.stokes_number(velocity, field, 2.0, 5e-3)) == pytest.approx(groups, rel=0.04)


def test_shields_stress_at_the_floor_stands_to_the_threshold_as_its_definition_says() -> None:
    # 150 um, 2650, 60 g: critical shear 4.37 Pa (Soulsby & Whitehouse, from memory); u* is a tenth of the stream
    field, given = 60.0 * GRAVITY, (150e-6, 2650.0, WATER, VISCOSITY)
    number = settling.archimedes_number(*given, field)
    critical = float(film.critical_shields(np.cbrt(number))) * (2650.0 - WATER) * field * 150e-6
    assert critical == pytest.approx(4.37, rel=5e-3)
    stream = 10.0 * np.sqrt(critical / WATER)
    assert capture.shields_at_floor(stream, WATER, 2650.0, field, 150e-6) == pytest.approx(
        film.critical_shields(np.cbrt(number))
    )

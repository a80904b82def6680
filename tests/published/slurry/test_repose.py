"""The repose angle against the balance it is built on, observations and independent estimates.

The numbers of the whole model are pinned in tests/golden; here stands what others have published.
"""

import fluids
import numpy as np
import pytest
from fluids.drag import Haider_Levenspiel
from scipy.optimize import brentq

from profiler.physics.rotor import rotation
from profiler.physics.slurry import carpet
from profiler.physics.slurry.carpet import SLIP
from profiler.physics.slurry.measured_friction import friction_from_angle
from profiler.physics.slurry.repose import Film, Slurry, repose
from profiler.units import DEGREE, GRAVITY, MICRON
from tests.oracles.rotation import angular_speed_for
from tests.oracles.suspension import volume_fraction

WATER, WATER_VISCOSITY = 998.2, 1.0016e-3  # 20 degrees C
SMALL, LARGE = (0.15, 6.0), (0.60, 100.0)  # radius m, flow m3/h: flows assumed


def film_of(
    mass_fraction: float,
    friction: float = 0.60,
    size_um: float = 150.0,
    bowl: tuple[float, float] = SMALL,
    multiple: float = 60.0,
    lag: bool = False,
    slip: float = SLIP,
) -> Film:
    """A film of solids of relative density 2.7 in water at 20 degrees C."""
    slurry = Slurry(2.7 * WATER, size_um * MICRON, WATER, WATER_VISCOSITY)
    fraction = volume_fraction(mass_fraction, 2.7, 1.0)
    radius, flow = bowl
    speed = angular_speed_for(multiple, radius)
    return repose(radius, speed, flow / 3600.0, fraction, slurry, friction, lag=lag, slip=slip)


@pytest.fixture
def all_grains_in_contact(monkeypatch: pytest.MonkeyPatch) -> None:
    """No grain is carried and none needs a push: what is left is the plain Coulomb balance."""
    monkeypatch.setattr(carpet, "CONTACT_DECAY", 0.0)
    monkeypatch.setattr(carpet, "critical_shields", np.zeros_like)
    monkeypatch.setattr(carpet, "critical_shields_slope", np.zeros_like)


TAKAHASHI = [  # Takahashi T. (1978) J. Hydraul. Div. ASCE 104(8) 1153-1169, worked by hand: C, solids, liquid, tan(phi)
    (0.136986301369863, 2.7, 1.0, 0.45, 4.858462919034287),
    (0.35714285714285704, 2.7, 1.0, 0.60, 12.77124256490144),
    (0.20361990950226244, 3.2, 1.0, 0.40, 7.054487651472913),
    (0.30, 2.65, 1.0, 0.7002075382097097, 13.052922),
]


@pytest.mark.usefixtures("all_grains_in_contact")
@pytest.mark.parametrize(("fraction", "solids", "liquid", "friction", "slope_deg"), TAKAHASHI)
@pytest.mark.parametrize(("radius", "speed", "flow"), [(0.15, 60.0, 2e-3), (0.6, 25.0, 0.05)])
def test_slope_without_suspension_is_takahashis(
    fraction: float,
    solids: float,
    liquid: float,
    friction: float,
    slope_deg: float,
    radius: float,
    speed: float,
    flow: float,
) -> None:
    # the balance knows neither size, speed, radius nor flow; grains that keep up with the water are as many in place as
    # are delivered, which is what the formula is written for
    slurry = Slurry(1000.0 * solids, 200e-6, 1000.0 * liquid, 1e-3)
    film = repose(radius, speed, flow, fraction, slurry, friction, lag=False, slip=1.0)
    assert film.slope / DEGREE == pytest.approx(slope_deg, rel=1e-7)
    assert film.angle == pytest.approx(film.slope + rotation.tilt(speed**2 * radius), rel=1e-12)
    found = friction_from_angle(film.angle, radius, speed, flow, fraction, slurry, lag=False, slip=1.0)
    assert found == pytest.approx(friction)


@pytest.mark.usefixtures("all_grains_in_contact")
@pytest.mark.parametrize("slip", [0.3, 0.6, 0.9])
@pytest.mark.parametrize("mass_fraction", [0.15, 0.30, 0.45])
def test_slope_with_slip_is_takahashis_of_the_grains_in_place(mass_fraction: float, slip: float) -> None:
    # mass balance by hand: grains at s times the water's speed take C/(C + s (1 - C)) of the place
    delivered = float(volume_fraction(mass_fraction, 2.7, 1.0))
    there = delivered / (delivered + slip * (1.0 - delivered))
    film = film_of(mass_fraction, slip=slip)
    assert film.in_place_fraction == pytest.approx(there, rel=1e-12)
    assert np.tan(film.slope) == pytest.approx(there * 1.7 * 0.60 / (1.0 + there * 1.7), rel=1e-7)


def test_slope_falls_when_grains_go_into_suspension() -> None:
    # Egashira school's flume study "Influence of sediment grain size on debris flow" (abstract): the equilibrium slope
    # is set by the sediment ratio alone while nothing is suspended, and falls when part of the solids is
    films = [film_of(0.45, size_um=size) for size in (300.0, 150.0, 75.0, 50.0)]
    contact = [float(film.contact_fraction) for film in films]
    slope = [float(film.slope) for film in films]
    assert contact == sorted(contact, reverse=True)
    assert slope == sorted(slope, reverse=True)


@pytest.mark.parametrize(
    ("ratio", "fraction"),
    [(5, 0.95265734), (10, 0.90755601), (25, 0.78466375), (50, 0.61569720), (100, 0.37908304)],
)
def test_contact_share_decays_as_gillies_shook_and_xu(ratio: float, fraction: float) -> None:
    # exp(-0.0097 V/v): Gillies, Shook & Xu (2004) Can. J. Chem. Eng. 82, 1060-1065; coefficient from memory.
    # The flow that gives the wanted ratio is sought; a strong field and fine grains span the range.
    slurry = Slurry(2.7 * WATER, 60e-6, WATER, WATER_VISCOSITY)

    def film_at(log_flow: float) -> Film:
        return repose(0.3, 50.0, np.exp(log_flow), 0.15, slurry, 0.45, lag=False)

    settles = library_velocity(60e-6, 2.7 * WATER, 50.0**2 * 0.3)
    wanted = brentq(lambda x: float(film_at(x).velocity) / settles - ratio, -12.0, 3.0, xtol=1e-14)
    assert film_at(wanted).contact_fraction == pytest.approx(fraction, rel=1e-7)


def library_velocity(size: float, solids: float, acceleration: float) -> float:
    """Terminal velocity in water by the library's drag law and a general root finder."""

    def excess(velocity: float) -> float:
        drag = Haider_Levenspiel(WATER * velocity * size / WATER_VISCOSITY)
        return 0.75 * drag * WATER * velocity**2 - (solids - WATER) * acceleration * size

    return float(brentq(excess, 1e-9, 100.0, xtol=1e-15))


def test_grains_settle_in_the_field_of_the_film() -> None:
    # not at 1 g, and not in the field of the bowl either, when the film lags
    film = film_of(0.45, lag=True)
    speed = float(film.velocity / np.cos(film.lag_angle))
    settles = library_velocity(150e-6, 2.7 * WATER, float(film.acceleration))
    assert film.contact_fraction == pytest.approx(np.exp(-0.0097 * speed / settles), rel=1e-9)
    assert film.acceleration < 0.85 * 60.0 * GRAVITY


def test_film_at_the_bed_load_limit_leaves_most_grains_in_contact() -> None:
    # Rouse number 2.5, the usual limit of bed load (from memory): V/v = sqrt(8/f)/(0.4 P), f 0.06 gives 11.5, F 0.89
    ratio = np.sqrt(8.0 / 0.06) / (0.4 * 2.5)
    assert np.exp(-carpet.CONTACT_DECAY * ratio) == pytest.approx(0.89, abs=0.01)


def test_friction_factor_is_that_of_the_film_found() -> None:
    # Haaland by fluids 1.3 at D_h = 4 h and two grains of roughness
    film = film_of(0.45)
    roughness = 2.0 * 150e-6 / (4.0 * float(film.depth))
    assert film.friction_factor == pytest.approx(fluids.friction.Haaland(float(film.reynolds), roughness), rel=1e-12)


def test_tilt_is_added_once() -> None:
    film = film_of(0.45, multiple=30.0, lag=True)
    assert film.angle - film.slope == pytest.approx(np.arctan(GRAVITY / film.acceleration), rel=1e-12)
    assert film.slope > 0.0


@pytest.mark.parametrize(
    ("mass_fraction", "takahashi", "deposition"),
    [(0.30, (4.4, 8.5), (3.4, 9.5)), (0.45, (6.1, 12.2), (4.1, 12.1)), (0.60, (7.8, 15.8), (5.3, 14.9))],
)
def test_angle_lies_inside_independent_estimates(
    mass_fraction: float, takahashi: tuple[float, float], deposition: tuple[float, float]
) -> None:
    # worked by hand at 60 g, relative density 2.7: Takahashi with friction 0.32 to 0.70 and nothing suspended; a stream
    # at deposition velocity (Wasp's limit velocity and Darcy's law), smooth to rough bed, 75 to 150 um. Both weigh what
    # is delivered, so the slip is 1 and the friction that of beads; with grains in place see tests of the flumes
    for size in (75.0, 150.0):
        for bowl in (SMALL, LARGE):
            angle = float(film_of(mass_fraction, 0.45, size_um=size, bowl=bowl, slip=1.0).angle) / DEGREE
            assert takahashi[0] < angle < takahashi[1]
            assert deposition[0] < angle < deposition[1]


def test_usual_slurries_rest_at_five_to_ten_degrees() -> None:
    # common practice, no source; Cw 20 to 30 %, rounded to the degree
    for mass_fraction in (0.20, 0.25, 0.30):
        for size in (75.0, 150.0, 300.0):
            for bowl in (SMALL, LARGE):
                angle = film_of(mass_fraction, size_um=size, bowl=bowl, lag=True).angle / DEGREE
                assert 4.5 < angle < 10.5


def test_the_face_of_a_big_machine_at_forty_to_forty_five_per_cent_stands_at_seven_to_eight_and_a_half() -> None:
    # common practice, no source: 300 t/h of solids at 60 g, and the water that has joined by mid-height, a tenth to a
    # fifth of the feed
    slurry = Slurry(2.7 * WATER, 150e-6, WATER, WATER_VISCOSITY)
    speed = angular_speed_for(60.0, 0.60)
    for mass_fraction in (0.40, 0.45):
        feed = float(volume_fraction(mass_fraction, 2.7, 1.0))
        for water in (0.1, 0.2):
            film = repose(0.60, speed, 478.0 * (1.0 + water) / 3600.0, feed / (1.0 + water), slurry, 0.60)
            assert 7.0 < film.angle / DEGREE < 8.5


def test_friction_calibrated_on_the_feed_is_wrong_where_water_has_joined() -> None:
    # 2 m3/h of fluidising water joins 6 m3/h of feed: the angle must be read with the solids fraction there
    slurry = Slurry(2.7 * WATER, 150e-6, WATER, WATER_VISCOSITY)
    speed = angular_speed_for(60.0, 0.15)
    feed = volume_fraction(0.45, 2.7, 1.0)
    local, flow = feed * 6.0 / 8.0, 8.0 / 3600.0
    measured = repose(0.15, speed, flow, local, slurry, 0.60).angle
    right = friction_from_angle(measured, 0.15, speed, flow, local, slurry)
    wrong = friction_from_angle(measured, 0.15, speed, 6.0 / 3600.0, feed, slurry)
    assert right == pytest.approx(0.60, rel=1e-9)
    assert wrong < 0.54

"""Numbers of the repose model, pinned: they test its arithmetic, not nature.

They were worked by nested root finding on the documented equations, independent of the program's joint iteration. Those
of the first part are with a slip of 1, where grains in contact keep up with the water and the balance weighs what is
delivered; those of the second with the model's own slip.
Print what the program gives now, in the same order: python -m tests.golden.test_repose_golden
"""

import numpy as np
import pytest

from profiler.physics.slurry import carpet
from profiler.physics.slurry import film as film_room
from profiler.physics.slurry.carpet import PACKED
from profiler.physics.slurry.measured_friction import friction_from_angle
from profiler.physics.slurry.repose import Film, Slurry, repose
from profiler.units import DEGREE, MICRON
from tests.oracles.rotation import angular_speed_for
from tests.oracles.suspension import volume_fraction

WATER, WATER_VISCOSITY = 998.2, 1.0016e-3  # 20 degrees C


def film_of(
    size_um: float = 150.0,
    mass_fraction: float = 0.45,
    radius: float = 0.15,
    flow_m3_h: float = 6.0,
    multiple: float = 60.0,
    friction: float = 0.45,
    relative_density: float = 2.7,
    viscosity: float = WATER_VISCOSITY,
    water_m3_h: float = 0.0,
    lag: bool = False,
    slip: float = 1.0,
) -> Film:
    feed = volume_fraction(mass_fraction, relative_density, 1.0)
    flow = flow_m3_h + water_m3_h
    slurry = Slurry(relative_density * WATER, size_um * MICRON, WATER, viscosity)
    speed = angular_speed_for(multiple, radius)
    return repose(radius, speed, flow / 3600.0, feed * flow_m3_h / flow, slurry, friction, lag=lag, slip=slip)


def degrees(**conditions: float) -> float:
    return float(film_of(**conditions).angle / DEGREE)  # type: ignore[arg-type]


# radius m, flow m3/h, mass fraction, size um | angle deg (full), at friction 0.32 and 0.63 | F, depth mm, velocity m/s
BOWLS = [
    (0.15, 6.0, 0.30, 75, 5.5103813942804205, 4.28, 7.17, 0.883, 0.846, 2.09),
    (0.15, 6.0, 0.30, 150, 5.960780894100752, 4.61, 7.80, 0.949, 0.900, 1.96),
    (0.15, 6.0, 0.30, 300, 6.4901585172422465, 5.07, 8.42, 0.976, 0.975, 1.81),
    (0.15, 6.0, 0.45, 75, 7.548992987718297, 5.76, 9.96, 0.871, 0.763, 2.32),
    (0.15, 6.0, 0.45, 150, 8.199149381327903, 6.22, 10.88, 0.944, 0.813, 2.18),
    (0.15, 6.0, 0.45, 300, 8.793842836706553, 6.72, 11.61, 0.974, 0.887, 1.99),
    (0.15, 6.0, 0.60, 75, 9.537500326553863, 7.21, 12.66, 0.863, 0.714, 2.48),
    (0.15, 6.0, 0.60, 150, 10.386101440473317, 7.80, 13.87, 0.940, 0.760, 2.33),
    (0.15, 6.0, 0.60, 300, 11.033950807684302, 8.32, 14.69, 0.972, 0.832, 2.13),
    (0.60, 100.0, 0.30, 75, 4.9749464968644155, 3.89, 6.43, 0.804, 2.007, 3.67),
    (0.60, 100.0, 0.30, 150, 5.550741234360691, 4.29, 7.27, 0.911, 2.086, 3.53),
    (0.60, 100.0, 0.30, 300, 5.950073276821486, 4.59, 7.80, 0.956, 2.229, 3.31),
    (0.60, 100.0, 0.45, 75, 6.773686270069533, 5.21, 8.86, 0.784, 1.803, 4.09),
    (0.60, 100.0, 0.45, 150, 7.673255885806132, 5.82, 10.18, 0.901, 1.870, 3.94),
    (0.60, 100.0, 0.45, 300, 8.211924169480778, 6.22, 10.92, 0.952, 2.006, 3.67),
    (0.60, 100.0, 0.60, 75, 8.516024500230257, 6.49, 11.20, 0.770, 1.678, 4.39),
    (0.60, 100.0, 0.60, 150, 9.746951391102492, 7.32, 13.00, 0.894, 1.736, 4.24),
    (0.60, 100.0, 0.60, 300, 10.424000337182582, 7.81, 13.94, 0.948, 1.864, 3.95),
]


@pytest.mark.parametrize("row", BOWLS)
def test_angles_of_two_bowls_without_lag(row: tuple[float, ...]) -> None:
    radius, flow, mass_fraction, size, angle, low, high, contact, depth_mm, velocity = row
    at = {"radius": radius, "flow_m3_h": flow, "mass_fraction": mass_fraction, "size_um": size}
    film = film_of(**at)  # type: ignore[arg-type]
    assert film.angle / DEGREE == pytest.approx(angle, rel=1e-9)
    assert degrees(**at, friction=0.32) == pytest.approx(low, abs=0.0051)  # printed to two decimals
    assert degrees(**at, friction=0.63) == pytest.approx(high, abs=0.0055)
    assert film.contact_fraction == pytest.approx(contact, abs=0.00051)
    assert film.depth * 1e3 == pytest.approx(depth_mm, abs=0.00051)
    assert film.velocity == pytest.approx(velocity, abs=0.0051)


def test_one_film_without_lag_to_every_printed_digit() -> None:
    film = film_of()
    assert film.delivered_fraction == pytest.approx(0.232558, abs=5e-7)
    assert film.in_place_fraction == film.delivered_fraction
    assert film.reynolds == pytest.approx(4363, abs=0.5)
    assert film.friction_factor == pytest.approx(0.10194, abs=5e-6)
    assert film.depth * 1e3 == pytest.approx(0.81285, abs=5e-6)
    assert film.velocity == pytest.approx(2.17554, abs=6e-6)
    assert film.contact_fraction == pytest.approx(0.943992, abs=5e-7)
    assert film.slope / DEGREE == pytest.approx(7.2443, abs=5e-5)
    assert film.angle / DEGREE == pytest.approx(8.1991, abs=6e-5)
    assert film.lag == 0.0
    assert film.lag_angle == 0.0


# radius m, multiple of g, flow m3/h | without lag: angle deg, V, V/(w r) | with: L, a'/a, b deg, angle deg, V, depth mm
LAGGING = [
    (0.150, 60.0, 6.0, 8.20, 2.18, 0.23, 0.108, 0.796, 28.2, 7.50, 1.89, 0.94),
    (0.095, 38.0, 6.0, 8.46, 2.30, 0.39, 0.281, 0.516, 48.8, 7.25, 1.46, 1.91),
    (0.600, 60.0, 100.0, 7.67, 3.94, 0.21, 0.090, 0.827, 26.0, 7.11, 3.49, 2.11),
    (0.600, 60.0, 300.0, 7.23, 6.10, 0.32, 0.193, 0.651, 38.4, 6.16, 4.58, 4.83),
    (0.600, 60.0, 478.0, 7.02, 7.31, 0.39, 0.258, 0.551, 45.0, 5.68, 4.85, 7.27),
    (0.463, 46.0, 478.0, 7.05, 7.40, 0.51, 0.427, 0.328, 64.5, 5.75, 2.95, 15.5),
]


def lagging_row(radius: float, multiple: float, flow: float) -> list[float]:
    bare = film_of(radius=radius, multiple=multiple, flow_m3_h=flow)
    film = film_of(radius=radius, multiple=multiple, flow_m3_h=flow, lag=True)
    rim_speed = angular_speed_for(multiple, radius) * radius
    field = film.acceleration / bare.acceleration
    found = [bare.angle / DEGREE, bare.velocity, bare.velocity / rim_speed, film.lag, field, film.lag_angle / DEGREE]
    return [float(x) for x in (*found, film.angle / DEGREE, film.velocity, film.depth * 1e3)]


@pytest.mark.parametrize("row", LAGGING)
def test_films_that_lag(row: tuple[float, ...]) -> None:
    half_digits = (0.005, 0.005, 0.005, 0.0005, 0.0005, 0.05, 0.005, 0.005, 0.05 if row[-1] > 10.0 else 0.005)
    for found, printed, half in zip(lagging_row(*row[:3]), row[3:], half_digits, strict=True):
        assert found == pytest.approx(printed, abs=1.01 * half)


SENSITIVITIES = [  # about one film, without lag: what is varied, to which values, angles in degrees
    ("multiple", (30, 60, 100, 150), (8.97, 8.20, 7.95, 7.86)),
    ("flow_m3_h", (3, 12), (8.48, 7.94)),
    ("relative_density", (2.7, 3.0, 3.2), (8.20, 8.70, 8.99)),
    ("viscosity", (0.8e-3, 2e-3, 5e-3), (8.23, 8.12, 7.97)),
    ("mass_fraction", (0.2, 0.3, 0.4, 0.5, 0.6), (4.43, 5.96, 7.46, 8.93, 10.39)),
    ("size_um", (50, 75, 150, 300, 500), (6.88, 7.55, 8.20, 8.79, 9.62)),
    ("friction", (0.32, 0.40, 0.50, 0.63), (6.22, 7.44, 8.95, 10.88)),
    ("water_m3_h", (0, 1, 2, 4, 6), (8.20, 7.43, 6.81, 5.87, 5.19)),  # dilution by fluidising water
]


@pytest.mark.parametrize(("name", "values", "angles"), SENSITIVITIES)
def test_sensitivities(name: str, values: tuple[float, ...], angles: tuple[float, ...]) -> None:
    assert [degrees(**{name: value}) for value in values] == pytest.approx(angles, abs=0.0051)


@pytest.mark.parametrize(("decay", "angle"), [(0.0, 8.61), (0.0184, 7.86)])
def test_choice_of_contact_decay_moves_the_angle_little(
    decay: float, angle: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(carpet, "CONTACT_DECAY", decay)
    assert degrees() == pytest.approx(angle, abs=0.0051)


@pytest.mark.parametrize(("shields", "angle"), [(0.0, 7.82), (0.05, 8.45)])
def test_choice_of_threshold_moves_the_angle_little(
    shields: float, angle: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(carpet, "critical_shields", lambda number: np.full_like(number, shields))
    monkeypatch.setattr(carpet, "critical_shields_slope", np.zeros_like)
    assert degrees() == pytest.approx(angle, abs=0.0051)


@pytest.mark.parametrize("grains", [1.0, 3.0, 5.0])
def test_roughness_hardly_moves_the_angle(grains: float, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(film_room, "ROUGHNESS_GRAINS", grains)
    assert degrees() == pytest.approx(8.20, abs=0.0051)


# measured angle deg | friction | angle it predicts at mass fraction 0.30 and 0.60, deg
CALIBRATIONS = [(6.0, 0.3056, 4.46, 7.51), (8.0, 0.4368, 5.82, 10.13), (10.0, 0.5704, 7.19, 12.73)]


def calibrated(measured: float, slip: float = 1.0) -> float:
    slurry = Slurry(2.7 * WATER, 150 * MICRON, WATER, WATER_VISCOSITY)
    at = (0.15, angular_speed_for(60.0, 0.15), 6.0 / 3600.0, volume_fraction(0.45, 2.7, 1.0))
    return float(friction_from_angle(measured * DEGREE, *at, slurry, lag=False, slip=slip))


@pytest.mark.parametrize(("measured", "friction", "thinner", "thicker"), CALIBRATIONS)
def test_one_measured_angle_fixes_the_friction(
    measured: float, friction: float, thinner: float, thicker: float
) -> None:
    found = calibrated(measured)
    assert found == pytest.approx(friction, abs=5.1e-5)
    assert degrees(friction=found, mass_fraction=0.30) == pytest.approx(thinner, abs=0.0051)
    assert degrees(friction=found, mass_fraction=0.60) == pytest.approx(thicker, abs=0.0051)


def test_finest_grains_settle_back_as_the_speed_rises() -> None:
    assert degrees(size_um=20.0) == pytest.approx(3.84, abs=0.0051)
    assert degrees(size_um=20.0, multiple=200.0) == pytest.approx(4.74, abs=0.0051)


# with the model's own slip: grains in contact at 0.6 of the water's speed, friction 0.45, 0.60, 0.80

# friction, lag sought | slope deg, angle deg, V m/s, depth mm, F, in place by volume, L; "-" where not worked by hand
IN_PLACE = [
    (0.45, False, 9.2167, 10.1715, 2.40426, 0.73552, 0.93829, 0.33002, 0.0),
    (0.60, False, 12.0707, 13.0255, 2.59254, 0.68211, 0.93362, 0.32960, 0.0),
    (0.80, False, 15.7567, 16.7115, 2.79044, 0.63373, 0.92874, 0.32915, 0.0),
    (0.45, True, None, 9.3202, 2.09007, 0.84609, None, None, 0.1150),
    (0.60, True, None, 11.7562, 2.22208, 0.79583, None, None, 0.1285),
    (0.80, True, None, 14.8507, 2.35384, 0.75128, None, None, 0.1437),
]


@pytest.mark.parametrize("row", IN_PLACE)
def test_films_that_weigh_the_grains_in_place(row: tuple[float, ...]) -> None:
    friction, lag, *printed = row
    film = film_of(friction=friction, lag=bool(lag), slip=carpet.SLIP)
    found = (
        film.slope / DEGREE, film.angle / DEGREE, film.velocity, film.depth * 1e3, film.contact_fraction,
        film.in_place_fraction, film.lag,
    )  # fmt: skip
    # the angle was printed as the sum of slope and tilt, each rounded
    half_digits = (5e-5, 1e-4, 5e-6, 5e-6, 5e-6, 5e-6, 5e-5)
    for value, wanted, half in zip(found, printed, half_digits, strict=True):
        assert wanted is None or value == pytest.approx(wanted, abs=1.01 * half)


# mass fraction | small bowl then large, at 75, 150, 300 um: angle at friction 0.60 (0.45, 0.80), lag sought
LAGGED_IN_PLACE = [
    (0.20, (6.26, 5.09, 7.76), (6.87, 5.54, 8.59), (7.47, 6.04, 9.31),
     (5.72, 4.67, 7.06), (6.50, 5.23, 8.14), (7.01, 5.62, 8.81)),
    (0.30, (8.18, 6.59, 10.19), (9.03, 7.20, 11.36), (9.73, 7.78, 12.25),
     (7.46, 6.03, 9.24), (8.59, 6.84, 10.82), (9.26, 7.35, 11.72)),
    (0.45, (10.60, 8.49, 13.25), (11.76, 9.32, 14.85), (12.60, 9.98, 15.93),
     (9.66, 7.78, 12.01), (11.24, 8.91, 14.20), (12.12, 9.56, 15.40)),
    (0.60, (12.66, 10.11, 15.83), (14.03, 11.09, 17.73), (14.96, 11.81, 18.94),
     (11.54, 9.27, 14.34), (13.46, 10.64, 17.00), (14.50, 11.40, 18.41)),
]  # fmt: skip
SIZED_BOWLS = [(r, q, d) for r, q in ((0.15, 6.0), (0.60, 100.0)) for d in (75.0, 150.0, 300.0)]


@pytest.mark.parametrize("row", LAGGED_IN_PLACE)
def test_angles_of_two_bowls_with_lag_and_slip(row: tuple[float, tuple[float, ...]]) -> None:
    mass_fraction, *wanted = row
    for (radius, flow, size), angles in zip(SIZED_BOWLS, wanted, strict=True):
        at = {"radius": radius, "flow_m3_h": flow, "size_um": size, "mass_fraction": mass_fraction}
        found = [degrees(**at, friction=mu, lag=True, slip=carpet.SLIP) for mu in (0.60, 0.45, 0.80)]
        assert found == pytest.approx(angles, abs=0.0051)  # printed to two decimals


@pytest.mark.parametrize(
    ("conditions", "angle", "lag"),
    [
        ({"radius": 0.60, "flow_m3_h": 100.0}, 11.240, 0.1093),
        ({"radius": 0.60, "flow_m3_h": 300.0}, 9.518, 0.2294),
        ({"radius": 0.60, "flow_m3_h": 478.0}, 8.615, 0.3013),
        ({"radius": 0.095, "multiple": 38.0}, 10.742, 0.3191),
    ],
)
def test_large_flows_and_a_floor_lag_much(conditions: dict[str, float], angle: float, lag: float) -> None:
    film = film_of(**conditions, friction=0.60, lag=True, slip=carpet.SLIP)  # type: ignore[arg-type]
    assert film.angle / DEGREE == pytest.approx(angle, abs=0.00051)
    assert film.lag == pytest.approx(lag, abs=5.1e-5)


SLIPPING = [  # about one film at friction 0.60: what is varied, to which values, angles in degrees, lag sought
    ("water_m3_h", (0, 1, 2, 4, 6), (11.76, 10.74, 9.90, 8.57, 7.59), True),
    ("slip", (0.4, 0.6, 0.8, 1.0), (14.97, 13.03, 11.57, 10.44), False),
    ("multiple", (30, 60, 100), (13.73, 13.03, 12.81), False),
    ("flow_m3_h", (3, 6, 12), (13.37, 13.03, 12.69), False),
    ("size_um", (50, 150, 300, 500), (10.98, 13.03, 13.74, 14.65), False),
]


@pytest.mark.parametrize(("name", "values", "angles", "lag"), SLIPPING)
def test_sensitivities_with_slip(name: str, values: tuple[float, ...], angles: tuple[float, ...], lag: bool) -> None:
    at = {"friction": 0.60, "lag": lag, "slip": carpet.SLIP}
    assert [degrees(**(at | {name: value})) for value in values] == pytest.approx(angles, abs=0.0051)


@pytest.mark.parametrize(("decay", "angle"), [(0.0, 13.65), (0.0184, 12.50)])
def test_choice_of_contact_decay_moves_the_angle_with_slip(
    decay: float, angle: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(carpet, "CONTACT_DECAY", decay)
    assert degrees(friction=0.60, slip=carpet.SLIP) == pytest.approx(angle, abs=0.0051)


CALIBRATIONS_IN_PLACE = [(8.0, 0.3383, 6.18, 9.55), (11.0, 0.4931, 8.38, 13.21), (14.0, 0.6521, 10.60, 16.85)]


@pytest.mark.parametrize(("measured", "friction", "thinner", "thicker"), CALIBRATIONS_IN_PLACE)
def test_one_measured_angle_fixes_the_friction_in_place(
    measured: float, friction: float, thinner: float, thicker: float
) -> None:
    found = calibrated(measured, slip=carpet.SLIP)
    assert found == pytest.approx(friction, abs=5.1e-5)
    assert degrees(friction=found, mass_fraction=0.30, slip=carpet.SLIP) == pytest.approx(thinner, abs=0.0051)
    assert degrees(friction=found, mass_fraction=0.60, slip=carpet.SLIP) == pytest.approx(thicker, abs=0.0051)


# What the program gave to every digit while its balance weighed the delivered fraction: radius m, rad/s, m3/s, C,
# solids kg/m3, size m, viscosity Pa s, friction, lag sought | angle rad, depth m, L, F
FORMER = [
    (
        0.3045,
        97.306,
        0.02444,
        0.1358,
        2961.0,
        0.001458,
        0.0003045,
        1.01,
        True,
        0.24354531872083254,
        0.0018946251470181507,
        0.11976970639330842,
        0.9831981409693843,
    ),
    (
        0.5006,
        39.896,
        0.007494,
        0.1609,
        2816.0,
        0.0001266,
        0.001241,
        0.731,
        True,
        0.16371884214603957,
        0.0008524485913036673,
        0.04464742641523114,
        0.9197937565106554,
    ),
    (
        0.8884,
        48.705,
        0.1026,
        0.4948,
        2689.0,
        2.494e-05,
        0.001681,
        0.196,
        True,
        0.03559196049680948,
        0.0031396874702922014,
        0.044731949395303124,
        0.3533021871189464,
    ),
    (
        0.05543,
        128.63,
        0.0001948,
        0.4611,
        4014.0,
        0.0001877,
        0.001214,
        0.41,
        True,
        0.23713318786083168,
        0.00038522686883046126,
        0.09714139335238696,
        0.9792068209301178,
    ),
    (
        0.1084,
        159.01,
        0.0009105,
        0.4282,
        4047.0,
        0.0006878,
        0.0003881,
        0.718,
        True,
        0.45908813286760836,
        0.00034833097392518176,
        0.1127898710679102,
        0.9892488714590763,
    ),
    (
        0.217,
        110.89,
        0.001841,
        0.3111,
        2190.0,
        9.125e-05,
        0.0007444,
        0.308,
        True,
        0.08520132083768601,
        0.0004921783674070277,
        0.028022165368193887,
        0.9480959904042437,
    ),
    (
        0.5293,
        33.983,
        0.1882,
        0.3073,
        3936.0,
        0.0003805,
        0.002012,
        0.308,
        True,
        0.1188549586108198,
        0.01130091750448046,
        0.3519043099831812,
        0.880095007207493,
    ),
    (
        0.1785,
        47.455,
        0.001506,
        0.07545,
        5097.0,
        3.409e-05,
        0.001986,
        0.465,
        True,
        0.09965300821482681,
        0.0008850816195232182,
        0.10261733925353891,
        0.6395555918968544,
    ),
    (
        0.6254,
        47.749,
        0.005311,
        0.4272,
        5024.0,
        0.001734,
        0.00149,
        0.303,
        False,
        0.5224127505876442,
        0.0003795328855869173,
        0.0,
        0.9939925077347254,
    ),
    (
        0.08721,
        190.37,
        0.0007166,
        0.1149,
        4829.0,
        0.0003884,
        0.00149,
        0.545,
        False,
        0.2971693952831548,
        0.0003348094007886465,
        0.0,
        0.9898263527990762,
    ),
    (
        0.164,
        49.502,
        0.0002375,
        0.4418,
        3497.0,
        0.0002273,
        0.0007426,
        0.939,
        False,
        0.5073212176475365,
        0.00022099882810612163,
        0.0,
        0.9835354468296664,
    ),
    (
        0.05378,
        105.46,
        2.464e-05,
        0.08776,
        5095.0,
        0.0004259,
        0.001001,
        0.7,
        False,
        0.7157857757901196,
        8.183679826314393e-05,
        0.0,
        0.9948512311766927,
    ),
    (
        0.6231,
        29.711,
        0.0436,
        0.3513,
        3137.0,
        0.0001931,
        0.002583,
        1.1,
        False,
        0.403411942235266,
        0.0017961090617660503,
        0.0,
        0.8502858462486798,
    ),
    (
        0.07737,
        203.8,
        4.541e-05,
        0.3839,
        4594.0,
        2.182e-05,
        0.0009749,
        1.01,
        False,
        0.5241196515791869,
        7.125917794587923e-05,
        0.0,
        0.9413322765436527,
    ),
    (
        0.05211,
        157.25,
        0.0007754,
        0.2711,
        4323.0,
        3.638e-05,
        0.0005244,
        0.531,
        False,
        0.22380584403760606,
        0.0005407492280998143,
        0.0,
        0.8556108090180722,
    ),
    (
        0.08398,
        81.154,
        0.004114,
        0.2995,
        3088.0,
        4.705e-05,
        0.004369,
        0.617,
        False,
        0.09207505777337076,
        0.0021083881815432575,
        0.0,
        0.3017390117461559,
    ),
]


@pytest.mark.parametrize("row", FORMER)
def test_a_slip_of_one_gives_the_balance_of_the_delivered_fraction_to_every_digit(row: tuple[float, ...]) -> None:
    radius, speed, flow, fraction, solids, size, viscosity, friction, lag, *printed = row
    slurry = Slurry(solids, size, WATER, viscosity)
    film = repose(radius, speed, flow, fraction, slurry, friction, lag=bool(lag), slip=1.0)
    excess = solids / WATER - 1.0
    load = max(fraction, PACKED) * excess
    most = friction * load / (1.0 + load)
    if np.tan(film.slope) > (1.0 - 1e-9) * most * np.cos(film.lag_angle):  # the former law let it rise without limit
        assert printed[0] > film.angle and size > 0.1 * film.depth
        return
    found = [film.angle, film.depth, film.lag, film.contact_fraction]
    assert [float(x) for x in found] == pytest.approx(printed, rel=1e-12)


def test_few_of_those_rows_stand_where_a_bed_holds_no_more() -> None:
    """Rows whose former slope needed more grains than a bed packs to: coarse ones, under films a few grains deep."""
    kept = 0
    for radius, speed, flow, fraction, solids, size, viscosity, friction, lag, angle, *_ in FORMER:
        slurry = Slurry(solids, size, WATER, viscosity)
        film = repose(radius, speed, flow, fraction, slurry, friction, lag=bool(lag), slip=1.0)
        kept += float(film.angle) == pytest.approx(angle, rel=1e-12)
    assert kept >= len(FORMER) - 3


def _print_all() -> None:
    for radius, flow, mass_fraction, size, *_ in BOWLS:
        film = film_of(radius=radius, flow_m3_h=flow, mass_fraction=mass_fraction, size_um=size)
        print(radius, flow, mass_fraction, size, repr(float(film.angle / DEGREE)))
    for row in LAGGING:
        print(row[:3], [round(x, 5) for x in lagging_row(*row[:3])])
    for name, values, _ in SENSITIVITIES:
        print(name, [round(degrees(**{name: value}), 4) for value in values])
    for measured, *_ in CALIBRATIONS:
        print(measured, round(calibrated(measured), 6))


if __name__ == "__main__":
    _print_all()

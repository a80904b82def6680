"""Numbers of the repose model, pinned: they test its arithmetic, not nature.

They were worked by nested root finding on the documented equations, independent of the program's joint iteration.
Print what the program gives now, in the same order: python -m tests.golden.test_repose_golden
"""

import numpy as np
import pytest

from profiler.physics.slurry import film as film_room
from profiler.physics.slurry import repose as model
from profiler.physics.slurry.repose import Film, Slurry, friction_from_angle, repose
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
) -> Film:
    feed = volume_fraction(mass_fraction, relative_density, 1.0)
    flow = flow_m3_h + water_m3_h
    slurry = Slurry(relative_density * WATER, size_um * MICRON, WATER, viscosity)
    speed = angular_speed_for(multiple, radius)
    return repose(radius, speed, flow / 3600.0, feed * flow_m3_h / flow, slurry, friction, lag=lag)


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
    assert film.solids_fraction == pytest.approx(0.232558, abs=5e-7)
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
    monkeypatch.setattr(model, "CONTACT_DECAY", decay)
    assert degrees() == pytest.approx(angle, abs=0.0051)


@pytest.mark.parametrize(("shields", "angle"), [(0.0, 7.82), (0.05, 8.45)])
def test_choice_of_threshold_moves_the_angle_little(
    shields: float, angle: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(model, "critical_shields", lambda number: np.full_like(number, shields))
    monkeypatch.setattr(model, "critical_shields_slope", np.zeros_like)
    assert degrees() == pytest.approx(angle, abs=0.0051)


@pytest.mark.parametrize("grains", [1.0, 3.0, 5.0])
def test_roughness_hardly_moves_the_angle(grains: float, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(film_room, "ROUGHNESS_GRAINS", grains)
    assert degrees() == pytest.approx(8.20, abs=0.0051)


# measured angle deg | friction | angle it predicts at mass fraction 0.30 and 0.60, deg
CALIBRATIONS = [(6.0, 0.3056, 4.46, 7.51), (8.0, 0.4368, 5.82, 10.13), (10.0, 0.5704, 7.19, 12.73)]


def calibrated(measured: float) -> float:
    slurry = Slurry(2.7 * WATER, 150 * MICRON, WATER, WATER_VISCOSITY)
    at = (0.15, angular_speed_for(60.0, 0.15), 6.0 / 3600.0, volume_fraction(0.45, 2.7, 1.0))
    return float(friction_from_angle(measured * DEGREE, *at, slurry, lag=False))


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

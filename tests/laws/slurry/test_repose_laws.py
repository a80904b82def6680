"""Laws of the repose model: its equations hold, no better lag exists, monotony, and how arrays are treated."""

from dataclasses import fields

import numpy as np
import pytest

from profiler.physics.rotor import rotation
from profiler.physics.slurry.measured_friction import friction_from_angle
from profiler.physics.slurry.repose import Film, Slurry, repose
from profiler.units import DEGREE, GRAVITY, MICRON
from tests.laws.slurry.films import WATER, Sample, anywhere, at_most, corners, imbalance, turning_surplus, usual


@pytest.mark.parametrize("sample", [usual(), corners()], ids=["usual", "corners"])
@pytest.mark.parametrize("lag", [True, False])
def test_documented_equations_hold_wherever_the_wall_carries(sample: Sample, lag: bool) -> None:
    film = sample.film(lag=lag)
    slope, pull, turning = imbalance(sample, film)
    at = film.carried
    assert np.mean(at) > 0.6
    assert np.max(np.abs(slope[at])) < 1e-9
    assert np.max(np.abs(pull[at])) < 1e-9
    assert film.depth * film.velocity == pytest.approx(sample.flow / (2.0 * np.pi * sample.radius), rel=1e-12)
    if lag:
        assert np.max(np.abs(film.lag * (1.0 - film.lag) / turning - 1.0)[at]) < 1e-9
        assert np.all(film.lag[at] < 0.5)  # the smaller of the two roots
        sideways = film.lag * sample.speed * sample.radius
        assert film.velocity * np.tan(film.lag_angle) == pytest.approx(sideways, rel=1e-9)
        field = sample.speed**2 * sample.radius * (1.0 - film.lag) ** 2
        assert film.acceleration == pytest.approx(field, rel=1e-12)


SETTLES = [(1000, 40), (1000, 41)]  # points and seed
SETTLES_LONG = [(20_000, seed) for seed in range(50, 55)]


@pytest.mark.parametrize(("count", "seed"), SETTLES)
def test_the_film_is_found_wherever_it_was_found_without_slip(count: int, seed: int) -> None:
    found_wherever_it_was(anywhere(count, seed))


@pytest.mark.long
@pytest.mark.parametrize(("count", "seed"), SETTLES_LONG)
def test_the_film_is_found_at_a_hundred_thousand_points(count: int, seed: int) -> None:
    found_wherever_it_was(anywhere(count, seed))


def found_wherever_it_was(sample: Sample) -> None:
    """The equations hold, at the film's lag or at the lag it is held at; and no lag is missed that there was.

    At one friction a film that weighs its grains in place is steeper and faster than one that weighs fewer, so here and
    there the wall no longer carries it: then an independent search finds no lag either.
    """
    for lag in (False, True):
        film = sample.film(lag=lag)
        with np.errstate(divide="ignore", invalid="ignore"):  # without a bed there is no slope
            slope, pull, turning = imbalance(sample, film)
        bed, shallow = film.has_bed, film.depth < sample.radius
        assert np.max(np.abs(slope[bed & shallow])) < 1e-9
        assert np.max(np.abs(pull[bed & shallow])) < 1e-9
        at = bed & film.carried
        assert np.mean(at) > 0.7  # so that it is said of most of them
        if lag:
            assert np.max(np.abs(film.lag * (1.0 - film.lag) / turning - 1.0)[at]) < 1e-8
            lost = np.flatnonzero(bed & ~film.carried & sample.film(slip=1.0).carried)
            assert len(lost) < 0.02 * len(bed)
            for index in lost:
                lags = np.linspace(0.01, 0.49, 25)
                assert not any(turning_surplus(sample, int(index), float(share)) > 0.0 for share in lags), index


def test_lag_is_held_at_one_half_where_none_satisfies() -> None:
    sample = corners()
    film = sample.film()
    slope, pull, turning = imbalance(sample, film)
    lost = ~film.carried
    assert np.mean(lost) > 0.1
    assert np.all(film.lag[lost] == 0.5)
    thin = lost & (film.depth < sample.radius)
    assert np.max(np.abs(slope[thin])) < 1e-10
    assert np.max(np.abs(pull[thin])) < 1e-10
    assert np.all(turning[thin] >= 0.25)  # L (1 - L) cannot reach it


def test_no_lag_satisfies_where_the_wall_is_said_not_to_carry() -> None:
    # independent of the program's iteration: at many lags, slope and pull by a general root finder, then the turning
    sample = corners()
    film = sample.film()
    for index in np.flatnonzero(~film.carried)[:6]:
        short = [lag for lag in np.linspace(0.01, 0.5, 25) if turning_surplus(sample, int(index), float(lag)) > 0.0]
        assert not short
    for index in np.flatnonzero(film.carried)[:6]:
        found = float(film.lag[index])
        assert turning_surplus(sample, int(index), min(1.02 * found, 0.5)) > 0.0
        assert turning_surplus(sample, int(index), 0.98 * found) < 0.0


@pytest.mark.parametrize("sample", [usual(), corners()], ids=["usual", "corners"])
@pytest.mark.parametrize("lag", [True, False])
def test_every_number_is_finite_and_quiet(sample: Sample, lag: bool) -> None:
    film = sample.film(lag=lag)
    for field in fields(Film):
        value = getattr(film, field.name)
        assert value.shape == sample.radius.shape
        assert np.all(np.isfinite(value)), field.name
    assert np.all(film.depth > 0.0)
    assert np.all(film.depth <= sample.radius)
    assert np.all(film.angle >= rotation.tilt(film.acceleration))


def test_without_lag_the_film_turns_with_the_bowl() -> None:
    film = usual().film(lag=False)
    assert np.all(film.lag == 0.0)
    assert np.all(film.lag_angle == 0.0)
    assert film.acceleration == pytest.approx(usual().speed ** 2 * usual().radius, rel=1e-14)


def test_warm_start_changes_nothing_but_the_time() -> None:
    sample = usual()
    start = sample.film()
    moved = Sample(
        1.01 * sample.radius, sample.speed, 1.03 * sample.flow, sample.fraction, sample.slurry, sample.friction
    )
    cold = moved.film()
    arguments = (moved.radius, moved.speed, moved.flow, moved.fraction, moved.slurry, moved.friction)
    warm = repose(*arguments, start=start)
    assert np.array_equal(warm.carried, cold.carried)
    assert warm.angle == pytest.approx(cold.angle, rel=1e-9)
    calm = cold.carried & (cold.lag < 0.15)  # three passes are enough there, from conditions some per cent away
    few = repose(*arguments, start=start, passes=3)
    assert few.angle[calm] == pytest.approx(cold.angle[calm], rel=1e-7)


@pytest.mark.parametrize("lag", [True, False])
def test_friction_from_the_predicted_angle_is_the_friction(lag: bool) -> None:
    sample = usual()
    film = sample.film(lag=lag)
    found = sample.friction_from(film.angle, lag)
    little = film.lag < 0.15  # beyond, two frictions may give one angle
    assert np.mean(little) > 0.5
    assert found[little] == pytest.approx(sample.friction[little], rel=1e-7)


def test_friction_from_an_angle_reproduces_it_even_where_the_film_lags_much() -> None:
    sample = usual()
    angle = sample.film().angle
    found = sample.friction_from(angle, lag=True)
    sense = np.isfinite(found)
    assert np.mean(sense) > 0.98
    again = repose(sample.radius, sample.speed, sample.flow, sample.fraction, sample.slurry, found)
    carried = sense & again.carried
    assert again.angle[carried] == pytest.approx(angle[carried], rel=1e-9)


def test_angle_at_the_tilt_of_the_level_surface_tells_no_friction() -> None:
    slurry = Slurry(2700.0, 150e-6, WATER, 1e-3)
    tilt = rotation.tilt(rotation.acceleration(60.0, 0.15))
    angles = np.array([0.5, 1.0]) * tilt
    for lag in (True, False):
        assert np.all(np.isnan(friction_from_angle(angles, 0.15, 60.0, 2e-3, 0.2, slurry, lag=lag)))
        assert np.isnan(friction_from_angle(0.12, 0.15, 60.0, 2e-3, 0.02, slurry, lag=lag))  # no bed


SWEEPS = {  # about the same film, one thing at a time
    "fraction": np.linspace(0.05, 0.45, 60),
    "solids": np.linspace(2200.0, 5200.0, 60),
    "friction": np.linspace(0.15, 1.4, 60),
    "size": np.geomspace(20e-6, 2000e-6, 120),
    "flow": np.geomspace(0.2, 50.0, 120) / 3600.0,
    "viscosity": np.geomspace(0.8e-3, 20e-3, 120),
    "speed": np.sqrt(np.geomspace(20.0, 200.0, 60) * GRAVITY / 0.15),
}


def swept(name: str, lag: bool, size: float = 150.0 * MICRON) -> Film:
    values = {
        "fraction": 0.2326, "solids": 2695.0, "friction": 0.60, "size": size, "flow": 6.0 / 3600.0,
        "viscosity": 1.0016e-3, "speed": np.sqrt(60.0 * GRAVITY / 0.15),
    } | {name: SWEEPS[name]}  # fmt: skip
    slurry = Slurry(values["solids"], values["size"], WATER, values["viscosity"])
    return repose(0.15, values["speed"], values["flow"], values["fraction"], slurry, values["friction"], lag=lag)


@pytest.mark.parametrize("lag", [True, False])
@pytest.mark.parametrize("name", ["fraction", "solids", "friction", "size"])
def test_angle_rises_with_solids_density_friction_and_size(name: str, lag: bool) -> None:
    film = swept(name, lag)
    assert np.all(film.carried)
    rising = np.diff(film.angle) > 0.0
    if name == "size" and not lag:  # until the slope is all that a bed holds
        most = SWEEPS["size"] > 1e-3
        assert np.all(rising | most[1:]) and np.ptp(film.angle[-16:]) < 1e-12
    else:
        assert np.all(rising)


@pytest.mark.parametrize("name", ["flow", "viscosity"])
def test_angle_falls_with_flow_and_viscosity(name: str) -> None:
    assert np.all(np.diff(swept(name, lag=False).angle) < 0.0)


def test_angle_falls_with_flow_until_lag_lets_the_level_surface_lean() -> None:
    film = swept("flow", lag=True)
    little = film.lag < 0.15
    assert 0.3 < np.mean(little) < 1.0
    assert np.all(np.diff(film.angle[little]) < 0.0)
    assert np.all(np.diff(film.lag) >= 0.0)


@pytest.mark.parametrize("size_um", [75.0, 100.0, 150.0, 300.0])
def test_angle_of_sand_falls_with_speed_to_a_hundred_times_gravity_when_nothing_lags(size_um: float) -> None:
    film = swept("speed", lag=False, size=size_um * MICRON)
    field = SWEEPS["speed"] ** 2 * 0.15 / GRAVITY
    assert np.all(np.diff(film.angle)[field[1:] <= 100.0] < 0.0)


@pytest.mark.parametrize("size_um", [20.0, 50.0, 75.0, 100.0, 150.0, 300.0, 500.0])
@pytest.mark.parametrize("lag", [True, False])
def test_angle_has_a_lowest_speed_for_every_size(size_um: float, lag: bool) -> None:
    # silt settles back into the bed as the field grows; under coarse grains the film becomes too thin to shift them
    film = swept("speed", lag=lag, size=size_um * MICRON)
    rising = np.diff(film.angle) > 0.0
    lowest = float((SWEEPS["speed"] ** 2)[np.argmin(film.angle)]) * 0.15 / GRAVITY
    assert not lag or not 75.0 <= size_um <= 300.0 or 45.0 < lowest < 90.0  # with lag, where such bowls run
    assert not rising[0]
    assert rising[-1]
    assert np.count_nonzero(np.diff(rising.astype(int))) == 1


def test_angle_rises_with_friction_size_and_density_over_the_whole_range() -> None:
    sample = usual()
    angle = sample.film(lag=False).angle
    grain = sample.slurry
    liquid = (grain.liquid_density, grain.liquid_viscosity)
    heavier = Slurry(1.02 * grain.solids_density, grain.grain_size, *liquid)
    coarser = Slurry(grain.solids_density, 1.02 * grain.grain_size, *liquid)
    at = (sample.radius, sample.speed, sample.flow, sample.fraction)
    assert np.all(repose(*at, heavier, sample.friction, lag=False).angle > angle)
    most = at_most(sample, sample.film(lag=False))  # neither size nor flow tells there
    assert np.mean(most) < 0.1
    assert np.all((repose(*at, coarser, sample.friction, lag=False).angle > angle) | most)
    assert np.all(repose(*at, grain, 1.02 * sample.friction, lag=False).angle > angle)
    at = (sample.radius, sample.speed, 1.02 * sample.flow, sample.fraction)
    assert np.all((repose(*at, grain, sample.friction, lag=False).angle < angle) | most)


def test_a_dilute_slurry_is_eased_from_the_tilt_to_the_slope_of_a_bed() -> None:
    slurry = Slurry(2700.0, 150e-6, WATER, 1e-3)
    film = repose(0.15, 60.0, 2e-3, np.array([0.0, 1e-6, 0.0099, 0.02, 0.03, 0.0301]), slurry, 0.45)
    assert film.has_bed.tolist() == [False, False, False, True, True, True]
    tilt = rotation.tilt(film.acceleration)
    assert film.angle[:3] == pytest.approx(tilt[:3], rel=1e-14)
    assert film.angle[3] == pytest.approx(tilt[3] + 0.5 * film.slope[3], rel=1e-12)
    assert film.angle[4:] == pytest.approx(tilt[4:] + film.slope[4:], rel=1e-12)
    assert np.all(film.slope > 0.0) and np.all(film.lag[1:] > 0.0) and np.all(np.isfinite(film.depth))
    fine = repose(0.15, 60.0, 2e-3, np.geomspace(1e-4, 0.1, 2001), slurry, 0.45)
    coarse = fine.angle[::2]
    assert np.max(np.abs(np.diff(fine.angle))) < 0.7 * np.max(np.abs(np.diff(coarse)))  # no jump
    assert np.max(np.abs(np.diff(fine.lag))) < 0.7 * np.max(np.abs(np.diff(fine.lag[::2])))


def test_senseless_points_become_nan_and_disturb_no_other() -> None:
    slurry = Slurry(2700.0, 150e-6, WATER, 1e-3)
    radius = np.array([0.15, 0.0, -0.15, np.nan, np.inf, 0.15])
    flow = np.array([2e-3, 2e-3, 2e-3, 2e-3, 2e-3, 0.0])
    film = repose(radius, 60.0, flow, 0.2, slurry, 0.45)
    alone = repose(0.15, 60.0, 2e-3, 0.2, slurry, 0.45)
    assert film.angle[0] == pytest.approx(alone.angle, rel=1e-12)
    assert np.all(np.isnan(film.angle[1:]))
    assert np.all(np.isnan(friction_from_angle(0.12, radius, 60.0, flow, 0.2, slurry)[1:]))
    for bad in (np.nan, -1.0, 0.0):
        assert np.isnan(repose(0.15, 60.0, 2e-3, 0.2, Slurry(2700.0, bad, WATER, 1e-3), 0.45).angle)
        assert np.isnan(repose(0.15, bad * 0.0 if bad else bad, 2e-3, 0.2, slurry, np.nan).angle)


def test_arguments_broadcast_and_each_point_stands_alone() -> None:
    radius = np.linspace(0.14, 0.21, 7)
    friction = np.array([0.32, 0.45, 0.63])[:, None]
    density = np.array([2600.0, 2900.0])[:, None, None]
    slurry = Slurry(density, 120e-6, WATER, 1e-3)
    film = repose(radius, 62.0, 2e-3, 0.18, slurry, friction)
    for field in fields(Film):
        assert getattr(film, field.name).shape == (2, 3, 7), field.name
    single = repose(float(radius[4]), 62.0, 2e-3, 0.18, Slurry(2900.0, 120e-6, WATER, 1e-3), 0.63)
    assert film.angle[1, 2, 4] == pytest.approx(single.angle, rel=1e-12)
    assert film.angle[1, 2, 4] / DEGREE > film.angle[1, 0, 4] / DEGREE

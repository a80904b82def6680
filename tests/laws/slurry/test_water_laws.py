"""Laws of water, holes and what grooves hold: closed forms, symmetries, monotony."""

import numpy as np
import pytest

from profiler.geometry.groove_capacity import contents_polygon, turned_volume
from profiler.physics.grains import fluidising
from profiler.physics.grains import real_grains as grains
from profiler.physics.water import hole_flow, jacket
from profiler.units import GRAVITY

WATER, VISCOSITY = 998.2, 1.0016e-3
SPEED = np.array([60.0])
DENSITY, THIN = np.array([WATER]), np.array([VISCOSITY])
GROOVE = np.array([[[0.2, 0.1], [0.212, 0.1], [0.212, 0.11], [0.2, 0.11]]])  # square cut, 10 by 12 mm


def rings(n: int = 6, **members: float) -> jacket.Rings:
    given = {"count": 24.0, "diameter": 1.2e-3, "length": 6e-3} | members
    radius, height = np.linspace(0.16, 0.22, n), np.linspace(0.02, 0.3, n)
    return jacket.Rings(radius, height, *(np.full(n, given[k]) for k in ("count", "diameter", "length")))


def balanced(r: jacket.Rings, water: float, resisting: float = 18e3, **supply: float) -> jacket.Jacket:
    s = jacket.Supply(np.array([water]), 0.06, 0.0, **supply)
    return jacket.balance(r, s, SPEED, np.full((1, len(r.radius)), resisting), DENSITY, THIN)


@pytest.mark.parametrize("water", [0.0, 1e-5, 1e-3, 1e-2])
def test_ring_flows_add_up_to_the_supply(water: float) -> None:
    found = balanced(rings(), water)
    assert float(found.flow.sum()) == pytest.approx(water, abs=1e-12 * float(np.abs(found.flow).sum()))
    assert found.supplied == pytest.approx(water)


def test_each_ring_flows_as_its_holes_do_alone() -> None:
    r = rings()
    found = balanced(r, 1.5e-3)
    drive = found.pressure[0] - found.back_pressure[0]
    alone = hole_flow.hole_velocity(drive, r.diameter, r.length, WATER, VISCOSITY) * r.area
    assert found.flow[0] == pytest.approx(alone, rel=1e-6)


def test_a_start_near_by_gives_the_same_balance_in_three_rounds() -> None:
    r = rings()
    near, s = balanced(r, 1.4e-3), jacket.Supply(np.array([1.5e-3]), 0.06, 0.0)
    again = jacket.balance(r, s, SPEED, np.full((1, 6), 18e3), DENSITY, THIN, near, 3)
    assert again.flow == pytest.approx(balanced(r, 1.5e-3).flow, rel=1e-6)


def test_twice_the_holes_take_the_same_water_at_less_pressure() -> None:
    one, two = balanced(rings(count=24.0), 1.5e-3), balanced(rings(count=48.0), 1.5e-3)
    assert float(two.inlet_pressure[0]) < float(one.inlet_pressure[0])
    assert float(two.flow.sum()) == pytest.approx(float(one.flow.sum()), rel=1e-12)


def test_equal_rings_share_equally() -> None:
    n = 5
    r = jacket.Rings(*(np.full(n, v) for v in (0.2, 0.1, 24.0, 1e-3, 5e-3)))
    assert balanced(r, 1e-3).flow[0] == pytest.approx(np.full(n, 2e-4), rel=1e-10)


def test_pressure_in_a_full_jacket_is_that_of_solid_rotation() -> None:
    r = rings()
    found = balanced(r, 3e-3)
    assert np.isnan(found.free_surface[0])
    head = 0.5 * WATER * SPEED[0] ** 2 * (r.radius**2 - 0.06**2) - WATER * GRAVITY * r.height
    assert found.pressure[0] == pytest.approx(float(found.inlet_pressure[0]) + head, rel=1e-12)


def test_more_supply_never_lowers_any_ring_and_a_heavier_bed_asks_for_pressure() -> None:
    waters = np.geomspace(1e-4, 1e-2, 12)
    flows = np.array([balanced(rings(), float(w)).flow[0] for w in waters])
    assert np.all(np.diff(flows, axis=0) > 0.0)
    pressures = [float(balanced(rings(), 1e-3, p).inlet_pressure[0]) for p in (5e3, 20e3, 40e3)]
    assert pressures == sorted(pressures)


def test_a_supply_curve_caps_the_flow_only_where_it_is_met() -> None:
    free = balanced(rings(), 1e-3)
    ample = balanced(rings(), 1e-3, still_pressure=500e3, open_flow=0.02)
    weak = balanced(rings(), 1e-2, still_pressure=10e3, open_flow=2e-3)
    assert ample.flow == pytest.approx(free.flow, rel=1e-9)
    p, q = float(weak.inlet_pressure[0]), float(weak.supplied[0])
    assert q == pytest.approx(2e-3 * np.sqrt(1.0 - p / 10e3), rel=1e-9)


def test_back_pressure_is_that_of_film_and_bed() -> None:
    found = jacket.back_pressure(60.0, 0.21, 0.198, 0.002, 1400.0, 1956.0)
    film = 0.5 * 1400.0 * 3600.0 * (0.198**2 - 0.196**2)
    bed = 0.5 * 1956.0 * 3600.0 * (0.21**2 - 0.198**2)
    assert found == pytest.approx(film + bed, rel=1e-12)


def test_heavier_coarser_and_faster_spun_grains_need_more_water() -> None:
    base = {"grain_size": 1e-4, "solids_density": 2700.0, "acceleration": 60.0 * GRAVITY}
    for name in base:
        at = [
            np.array(
                fluidising.minimum_velocities(
                    liquid_density=WATER, liquid_viscosity=VISCOSITY, **base | {name: base[name] * k}
                )
            )
            for k in (1.0, 1.5, 2.0)
        ]
        assert np.all(at[0] < at[1]) and np.all(at[1] < at[2])


def test_heavier_never_settles_slower_and_crowding_always_slows() -> None:
    sizes = np.geomspace(2e-6, 2e-3, 40)
    light, heavy = (grains.flake_velocity(sizes, d, WATER, VISCOSITY, 700.0, 0.4) for d in (9000.0, 17500.0))
    assert np.all(heavy > light) and np.all(np.diff(light) > 0.0)
    alone = grains.sand_velocity(sizes, 2700.0, WATER, VISCOSITY, 700.0)
    crowded = [grains.hindered(alone, sizes, c, WATER, VISCOSITY) for c in (0.0, 0.1, 0.3)]
    assert crowded[0] == pytest.approx(alone)
    assert np.all(crowded[1] < crowded[0]) and np.all(crowded[2] < crowded[1])
    assert np.all(np.diff(crowded[2]) > 0.0)  # so that a size can be sought from a velocity


def test_a_square_groove_holds_its_ring_by_pappus() -> None:
    assert turned_volume(contents_polygon(GROOVE, GROOVE[:, 0], np.zeros(1)))[0] == pytest.approx(
        2.0 * np.pi * 0.206 * 1.2e-4, rel=1e-12
    )


@pytest.mark.parametrize(
    ("fall", "left", "centre"),
    [
        (0.006, 1.2e-4 - 0.5 * 0.01 * 0.006, None),  # a triangle is missing
        (0.012, 0.5 * 1.2e-4, 0.208),  # half of it: the line runs from corner to corner
        (0.024, 0.25 * 1.2e-4, 0.208),  # the line meets the floor half-way
    ],
)
def test_the_beds_own_slope_is_taken_off_what_a_groove_holds(fall: float, left: float, centre: float | None) -> None:
    polygon = contents_polygon(GROOVE, GROOVE[:, 0], np.array([fall]))
    following = np.roll(polygon, -1, axis=-2)
    cross = polygon[..., 0] * following[..., 1] - following[..., 0] * polygon[..., 1]
    assert 0.5 * float(np.abs(np.sum(cross))) == pytest.approx(left, rel=1e-12)
    if centre is not None:
        assert turned_volume(polygon)[0] == pytest.approx(2.0 * np.pi * centre * left, rel=1e-9)


def test_twice_the_lengths_hold_eight_times_the_volume() -> None:
    fall = np.array([0.004])
    one, two = (float(turned_volume(contents_polygon(k * GROOVE, k * GROOVE[:, 0], k * fall))[0]) for k in (1.0, 2.0))
    assert two == pytest.approx(8.0 * one, rel=1e-12)


def test_a_higher_overfall_never_holds_more() -> None:
    falls = np.linspace(-0.01, 0.05, 40)
    held = [float(turned_volume(contents_polygon(GROOVE, GROOVE[:, 0], np.array([f])))[0]) for f in falls]
    assert np.all(np.diff(held) <= 1e-18)

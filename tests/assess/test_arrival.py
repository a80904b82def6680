"""Arrival at the wall and the bands of the water's velocity, in whole bowls; figures of parts and of the end thrust."""

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess import Evaluation, evaluate
from profiler.assess.quantities.catch_quantities import CATCH_QUANTITIES
from profiler.assess.quantities.groove_card import groove_card
from profiler.assess.quantities.part_figures import part_figures
from profiler.assess.quantities.table import QUANTITIES, quantity
from profiler.study import GrooveRule, Knot, WallCurve
from profiler.study.files import examples
from profiler.units import RPM

STUDY = examples.read("watered")


def worked(**members: object) -> Evaluation:
    return evaluate(STUDY.design, STUDY.machine, replace(STUDY.duty, **members))


def test_grains_of_the_arriving_size_just_all_arrive_in_a_film_that_is_not_mixed() -> None:
    sizes = quantity("arrival_um").get(worked())
    for groove in (0, 5, 11):
        just, under = (worked(target_um=k * float(sizes[groove])) for k in (1.0001, 0.9))
        assert quantity("arrived").get(just)[groove] == pytest.approx(1.0, abs=1e-9)
        assert 0.6 < quantity("arrived").get(under)[groove] < 0.95


@pytest.mark.parametrize("size_um", [1.0, 4.0, 12.0, 50.0])
def test_arrival_grows_up_the_wall_and_a_mixed_film_brings_less(size_um: float) -> None:
    e = worked(target_um=size_um)
    mixed, plug = (quantity(key).get(e) for key in ("arrived_mixed", "arrived"))
    assert np.all(np.diff(mixed) > -1e-12) and np.all(np.diff(plug) > -1e-12)
    assert np.all((mixed > 0.0) & (mixed <= plug) & (plug <= 1.0))
    assert np.all(plug - mixed <= np.exp(-1.0) + 1e-12)  # the two laws part most where v A = Q


def test_the_wetted_wall_of_an_exposed_cone_is_a_frustum() -> None:
    wall = WallCurve((Knot(0.0, 14.5), Knot(330.0, 14.5)), lip_radius_mm=217.6)
    grooves = GrooveRule(count=12, from_mm=8.0, to_mm=322.0, mouth_mm=1.0, depth_mm=1.0, floor_radius_mm=0.1,
                         edge_radius_mm=0.05)  # fmt: skip
    e = evaluate(replace(STUDY.design, wall=wall, grooves=grooves), STUDY.machine, STUDY.duty)
    assert e.shape is not None and e.catch is not None and e.flow is not None
    assert np.all(e.flow.groove_buried == 0.0)
    middle = e.shape.mouths.middle * 1e-3
    low, high = e.shape.floor_radius * 1e-3, e.shape.wall.radius_at(e.shape.mouths.middle) * 1e-3
    frustum = np.pi * (low + high) * np.hypot(middle, high - low)
    assert e.catch.arrival.wetted[0, 1:] == pytest.approx(frustum[1:], rel=0.01)  # mouths of 1 mm are bridged by beds


def test_a_bed_that_nearly_fills_the_bowl_leaves_no_odd_numbers() -> None:
    wall = WallCurve((Knot(0.0, 0.0), Knot(330.0, -30.0)), lip_radius_mm=120.0)
    body = replace(STUDY.design.body, fill_seat=False)
    e = evaluate(replace(STUDY.design, wall=wall, body=body), STUDY.machine, replace(STUDY.duty, friction=0.6))
    if e.catch is None or e.flow is None:
        pytest.fail("the bowl could not be worked out")
    assert e.flow.bed.radius[0, 1].min() < 0.07
    reach = e.catch.arrival
    assert np.all(reach.wetted >= 0.0)
    assert np.all((reach.mixed >= 0.0) & (reach.unmixed <= 1.0))


def test_every_velocity_ratio_has_its_band_and_the_card_shows_it() -> None:
    e = worked()
    for key in ("velocity_ratio", "floor_ratio", "dense_ratio"):
        low, middle, high = (quantity(f"{key}{end}").get(e) for end in ("_low", "", "_high"))
        assert np.all((low < middle) & (middle < high)) and np.all(high < 3.0 * low)
        rows = [row for section in groove_card(e, 4) for row in section.rows]
        assert any(row.value == f"{middle[3]:.2f}  ({low[3]:.2f} to {high[3]:.2f})" for row in rows)
    assert np.all(quantity("dense_ratio").get(e) < quantity("velocity_ratio").get(e))


def test_every_figure_of_the_card_tells_the_numbers_that_went_in() -> None:
    for number in range(1, 13):
        rows = [row for section in groove_card(worked(), number) for row in section.rows]
        assert [row.label for row in rows if not row.inputs] == []


def test_how_far_the_last_pass_moved_the_repose_angle_is_told() -> None:
    e = worked()
    assert e.flow is not None
    assert 0.0 <= float(quantity("last_change_deg").get(e)[0]) < 0.05
    assert quantity("last_change_deg").get(e)[0] == pytest.approx(np.degrees(e.flow.water.last_change[0]))


def test_no_figure_of_the_catch_is_a_recovery_or_stands_in_per_cent_but_the_mass_pulled() -> None:
    shares_of_the_feed = {"mass_pull_pct", "fine_pct", "water_unsettled_pct"}  # and of the ring flows
    assert {q.key for q in CATCH_QUANTITIES if q.unit.startswith("%")} <= shares_of_the_feed
    assert not [q.key for q in QUANTITIES if "recover" in q.label.lower()]


def test_parts_apart_and_together_follow_from_each_other() -> None:
    parts = part_figures(worked())
    *apart, dry, whole = parts
    assert len(apart) == 6
    assert sum(p.mass_kg for p in apart) == pytest.approx(whole.mass_kg, rel=1e-12)
    assert sum(p.polar_kg_m2 for p in apart) == pytest.approx(whole.polar_kg_m2, rel=1e-12)
    assert sum(p.mass_kg * p.centre_mm for p in apart) == pytest.approx(whole.mass_kg * whole.centre_mm, rel=1e-9)
    moved = (p.transverse_kg_m2 + p.mass_kg * (1e-3 * (p.centre_mm - whole.centre_mm)) ** 2 for p in apart)
    assert sum(moved) == pytest.approx(whole.transverse_kg_m2, rel=1e-9)  # Steiner; any mechanics text
    assert [p.label for p in apart[:3]] == ["bowl", "shell", "hub and shaft, as typed"]
    assert dry.mass_kg == pytest.approx(sum(p.mass_kg for p in apart[:3]), rel=1e-12)
    assert part_figures(evaluate(STUDY.design, replace(STUDY.machine, shell_mm=-1.0), STUDY.duty)) == ()


def test_the_bowls_factor_at_overspeed_is_that_of_a_bowl_so_much_faster_with_its_slurry_where_it_lay() -> None:
    machine = replace(STUDY.machine, overspeed_factor=1.3)
    e = evaluate(examples.read("graded").design, machine, STUDY.duty)
    at_speed, over = (quantity(key).get(e)[0] for key in ("bowl_factor", "bowl_overspeed_factor"))
    assert at_speed / over == pytest.approx(1.69, rel=1e-12)
    faster = evaluate(e.design, machine, replace(STUDY.duty, speed_rpm=1.3 * STUDY.duty.speed_rpm))
    assert quantity("bowl_factor").get(faster)[0] == pytest.approx(over, rel=0.02)  # its bed moves a little


def test_the_end_thrust_is_the_pressure_summed_over_floor_and_flange() -> None:
    e = worked()
    assert e.spin is not None and e.shape is not None
    speed, inlet = STUDY.duty.speed_rpm * RPM, e.spin.inlet
    foot = float(e.shape.shell.outer.radius[0])
    seat = np.array([(p.height_mm, p.radius_mm) for p in STUDY.machine.seat])
    rim = float(np.interp(e.shape.shell.outer.height[-1] - e.shape.shell.underside, seat[:, 0], seat[:, 1]))
    ends = (e.shape.shell.hub_radius, foot, rim)
    for key, inner, outer in zip(("thrust_floor_kn", "thrust_flange_kn"), ends, ends[1:], strict=False):
        edges = np.linspace(inner, outer, 20001) * 1e-3
        r = 0.5 * (edges[1:] + edges[:-1])
        pressure = inlet.pressure[0] + 0.5 * inlet.density[0] * speed**2 * (r**2 - inlet.radius**2)
        force = float(np.sum(np.maximum(pressure, 0.0) * 2.0 * np.pi * r * np.diff(edges)))
        assert quantity(key).get(e)[0] * 1e3 == pytest.approx(force, rel=1e-6)  # a sum over 20 000 rings
    floor, flange, whole = (quantity(k).get(e)[0] for k in ("thrust_floor_kn", "thrust_flange_kn", "thrust_kn"))
    assert floor + flange == pytest.approx(whole, rel=1e-12) and floor > 0.0

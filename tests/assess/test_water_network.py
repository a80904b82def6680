"""The water of a whole bowl: what each groove gets through its holes, and how that follows bed, speed and supply."""

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess import Evaluation, Severity, Stages, evaluate
from profiler.assess.quantities.table import quantity
from profiler.explore.hole_plan import propose
from profiler.output.terminal.check_json import check_of
from profiler.study import Design, HoleChange, HolePlan, Machine
from profiler.study.files import examples
from profiler.study.files.drills import read_drills, shipped_drills
from profiler.study.files.hole_makings import read_makings, shipped_makings
from profiler.study.records.holes import HOLE_MAKING
from profiler.units import LITRE_PER_MINUTE, MM

WATERED = examples.read("watered")
DESIGN, MACHINE, DUTY = WATERED.design, WATERED.machine, WATERED.duty
GRADED = examples.read("graded")
TOO_HIGH = replace(GRADED.design, grooves=replace(GRADED.design.grooves, to_mm=346.0))  # the last one behind the flange


def with_holes(design: Design = DESIGN, **members: object) -> Design:
    return replace(design, holes=replace(design.holes, **members))


def worked(design: Design = DESIGN, machine: Machine = MACHINE, **duty: object) -> Evaluation:
    return evaluate(design, machine, replace(DUTY, **duty))


def codes(e: Evaluation, severity: Severity | None = None) -> set[str]:
    return {f.code for f in e.findings if severity in (None, f.severity)}


@pytest.mark.parametrize("water", [3.0, 30.0, 70.0, 150.0, 600.0])
@pytest.mark.parametrize("plan", [DESIGN.holes, HolePlan(12, 3.0), HolePlan(60, 0.3), HolePlan(1, 1.0)])
def test_the_rings_take_all_of_the_supply_and_no_more(plan: HolePlan, water: float) -> None:
    e = worked(replace(DESIGN, holes=plan), water_l_min=water)
    assert e.flow is not None
    total = float(e.flow.water.total[0])
    turned_over = float(np.sum(np.abs(e.flow.water.ring[0])))
    assert float(np.sum(e.flow.water.ring[0])) == pytest.approx(total, abs=1e-9 * turned_over)
    assert total <= water * LITRE_PER_MINUTE * (1.0 + 1e-12)


@pytest.mark.parametrize("inlet_mm", [60.0, 160.0, 200.0, 215.0])
@pytest.mark.parametrize("supply_kpa", [5.0, 20.0, 120.0])
def test_a_jacket_with_a_dry_ring_is_part_full_wherever_its_water_enters(inlet_mm: float, supply_kpa: float) -> None:
    """Its water stands between the rings that are dry and those that are not; and no sentence speaks of no number."""
    machine = replace(MACHINE, jacket_inlet_mm=inlet_mm, supply_kpa=supply_kpa, supply_l_min=400.0)
    e = worked(machine=machine)
    assert e.shape is not None and e.shape.holes is not None and e.flow is not None and e.flow.water.jacket is not None
    jacket, radius = e.flow.water.jacket, e.shape.holes.rings.radius
    level = float(jacket.free_surface[0])
    if jacket.dry.any():
        assert radius[jacket.dry[0]].max() < level + 1e-3 and level < radius[~jacket.dry[0]].min() + 1e-3
    else:
        assert np.isnan(level) or float(jacket.inlet_pressure[0]) < 0.0
    assert not any("nan" in f.text for f in e.findings)


@pytest.mark.parametrize("name", ["As designed", "Thick and coarse"])
def test_what_is_still_to_settle_is_what_more_passes_move(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Rings that run back swing: two shifts alike do not say how the next will be."""
    duty = next(d for d in WATERED.duties if d.name == name)
    asked = [replace(duty, water_l_min=water) for water in (4.0, 6.35, 7.7, 10.25, 13.95, 18.0, 25.0, 40.0)]

    def rings() -> tuple[np.ndarray, np.ndarray]:
        water = evaluate(DESIGN, MACHINE, asked, Stages.FLOW).flow.water  # type: ignore[union-attr]
        return water.ring, water.unsettled

    usual, claimed = rings()
    monkeypatch.setattr("profiler.assess.flow.flow_stage.MOST_PASSES", 60)
    monkeypatch.setattr("profiler.assess.flow.flow_stage.SETTLED", 1e-8)
    final, _ = rings()
    moved = np.max(np.abs(final - usual), axis=1) / np.mean(np.abs(usual), axis=1)
    assert np.all(moved < 1.5e-3) and np.all(moved < 2.0 * claimed + 2e-4)


def test_a_bowl_without_grooves_takes_no_water_and_no_power_for_it() -> None:
    smooth = replace(DESIGN, grooves=replace(DESIGN.grooves, count=0))
    wet, dry = worked(smooth), worked(smooth, water_l_min=0.0)
    assert wet.flow is not None and float(wet.flow.water.total[0]) == 0.0
    assert quantity("feed_power_kw").get(wet) == quantity("feed_power_kw").get(dry)
    assert np.isnan(quantity("fill_min").get(wet)).all()


def test_a_groove_whose_bed_grows_gets_less_water_and_the_others_more() -> None:
    """An upright top buries the upper grooves; the plan, the supply and the lower wall stay as they are."""
    plan = HolePlan(32, 0.8)
    knots = DESIGN.wall.knots
    steeper = (*knots[:-2], replace(knots[-2], angle_deg=2.0), knots[-1])
    open_top = worked(replace(DESIGN, holes=plan))
    shut = worked(replace(DESIGN, holes=plan, wall=replace(DESIGN.wall, knots=steeper)))
    assert open_top.flow is not None and shut.flow is not None
    grown = shut.flow.groove_buried[0] - open_top.flow.groove_buried[0]
    most = int(np.argmax(grown))
    assert grown[most] > 2.0 * MM
    before, after = open_top.flow.water.ring[0], shut.flow.water.ring[0]
    assert after[most] < before[most]
    assert float(np.sum(after)) == pytest.approx(float(np.sum(before)), rel=1e-12)


def test_one_groove_more_deeply_buried_draws_less_at_the_same_inlet_pressure() -> None:
    e = worked()
    assert e.flow is not None and e.flow.water.jacket is not None
    jacket = e.flow.water.jacket
    thick = worked(solids_pct=58.0, d50_um=220.0)
    assert thick.flow is not None and thick.flow.water.jacket is not None
    assert np.all(thick.flow.water.jacket.back_pressure > jacket.back_pressure)
    assert float(thick.flow.water.jacket.inlet_pressure[0]) > float(jacket.inlet_pressure[0])


def test_slurry_that_runs_back_is_an_error_and_never_a_zero() -> None:
    e = worked(with_holes(count=32, diameter_mm=2.5, changes=()), water_l_min=40.0)
    assert e.flow is not None
    ring = e.flow.water.ring[0]
    back = np.flatnonzero(ring < 0.0) + 1
    assert len(back) and np.all(ring != 0.0)
    named = {g for f in e.findings if f.code in ("backflow", "ring_dry") for g in f.grooves}
    assert named == set(back.tolist())
    assert {f.severity for f in e.findings if f.code in ("backflow", "ring_dry")} == {Severity.STOP}
    assert [g.water_l_min for g in check_of(e).grooves or ()] == pytest.approx((ring / LITRE_PER_MINUTE).tolist())


def test_a_jacket_part_full_shows_where_its_water_stands_and_which_rings_are_dry() -> None:
    e = worked(with_holes(count=60, diameter_mm=4.0, changes=()), water_l_min=30.0)
    assert e.flow is not None and e.flow.water.jacket is not None and e.shape is not None and e.shape.holes is not None
    jacket, rings = e.flow.water.jacket, e.shape.holes.rings
    level = float(jacket.free_surface[0])
    dry = jacket.dry[0]
    assert dry.any() and not dry.all()
    tilt = 9.80665 * (rings.height - e.shape.holes.inlet_height) / float(e.flow.feed.angular_speed[0]) ** 2
    assert np.array_equal(dry, rings.radius**2 - 2.0 * tilt < level**2)  # the free surface is a paraboloid
    row = check_of(e).water
    assert row is not None and row.free_surface_mm == pytest.approx(level / MM) and row.dry_rings == int(dry.sum())
    assert {"ring_dry", "jacket_part_full"} <= codes(e)


def test_water_off_drives_slurry_round_through_the_holes() -> None:
    e = worked()
    assert e.catch is not None and e.catch.moments is not None
    off = e.catch.moments.flow[0, -1]
    assert off.min() < 0.0 < off.max()
    assert float(np.sum(off)) == pytest.approx(0.0, abs=1e-12 * float(np.sum(np.abs(off))))
    assert "off_backflow" in codes(e, Severity.NOTE)


def test_dense_grooves_press_harder_than_gangue_and_bare_ones_least() -> None:
    e = worked()
    assert e.catch is not None and e.catch.moments is not None
    bare, running, dense, _ = e.catch.moments.inlet_pressure[0]
    assert bare < running < dense


def test_a_weak_supply_gives_what_it_can_against_the_pressure() -> None:
    weak = replace(MACHINE, supply_kpa=20.0, supply_l_min=60.0)
    e = worked(with_holes(diameter_mm=0.5), machine=weak, water_l_min=500.0)
    assert e.flow is not None and e.flow.water.jacket is not None
    given = float(e.flow.water.total[0]) / LITRE_PER_MINUTE
    pressure = float(e.flow.water.jacket.inlet_pressure[0])
    assert pressure > 0.0 and given == pytest.approx(60.0 * np.sqrt(1.0 - pressure / 20e3), rel=1e-9)
    assert given < 60.0 and "supply_weak" in codes(e, Severity.CHECK)


def test_into_a_jacket_part_full_the_supply_runs_freely_and_is_not_sucked() -> None:
    e = worked(machine=replace(MACHINE, supply_kpa=10.0, supply_l_min=40.0))
    assert e.flow is not None and e.flow.water.jacket is not None
    assert e.flow.water.jacket.inlet_pressure[0] < 0.0
    assert float(e.flow.water.total[0]) == pytest.approx(40.0 * LITRE_PER_MINUTE, rel=1e-12)
    assert float(np.sum(e.flow.water.ring[0])) == pytest.approx(40.0 * LITRE_PER_MINUTE, rel=1e-9)
    found = next(f for f in e.findings if f.code == "supply_weak")
    assert found.text == "The supply gives 40.0 L/min with no pressure against it; 52 L/min are asked for."


def test_without_holes_the_water_is_spread_evenly_and_said_to_be() -> None:
    e = worked(with_holes(count=0, changes=()))
    assert e.flow is not None
    assert e.flow.water.ring[0] == pytest.approx(np.full(12, DUTY.water_l_min / 12 * LITRE_PER_MINUTE), rel=1e-14)
    assert e.flow.water.jacket is None
    assert "water_even" in codes(e, Severity.NOTE)
    row = check_of(e).water
    assert row is not None and row.total_l_min == pytest.approx(DUTY.water_l_min)
    assert row.jacket_kpa is row.free_surface_mm is row.dry_rings is None
    assert {g.hole_count for g in check_of(e).grooves or ()} == {None}


def test_a_single_hole_in_one_ring_is_a_plan() -> None:
    e = worked(with_holes(count=0, changes=(HoleChange(3, 40, 2.0),)))
    assert e.flow is not None
    assert np.flatnonzero(e.flow.water.ring[0]).tolist() == [2]
    assert float(e.flow.water.ring[0, 2]) == pytest.approx(DUTY.water_l_min * LITRE_PER_MINUTE, rel=1e-12)
    assert "ring_without_holes" in codes(e, Severity.CHECK)


def test_with_every_hole_stopped_up_no_groove_gets_water() -> None:
    e = worked(with_holes(count=32, changes=tuple(HoleChange(place, 0) for place in range(1, 13))))
    assert e.flow is not None
    assert not e.flow.water.ring.any() and not e.flow.water.total.any()
    assert [f.grooves for f in e.findings if f.code == "ring_without_holes"] == [tuple(range(1, 13))]
    row = check_of(e).water
    assert row is not None and (row.total_l_min, row.jacket_kpa) == (0.0, None)


def test_duties_worked_together_get_the_same_water_as_each_alone() -> None:
    duties = (
        *WATERED.duties,
        replace(DUTY, name="off", water_l_min=0.0),
        replace(DUTY, name="flood", water_l_min=900.0),
    )
    together = evaluate(DESIGN, MACHINE, duties, Stages.FLOW | Stages.CATCH)
    assert together.flow is not None and together.catch is not None
    for i, duty in enumerate(duties):
        alone = evaluate(DESIGN, MACHINE, duty, Stages.FLOW | Stages.CATCH)
        assert alone.flow is not None and alone.catch is not None
        scale = float(np.max(np.abs(alone.flow.water.ring)))
        assert together.flow.water.ring[i] == pytest.approx(alone.flow.water.ring[0], abs=1e-6 * scale)
        assert together.catch.kept[i] == pytest.approx(alone.catch.kept[0], rel=1e-5, nan_ok=True)


def test_the_water_settles_within_the_passes() -> None:
    for study in (WATERED, GRADED):
        for duty in study.duties:
            e = evaluate(study.design, study.machine, duty)
            assert e.flow is not None and "water_unsettled" not in codes(e)


def test_a_wider_hole_of_one_ring_takes_water_from_the_rest() -> None:
    wider = with_holes(changes=(*DESIGN.holes.changes[:0], HoleChange(5, 40, 1.2)))
    even = with_holes(changes=())
    a, b = worked(even).flow, worked(wider).flow
    assert a is not None and b is not None
    more = b.water.ring[0] > a.water.ring[0]
    assert np.flatnonzero(more).tolist() == [4]


@pytest.mark.parametrize(
    ("code", "members"),
    [
        ("hole_spacing", {"count": 4}),
        ("hole_ligament", {"count": 600}),
        ("hole_strainer", {"diameter_mm": 0.3}),
        ("hole_short", {"count": 3, "diameter_mm": 12.0}),
        ("hole_wide", {"count": 3, "diameter_mm": 12.0}),
    ],
)
def test_a_hole_that_breaks_a_rule_is_named_with_its_numbers(code: str, members: dict[str, float]) -> None:
    e = worked(with_holes(changes=(), **members))
    found = [f for f in e.findings if f.code == code]
    assert found and all(f.grooves and f.value is not None and f.limit is not None and f.source for f in found)


def test_a_groove_behind_the_flange_has_no_jacket() -> None:
    e = evaluate(replace(TOO_HIGH, holes=HolePlan(24, 1.0)), GRADED.machine, GRADED.duty)
    assert [f.grooves for f in e.findings if f.code == "hole_no_jacket"] == [(14,)]


def test_a_proposal_brings_every_ring_into_its_window_with_drills_of_the_list() -> None:
    bare = worked(with_holes(count=0, changes=()), water_l_min=70.0)
    answer = propose(bare, (0.6, 0.8, 1.0, 1.5, 2.0))
    ratio = quantity("velocity_ratio").get(answer.evaluation)
    assert not answer.refusals
    assert np.all((ratio > 0.85) & (ratio < 1.1))
    plan = answer.design.holes
    assert {plan.diameter_mm, *(c.diameter_mm for c in plan.changes if c.diameter_mm)} <= {0.6, 0.8, 1.0, 1.5, 2.0}
    assert not codes(answer.evaluation, Severity.STOP)


def test_a_proposal_says_which_ring_cannot_be_and_why() -> None:
    e = evaluate(TOO_HIGH, GRADED.machine, replace(GRADED.duty, water_l_min=90.0))
    answer = propose(e, shipped_drills())
    assert [(r.groove, r.why) for r in answer.refusals] == [(14, "no jacket lies behind it")]
    flood = replace(GRADED.duty, water_l_min=200.0)
    drowned = propose(evaluate(GRADED.design, GRADED.machine, flood), shipped_drills())
    assert len(drowned.refusals) == 14
    assert "ask for" in drowned.sentence
    with pytest.raises(ValueError, match="asks for no water"):
        propose(worked(water_l_min=0.0), shipped_drills())


def test_the_users_drills_are_kept_and_a_broken_list_is_told_in_one_sentence(tmp_path) -> None:
    path = tmp_path / "lists" / "drills.json"
    assert read_drills(path).diameters_mm == shipped_drills()
    path.parent.mkdir()
    path.write_text("[2.0, 1.0, 2.0]")
    assert read_drills(path).diameters_mm == (1.0, 2.0)
    path.write_text('["wide"]')
    broken = read_drills(path)
    assert broken.diameters_mm == shipped_drills() and broken.trouble.count(".") >= 1
    path.write_text("[90.0]")
    assert "must lie between" in read_drills(path).trouble


@pytest.mark.parametrize(
    "duty",
    [{"water_l_min": 0.0}, {"heavy_pct": 0.0}, {"target_um": 1.0}, {"d50_um": 5.0}, {"solids_pct": 1.0},
     {"speed_rpm": 30.0}, {"water_l_min": 20000.0}],
)  # fmt: skip
def test_odd_duties_give_numbers_or_dashes_and_no_exception(duty: dict[str, float]) -> None:
    check = check_of(worked(**duty))
    assert check.grooves is not None and len(check.grooves) == 12


def test_a_coarser_target_is_kept_where_a_finer_one_is_and_the_band_is_ordered() -> None:
    e = worked()
    assert e.catch is not None
    kept, washed = e.catch.kept[0], e.catch.washed[0]
    shown = np.isfinite(kept[0])
    assert shown.any() and not shown.all()  # the sheltered groove exchanges nothing
    for band in (kept, washed):
        assert np.all(np.diff(band[:, shown], axis=0) > 0.0)
    assert np.all(
        kept[:, shown] < washed[:, shown]
    )  # the dense target is kept finer than the gangue that is washed out


def test_more_water_comes_nearer_to_flushing_and_flat_grains_are_kept_later_than_stout_ones() -> None:
    low, high = (worked(water_l_min=w).catch for w in (70.0, 150.0))
    assert low is not None and high is not None
    assert np.all(high.flush_ratio > low.flush_ratio)
    flat, stout = (worked(target_flatness=f).catch for f in (0.2, 0.7))
    assert flat is not None and stout is not None
    shown = np.isfinite(flat.kept[0, 1])
    assert np.all((flat.kept[0, 1] > stout.kept[0, 1])[shown])
    assert np.all(flat.target_velocity < stout.target_velocity)


def test_capacity_is_the_groove_without_what_its_own_bed_leaves_empty() -> None:
    from profiler.geometry.groove_capacity import contents_polygon, rounded_section, turned_volume

    e = worked()
    assert e.catch is not None and e.shape is not None and e.flow is not None
    section, lower = rounded_section(e.shape.contours) * MM, e.shape.contours.corners[:, 0] * MM
    whole = turned_volume(contents_polygon(section, lower, np.zeros(12)))
    falling = e.flow.groove_overfall[0, 1] > 0.0
    assert np.all(e.catch.contents.volume[0][falling] < whole[falling])
    assert e.catch.contents.volume[0][~falling] == pytest.approx(whole[~falling], rel=1e-12)
    total = float(np.sum(e.catch.contents.capacity[0, 1]))
    assert total == pytest.approx(
        0.58 * DUTY.heavy_density_kg_m3 * float(np.sum(e.catch.contents.volume[0])), rel=1e-12
    )
    heavy = DUTY.dry_feed_t_h * 1000.0 / 60.0 * DUTY.heavy_pct / 100.0
    assert float(e.catch.contents.fill_time[0]) / 60.0 == pytest.approx(total / heavy, rel=1e-12)


@pytest.mark.parametrize("way", shipped_makings(), ids=lambda way: way.name)
def test_a_proposal_keeps_what_its_way_of_making_can_do(way) -> None:
    """And what is then wrong is said with its number and limit; rings of equal count do not stand hole over hole."""
    answer = propose(evaluate(HOLE_MAKING.set(GRADED.design, way), GRADED.machine, GRADED.duty), shipped_drills())
    rings = answer.evaluation.shape.holes.rings
    assert float((rings.length / rings.diameter).max()) <= way.deepest
    assert float(rings.diameter.min()) * 1e3 >= way.least_mm - 1e-9
    assert not [f for f in answer.evaluation.findings if f.code in ("hole_deep", "hole_small")]
    assert answer.design.holes.phase_deg > 0.0
    assert not answer.refusals or "mm where 32 mm is the limit" in answer.sentence


def test_a_list_of_ways_that_cannot_be_read_is_told_and_the_shipped_one_used(tmp_path) -> None:
    broken = tmp_path / "ways.json"
    broken.write_text('[{"name": "x", "deepest": -1, "least_mm": 1}]')
    found = read_makings(broken)
    assert found.ways == shipped_makings() and "ways.json is not a list" in found.trouble
    assert not read_makings(tmp_path / "none.json").trouble

"""A bowl fitted to a machine, held against an evaluation that shares no line with the fit, and by shapely."""

from dataclasses import dataclass

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from profiler.assess import Stages, evaluate
from profiler.assess.findings.finding import stops
from profiler.assess.findings.kinds import Topic
from profiler.assess.fitting.fit import MOST_TURN_DEG, Fitting, fit
from profiler.assess.fitting.limits import Limit
from profiler.assess.fitting.starting import fitted_cone
from profiler.geometry.chain import sampled
from profiler.study import Design, Hold, Machine, Placing, SeatPoint
from profiler.study.files import examples

STUDY = examples.read(examples.DEFAULT)
GRADED, CONE, MACHINE = STUDY.designs[0], STUDY.designs[1], STUDY.machine
EXACT_MM = 1e-6


def fitted(design: Design, on: Machine) -> Design:
    return Fitting(design, on)()


def machine(lip: float, height: float, *seat: tuple[float, float], **members: object) -> Machine:
    return replace(
        MACHINE, lip_radius_mm=lip, height_mm=height, seat=tuple(SeatPoint(z, r) for z, r in seat), **members
    )


SMALL = machine(190.0, 260.0, (0.0, 160.0), (200.0, 225.0), (262.0, 227.0))  # invented
NARROW = machine(190.0, 260.0, (0.0, 130.0), (200.0, 215.0), (262.0, 217.0))


def least_jacket_mm(design: Design, on: Machine) -> float:
    """Between the bowl's outside under the flange and the seat, by shapely, from the finished section."""
    shape = evaluate(design, on, STUDY.duty, Stages.FINDINGS).shape
    low = shape.shell.underside
    seat = shapely.LineString([(p.radius_mm, p.height_mm + low) for p in on.seat])
    points = sampled(shape.outline, 0.001)
    outside = [p for p in points if p[1] < shape.shell.flange_underside - 1e-9 and p[0] > shape.floor_radius]
    body = [p for p in outside if p[0] > float(shape.wall.radius_at(max(p[1], 0.0))) + 1.0 and p[1] > low + 1e-9]
    return min(seat.distance(shapely.Point(p)) for p in body)


@dataclass(frozen=True)
class Told:
    lip_mm: float
    height_mm: float
    fit_stops: int


def told(design: Design, on: Machine) -> Told:
    e = evaluate(design, on, STUDY.duty)
    assert e.shape is not None
    found = [f for f in e.findings if f.kind.topic in (Topic.FIT, Topic.MAKING)]
    return Told(e.shape.lip_radius, e.shape.height, stops(found))


@pytest.mark.parametrize("design", STUDY.designs, ids=lambda d: d.name)
def test_lip_height_and_seat_are_met_to_a_millionth_of_a_millimetre(design: Design) -> None:
    if design.name.startswith("Cone under"):
        design = replace(design, grooves=replace(design.grooves, depth_mm=5.0))
    bowl = fitted(design, SMALL)
    found = told(bowl, SMALL)
    assert abs(found.lip_mm - 190.0) < EXACT_MM and abs(found.height_mm - 260.0) < EXACT_MM
    assert found.fit_stops == 0
    assert abs(least_jacket_mm(bowl, SMALL) - SMALL.jacket_gap_mm) < EXACT_MM


def test_angles_are_kept_and_knots_go_in_proportion() -> None:
    bowl = fitted(GRADED, SMALL)
    assert [k.angle_deg for k in bowl.wall.knots] == [k.angle_deg for k in GRADED.wall.knots]
    shares = [k.height_mm / bowl.wall.height_mm for k in bowl.wall.knots]
    assert shares == pytest.approx([k.height_mm / GRADED.wall.height_mm for k in GRADED.wall.knots], abs=1e-6)
    assert bowl.wall.hold is Hold.LIP


def test_a_bowl_that_fits_is_left_as_it_is() -> None:
    bowl = fitted(GRADED, SMALL)
    assert fitted(bowl, SMALL) == bowl
    assert fitted(GRADED, MACHINE).wall == GRADED.wall and fitted(GRADED, MACHINE).grooves == GRADED.grooves


def test_both_ends_held_and_parted_are_joined_by_the_floor_giving_way() -> None:
    held = replace(GRADED, wall=replace(GRADED.wall, floor_radius_mm=100.0))
    assert fitted(held, MACHINE).wall == replace(GRADED.wall, floor_radius_mm=None)


def test_grooves_follow_their_rule_anew_from_both_ends() -> None:
    before, after = (evaluate(d, m, STUDY.duty).shape for d, m in ((CONE, MACHINE), (fitted(CONE, SMALL), SMALL)))
    assert after.mouths.lower_length[0] == before.mouths.lower_length[0]
    tops = [float(s.wall.length[-1] - s.mouths.upper_length[-1]) for s in (before, after)]
    assert tops[0] <= tops[1] + 1e-9 and tops[1] - tops[0] < 0.1 + 1e-9  # to_mm lands on a tenth, never past
    assert float(np.min(after.mouths.lands)) >= CONE.grooves.least_land_mm


@pytest.mark.parametrize("placing", Placing)
def test_every_way_of_placing_is_carried_over(placing: Placing) -> None:
    rule = replace(GRADED.grooves, placing=placing, heights_mm=(40.0, 120.0, 200.0, 290.0), to_mm=320.0, depth_mm=5.0)
    bowl = fitted(replace(GRADED, grooves=rule), SMALL)
    assert told(bowl, SMALL).fit_stops == 0
    if placing is Placing.LISTED:
        assert bowl.grooves.heights_mm == pytest.approx([z * 260 / 330 for z in rule.heights_mm], abs=1e-4)


def test_a_hub_that_binds_is_said_with_its_number_and_turning_is_offered() -> None:
    on = machine(120.0, 330.0)
    wide = replace(GRADED, body=replace(GRADED.body, hub_hole_mm=90.0))
    found = fit(wide, on)
    assert not found.met and found.miss.limit is Limit.HUB
    floor = evaluate(replace(wide, wall=replace(wide.wall, lip_radius_mm=120.0)), on, STUDY.duty)
    stop = next(f for f in floor.findings if f.code == "floor_inside_hub")
    assert found.miss.by_mm == pytest.approx(stop.limit - stop.value)
    assert f"{found.miss.by_mm:.2f} mm inside the hub hole of radius 45 mm" in found.sentence
    for choice in found.choices:
        assert choice.turned_deg < 0.0
        assert told(choice.design, on).fit_stops == 0
        assert f"{-choice.turned_deg:.2f}°" in choice.words


def test_a_least_wall_that_binds_is_met_by_the_least_turn_that_does_it() -> None:
    found = fit(CONE, NARROW)
    assert found.miss.limit is Limit.LEAST_WALL and len(found.choices) == 2
    everywhere, lower = found.choices
    assert 0.0 < everywhere.turned_deg < lower.turned_deg < MOST_TURN_DEG
    for choice in found.choices:
        shape = evaluate(choice.design, NARROW, STUDY.duty).shape
        assert float(np.min(shape.wall_behind)) >= CONE.grooves.least_wall_mm - 1e-9
        # no step of 0.05° too many: one moves the floor by no more than 260 mm x 0.05° = 0.23 mm
        assert float(np.min(shape.wall_behind)) < CONE.grooves.least_wall_mm + 0.23
        assert told(choice.design, NARROW).fit_stops == 0


BAD = {
    "seat narrower than the lip": (machine(260.0, 260.0, (0.0, 160.0), (262.0, 227.0)), Limit.LEAST_WALL),
    "height below zero": (machine(190.0, -5.0), Limit.INPUT),
    "lip radius of nothing": (machine(0.0, 260.0), Limit.INPUT),
    "seat not upward": (machine(190.0, 260.0, (0.0, 160.0), (0.0, 170.0)), Limit.INPUT),
    "seat that ends below": (machine(217.6, 400.0, (0.0, 190.0), (200.0, 240.0), (262.0, 262.0)), Limit.SEAT),
    "deflector across the bowl": (replace(SMALL, deflector_mm=600.0, deflector_height_mm=40.0), Limit.DEFLECTOR),
    "feed pipe across the bowl": (replace(SMALL, feed_pipe_mm=600.0, feed_pipe_end_mm=40.0), Limit.FEED_PIPE),
}


@pytest.mark.parametrize("case", BAD)
def test_what_cannot_be_met_is_one_sentence_and_changes_nothing(case: str) -> None:
    on, limit = BAD[case]
    found = fit(GRADED, on)
    assert found.design is None and found.miss.limit is limit
    assert found.sentence.count("\n") == 0 and "nothing is changed" in found.sentence
    assert limit is Limit.INPUT or found.miss.by_mm > 0.0


def test_a_section_that_no_machine_could_hold_is_named_as_such() -> None:
    crossed = replace(GRADED, grooves=replace(GRADED.grooves, flank_deg=45.0, depth_mm=40.0))
    assert fit(crossed, machine(190.0, 260.0)).miss.limit is Limit.SECTION


@pytest.mark.parametrize("on", [MACHINE, SMALL, NARROW, machine(150.0, 200.0)], ids=lambda m: f"{m.lip_radius_mm:g}")
def test_a_new_cone_starts_fitted(on: Machine) -> None:
    cone = fitted_cone("Plain cone", on)
    assert cone.name == "Plain cone" and told(cone, on).fit_stops == 0


sizes = st.tuples(st.integers(140, 400), st.integers(120, 500), st.integers(15, 60), st.integers(0, 25))


@settings(max_examples=25, deadline=None)
@given(sizes=sizes, design=st.sampled_from(STUDY.designs), gap=st.integers(0, 15))
def test_whatever_is_fitted_is_found_to_fit_and_whatever_is_not_has_its_number(
    sizes: tuple[int, int, int, int], design: Design, gap: int
) -> None:
    lip, height, room, lean = sizes
    top = height + design.body.floor_plate_mm - design.body.flange_mm
    foot = max(lip + room - top * np.tan(np.radians(lean)), 20.0)
    on = machine(float(lip), float(height), (0.0, float(foot)), (top, float(lip + room)), jacket_gap_mm=float(gap))
    found = fit(design, on)
    for bowl in (found.design, *(c.design for c in found.choices)):
        if bowl is None:
            continue
        got = told(bowl, on)
        assert abs(got.lip_mm - lip) < EXACT_MM and abs(got.height_mm - height) < EXACT_MM and got.fit_stops == 0
        assert least_jacket_mm(bowl, on) >= gap - EXACT_MM
        shape = evaluate(bowl, on, STUDY.duty, Stages.FINDINGS).shape
        assert float(np.min(shape.wall_behind)) >= bowl.grooves.least_wall_mm - EXACT_MM
    if found.design is None:
        assert found.miss is not None and (found.miss.by_mm or 1.0) > 0.0

"""The eddy of a groove, from an evaluation: what drives it, the bands of its figures, and what is not claimed."""

from dataclasses import replace
from math import cos, pi, radians, sin

import numpy as np
import pytest
from msgspec.structs import replace as having

from profiler.assess import Evaluation, evaluate
from profiler.assess.eddy import grains_moved
from profiler.assess.eddy.answers import NOT_DRIVEN, Answer, answer, case_of, middle_case
from profiler.assess.eddy.lids import Driving, Lid, Setting, driving, lid_of, section_of
from profiler.assess.flow.flow_stage import LOW, MIDDLE
from profiler.physics.eddy.flow import COARSE, Cause, NoEddy
from profiler.physics.slurry.overturn import State
from profiler.study import SquareTo, Study
from profiler.study.edits.design_edits import plain_cone
from profiler.study.files import examples

STRONG = 3


@pytest.fixture(scope="module")
def study() -> Study:
    return examples.read(examples.DEFAULT)


@pytest.fixture(scope="module")
def graded(study) -> Evaluation:
    return evaluate(study.design, study.machine, study.duty)


@pytest.fixture(scope="module")
def found(graded) -> Answer:
    return answer(graded, STRONG, elements=COARSE)


def lid(e: Evaluation, groove: int = STRONG, loss: float = 0.5) -> Lid:
    made = lid_of(e, groove, loss)
    assert made is not None
    return made


def groove_in(e: Evaluation, state: State) -> int:
    assert e.flow is not None
    return int(np.flatnonzero(e.flow.groove_state[0] == state)[0]) + 1


@pytest.mark.parametrize("loss", [0.2, 0.5, 1.0])
def test_the_lid_is_the_film_after_its_fall(graded, loss):
    """U^2 = V^2 + 2 a' sigma (1 - lambda); W grows by 2 w (1 - L) sigma; K = 2 w m/U (derived)."""
    made, k = lid(graded, loss=loss), STRONG - 1
    level = [1.0, 0.5, 0.2].index(loss)
    film, omega = graded.catch.film, graded.duty.speed_rpm * pi / 30.0
    sigma = graded.flow.groove_overfall[0, MIDDLE, k]
    edge = graded.shape.mouths.lower_radius[k] * 1e-3
    lag = film.lag_speed[0, level, k] / (omega * edge)
    field = omega**2 * edge * (1.0 - lag) ** 2
    assert made.speed**2 == pytest.approx(
        film.velocity[0, level, k] ** 2 + 2.0 * field * sigma * (1.0 - loss), rel=1e-9
    )
    assert made.lag_speed == pytest.approx(film.lag_speed[0, level, k] + 2.0 * omega * (1.0 - lag) * sigma, rel=1e-9)
    drive = made.drive(300.0)
    assert drive.rotation == pytest.approx(2.0 * omega * 8e-3 / made.speed, rel=1e-3)  # an arc's chord for 8 mm
    assert drive.through_flow * made.speed * made.mouth * 2.0 * pi * made.radius == pytest.approx(
        graded.flow.water.ring[0, k]
    )


def test_a_landing_between_the_ends_of_the_band_lies_between_them(graded):
    slow, between, fast = (lid(graded, loss=loss).speed for loss in (1.0, 0.35, 0.2))
    assert slow < between < fast
    with pytest.raises(ValueError, match=r"1\.2; it lies between 0 and 1"):
        lid_of(graded, STRONG, 1.2)


@pytest.mark.parametrize("square_to", list(SquareTo))
def test_the_mouths_frame_keeps_every_corners_radius_and_height(study, square_to):
    """x along the mouth, y toward the axis: the radius is (sin, -cos) of the mouth's angle, the height (cos, sin)."""
    design = having(study.design, grooves=having(study.design.grooves, square_to=square_to, flank_deg=5.0))
    e = evaluate(design, study.machine, study.duty)
    made, corners = lid(e), e.shape.contours.corners[STRONG - 1] * 1e-3
    theta = made.wall_angle
    assert theta == pytest.approx(float(e.shape.wall.angle_at(e.shape.mouths.middle)[STRONG - 1]), abs=1e-3)
    for (x, y), (radius, height) in zip(
        section_of(e.shape, STRONG - 1).groove.corners, corners - corners[0], strict=True
    ):
        assert made.mouth * (x * sin(theta) - y * cos(theta)) == pytest.approx(radius, abs=1e-12)
        assert made.mouth * (x * cos(theta) + y * sin(theta)) == pytest.approx(height, abs=1e-12)


def test_exposed_grooves_are_driven_matched_ones_in_doubt_sheltered_ones_not(graded):
    assert driving(graded, groove_in(graded, State.STRONG)) is Driving.DRIVEN
    assert driving(graded, groove_in(graded, State.WEAK)) is Driving.DRIVEN
    assert driving(graded, groove_in(graded, State.MATCHED)) is Driving.IN_DOUBT
    assert driving(graded, groove_in(graded, State.SHELTERED)) is Driving.NONE


def test_a_sheltered_groove_has_no_figure_but_a_reason(graded):
    said = answer(graded, groove_in(graded, State.SHELTERED))
    assert (said.case, said.lid, said.corners, said.reason) == (None, None, (), NOT_DRIVEN)
    assert said.band(lambda c: c.reach) is None
    assert grains_moved.lifted(graded, said) is None
    assert grains_moved.moving(graded, said).gangue is None


def test_a_matched_groove_is_driven_on_the_side_of_low_friction_and_says_so(graded):
    matched = np.flatnonzero(graded.flow.groove_state[0] == State.MATCHED)
    buried = int(next(k for k in matched if graded.flow.groove_overfall[0, MIDDLE, k] <= 0.0)) + 1
    made = lid(graded, buried)
    assert made.at_low_friction
    assert made.fall == pytest.approx(graded.flow.groove_overfall[0, LOW, buried - 1])
    said = middle_case(graded, buried, Setting())
    assert said.case is not None and any(
        s.startswith("Matched: this is the side of low friction") for s in said.left_out
    )


def test_every_band_holds_its_case_and_is_no_point(found):
    for figure in (
        lambda c: c.reach,
        lambda c: c.still_depth,
        lambda c: c.circulation,
        lambda c: c.turnover,
        lambda c: c.measures.centre[1],
    ):
        band = found.band(figure)
        assert band.low <= figure(found.case) <= band.high
        assert band.low < band.high


def test_the_water_stays_at_least_as_long_as_its_way_past_the_eddy_takes(found):
    stay = found.case.residence
    assert 0.0 < stay.low < stay.high
    whole = found.case.measures.area * found.case.lid.mouth**2
    assert stay.high == pytest.approx(whole / found.case.lid.water)


def test_circulation_goes_with_the_lids_speed(found):
    """At one Reynolds and one rotation number twice the speeds give twice the flow in half the time (dimensions)."""
    one = found.case.lid
    two = replace(
        one,
        speed=2 * one.speed,
        lag_speed=2 * one.lag_speed,
        angular_speed=2 * one.angular_speed,
        water=2 * one.water,
    )
    case = case_of(two, found.setting, two.drive(300.0), COARSE)
    assert case.circulation == pytest.approx(2.0 * found.case.circulation, rel=1e-9)
    assert case.turnover == pytest.approx(0.5 * found.case.turnover, rel=1e-9)
    assert case.reach == pytest.approx(found.case.reach, rel=1e-9)


def test_what_is_refused_or_unsettled_gives_no_number(graded, found):
    refused = answer(graded, STRONG, Setting(reynolds=2000.0))
    assert refused.case is None and "Reynolds number is 2000" in refused.reason
    full = answer(graded, STRONG, Setting(fill=1.0))
    assert full.case is None and "full to its mouth" in full.reason
    lost = replace(found, corners=(*found.corners[:3], NoEddy(Cause.UNSETTLED, "It does not settle.")))
    assert lost.band(lambda c: c.reach) is None
    assert lost.unsettled.reason == "It does not settle."


def test_more_water_comes_through_and_changes_the_flow(study):
    duties = [having(study.duty, water_l_min=water) for water in (10.0, 40.0)]
    little, much = (middle_case(evaluate(study.design, study.machine, d), STRONG, Setting()).case for d in duties)
    assert little.eddy.drive.through_flow < 0.0 < much.eddy.drive.through_flow  # with so little, slurry runs back
    assert little.residence is None and much.residence is not None
    assert np.max(np.abs(little.eddy.psi - much.eddy.psi)) > 1e-4


def test_two_wall_angles_give_two_flows(study):
    height, lip = study.design.wall.height_mm, study.design.wall.lip_radius_mm
    flows = []
    for angle in (18.0, 24.0):
        cone = plain_cone("cone", height, lip, angle)
        e = evaluate(cone, study.machine, study.duty)
        flows.append(middle_case(e, 6, Setting()).case)
    steep, open_ = flows
    assert open_.eddy.drive.wall_angle == pytest.approx(radians(24.0), abs=1e-6)
    assert open_.lid.fall > steep.lid.fall
    assert np.max(np.abs(open_.eddy.psi - steep.eddy.psi)) > 1e-3


def test_a_bed_moves_down_to_where_its_shear_falls_below_what_moves_a_grain():
    """By hand: 8, 4, 2, 1 Pa of beds at 2, 4, 6, 8 mm; logarithms go linearly between them."""
    shear = grains_moved.Shear((8e-3, 6e-3, 4e-3, 2e-3), (1.0, 2.0, 4.0, 8.0))
    assert grains_moved._ends(shear, 4.0, 8e-3) == (pytest.approx(4e-3), pytest.approx(4e-3))
    assert grains_moved._ends(shear, 2.0 * 2.0**0.5, 8e-3)[0] == pytest.approx(5e-3)
    assert grains_moved._ends(shear, 0.5, 8e-3) == (8e-3, 8e-3)
    assert grains_moved._ends(shear, 9.0, 8e-3) == (0.0, 2e-3)


def test_heavy_target_lies_still_where_gangue_still_moves_and_both_are_bands(graded, found):
    said = grains_moved.moving(graded, found)
    assert 0.0 < said.gangue.low < said.gangue.high <= 9e-3 + 1e-9
    assert said.target.low < said.target.high
    assert said.target.low <= said.gangue.low
    depth = graded.design.grooves.depth_mm * 1e-3
    assert said.target.high <= depth + 1e-9


def test_the_rise_in_the_eddy_lifts_more_than_the_exchange_across_the_mouth(graded, found):
    said = grains_moved.lifted(graded, found)
    assert said.washed.low < said.washed.high and said.kept.low < said.kept.high
    assert said.washed.high > said.washed_closed.high
    assert said.kept.high < said.washed.high  # dense grains stay when they are smaller


@pytest.mark.parametrize(
    "cut",
    [
        {"depth_mm": 2.0, "floor_radius_mm": 0.5},
        {"mouth_mm": 2.4, "depth_mm": 24.0, "flank_deg": 0.0, "floor_radius_mm": 0.3, "edge_radius_mm": 0.1},
    ],
    ids=["mouth of four depths", "slot of ten"],
)
def test_a_shallow_groove_and_a_slot_of_ten_are_answered_or_say_why_not(study, cut):
    design = having(study.design, grooves=having(study.design.grooves, **cut))
    said = middle_case(evaluate(design, study.machine, study.duty), STRONG, Setting())
    assert (said.case is not None) != bool(said.reason)
    if cut["depth_mm"] < 3.0:
        assert any("wider than three depths" in words for words in said.left_out)


@pytest.mark.long  # its short twin is in tests/laws/eddy
def test_the_reach_hardly_depends_on_how_many_elements_there_are(graded):
    """24 x 24 within 2 % of 32 x 32 in a groove of the default example."""
    fine, finer = (middle_case(graded, STRONG, Setting(), n).case for n in ((24, 24), (32, 32)))
    assert fine.measures.reach == pytest.approx(finer.measures.reach, rel=0.02)
    assert fine.measures.psi_min == pytest.approx(finer.measures.psi_min, rel=0.01)

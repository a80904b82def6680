"""Measured and worn profiles: closed forms of a worn cone, a profile laid over itself, rates, hours, what is asked."""

from math import cos, inf, radians, sin, tan
from pathlib import Path

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from profiler.assess import Stages, evaluate
from profiler.assess.drawn.drawing import UnreadableDrawing
from profiler.assess.shape.shape_stage import shape_of, wall_of
from profiler.assess.worn.laid_over import accepted, laid_over
from profiler.assess.worn.reading import Doubt, ProfileDoubt, Said, pasted_profile, read_profile
from profiler.assess.worn.wear import (
    Course,
    hours_until,
    lands_course,
    rate_between,
    rate_since_new,
    typed_rate,
)
from profiler.assess.worn.without_land import without_lands
from profiler.assess.worn.worn_bowl import worn_bowl
from profiler.geometry.chain import sampled
from profiler.geometry.nearest import nearest
from profiler.output.drawings.profile_dxf import write_profile
from profiler.study import Design, GrooveRule, Lineage, MeasuredProfile, ProfilePoint, Way
from profiler.study.edits.design_edits import plain_cone
from profiler.study.edits.profile_edits import with_profile
from profiler.study.files import examples
from profiler.study.files.file import decode_study, encode_study
from tests.assess.drawn.written import away

STUDY = examples.read("graded")
MACHINE, DUTY = STUDY.machine, STUDY.duty
ANGLE, LIP, HIGH = 14.0, 217.6, 330.0
CONE = replace(
    plain_cone("Cone", HIGH, LIP, ANGLE), grooves=GrooveRule(count=9, mouth_mm=9.0, depth_mm=8.0, to_mm=320.0)
)


def even(mm: float) -> Course:
    return Course(np.array([0.0]), np.array([mm]))


def profile(points: object, hours: float = 0.0, design: Design = CONE, serial: str = "A") -> MeasuredProfile:
    table = np.asarray(points, dtype=float)
    kept = tuple(ProfilePoint(float(r), float(z)) for r, z in table)
    return MeasuredProfile(f"{serial}, {hours:g} h", design, kept, serial, hours=hours)


def lands_of_cone(wear: float, count: int = 120) -> np.ndarray:
    """Points on the lands of the cone worn evenly: radius grows by wear / cos(angle) at every height."""
    shape, _ = shape_of(CONE, MACHINE)
    z = np.linspace(1.0, HIGH - 1.0, count)
    inside = (z[:, None] > shape.mouths.lower - 3.0) & (z[:, None] < shape.mouths.upper + 3.0)
    z = z[~inside.any(axis=1)]
    return np.stack((LIP + (z - HIGH) * tan(radians(ANGLE)) + wear / cos(radians(ANGLE)), z), axis=1)


# the nearest place


@settings(max_examples=5, deadline=None)
@given(seed=st.integers(0, 10_000))
def test_the_nearest_place_is_that_of_another_way_and_its_side_that_of_shapely(seed: int) -> None:
    shape, _ = shape_of(STUDY.design, MACHINE)
    rng = np.random.default_rng(seed)
    points = np.column_stack((rng.uniform(100.0, 240.0, 200), rng.uniform(2.0, 328.0, 200)))
    found = nearest(points, shape.edge)
    inner = found.beyond == 0.0
    assert np.abs(found.distance[inner]) == pytest.approx(away(points, shape.edge)[inner], abs=1e-9)
    hollow = shapely.Polygon(np.vstack((sampled(shape.edge, 1e-4), [[0.0, shape.height], [0.0, 0.0]])))
    clear = inner & (np.abs(found.distance) > 1e-3)
    assert np.array_equal(shapely.contains_xy(hollow, points)[clear], (found.distance < 0.0)[clear])


# laid over the drawing


@pytest.mark.parametrize("design", STUDY.designs, ids=lambda d: d.name)
def test_a_profile_that_was_exported_lies_on_its_drawing(design: Design, tmp_path: Path) -> None:
    write_profile(tmp_path / "p.dxf", shape_of(design, MACHINE)[0])
    read = read_profile(tmp_path / "p.dxf", design)
    over = laid_over(profile(read.points, design=design), MACHINE)
    assert float(np.max(np.abs(over.deviation))) < 1e-6 and over.left_out == 0
    assert accepted(over, 0.001, 0.0).kept is True and "negligible" in over.sentence
    kept = with_profile(STUDY, design, read.points.tolist(), "A", "2026-01-05", 0.0).profiles[0]
    assert float(np.max(np.abs(laid_over(kept, MACHINE).deviation))) < 1e-4  # files keep four decimals


@pytest.mark.parametrize("wear", [-0.4, 0.7, 2.5])
def test_a_cone_worn_evenly_lies_off_by_its_wear_square_to_the_wall(wear: float) -> None:
    over = laid_over(profile(lands_of_cone(wear), 1000.0), MACHINE)
    assert over.deviation[over.on_land] == pytest.approx(wear, abs=1e-9)
    assert lands_course(over).value == pytest.approx(wear, abs=1e-9)


def test_the_largest_deviation_is_named_with_its_place() -> None:
    points = lands_of_cone(0.0)
    points[20] += 1.3 * np.array([cos(radians(ANGLE)), -sin(radians(ANGLE))])
    over = laid_over(profile(points), MACHINE)
    below = int(np.sum(over.shape.mouths.middle < points[20, 1]))
    assert (
        f"1.30 mm outward (worn, or cast too wide), at {points[20, 1] + 1.3 * sin(radians(ANGLE)):.1f} mm"[:50]
        in over.sentence
    )
    assert f"on the land above groove {below}" in over.sentence


def test_what_lies_across_a_mouth_or_past_the_wall_says_nothing() -> None:
    shape, _ = shape_of(CONE, MACHINE)
    middle = shape.mouths.middle[3]
    across = (float(shape.wall.radius_at(middle)), float(middle))
    points = np.vstack((lands_of_cone(0.2), across, (60.0, 0.0)))
    over = laid_over(profile(points), MACHINE)
    assert over.left_out == 2 and float(np.max(np.abs(over.deviation))) == pytest.approx(0.2, abs=1e-9)


@pytest.mark.parametrize(("off", "kept"), [(0.35, True), (0.45, None), (0.65, False)])
def test_a_casting_is_accepted_refused_or_neither_by_what_the_measuring_leaves_open(
    off: float, kept: bool | None
) -> None:
    over = laid_over(profile(lands_of_cone(off)), MACHINE)
    assert accepted(over, 0.5, 0.1).kept is kept


# wear


def test_a_rate_of_two_profiles_is_their_difference_over_the_hours() -> None:
    one, other = (laid_over(profile(lands_of_cone(w), h), MACHINE) for w, h in ((0.2, 500.0), (1.4, 2500.0)))
    for alike in (True, False):
        rate = rate_between(one, other, alike, 0.05)
        assert rate.course.value == pytest.approx(0.6, abs=1e-9)
        assert rate.plus_minus == pytest.approx(0.05)  # both off, apart from each other: 0.1 mm in 2,000 h
    since = rate_since_new(other, True, 0.05, 0.45)
    assert (since.course.most, since.plus_minus) == pytest.approx((0.56, 0.2))
    for pair, words in (
        ((other, one), "two ages"),
        ((one, laid_over(profile(lands_of_cone(1.0), 900.0, serial="B"), MACHINE)), "two castings"),
    ):
        with pytest.raises(ValueError, match=words):
            rate_between(*pair, True, 0.05)


def test_a_rate_is_typed_in_several_ways() -> None:
    for text, value, doubt in (
        ("0.4", 0.4, 0.0),
        ("0.4 ± 0.1", 0.4, 0.1),
        ("0.3 to 0.5", 0.4, 0.1),
        ("0.3..0.5", 0.4, 0.1),
    ):
        rate = typed_rate(text)
        assert (rate.course.most, rate.plus_minus) == pytest.approx((value, doubt)) and rate.even
    by_height = typed_rate("300: 0.6, 50: 0.2")
    assert by_height.course.at(np.array([0.0, 50.0, 175.0, 400.0])) == pytest.approx([0.2, 0.2, 0.4, 0.6])
    for text in ("0", "-1", "fast", "1 to 2 to 3", "0.1 ± -2"):
        with pytest.raises(ValueError, match=r"\.$"):
            typed_rate(text)


def test_hours_until_so_much_is_gone_are_a_range() -> None:
    found = hours_until(3.0, typed_rate("0.4 ± 0.1"))
    assert (found.early, found.middle, found.late) == pytest.approx((6000.0, 7500.0, 10_000.0))
    later = hours_until(3.0, typed_rate("0.4 ± 0.1"), even(1.0), 2000.0, 0.2)
    assert (later.early, later.middle, later.late) == pytest.approx((2000 + 1800 / 0.5, 7000.0, 2000 + 2200 / 0.3))
    assert "no range follows" in hours_until(3.0, typed_rate("0.4")).sentence
    assert hours_until(3.0, typed_rate("0.1 ± 0.1")).late == inf
    assert "were when it was last measured" in hours_until(1.0, typed_rate("0.1"), even(1.5), 800.0).sentence


# the worn bowl


@settings(max_examples=20, deadline=None)
@given(angle=st.floats(0.0, 35.0), wear=st.floats(0.01, 5.0))
def test_even_wear_of_a_cone_is_that_of_the_closed_form(angle: float, wear: float) -> None:
    """Every radius by wear / cos(angle), the angle not at all; grooves as shallow, floors where they were."""
    rule = GrooveRule(count=5, mouth_mm=9.0, depth_mm=8.0, to_mm=200.0, edge_radius_mm=0.0)
    cone = replace(plain_cone("Cone", 300.0, 400.0, angle), grooves=rule)
    worn = worn_bowl(cone, MACHINE, even(wear), "worn").design
    new, old = wall_of(worn), wall_of(cone)
    z = np.linspace(0.0, 300.0, 13)
    assert new.radius_at(z) - old.radius_at(z) == pytest.approx(wear / cos(radians(angle)), abs=1e-5)
    assert new.angle_at(z) == pytest.approx(radians(angle), abs=1e-9)
    before, after = (shape_of(d, MACHINE)[0] for d in (cone, worn))
    assert after.cut.depth == pytest.approx(8.0 - wear) and after.cut.mouth == pytest.approx(
        9.0 - 2.0 * wear * tan(radians(6.0))
    )
    floors = [s.contours.corners[:, 1:3].mean(axis=1) for s in (before, after)]
    assert floors[1] == pytest.approx(floors[0], abs=1e-6)
    assert after.shell.outer.radius_at(z[:-1] - 1.0) == pytest.approx(
        before.shell.outer.radius_at(z[:-1] - 1.0), abs=1e-5
    )


@pytest.mark.parametrize("design", STUDY.designs, ids=lambda d: d.name)
def test_every_point_of_an_evenly_worn_wall_lies_off_by_the_wear(design: Design) -> None:
    bare = replace(design, grooves=GrooveRule(count=0))
    worn = wall_of(worn_bowl(bare, MACHINE, even(1.5), "worn").design)
    z = np.linspace(5.0, 325.0, 60)
    over = laid_over(profile(np.stack((worn.radius_at(z), z), axis=1), design=bare), MACHINE)
    assert over.deviation == pytest.approx(1.5, abs=1e-4)


def test_wear_by_height_is_followed_within_its_word() -> None:
    bare = replace(STUDY.design, grooves=GrooveRule(count=0))
    wear = Course(np.array([20.0, 150.0, 310.0]), np.array([0.3, 2.0, 1.0]))
    worn = wall_of(worn_bowl(bare, MACHINE, wear, "worn").design)
    z = np.linspace(5.0, 325.0, 80)
    over = laid_over(profile(np.stack((worn.radius_at(z), z), axis=1), design=bare), MACHINE)
    assert np.max(np.abs(over.deviation - wear.at(over.place[:, 1]))) < 0.06


def test_a_worn_copy_evaluates_like_any_design_and_loses_what_is_worn_away() -> None:
    e = evaluate(worn_bowl(STUDY.design, MACHINE, even(2.0), "worn").design, MACHINE, DUTY)
    assert e.flow is not None and e.catch is not None and e.spin is not None and e.no_answer == ""
    gone = worn_bowl(CONE, MACHINE, even(7.8), "worn")
    assert gone.gone == tuple(range(1, 10)) and "worn away" in gone.remarks[-1]
    assert len(shape_of(gone.design, MACHINE)[0].mouths) == 0
    assert worn_bowl(CONE, MACHINE, even(0.0), "same").design == replace(
        CONE, name="same", lineage=Lineage(Way.WORN, CONE.name)
    )
    assert worn_bowl(CONE, MACHINE, even(0.0004), "slip").design.wall.knots[-1].height_mm == HIGH


def test_without_the_lip_that_holds_it_a_bed_is_what_the_lower_lip_holds() -> None:
    """Of an upright top the bed at a height z is as deep as the surface falls from z to the lip, tan(repose) a mm."""
    study = examples.read("upright")
    e = evaluate(study.design, study.machine, study.duty, Stages.FLOW)
    (lip,) = without_lands(e)
    at, top = e.shape.stations, float(e.shape.mouths.lower[-1])
    assert lip.is_lip and lip.grooves[-1] == len(e.shape.mouths) and lip.then_at_mm == pytest.approx(top)
    z, tangent, radius = at.height, np.tan(e.flow.angle[0, 1]), at.radius
    fallen = np.concatenate(([0.0], np.cumsum(0.5 * (tangent[1:] + tangent[:-1]) * np.diff(z))))
    fall = np.interp(top, z, fallen) - fallen
    below = (z < top) & (z >= lip.held_from_mm)
    depth = np.max((radius - (radius[z <= top][-1] - fall))[below])
    assert lip.without[1] == pytest.approx(depth, abs=0.05) and lip.without[1] < lip.deepest[1]
    assert without_lands(evaluate(CONE, MACHINE, DUTY, Stages.FLOW)) == ()


def test_the_report_tells_of_the_profiles_each_against_the_one_before() -> None:
    from profiler.output.blocks.blocks import Heading
    from profiler.output.record.option import Request
    from profiler.output.report.report_output import report

    study = with_profile(STUDY, STUDY.design, [], "A", "", 0.0)
    wall = wall_of(STUDY.design)
    shape, _ = shape_of(STUDY.design, MACHINE)
    z = 0.5 * (shape.mouths.upper[:-1] + shape.mouths.lower[1:])
    for hours, off in ((0.0, 0.1), (2000.0, 1.1)):
        points = np.stack((wall.radius_at(z) + off, z), axis=1).tolist()
        study = with_profile(study, STUDY.design, points, "B", "2026-03-31", hours)
    e = evaluate(STUDY.design, MACHINE, DUTY)
    made = report(e, Request(study=study))
    heads = [b.text for b in made.blocks if isinstance(b, Heading)]
    assert "Measured and worn profiles" in heads and "B, 2000 h, measured 2026-03-31" in heads
    words = " ".join(getattr(b, "text", "") for b in made.blocks)
    assert "from “B, 0 h” and “B, 2000 h”" in words and "holds no point" in words
    assert "Measured and worn profiles" not in [
        b.text for b in report(e, Request(study=STUDY)).blocks if isinstance(b, Heading)
    ]


# what is asked


@pytest.mark.parametrize(
    ("text", "doubt"),
    [
        ("r,z\n4.7,0.0\n6.3,6\n8.56,12.99\n", Doubt.UNIT),
        ("r,z\n5000,0\n6000,100\n", Doubt.UNIT),
        ("r mm,z mm\n217,0\n200,100\n160,250\n120,330\n", Doubt.WAY_UP),
        ("radius_mm;height_mm\n217;0\n200;-100\n160;-250\n120;-330\n", Doubt.WAY_UP),
    ],
)
def test_inches_and_upside_down_are_asked(text: str, doubt: Doubt) -> None:
    with pytest.raises(ProfileDoubt) as asked:
        pasted_profile(text, STUDY.design)
    assert asked.value.doubt is doubt and str(asked.value).endswith(".")


def test_what_is_said_is_taken() -> None:
    inches = pasted_profile("r,z\n4.7,0.0\n6.3,6\n8.56,12.99\n", STUDY.design, Said("inch"))
    assert inches.points[-1] == pytest.approx((8.56 * 25.4, 12.99 * 25.4))
    assert pasted_profile("r_in,z_in\n4.7,0.0\n6.3,6\n8.56,12.99\n", STUDY.design).points == pytest.approx(
        inches.points
    )
    for heights in ("0 100 250 330", "0 -100 -250 -330"):
        text = "r mm,z mm\n" + "\n".join(
            f"{r},{z}" for r, z in zip(["217", "200", "160", "120"], heights.split(), strict=True)
        )
        turned = pasted_profile(text, STUDY.design, Said(upside_down=True))
        assert turned.points[0] == pytest.approx((217.0, 330.0)) and turned.points[-1] == pytest.approx((120.0, 0.0))
    plain = pasted_profile("r,z\n120,0\n200,200\n217,330\n", STUDY.design)
    assert "taken as millimetres" in plain.notes[0]


@pytest.mark.parametrize("text", ["", "\n \n", "r,z\n", "r,z\n1,2\n", "r mm,z\n120,5\n217,330\n", "a,b\n1,2\n3,4\n"])
def test_an_empty_profile_is_refused_in_one_sentence(text: str) -> None:
    with pytest.raises(UnreadableDrawing, match=r"\.$"):
        pasted_profile(text, STUDY.design)


def test_profiles_go_through_the_file_with_the_drawing_they_were_laid_over() -> None:
    study = with_profile(STUDY, CONE, lands_of_cone(0.5).tolist(), "A1", "2026-03-31", 1200.0, "by a probe, invented")
    again = decode_study(encode_study(study), "again.bowl")
    assert again == study and again.profiles[0].design == CONE and again.profiles[0].name == "A1, 1200 h"
    for date, hours, words in (("31.3.2026", 0.0, "not a day"), ("", -5.0, "must lie between")):
        with pytest.raises(ValueError, match=words):
            with_profile(STUDY, CONE, [(1.0, 2.0)], "A1", date, hours)

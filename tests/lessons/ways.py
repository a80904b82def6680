"""Ways to go in each lesson, right and wrong, as edits of its study; and what comes of them."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

from msgspec.structs import replace

from profiler.assess import Evaluation, evaluate
from profiler.lessons import (
    Lesson,
    coarser_feed,
    how_far,
    how_sure,
    reach_floor,
    thicker_feed,
    turning_shrinks,
    what_speed,
    what_to_beat,
    where_water,
    who_holds,
)
from profiler.study import GrooveChange, HoleChange, Knot, Study
from profiler.study.edits import design_edits as edits
from profiler.study.edits.design_edits import Angles

Way = Callable[[Study], Study]
BOTH, UPPER = Angles(), Angles(arriving=False)
DAM = (Knot(0.0, 3.0), Knot(315.0, 12.0), Knot(322.0, 0.0), Knot(330.0, -20.0))  # a brim above the topmost groove
FEW = tuple(HoleChange(i, count=2) for i in range(1, 5))


def with_duty(**members: object) -> Way:
    return lambda s: s.having("duty", replace(s.duty, **members))


def with_grooves(**members: object) -> Way:
    return lambda s: s.having("design", replace(s.design, grooves=replace(s.design.grooves, **members)))


def with_holes(**members: object) -> Way:
    return lambda s: s.having("design", replace(s.design, holes=replace(s.design.holes, **members)))


def with_body(**members: object) -> Way:
    return lambda s: s.having("design", replace(s.design, body=replace(s.design.body, **members)))


def with_machine(**members: object) -> Way:
    return lambda s: s.having("machine", replace(s.machine, **members))


def with_wall(*knots: Knot) -> Way:
    return lambda s: s.having("design", edits.with_knots(s.design, knots))


def turned(knot: int, angle: float, angles: Angles = BOTH) -> Way:
    return lambda s: s.having("design", edits.move_knot(s.design, knot, None, angle, angles))


def both(*ways: Way) -> Way:
    def gone(study: Study) -> Study:
        for way in ways:
            study = way(study)
        return study

    return gone


def named(name: str) -> Way:
    return lambda s: s.having("design", replace(s.design, name=name, note="tried"))


@dataclass(frozen=True)
class Case:
    lesson: Lesson
    right: tuple[Way, ...]
    wrong: tuple[tuple[Way, str], ...]  # and a part of the sentence that says what is missing


THINNER_BAND = {"solids_pct": 12.0, "friction_low": 0.15, "friction": 0.16, "friction_high": 0.18}

CASES = (
    Case(
        what_to_beat.LESSON,
        (
            turned(1, 9.2),
            turned(1, 24.0),
            with_wall(Knot(0.0, 12.0), Knot(330.0, 12.0)),
            with_wall(Knot(0.0, 3.0), Knot(250.0, 3.0), Knot(330.0, 10.0)),
            with_wall(Knot(0.0, 3.0), Knot(200.0, 3.0, 11.0), Knot(330.0, 11.0)),
            both(turned(1, 14.0), named("Mine")),
        ),
        (
            (turned(1, 8.0), "opens 7.76°, the slurry rests at 8.64°"),
            (turned(0, 24.0), "open the wall more"),
            (with_wall(*DAM), "what stands above it"),
            (with_duty(**THINNER_BAND), "Changed too: Solids, Friction, low, Friction, Friction, high"),
            (both(turned(1, 14.0), with_duty(solids_pct=20.0)), "Changed too: Solids"),
            (both(turned(1, 14.0), with_machine(lip_radius_mm=230.0)), "Changed too: Lip radius"),
        ),
    ),
    Case(
        who_holds.LESSON,
        (
            turned(2, 10.0),
            turned(1, 10.0, UPPER),
            with_wall(Knot(0.0, 16.0), Knot(186.0, 16.0, 3.0), Knot(260.0, 9.0), Knot(330.0, 9.0)),
            with_wall(Knot(0.0, 16.0), Knot(100.0, 16.0), Knot(186.0, 16.0, 3.0), Knot(330.0, 14.0)),
            with_wall(Knot(0.0, 16.0), Knot(330.0, 16.0)),
        ),
        (
            (turned(2, 3.5), "Open the wall above the corner more"),
            (turned(2, -4.0), "Open the wall above the corner more"),
            (turned(0, 24.0), "The cone was changed"),
            (turned(1, 24.0), "The cone was changed"),
            (both(turned(2, 10.0), turned(0, 17.0)), "The cone was changed"),
            (with_duty(solids_pct=20.0), "Changed too: Solids"),
            (both(turned(2, 10.0), with_grooves(count=15)), "Changed too: Groove count"),
        ),
    ),
    Case(
        thicker_feed.LESSON,
        (with_duty(solids_pct=48.0), with_duty(solids_pct=55.0), with_duty(solids_pct=62.0)),
        (
            (with_duty(solids_pct=30.0), "raise Solids more"),
            (with_duty(solids_pct=20.0), "raise it"),
            (with_duty(friction_low=0.8, friction=0.9, friction_high=0.95), "Changed too: Friction, low"),
            (with_duty(d50_um=400.0), "Changed too: Size d50"),
            (both(turned(0, 8.0), with_duty(solids_pct=48.0)), "Changed too: Knots"),
            (with_duty(solids_pct=48.0, temperature_c=40.0), "Changed too: Temperature"),
        ),
    ),
    Case(
        how_far.LESSON,
        (
            with_grooves(mouth_mm=12.0),
            with_grooves(mouth_mm=18.0),
            with_grooves(mouth_mm=30.0),
            with_grooves(changes=(GrooveChange(how_far.WATCHED, mouth_mm=13.0),)),
        ),
        (
            (with_grooves(mouth_mm=11.0), "is 11.0 mm: raise it to 12.0 mm or more"),
            (with_grooves(changes=(GrooveChange(5, mouth_mm=14.0),)), "groove 3 is 10.0 mm"),
            (with_grooves(changes=(GrooveChange(3, off=True),)), "Changed too: Single grooves"),
            (turned(0, 25.0), "Changed too: Knots"),
            (with_duty(solids_pct=20.0), "Changed too: Solids"),
            (with_grooves(mouth_mm=13.0, depth_mm=14.0), "Changed too: Depth"),
            (with_grooves(mouth_mm=34.5), "This cannot be worked out."),
        ),
    ),
    Case(
        what_speed.LESSON,
        (with_duty(speed_rpm=708.0), with_duty(speed_rpm=750.0), with_duty(speed_rpm=800.0)),
        (
            (with_duty(speed_rpm=620.0), "raise it to 708 rpm"),
            (with_duty(speed_rpm=900.0), "must not turn faster than 800 rpm"),
            (with_duty(speed_rpm=710.0, solids_pct=30.0), "Changed too: Solids"),
            (both(turned(0, 30.0), with_duty(speed_rpm=710.0)), "Changed too: Knots"),
            (both(with_machine(speed_high_rpm=1500.0), with_duty(speed_rpm=1200.0)), "Changed too: Fastest speed"),
        ),
    ),
    Case(
        where_water.LESSON,
        (with_holes(diameter_mm=0.65), with_holes(diameter_mm=0.6), with_holes(count=20)),
        (
            (with_holes(diameter_mm=0.75), "still runs part full"),
            (with_holes(count=0), "drill some"),
            (with_holes(diameter_mm=0.95), "as much as at first"),
            (with_holes(diameter_mm=0.6, changes=FEW), "drill them alike"),
            (with_duty(water_l_min=120.0), "Changed too: Water"),
            (with_duty(speed_rpm=330.0), "Changed too: Speed"),
            (both(with_holes(diameter_mm=0.65), with_body(wall_mm=40.0)), "Changed too: Wall thickness"),
        ),
    ),
    Case(
        coarser_feed.LESSON,
        (with_duty(d50_um=120.0), with_duty(d50_um=200.0), with_duty(d50_um=400.0)),
        (
            (with_duty(d50_um=100.0), "raise it to 120 µm"),
            (with_duty(d50_um=30.0), "raise it to 120 µm"),
            (with_duty(d50_um=120.0, water_l_min=20.0), "Changed too: Water"),
            (with_duty(solids_pct=50.0), "Changed too: Solids"),
        ),
    ),
    Case(
        how_sure.LESSON,
        (with_duty(friction=0.45), with_duty(friction=0.80)),
        (
            (with_duty(friction=0.55), "type 0.450 or 0.800"),
            (with_duty(friction=1.1), "type 0.450 or 0.800"),
            (with_duty(friction_low=0.59, friction_high=0.61), "Changed too: Friction, low, Friction, high"),
            (with_duty(friction=0.45, solids_pct=20.0), "Changed too: Solids"),
        ),
    ),
    Case(
        reach_floor.LESSON,
        (with_wall(Knot(0.0, 12.0), Knot(330.0, 12.0)), with_wall(Knot(0.0, 14.0), Knot(330.0, 12.0))),
        (
            (turned(0, 21.0), "stay still, 0.7 mm are allowed"),
            (with_wall(Knot(0.0, 3.0), Knot(330.0, 3.0)), "open the wall again"),
            (with_grooves(depth_mm=5.0), "Changed too: Depth"),
            (with_duty(speed_rpm=640.0), "Changed too: Speed"),
        ),
    ),
    Case(
        turning_shrinks.LESSON,
        (with_duty(speed_rpm=708.0), with_duty(speed_rpm=472.0)),
        (
            (with_duty(speed_rpm=620.0), "go to 708 rpm or more, or to 472 rpm or less"),
            (with_duty(speed_rpm=900.0), "this machine turns at 300 rpm to 800 rpm"),
            (with_duty(speed_rpm=708.0, solids_pct=20.0), "Changed too: Solids"),
            (turned(0, 25.0), "Changed too: Knots"),
        ),
    ),
)  # fmt: skip
RIGHT = [(case.lesson, way) for case in CASES for way in case.right]
RIGHT_IDS = [f"{case.lesson.title} {i}" for case in CASES for i in range(len(case.right))]
WRONG = [(case.lesson, way, said) for case in CASES for way, said in case.wrong]


def seen(study: Study) -> Evaluation:
    return evaluate(study.design, study.machine, study.duty)


@cache
def begun(lesson: Lesson) -> Evaluation:
    return seen(lesson.study())

"""Lesson: turning shrinks the eddy, and yet speed does not: the film runs faster in the same measure."""

from profiler.assess import Evaluation
from profiler.lessons.eddy_seen import eddy_of, millimetres, reach_mm, two_decimals
from profiler.lessons.knob import number_of_duty
from profiler.lessons.lesson import (
    DUTY,
    FIRST_MM,
    Lesson,
    Look,
    Step,
    Why,
    knot_angle,
    number_after,
    number_before,
    study_of,
)
from profiler.numbers import NOTHING, fixed
from profiler.study import GrooveRule, Knot
from profiler.study.records.duty import SPEED
from profiler.study.records.machine import FASTEST_SPEED, SLOWEST_SPEED

WATCHED = 5
FASTER, SLOWER = 1.2, 0.8
POWER = Look("groove_power_w", WATCHED)
RATIO = Look("groove_ratio", WATCHED)
PULL = Look("acceleration_g")


def _rotation(e: Evaluation) -> str:
    case = eddy_of(e, WATCHED)
    return two_decimals(None if case is None else case.eddy.drive.rotation)


def _film(e: Evaluation) -> str:
    case = eddy_of(e, WATCHED)
    return NOTHING if case is None else f"{fixed(case.lid.speed, 2)} m/s"


LESSON = Lesson(
    title="Why does turning shrink the eddy?",
    about="A cone of {cone} at {first}. The eddy in groove {watched} reaches {reach_first}. Were the turning left out "
    "of the equations, it would reach {still_first}. The page Eddy shows it.",
    task=f"Turn the bowl clearly faster or slower: {SPEED.label} {{high}} or more, or {{low}} or less.",
    study=lambda: study_of(
        "Why does turning shrink the eddy?",
        (Knot(0.0, 18.0), Knot(330.0, 18.0)),
        DUTY,
        GrooveRule(count=10, from_mm=FIRST_MM, to_mm=322.0, mouth_mm=10.0, depth_mm=12.0, floor_radius_mm=1.0),
    ),
    knob=number_of_duty(SPEED),
    steps=(
        Step(
            lambda start, now: not SLOWER * start.duty.speed_rpm < now.duty.speed_rpm < FASTER * start.duty.speed_rpm,
            f"{SPEED.label} stands at {{last}}: go to {{high}} or more, or to {{low}} or less.",
        ),
        Step(
            lambda start, now: now.machine.may_turn_at(now.duty.speed_rpm),
            f"{SPEED.label} stands at {{last}}, and this machine turns at {{least}} to {{most}}.",
        ),
        Step(
            lambda start, now: eddy_of(now, WATCHED) is not None,
            "Nothing is known of the eddy at {last}: it is being worked out; wait a moment.",
        ),
    ),
    look=(PULL, POWER, RATIO),
    seen="From {first} to {last} the reach went from {reach_first} to {reach_last} only: the film went from "
    "{film_first} to {film_last}, so the rotation number went from {rotation_first} to {rotation_last} only. Without "
    "turning the same film would reach {still_last}: turning takes that depth at any speed. One fluid, no grains, "
    "assumed turbulence: change no depth on this alone.",
    why=Why(
        "In the turning bowl water that moves along the radius is pushed sideways, around the axis, and what lags "
        "there is pushed back along the radius: that resists turning over. What counts is how far the bowl turns while "
        "the film crosses the mouth, and film and bowl grow faster together.",
        "K = 2 ω m / U",
        "computed by this program: flow in a cavity under a moving lid in a rotating frame, Navier-Stokes",
    ),
    numbers={
        "cone": knot_angle(0),
        "watched": lambda start, now: str(WATCHED),
        "first": number_before(SPEED),
        "last": number_after(SPEED),
        "high": lambda start, now: SPEED.with_unit(FASTER * start.duty.speed_rpm),
        "low": lambda start, now: SPEED.with_unit(SLOWER * start.duty.speed_rpm),
        "least": lambda start, now: SLOWEST_SPEED.told(start.machine.speed_low_rpm),
        "most": lambda start, now: FASTEST_SPEED.told(start.machine.speed_high_rpm),
        "reach_first": lambda start, now: millimetres(reach_mm(start, WATCHED)),
        "reach_last": lambda start, now: millimetres(reach_mm(now, WATCHED)),
        "still_first": lambda start, now: millimetres(reach_mm(start, WATCHED, turning=False)),
        "still_last": lambda start, now: millimetres(reach_mm(now, WATCHED, turning=False)),
        "film_first": lambda start, now: _film(start),
        "film_last": lambda start, now: _film(now),
        "rotation_first": lambda start, now: _rotation(start),
        "rotation_last": lambda start, now: _rotation(now),
    },
)  # fmt: skip

"""Lesson: at which wall angle the eddy reaches the floor of a groove: a wall that opens more turns it off its floor."""

from profiler.assess import Evaluation
from profiler.lessons.eddy_seen import is_driven, millimetres, reach_mm, still_mm
from profiler.lessons.knob import wall_angles
from profiler.lessons.lesson import DUTY, FIRST_MM, Lesson, Look, Step, Why, after, before, knot_angle, study_of
from profiler.numbers import fixed
from profiler.study import GrooveRule, Knot
from profiler.units import DEGREE

WATCHED = 5
STILL_SHARE = 0.10  # of the depth: less than that left still counts as reaching the floor
DEPTH_MM = 7.0
RATIO, FALL, STREAM = (Look(key, WATCHED) for key in ("groove_ratio", "groove_overfall_mm", "groove_power_w"))


def _reaches(e: Evaluation) -> bool:
    return still_mm(e, WATCHED) <= STILL_SHARE * DEPTH_MM


def _angle(e: Evaluation) -> str:
    if e.shape is None:
        return "–"
    return f"{fixed(float(e.shape.wall.angle_at(e.shape.mouths.middle)[WATCHED - 1]) / DEGREE, 1)}°"


LESSON = Lesson(
    title="At which wall angle does the eddy reach the floor?",
    about="A cone of {cone} with grooves {depth} deep. The eddy in groove {watched} reaches {reach_first}; "
    "{still_first} above the floor hardly move. The page Eddy shows it.",
    task="Turn the wall until less than {allowed} of groove {watched} stay still: the eddy then reaches the floor.",
    study=lambda: study_of(
        "At which wall angle does the eddy reach the floor?",
        (Knot(0.0, 20.0), Knot(330.0, 20.0)),
        DUTY,
        GrooveRule(count=10, from_mm=FIRST_MM, to_mm=322.0, mouth_mm=10.0, depth_mm=DEPTH_MM, floor_radius_mm=1.0),
    ),
    knob=wall_angles(),
    steps=(
        Step(
            lambda start, now: is_driven(now, WATCHED),
            "A bed lies over groove {watched} now, and nothing drives its water: open the wall again.",
        ),
        Step(
            lambda start, now: _reaches(now),
            "The wall stands at {angle}: {still_last} of groove {watched} stay still, {allowed} are allowed.",
        ),
    ),
    look=(FALL, RATIO, STREAM),
    seen="At {angle} the eddy reaches {reach_last} of {depth}, where at {angle_first} it reached {reach_first}. And "
    "yet the stream falls less: overfall {fall_first} then, {fall_last} now; overturn ratio {ratio_first} then, "
    "{ratio_last} now. What the fall adds to the film's speed, the turning of the bowl takes back in depth. One fluid, "
    "no grains, assumed turbulence: change no depth on this alone.",
    why=Why(
        "In the turning bowl water that moves along the radius is pushed aside. The more the wall opens, the more of "
        "the radius lies along the mouth, and the more of the eddy's way is pushed aside: it turns nearer to the "
        "mouth.",
        "K = 2 ω m / U",
        "computed by this program: flow in a cavity under a moving lid in a rotating frame, Navier-Stokes",
    ),
    numbers={
        "cone": knot_angle(0),
        "watched": lambda start, now: str(WATCHED),
        "depth": lambda start, now: millimetres(DEPTH_MM),
        "allowed": lambda start, now: millimetres(STILL_SHARE * DEPTH_MM),
        "angle_first": lambda start, now: _angle(start),
        "angle": lambda start, now: _angle(now),
        "reach_first": lambda start, now: millimetres(reach_mm(start, WATCHED)),
        "reach_last": lambda start, now: millimetres(reach_mm(now, WATCHED)),
        "still_first": lambda start, now: millimetres(still_mm(start, WATCHED)),
        "still_last": lambda start, now: millimetres(still_mm(now, WATCHED)),
        "fall_first": before(FALL),
        "fall_last": after(FALL),
        "ratio_first": before(RATIO),
        "ratio_last": after(RATIO),
    },
)  # fmt: skip

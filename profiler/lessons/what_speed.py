"""Lesson 5: speed raises the pull on everything alike; the angle at which the slurry rests hardly moves."""

from profiler.assess.quantities.table import SLOPE_EQUATION
from profiler.lessons.knob import number_of_duty
from profiler.lessons.lesson import (
    DUTY,
    Lesson,
    Look,
    Step,
    Why,
    after,
    before,
    knot_angle,
    number_after,
    number_before,
    study_of,
)
from profiler.study import Knot
from profiler.study.records.duty import SPEED
from profiler.study.records.machine import FASTEST_SPEED

FASTER = 1.2
WATCHED = 4
PULL, POWER, ENERGY, REPOSE = (Look(key) for key in ("acceleration_g", "power_w", "body_energy_j", "repose_deg"))
RATIO = Look("groove_ratio", WATCHED)

LESSON = Lesson(
    title="What does speed change, and what not?",
    about="A wall that opens from {lip} at the lip to {floor} at the floor, turning at {first}. This machine may turn "
    "at {most} at most.",
    task=f"Raise {SPEED.label} in the bar on top to {{asked}} or more, but not past what the machine may run.",
    study=lambda: study_of("What does speed change, and what not?", (Knot(0.0, 21.0), Knot(330.0, 4.0)), DUTY),
    knob=number_of_duty(SPEED),
    steps=(
        Step(
            lambda start, now: now.duty.speed_rpm >= FASTER * start.duty.speed_rpm,
            f"{SPEED.label} stands at {{last}}: raise it to {{asked}} or more.",
        ),
        Step(
            lambda start, now: now.machine.may_turn_at(now.duty.speed_rpm),
            f"{SPEED.label} stands at {{last}}, and this machine must not turn faster than {{most}}: lower it.",
        ),
    ),
    look=(PULL, POWER, ENERGY, REPOSE, RATIO),
    seen="From {first} to {last} the acceleration went from {pull_first} to {pull_last} and the energy of the turning "
    "body from {energy_first} to {energy_last}, both with the square of the speed; what else turns, rotor and slurry, "
    "comes on top, so that is the least that must be held. The overturn power went from {power_first} to {power_last}. "
    "The repose angle went from {repose_first} to {repose_last} only, and the overturn ratio of groove {watched} from "
    "{ratio_first} to {ratio_last}: speed does not mend a wrong wall.",
    why=Why(
        "Weight, friction and the pull of the film all grow with the acceleration and cancel in the balance. What is "
        "left is second order: a thinner film, grains that settle faster, less lag, a smaller tilt of the level "
        "surface.",
        f"a = ω² r;  {SLOPE_EQUATION}",
        "balance after Takahashi (1978), in which no acceleration is left; see the help on the slurry model",
    ),
    numbers={
        "lip": knot_angle(-1),
        "floor": knot_angle(0),
        "first": number_before(SPEED),
        "last": number_after(SPEED),
        "asked": lambda start, now: SPEED.with_unit(FASTER * start.duty.speed_rpm),
        "most": lambda start, now: FASTEST_SPEED.told(start.machine.speed_high_rpm),
        "watched": lambda start, now: str(WATCHED),
        "pull_first": before(PULL),
        "pull_last": after(PULL),
        "energy_first": before(ENERGY),
        "energy_last": after(ENERGY),
        "power_first": before(POWER),
        "power_last": after(POWER),
        "repose_first": before(REPOSE),
        "repose_last": after(REPOSE),
        "ratio_first": before(RATIO),
        "ratio_last": after(RATIO),
    },
)

"""Lesson 5: speed raises the pull on everything alike; the angle at which the slurry rests hardly moves."""

from profiler.assess import Evaluation
from profiler.assess.quantities.table import SLOPE_EQUATION
from profiler.lessons.lesson import DUTY, Lesson, Look, Why, study_of
from profiler.study import Knot
from profiler.study.records.duty import SPEED

FASTER = 1.2


def _done(start: Evaluation, now: Evaluation) -> bool:
    """The same bowl at least a fifth faster."""
    faster = now.duty.speed_rpm >= FASTER * start.duty.speed_rpm
    return faster and now.flow is not None and now.design.wall == start.design.wall


LESSON = Lesson(
    title="What does speed change, and what not?",
    about="A wall that opens from 4° at the lip to 21° at the floor, turning at 590 rpm.",
    task=f"Raise {SPEED.label} in the bar on top by a fifth or more: to 710 rpm, say.",
    study=lambda: study_of("What does speed change, and what not?", (Knot(0.0, 21.0), Knot(330.0, 4.0)), DUTY),
    done=_done,
    look=(Look("acceleration_g"), Look("power_w"), Look("body_energy_j"), Look("repose_deg"), Look("groove_ratio", 4)),
    seen="Acceleration and the energy in the body grew with the square of the speed, and the overturn power with "
    "it. The repose "
    "angle, and with it which grooves overturn, hardly moved: speed does not mend a wrong wall. Both are shown "
    "half-way up.",
    why=Why(
        "Weight, friction and the pull of the film all grow with the acceleration and cancel in the balance. What "
        "is left is "
        "second order: a thinner film, grains that settle faster, less lag, a smaller tilt of the level surface.",
        f"a = ω² r;  {SLOPE_EQUATION} holds no a of its own",
        "balance after Takahashi (1978); see the help on the slurry model",
    ),
)

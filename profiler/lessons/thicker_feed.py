"""Lesson 3: more solids raise the repose angle more than anything else does, and calm grooves from the top."""

from msgspec.structs import replace

from profiler.assess import unchecked
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
    falling,
    grooves,
    knot_angle,
    study_of,
)
from profiler.study import Knot
from profiler.study.records.duty import SOLIDS

THIN = replace(DUTY, solids_pct=28.0)
FEWER = 3
REPOSE = Look("repose_deg")

LESSON = Lesson(
    title="What does a thicker feed do?",
    about="A wall that opens from {lip} at the lip to {floor} at the floor, under a thin feed of {first} solids by "
    "mass. The stream falls in {falling_first}.",
    task=f"Raise {SOLIDS.label} in the bar on top (drag its name to the right, or type) until the stream falls in "
    "{fewer} grooves fewer.",
    study=lambda: study_of("What does a thicker feed do?", (Knot(0.0, 24.0), Knot(330.0, 2.0)), THIN),
    knob=number_of_duty(SOLIDS),
    steps=(
        Step(
            lambda start, now: now.duty.solids_pct > start.duty.solids_pct,
            f"{SOLIDS.label} stands at {{last}}, at first it was {{first}}: raise it.",
        ),
        Step(
            lambda start, now: falling(now) <= falling(start) - FEWER,
            f"The stream still falls in {{falling_last}}, at first in {{falling_first}}: raise {SOLIDS.label} more.",
        ),
    ),
    look=(
        REPOSE,
        Look("exposed_count"),
        Look("count_strong"),
        Look("count_weak"),
        Look("count_matched"),
        Look("count_sheltered"),
    ),
    seen="With {last} solids by mass in place of {first} the repose angle half-way up went from {repose_first} to "
    "{repose_last}, and the stream falls in {falling_last} instead of {falling_first}. They went calm from "
    "the top down, because this wall opens least there.",
    why=Why(
        "More grains in contact carry more of the film's weight, so the bed can lie at a larger angle. The solids "
        "count by volume, less their buoyancy, and where they are: in contact they creep behind the water, so more lie "
        "on the bed than the feed delivers.",
        SLOPE_EQUATION,
        f"balance after Takahashi (1978), derived anew; contact load after {unchecked.CONTACT_LOAD.words}; slip after "
        "Abrahams (2003)",
    ),
    numbers={
        "lip": knot_angle(-1),
        "floor": knot_angle(0),
        "fewer": lambda start, now: str(FEWER),
        "first": lambda start, now: f"{start.duty.solids_pct:g} %",
        "last": lambda start, now: f"{now.duty.solids_pct:g} %",
        "falling_first": lambda start, now: grooves(falling(start)),
        "falling_last": lambda start, now: grooves(falling(now)),
        "repose_first": before(REPOSE),
        "repose_last": after(REPOSE),
    },
)

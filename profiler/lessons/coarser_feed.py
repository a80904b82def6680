"""Lesson 7: coarser grains raise the repose angle a little and the water that loosens a bed by far more."""

from msgspec.structs import replace

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
    number_after,
    number_before,
    study_of,
)
from profiler.study import Knot
from profiler.study.records.duty import D50

FINE = replace(DUTY, d50_um=60.0, water_l_min=46.0)
COARSER = 2.0
WATCHED = 3
REPOSE, LOOSE, WATER = Look("repose_deg"), Look("velocity_ratio", WATCHED), Look("groove_water_l_min", WATCHED)

LESSON = Lesson(
    title="What does a coarser feed do?",
    about="A wall that opens from {lip} at the lip to {floor} at the floor, under a feed of which half is finer than "
    "{first}. Groove {watched} gets {water_first} of water, and its velocity ratio is {loose_first}: the water comes "
    "that much faster than what just lifts this bed.",
    task=f"Raise {D50.label} in the bar on top to {{asked}} or more, as when the mill grinds coarser.",
    study=lambda: study_of("What does a coarser feed do?", (Knot(0.0, 24.0), Knot(330.0, 2.0)), FINE),
    knob=number_of_duty(D50),
    steps=(
        Step(
            lambda start, now: now.duty.d50_um >= COARSER * start.duty.d50_um,
            f"{D50.label} stands at {{last}}: raise it to {{asked}} or more.",
        ),
    ),
    look=(REPOSE, Look("exposed_count"), LOOSE, WATER, Look("count_matched"), Look("count_sheltered")),
    seen="With {last} in place of {first} the repose angle half-way up went from {repose_first} to {repose_last}, and "
    "the stream falls in {falling_last} instead of {falling_first}. That is the smaller part of it: the same "
    "{water_last} of water that came at {loose_first} times what lifts the bed of groove {watched} comes at "
    "{loose_last} times that now. A bed whose ratio falls well below one packs, and a packed groove takes "
    "nothing up. A coarser feed asks for more water first, and for another wall only then.",
    why=Why(
        "Coarse grains settle faster against the film's stirring, so more of them ride on their neighbours, and the "
        "roughness of the bed grows. Both raise the slope a little. The water that lifts a bed of fine grains has to "
        "overcome the drag in its pores, which goes with the square of the grain size.",
        f"{SLOPE_EQUATION},  w = u / u_mf",
        "balance after Takahashi (1978), derived anew; least velocity that lifts: see Minimum fluidising velocity "
        "in the help",
    ),
    numbers={
        "lip": knot_angle(-1),
        "floor": knot_angle(0),
        "watched": lambda start, now: str(WATCHED),
        "first": number_before(D50),
        "last": number_after(D50),
        "asked": lambda start, now: D50.with_unit(COARSER * start.duty.d50_um),
        "water_first": before(WATER),
        "water_last": after(WATER),
        "loose_first": before(LOOSE),
        "loose_last": after(LOOSE),
        "repose_first": before(REPOSE),
        "repose_last": after(REPOSE),
        "falling_first": lambda start, now: grooves(falling(start)),
        "falling_last": lambda start, now: grooves(falling(now)),
    },
)

"""Lesson 4: a wider mouth makes the stream fall farther, but not harder: the overturn ratio stays."""

import numpy as np

from profiler.assess import Evaluation
from profiler.lessons.knob import mouths
from profiler.lessons.lesson import DUTY, FIRST_MM, Lesson, Look, Step, Why, after, before, knot_angle, study_of
from profiler.numbers import fixed
from profiler.study import GrooveRule, Knot
from profiler.study.records.design import GROOVE_MOUTH

WATCHED = 3
WIDER = 1.2
FALL, POWER, RATIO = (Look(key, WATCHED) for key in ("groove_overfall_mm", "groove_power_w", "groove_ratio"))


def mouth(e: Evaluation) -> float:
    """mm along the wall, of the watched groove, by the rule or its own; nan where it is not there."""
    if e.shape is None or WATCHED not in e.shape.place:
        return float("nan")
    at = int(np.flatnonzero(e.shape.place == WATCHED)[0])
    return float(e.shape.mouths.upper_length[at] - e.shape.mouths.lower_length[at])


LESSON = Lesson(
    title="How far does a groove fall?",
    about="A cone of {cone} with {count} grooves, all exposed. In each the stream leaves the lower edge, falls on the "
    "bed that the upper edge holds, and turns over: an eddy.",
    task=f"Raise {GROOVE_MOUTH.label} from {{first}} to {{asked}} or more, for all grooves or for groove {{watched}} "
    "alone.",
    field=GROOVE_MOUTH,
    study=lambda: study_of(
        "How far does a groove fall?",
        (Knot(0.0, 16.0), Knot(330.0, 16.0)),
        DUTY,
        GrooveRule(count=9, from_mm=FIRST_MM, to_mm=330.0, mouth_mm=10.0),
    ),
    knob=mouths("the mouths of the grooves"),
    steps=(
        Step(
            lambda start, now: mouth(now) >= WIDER * mouth(start) - 1e-6,
            f"{GROOVE_MOUTH.label} of groove {{watched}} is {{last}}: raise it to {{asked}} or more.",
        ),
    ),
    look=(FALL, POWER, RATIO, Look("land_mm", WATCHED)),
    seen="With a mouth of {last} in place of {first} the overfall of groove {watched} went from {fall_first} to "
    "{fall_last} and its power from {power_first} to {power_last}; the overturn ratio stayed: {ratio_first} at first, "
    "{ratio_last} now. A wider mouth turns over more slurry, not more violently for its size.",
    why=Why(
        "On an exposed wall the fall is the mouth's height times what the wall opens more than repose. The ratio sets "
        "the power of that fall against the power the slurry needs to travel the same height, so the mouth cancels.",
        "σ = m (tan θw − tan θf),  P = q_m a σ,  E = σ / (m tan(θf − δ))",
        "derived",
    ),
    numbers={
        "cone": knot_angle(0),
        "count": lambda start, now: str(0 if start.shape is None else len(start.shape.mouths)),
        "watched": lambda start, now: str(WATCHED),
        "first": lambda start, now: f"{fixed(mouth(start), 1)} mm",
        "last": lambda start, now: f"{fixed(mouth(now), 1)} mm",
        "asked": lambda start, now: f"{fixed(WIDER * mouth(start), 1)} mm",
        "fall_first": before(FALL),
        "fall_last": after(FALL),
        "power_first": before(POWER),
        "power_last": after(POWER),
        "ratio_first": before(RATIO),
        "ratio_last": after(RATIO),
    },
)

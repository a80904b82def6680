"""Lesson 1: a groove overturns where the wall opens more than the angle at which the slurry comes to rest."""

import numpy as np

from profiler.assess import Evaluation
from profiler.assess.flow.flow_stage import HIGH, LOW, MIDDLE
from profiler.assess.quantities.table import STATE_WORDS
from profiler.lessons.knob import wall_angles
from profiler.lessons.lesson import (
    DUTY,
    GROOVES,
    Lesson,
    Look,
    Step,
    Why,
    after,
    degrees,
    knot_angle,
    overfalls,
    study_of,
)
from profiler.physics.slurry.overturn import State
from profiler.study import Knot
from profiler.units import DEGREE

WATCHED = GROOVES.count
FALL = Look("groove_overfall_mm", WATCHED)


def _repose(e: Evaluation, friction: int = MIDDLE) -> float:
    """Degrees, at the middle of the watched groove's mouth."""
    if e.flow is None or e.shape is None:
        return float("nan")
    return float(np.interp(_middle(e), e.shape.stations.height, e.flow.angle[0, friction])) / DEGREE


def _wall(e: Evaluation) -> float:
    return float("nan") if e.shape is None else float(e.shape.wall.angle_at(_middle(e))) / DEGREE


def _middle(e: Evaluation) -> float:
    return float("nan") if e.shape is None else float(e.shape.mouths.middle[WATCHED - 1])


def _there(e: Evaluation) -> bool:
    return e.shape is not None and len(e.shape.mouths) >= WATCHED


def _state(e: Evaluation) -> str:
    return "not stated" if e.flow is None else STATE_WORDS[State(int(e.flow.groove_state[0, WATCHED - 1]))]


LESSON = Lesson(
    title="What does the angle have to beat?",
    about="A wall of {wall} throughout. The teal band is the angle at which this slurry comes to rest: half-way up its "
    "middle lies at {half_way}. Every groove is calm: the bed lies over all of them.",
    task="In the wall angle strip drag the knot at the lip to the right, until the overturn ratio of the topmost "
    "groove, number {watched}, turns positive.",
    study=lambda: study_of("What does the angle have to beat?", (Knot(0.0, 3.0), Knot(330.0, 3.0)), DUTY),
    knob=wall_angles(),
    steps=(
        Step(lambda start, now: _there(now), "There is no groove {watched} any more: undo until it is back."),
        Step(
            lambda start, now: _wall(now) > _repose(now),
            "At groove {watched} the wall opens {wall_there}, the slurry rests at {repose_there}: open the wall more.",
        ),
        Step(
            lambda start, now: bool(overfalls(now)[WATCHED - 1] > 0.0),
            "At groove {watched} the wall opens more than repose, but what stands above it, nearer to the axis, still "
            "holds a bed over it: open the wall there too.",
        ),
    ),
    look=(
        Look("groove_ratio", WATCHED),
        FALL,
        Look("exposed_count"),
        Look("repose_deg"),
    ),
    seen="At groove {watched} the wall opened {wall_there}, more than the {repose_there} at which the slurry rests "
    "there, and so the stream found less below it than it needs: it fell {fall} from the groove's lower edge. An eddy "
    "turns where it falls. How sure is that? The band there reached from {low} to {high}, and by it the groove was "
    "called: {state}. Matched means that it may fall or not; past the band it falls all through it. What stands above "
    "has a say too: the next lesson.",
    why=Why(
        "The weight of the grains that ride on their neighbours, counted where they lie, times the friction between "
        "them, balances the pull of the film down its slope. A wall that opens more than that angle, and is not "
        "covered from above, cannot keep a bed.",
        "E = (tan θw − tan θf) / tan(θf − δ)",
        "balance after Takahashi (1978), J. Hydraul. Div. ASCE 104(8); overturn ratio derived, on an exposed wall",
    ),
    numbers={
        "wall": knot_angle(0),
        "half_way": lambda start, now: degrees(Look("repose_deg").value(start)),
        "watched": lambda start, now: str(WATCHED),
        "wall_there": lambda start, now: degrees(_wall(now)),
        "repose_there": lambda start, now: degrees(_repose(now)),
        "low": lambda start, now: degrees(_repose(now, LOW)),
        "high": lambda start, now: degrees(_repose(now, HIGH)),
        "fall": after(FALL),
        "state": lambda start, now: _state(now),
    },
)

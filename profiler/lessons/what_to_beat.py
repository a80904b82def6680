"""Lesson 1: a groove overturns where the wall opens more than the angle at which the slurry comes to rest."""

import numpy as np

from profiler.assess import Evaluation
from profiler.lessons.lesson import DUTY, Lesson, Look, Why, study_of
from profiler.physics.slurry.overturn import State
from profiler.study import Knot

WATCHED = 3


def _done(start: Evaluation, now: Evaluation) -> bool:
    """The watched groove has begun to overturn, and the wall was opened for it."""
    if start.shape is None or now.flow is None or now.shape is None or len(now.shape.mouths) < WATCHED:
        return False
    opened = float(np.max(now.shape.stations.angle)) > float(np.max(start.shape.stations.angle))
    return opened and now.flow.groove_state[0, WATCHED - 1] >= State.WEAK


LESSON = Lesson(
    title="What does the angle have to beat?",
    about="A wall of 3° throughout. The teal band is the angle at which this slurry comes to rest. Every groove is "
    "calm: the "
    "bed lies over all of them.",
    task="Drag the lowest knot of the wall-angle strip to the right, past the band, until groove 3 overturns.",
    study=lambda: study_of("What does the angle have to beat?", (Knot(0.0, 3.0), Knot(330.0, 3.0)), DUTY),
    done=_done,
    look=(
        Look("groove_ratio", WATCHED),
        Look("groove_overfall_mm", WATCHED),
        Look("count_sheltered"),
        Look("exposed_count"),
    ),
    seen="Where the wall opens more than the band, the stream finds less below it than it needs and falls from land to "
    "land. Higher up, where the wall still stands nearer to the axis than the band, the grooves stayed calm.",
    why=Why(
        "The weight of the grains that ride on their neighbours, counted where they lie, times the friction between "
        "them, balances the pull of the film down its slope. A wall that opens more than that angle cannot keep a bed.",
        "E = (tan θw − tan θf) / tan(θf − δ) on an exposed wall; it overturns where θw > θf",
        "balance after Takahashi (1978), J. Hydraul. Div. ASCE 104(8); overturn ratio derived",
    ),
)

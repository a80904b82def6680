"""Lesson 8: friction is not known, so a groove is told for sure only where both ends of its band say the same."""

import numpy as np

from profiler.assess import Evaluation
from profiler.assess.evidence.words import UNCALIBRATED
from profiler.lessons.knob import number_of_duty
from profiler.lessons.lesson import (
    DUTY,
    Lesson,
    Look,
    Step,
    Why,
    degrees,
    falling,
    grooves,
    knot_angle,
    number_after,
    number_before,
    overfalls,
    study_of,
)
from profiler.physics.slurry.overturn import State
from profiler.study import Knot
from profiler.study.records.duty import FRICTION

NEAR = 0.005  # of an end of the friction band
REPOSE, LOW, HIGH = (Look(key) for key in ("repose_deg", "repose_low_deg", "repose_high_deg"))


def _states(e: Evaluation, least: State, most: State) -> int:
    return 0 if e.flow is None else int(np.sum((e.flow.groove_state[0] >= least) & (e.flow.groove_state[0] <= most)))


def changed_sides(start: Evaluation, now: Evaluation) -> np.ndarray[tuple[int, ...], np.dtype[np.intp]]:
    """Indices of the grooves in which the stream fell and does so no more, or the other way round."""
    return np.flatnonzero((overfalls(start) > 0.0) != (overfalls(now) > 0.0))


def _at_an_end(start: Evaluation, now: Evaluation) -> bool:
    mu = now.duty.friction
    return min(abs(mu - start.duty.friction_low), abs(mu - start.duty.friction_high)) <= NEAR


LESSON = Lesson(
    title="How sure is the model?",
    about="A wall that opens from {lip} at the lip to {floor} at the floor. No wall angle was ever measured on this "
    "bowl: measured slope, not given. So the friction between the grains is known as a band only, {low_mu} to "
    "{high_mu}, and the repose angle half-way up lies anywhere from {low} to {high}. At the middle of the band the "
    "stream falls in {falling_first} of {all}. Told all through the band: overturn in {sure}, sheltered in {calm}. "
    "Matched, which leaves it open: {matched}.",
    task=f"Type for {FRICTION.label} the lower end of its band, {{low_mu}}, or the upper end, {{high_mu}}, and watch "
    "which grooves change sides.",
    field=FRICTION,
    study=lambda: study_of("How sure is the model?", (Knot(0.0, 26.0), Knot(330.0, 3.0)), DUTY),
    knob=number_of_duty(FRICTION),
    steps=(
        Step(
            _at_an_end,
            f"{FRICTION.label} stands at {{last}}: type {{low_mu}} or {{high_mu}}, an end of its band.",
        ),
    ),
    look=(REPOSE, LOW, HIGH, Look("exposed_count"), Look("count_matched")),
    seen="With a friction of {last} in place of {first} the stream falls in {falling_last}, at first it was "
    "{falling_first}. All that changed sides, {moved}, were called matched at first: matched means that this model "
    "cannot tell. Where it told, {sure} and {calm}, the stream still falls and the bed still lies. The words beside "
    "the section now speak of a band round the new middle; those at first are the ones to hold it against. The band "
    "is never narrower than a set width while nothing is measured, so typing a narrower guess makes nobody surer; one "
    "angle measured on a stopped bowl, with solids, size and speed written down, does.",
    why=Why(
        "Friction is the one uncertain number that decides; the band carries it from end to end, and is widened "
        "where that leaves less than the model's own doubt. Inside it a groove may fall or not; outside it, it falls, "
        "or is buried, at every friction of the band. That the law itself is right in a bowl is not proved by any "
        f"band. The slurry model is {UNCALIBRATED}.",
        "θ_low = θf at μ_low, θ_high = θf at μ_high",
        "working band, held against flume runs only: see The model's record in the help",
    ),
    numbers={
        "lip": knot_angle(-1),
        "floor": knot_angle(0),
        "low_mu": lambda start, now: FRICTION.text(start.duty.friction_low),
        "high_mu": lambda start, now: FRICTION.text(start.duty.friction_high),
        "first": number_before(FRICTION),
        "last": number_after(FRICTION),
        "low": lambda start, now: degrees(LOW.value(start)),
        "high": lambda start, now: degrees(HIGH.value(start)),
        "all": lambda start, now: grooves(len(overfalls(start))),
        "falling_first": lambda start, now: grooves(falling(start)),
        "falling_last": lambda start, now: grooves(falling(now)),
        "sure": lambda start, now: grooves(_states(start, State.WEAK, State.STRONG)),
        "calm": lambda start, now: grooves(_states(start, State.SHELTERED, State.SHELTERED)),
        "matched": lambda start, now: grooves(_states(start, State.MATCHED, State.MATCHED)),
        "moved": lambda start, now: grooves(len(changed_sides(start, now))),
    },
)

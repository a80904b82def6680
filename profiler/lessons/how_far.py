"""Lesson 4: a wider mouth makes the stream fall farther, but not harder: the overturn ratio stays."""

from profiler.assess import Evaluation
from profiler.lessons.lesson import DUTY, Lesson, Look, Why, study_of
from profiler.study import GrooveRule, Knot
from profiler.study.records.design import GROOVE_MOUTH

WATCHED = 3
WIDER = 1.3


def _done(start: Evaluation, now: Evaluation) -> bool:
    """The mouths were made at least so much wider on the same wall, and the watched groove is still there."""
    if now.shape is None or now.flow is None or len(now.shape.mouths) < WATCHED:
        return False
    wider = now.design.grooves.mouth_mm >= WIDER * start.design.grooves.mouth_mm
    return wider and now.design.wall == start.design.wall


LESSON = Lesson(
    title="How far does a groove fall?",
    about="A cone of 16° with ten grooves, all exposed. In each the stream leaves the lower edge, falls on the bed "
    "that the "
    "upper edge holds, and turns over.",
    task=f"Raise {GROOVE_MOUTH.label} from 10 mm to 13 mm or more.",
    field=GROOVE_MOUTH,
    study=lambda: study_of(
        "How far does a groove fall?",
        (Knot(0.0, 16.0), Knot(330.0, 16.0)),
        DUTY,
        GrooveRule(count=10, from_mm=12.0, to_mm=330.0, mouth_mm=10.0),
    ),
    done=_done,
    look=(
        Look("groove_overfall_mm", WATCHED), Look("groove_power_w", WATCHED), Look("groove_ratio", WATCHED),
        Look("land_mm", WATCHED),
    ),
    seen="Overfall and power grew with the mouth; the overturn ratio did not move. A wider mouth turns over more "
    "slurry, not "
    "more violently for its size.",
    why=Why(
        "On an exposed wall the fall is the mouth's height times what the wall opens more than repose. The ratio "
        "sets the "
        "power of that fall against the power the slurry needs to travel the same height, so the mouth cancels.",
        "σ = m (tan θw − tan θf),  P = q_m a σ,  E = σ / (m tan(θf − δ))",
        "derived",
    ),
)  # fmt: skip

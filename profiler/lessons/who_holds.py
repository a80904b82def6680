"""Lesson 2: a bed is held up by a land above it; what stands steep shelters what lies below."""

from profiler.assess import Evaluation
from profiler.assess.quantities.table import quantity
from profiler.lessons.lesson import DUTY, Lesson, Look, Why, study_of
from profiler.study import Knot


def _exposed(e: Evaluation) -> float:
    values = quantity("exposed_count").get(e)
    return float(values[0]) if len(values) else 0.0


def _lower_part(e: Evaluation) -> tuple[tuple[float, float, float], ...]:
    return tuple((k.height_mm, k.angle_deg, k.leaving) for k in e.design.wall.knots[:2])


def _done(start: Evaluation, now: Evaluation) -> bool:
    """Grooves of the cone, untouched itself, came out from under the bed because the top was opened."""
    same_cone = _lower_part(start) == _lower_part(now)
    return same_cone and now.flow is not None and _exposed(now) >= _exposed(start) + 2.0


LESSON = Lesson(
    title="Who holds the bed up?",
    about="A cone of 16° that turns upright towards the lip. Much of its upper half is buried, though the cone "
    "opens far more "
    "than repose. Point at a buried height in the section: a thin line leads to the land that holds the bed.",
    task="Do not touch the cone. Drag the topmost knot, at the lip, to the right until two more grooves come out.",
    study=lambda: study_of("Who holds the bed up?", (Knot(0.0, 16.0), Knot(190.0, 16.0), Knot(330.0, -1.0)), DUTY),
    done=_done,
    look=(Look("exposed_count"), Look("deepest_mm"), Look("count_matched"), Look("count_sheltered")),
    seen="The grooves that came out have the same wall angle as before. Only what holds the bed above them has moved.",
    why=Why(
        "A bed that carries slurry opens upward at least as fast as repose, and it cannot lie outside a land. So "
        "the surface "
        "is found from the lip down: the steepest stretch above decides how deep everything below is buried.",
        "r_s(z) = B(z) + min over lands above of (r_w − B),  B = ∫ tan θf dz",
        "derived; closed forms in the tests of the surface",
    ),
)

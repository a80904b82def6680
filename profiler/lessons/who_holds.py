"""Lesson 2: a bed is held up by a land above it; what stands steep shelters what lies below."""

import numpy as np

from profiler.assess import Evaluation
from profiler.lessons.knob import wall_angles
from profiler.lessons.lesson import DUTY, Lesson, Look, Step, Why, after, before, knot_angle, overfalls, study_of
from profiler.study import Knot

CORNER_MM = 186.0  # on a land
CONE_DEG, UPRIGHT_DEG = 16.0, 3.0
MORE = 2
DEEPEST = Look("deepest_mm")


def cone_grooves(e: Evaluation) -> np.ndarray[tuple[int, ...], np.dtype[np.bool_]]:
    """(g,) whether a groove's mouth lies on the cone, below where the corner stood at first."""
    return np.zeros(0, dtype=bool) if e.shape is None else np.asarray(e.shape.mouths.upper < CORNER_MM)


def cone_falling(e: Evaluation) -> int:
    """Grooves of the cone that no bed covers at middle friction."""
    on_cone = cone_grooves(e)
    return int(np.sum(overfalls(e)[on_cone] > 0.0)) if e.flow is not None else 0


def _same_cone(start: Evaluation, now: Evaluation) -> bool:
    """The wall below the corner opens as it did, wherever its knots lie."""
    if start.shape is None or now.shape is None:
        return False
    heights = np.linspace(0.0, CORNER_MM, 187)
    before, after = (e.shape.wall.angle_at(heights, above=False) for e in (start, now) if e.shape is not None)
    return bool(np.allclose(before, after, atol=1e-9))


LESSON = Lesson(
    title="Who holds the bed up?",
    about="A cone of {cone} with a corner at {corner}; above it the wall stands nearly upright, at {upright}. The cone "
    "opens far more than the {repose} of repose, and yet the bed covers all but {first} of its {all} grooves. Point "
    "at a covered height in the section: a thin line leads to the land that holds the bed, far above the cone.",
    task="Do not touch the cone. Drag the knot at the lip, or the upper angle of the corner, to the right, until "
    "{more} more grooves of the cone come out.",
    study=lambda: study_of(
        "Who holds the bed up?",
        (Knot(0.0, CONE_DEG), Knot(CORNER_MM, CONE_DEG, UPRIGHT_DEG), Knot(330.0, UPRIGHT_DEG)),
        DUTY,
    ),
    knob=wall_angles("the wall above the corner"),
    steps=(
        Step(_same_cone, "The cone was changed: undo until the wall below {corner} opens {cone} again."),
        Step(
            lambda start, now: cone_falling(now) >= cone_falling(start) + MORE,
            "Free of the bed on the cone: {last} now, {first} at first. Open the wall above the corner more.",
        ),
    ),
    look=(DEEPEST, Look("exposed_count"), Look("count_matched"), Look("count_sheltered")),
    seen="Of the cone's {all} grooves {last} are free now, instead of {first}, and the wall below the corner opens "
    "{cone} as before. Only what holds the bed above them has moved: the deepest bed went from {deep} to {shallow}.",
    why=Why(
        "A bed that carries slurry opens upward at least as fast as repose, and it cannot lie outside a land. So the "
        "surface is found from the lip down: the steepest stretch above decides how deep everything below is buried.",
        "r_s = B + min over lands above of (r_w − B),  B = ∫ tan θf dz",
        "derived; closed forms in the tests of the surface",
    ),
    numbers={
        "cone": knot_angle(0),
        "upright": lambda start, now: f"{start.design.wall.knots[1].leaving:g}°",
        "corner": lambda start, now: f"{start.design.wall.knots[1].height_mm:g} mm",
        "repose": lambda start, now: Look("repose_deg").text(start),
        "all": lambda start, now: str(int(np.sum(cone_grooves(now)))),
        "first": lambda start, now: str(cone_falling(start)),
        "last": lambda start, now: str(cone_falling(now)),
        "more": lambda start, now: str(MORE),
        "deep": before(DEEPEST),
        "shallow": after(DEEPEST),
    },
)

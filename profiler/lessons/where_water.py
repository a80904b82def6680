"""Lesson 6: water turns with the bowl, so it leaves through the rings farthest out unless the holes hold it back."""

import numpy as np
from msgspec.structs import replace

from profiler.assess import Evaluation
from profiler.lessons.lesson import DUTY, Lesson, Look, Why, study_of
from profiler.study import GrooveRule, HolePlan, Knot, Study
from profiler.study.records.holes import HOLE_DIAMETER

LOWEST, TOPMOST = 1, 10
DUTY_OF_WATER = replace(DUTY, water_l_min=54.0, d50_um=90.0)
WALL = (Knot(0.0, 15.0), Knot(330.0, 9.0))
HOLES = HolePlan(count=40, diameter_mm=0.85)


def _study() -> Study:
    grooves = GrooveRule(count=TOPMOST, from_mm=12.0, to_mm=330.0, mouth_mm=10.0)
    plain = study_of("Where does the water go?", WALL, DUTY_OF_WATER, grooves)
    return replace(plain, designs=(replace(plain.design, holes=HOLES),))


def _done(start: Evaluation, now: Evaluation) -> bool:
    """The jacket runs full because the holes pass less: the same bowl, the same water, speed and slurry."""
    if start.shape is None or now.shape is None or now.flow is None or now.flow.water.jacket is None:
        return False
    before, drilled = start.shape.holes, now.shape.holes
    if before is None or drilled is None or now.design.wall != start.design.wall or now.duty != start.duty:
        return False
    full = bool(np.isnan(now.flow.water.jacket.free_surface[0]))
    everywhere = bool(np.all(now.flow.water.ring[0] > 0.0))
    return full and everywhere and float(np.sum(drilled.rings.area)) < float(np.sum(before.rings.area))


LESSON = Lesson(
    title="Where does the water go?",
    about="Ten grooves, each with a ring of 40 holes, all drilled 0.85 mm. The jacket behind them runs part full: its "
    "water lies outside a free surface, nearer to the axis there is none. All rings are alike, but the topmost one, "
    "farthest from the axis, takes eight times the water of the lowest, whose bed packs.",
    task=f"Lower {HOLE_DIAMETER.label} until the jacket runs full and its free surface is gone: to 0.65 mm, say.",
    field=HOLE_DIAMETER,
    study=_study,
    done=_done,
    look=(
        Look("free_surface_mm"), Look("inlet_kpa"), Look("water_total_l_min"),
        Look("groove_water_l_min", LOWEST), Look("groove_water_l_min", TOPMOST),
        Look("velocity_ratio", LOWEST), Look("velocity_ratio", TOPMOST),
    ),
    seen="The water supplied is the same, but it is spread far more evenly, and the bed of the lowest groove is loose. "
    "The dash means that there is no free surface any more: the jacket is full, and the inlet must press now, where "
    "the water just ran in before. Narrow holes spread water evenly; they also ask for pressure and a fine strainer.",
    why=Why(
        "Water that turns with the bowl presses harder the farther out it stands. Wide holes let all of it out where "
        "that pressure is highest, before the jacket has filled. Holes so narrow that the loss in them is larger than "
        "the difference between the rings make all rings pass nearly the same.",
        "Q = n Cd A √(2 (p_j − p_b)/ρ),  p_j = ½ ρ ω² (r_i² − r_0²) while the jacket is part full",
        "liquid turning with the bowl, any fluid-mechanics text; Cd after Lichtarowicz, Duggins & Markland (1965); "
        "the balance of the rings is derived",
    ),
)  # fmt: skip

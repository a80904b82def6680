"""Lesson 6: water turns with the bowl, so it leaves through the rings farthest out unless the holes hold it back."""

import numpy as np
from msgspec.structs import replace

from profiler.assess import Evaluation
from profiler.lessons.knob import hole_plan
from profiler.lessons.lesson import DUTY, Lesson, Look, Step, Why, after, before, study_of
from profiler.numbers import fixed
from profiler.study import GrooveRule, HolePlan, Knot, Study
from profiler.study.records.holes import HOLE_DIAMETER

LOWEST, TOPMOST = 1, 10
DUTY_OF_WATER = replace(DUTY, water_l_min=54.0, d50_um=90.0)
WALL = (Knot(0.0, 15.0), Knot(330.0, 9.0))
HOLES = HolePlan(count=40, diameter_mm=0.85)
BELOW, ABOVE = Look("groove_water_l_min", LOWEST), Look("groove_water_l_min", TOPMOST)
LOOSE, LEVEL = Look("velocity_ratio", LOWEST), Look("free_surface_mm")


def _study() -> Study:
    grooves = GrooveRule(count=TOPMOST, from_mm=12.0, to_mm=330.0, mouth_mm=10.0)
    plain = study_of("Where does the water go?", WALL, DUTY_OF_WATER, grooves)
    return replace(plain, designs=(replace(plain.design, holes=HOLES),))


def _area(e: Evaluation) -> float:
    """mm² of all holes; nan without a plan."""
    return float("nan") if e.shape is None or e.shape.holes is None else float(np.sum(e.shape.holes.rings.area))


def _full(e: Evaluation) -> bool:
    jacket = None if e.flow is None else e.flow.water.jacket
    return jacket is not None and bool(np.isnan(jacket.free_surface[0]))


def _everywhere(e: Evaluation) -> bool:
    return e.flow is not None and bool(np.all(e.flow.water.ring[0] > 0.0))


def _spread(e: Evaluation) -> float:
    """Water of the topmost ring over that of the lowest."""
    return ABOVE.value(e) / BELOW.value(e)


LESSON = Lesson(
    title="Where does the water go?",
    about="{rings} grooves, each with a ring of {holes} holes, all drilled {first}. The jacket behind them runs part "
    "full: its water lies outside a free surface at a radius of {level}, nearer to the axis there is none. All rings "
    "are alike, but the topmost one, farthest from the axis, takes {spread_first} times the water of the lowest. There "
    "the velocity ratio, of the water's velocity over the one that just lifts the bed, is {loose_first}: that bed "
    "packs. The pressure of the water supply is not given; the lesson assumes that the water asked for arrives.",
    task=f"Lower {HOLE_DIAMETER.label} until the jacket runs full and its free surface is gone. Fewer holes will do "
    "as well.",
    field=HOLE_DIAMETER,
    study=_study,
    knob=hole_plan("the water holes"),
    steps=(
        Step(
            lambda start, now: _area(now) > 0.0,
            "Without holes the water is taken as spread evenly, which shows nothing: drill some.",
        ),
        Step(
            lambda start, now: _area(now) < _area(start),
            "The holes pass as much as at first, or more: narrower ones, or fewer.",
        ),
        Step(
            lambda start, now: _full(now),
            "The jacket still runs part full, its free surface at {level_now}: narrower holes, or fewer.",
        ),
        Step(lambda start, now: _everywhere(now), "Some rings get no water: drill them alike."),
        Step(
            lambda start, now: _spread(now) < _spread(start),
            "The topmost ring takes {spread_last} times the water of the lowest, more than at first: drill them alike.",
        ),
    ),
    look=(
        LEVEL, Look("inlet_kpa"), Look("water_total_l_min"), BELOW, ABOVE, LOOSE, Look("velocity_ratio", TOPMOST),
    ),
    seen="The water supplied is the same, but the topmost ring takes {spread_last} times that of the lowest now, where "
    "it was {spread_first} times, and the velocity ratio of the lowest groove went from {loose_first} to "
    "{loose_last}. The dash means that there is no free surface any more: the jacket is full, and the inlet must press "
    "with {inlet_last}, where at first the water just ran in. Narrow holes spread water evenly; they also ask for "
    "pressure and a fine strainer. Jackets and hoses under pressure belong to a licensed engineer under local codes.",
    why=Why(
        "Water that turns with the bowl presses harder the farther out it stands. Wide holes let all of it out where "
        "that pressure is highest, before the jacket has filled. Holes so narrow that the loss in them is larger than "
        "the difference between the rings make all rings pass nearly the same. Until the jacket is full its pressure "
        "follows from its free surface alone.",
        "Q = n Cd A √(2 (p_j − p_b)/ρ),  p_j = ½ ρ ω² (r_i² − r_0²)",
        "liquid turning with the bowl, any fluid-mechanics text; Cd after Lichtarowicz, Duggins & Markland (1965); "
        "the balance of the rings is derived",
    ),
    numbers={
        "rings": lambda start, now: str(TOPMOST),
        "holes": lambda start, now: str(start.design.holes.count),
        "first": lambda start, now: HOLE_DIAMETER.with_unit(start.design.holes.diameter_mm),
        "level": before(LEVEL),
        "level_now": after(LEVEL),
        "spread_first": lambda start, now: fixed(_spread(start), 1),
        "spread_last": lambda start, now: fixed(_spread(now), 1),
        "loose_first": before(LOOSE),
        "loose_last": after(LOOSE),
        "inlet_last": after(Look("inlet_kpa")),
    },
)  # fmt: skip

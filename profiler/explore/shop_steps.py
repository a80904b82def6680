"""A design rounded to steps a shop works in, and what that changes: radii of the wall's arcs, diameters, angles.

Heights of knots stay. From the floor up every span keeps where it begins; an arc gets the nearest radius of the step,
and ends at the angle that follows, sin t2 = sin t1 + dz/R; a straight span stays straight. Where radii are not rounded,
or a span is eased, the angle itself is. Locked knots, and what joins them, are left as they are.
"""

import itertools
from dataclasses import dataclass
from math import asin, degrees, isclose, radians, sin

from msgspec.structs import replace

from profiler.assess import Evaluation, Severity, evaluate
from profiler.assess.quantities.table import STATE_WORDS
from profiler.numbers import counted, fixed
from profiler.physics.slurry.overturn import State
from profiler.study import Design, Field, Knot, Way

STRAIGHT_DEG = 1e-6  # less is no arc
PLACES = 6  # decimals of an angle that follows from a radius

ANGLE_STEP: Field[float] = Field(
    "angle_step", "Angles to", "°", 0.01, 10.0, 0.05, 2, "Angles of the wall; empty: as they are"
)
RADIUS_STEP: Field[float] = Field(
    "radius_step", "Radii to", "mm", 0.1, 500.0, 0.5, 1, "Of the wall's arcs; empty: as they are"
)
DIAMETER_STEP: Field[float] = Field(
    "diameter_step", "Diameters to", "mm", 0.01, 100.0, 0.5, 2,
    "Of lip or floor, whichever is held, and of the hub hole; empty: as they are",
)  # fmt: skip
STEPS = (RADIUS_STEP, DIAMETER_STEP, ANGLE_STEP)
NOTHING_MOVES = "Everything stands on these steps already."


@dataclass(frozen=True, slots=True)
class Steps:
    """None: left as it is."""

    radius_mm: float | None = None
    diameter_mm: float | None = None
    angle_deg: float | None = None


@dataclass(frozen=True, slots=True)
class Rounded:
    """The design as it would become, and in words what changes; it is applied by whoever was shown that."""

    design: Design
    moved: tuple[str, ...]  # angles and diameters, with both values
    states: tuple[str, ...]  # grooves whose state changes
    refusal: str = ""  # why it cannot be applied, one sentence

    @property
    def sentence(self) -> str:
        if self.refusal:
            return self.refusal
        if not self.moved:
            return NOTHING_MOVES
        held = (
            f"{counted(len(self.states), 'groove')} changes state"
            if len(self.states) == 1
            else (
                f"{counted(len(self.states), 'groove')} change their state"
                if self.states
                else "no groove changes its state"
            )
        )
        return f"{counted(len(self.moved), 'number')} would change; {held}."


def rounded(e: Evaluation, steps: Steps) -> Rounded:
    """What rounding would do. Nothing is refused but what cannot be built where it could before."""
    try:
        design = round_design(e.design, steps)
    except ValueError as reason:
        return Rounded(e.design, (), (), str(reason))
    if design == e.design:
        return Rounded(design, (), ())
    after = evaluate(design, e.machine, e.duties)
    moved = _moved(e, after)
    if after.shape is None:
        why = next((f.text for f in after.findings if f.severity is Severity.STOP), "there is no shape.")
        return Rounded(e.design, moved, (), f"These steps are too coarse: {why[0].lower()}{why[1:]}")
    return Rounded(design, moved, _states(e, after))


def round_design(design: Design, steps: Steps) -> Design:
    """Raises ValueError where a radius leads to no angle."""
    wall, body = design.wall, design.body
    knots = _rounded_knots(wall.knots, steps)
    if steps.diameter_mm is not None:
        lip, floor = (None if r is None else _to(r, 0.5 * steps.diameter_mm)
                      for r in (wall.lip_radius_mm, wall.floor_radius_mm))  # fmt: skip
        wall = replace(wall, lip_radius_mm=lip, floor_radius_mm=floor)
        body = replace(body, hub_hole_mm=_to(body.hub_hole_mm, steps.diameter_mm))
    return replace(design, wall=replace(wall, knots=knots), body=body).done(Way.SHOP_STEPS, design)


def _to(value: float, step: float) -> float:
    """The nearest multiple; never nought, which no part has."""
    return round(max(round(value / step), 1) * step, PLACES)


def _angle_to(value: float, step: float | None) -> float:
    return value if step is None else round(round(value / step) * step, PLACES) + 0.0


def _rounded_knots(knots: tuple[Knot, ...], steps: Steps) -> tuple[Knot, ...]:
    first = knots[0]
    if not first.locked:
        first = _with(first, _angle_to(first.angle_deg, steps.angle_deg), steps)
    found = [first]
    for old, knot in itertools.pairwise(knots):
        below = found[-1]
        found.append(knot if knot.locked else _with(knot, _arriving(old, below, knot, steps), steps))
    return tuple(found)


def _arriving(old: Knot, below: Knot, knot: Knot, steps: Steps) -> float:
    """The angle at which the span from `below` arrives; `old` is that knot before."""
    if isclose(old.leaving, knot.angle_deg, abs_tol=STRAIGHT_DEG):
        return below.leaving
    wanted = _angle_to(knot.angle_deg, steps.angle_deg)
    turn = sin(radians(wanted)) - sin(radians(below.leaving))
    if steps.radius_mm is None or old.eased or abs(turn) < STRAIGHT_DEG:
        return wanted
    rise = knot.height_mm - below.height_mm
    radius = _to(abs(rise / turn), steps.radius_mm) * (1.0 if turn > 0.0 else -1.0)
    sine = sin(radians(below.leaving)) + rise / radius
    if abs(sine) >= 1.0:
        raise ValueError(
            f"These steps are too coarse: no arc of R{fixed(abs(radius), 1)} mm leads from "
            f"{fixed(below.height_mm, 1)} to {fixed(knot.height_mm, 1)} mm."
        )
    return round(degrees(asin(sine)), PLACES)


def _with(knot: Knot, arriving: float, steps: Steps) -> Knot:
    leaving = None if knot.leaving_deg is None else _angle_to(knot.leaving_deg, steps.angle_deg)
    return replace(knot, angle_deg=arriving, leaving_deg=leaving)


def _moved(before: Evaluation, after: Evaluation) -> tuple[str, ...]:
    found = []
    for one, other in zip(before.design.wall.knots, after.design.wall.knots, strict=True):
        for word, a, b in (
            ("angle", one.angle_deg, other.angle_deg),
            ("leaving angle", one.leaving_deg, other.leaving_deg),
        ):
            if a is not None and b is not None and a != b:
                change = f"{fixed(a, 3)} to {fixed(b, 3)}° ({fixed(b - a, 3, signed=True)}°)"
                found.append(f"{word} at {fixed(one.height_mm, 1)} mm: {change}")
    hub = (before.design.body.hub_hole_mm, after.design.body.hub_hole_mm)
    pairs = [("Ø of the hub hole", *hub)]
    if before.shape is not None and after.shape is not None:
        pairs += [("Ø at the lip", 2.0 * before.shape.lip_radius, 2.0 * after.shape.lip_radius),
                  ("Ø at the floor", 2.0 * before.shape.floor_radius, 2.0 * after.shape.floor_radius)]  # fmt: skip
    found += [f"{word}: {fixed(a, 3)} to {fixed(b, 3)} mm" for word, a, b in pairs if abs(a - b) > 5e-4]
    return tuple(found)


def _states(before: Evaluation, after: Evaluation) -> tuple[str, ...]:
    if before.flow is None or after.flow is None:
        return ()
    one, other = before.flow.groove_state[0], after.flow.groove_state[0]
    if len(one) != len(other):
        return (f"the count of grooves goes from {len(one)} to {len(other)}",)
    return tuple(
        f"groove {k}: {STATE_WORDS[State(a)]} becomes {STATE_WORDS[State(b)]}"
        for k, (a, b) in enumerate(zip(one.tolist(), other.tolist(), strict=True), 1) if a != b
    )  # fmt: skip

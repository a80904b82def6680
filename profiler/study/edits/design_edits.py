"""Pure edits of a study: each takes values and returns new ones, or refuses with one sentence (ValueError).

Here are the edits that touch more than one value; a single number or choice is set through its Field (`records`). What
needs geometry (the radius at the freed end of a wall, say) is handed in; nothing is computed here.
"""

from collections.abc import Collection
from dataclasses import dataclass
from math import cos, radians

from msgspec.structs import replace

from profiler.study.records.design import (
    KNOT_HEIGHT,
    Design,
    GrooveRule,
    Hold,
    Knot,
    WallCurve,
    refuse_locked,
    too_near,
)
from profiler.study.records.duty import Duty
from profiler.study.records.lineage import Lineage, Way
from profiler.study.records.machine import Machine
from profiler.study.records.study import Study

LEAST_DRAG_GAP_MM = KNOT_HEIGHT.step  # between a dragged knot and its neighbours
PLAIN_PITCH_MM = 21.0


@dataclass(frozen=True, slots=True)
class Angles:
    """Which of a knot's two angles an edit means."""

    arriving: bool = True
    leaving: bool = True


def with_design(study: Study, design: Design) -> Study:
    """The study with the shown design replaced; the shown name follows a renaming."""
    return study.having("design", design)


def with_duty(study: Study, duty: Duty) -> Study:
    """The study with the shown duty replaced; the shown name follows a renaming."""
    return study.having("duty", duty)


def with_machine(study: Study, machine: Machine) -> Study:
    return study.having("machine", machine)


def with_grooves(design: Design, grooves: GrooveRule) -> Design:
    return replace(design, grooves=grooves)


def with_knots(design: Design, knots: tuple[Knot, ...]) -> Design:
    return replace(design, wall=replace(design.wall, knots=knots))


def move_knot(
    design: Design,
    index: int,
    height_mm: float | None = None,
    angle_deg: float | None = None,
    angles: Angles = Angles(),
) -> Design:
    """Move one knot. The end knots keep their height; an inner knot stays between its neighbours.

    A corner's two angles move together, keeping their difference, unless `angles` names one of them. Raises ValueError
    for a locked knot.
    """
    knots = design.wall.knots
    knot = knots[index]
    if height_mm is not None and 0 < index < len(knots) - 1:
        low = knots[index - 1].height_mm + LEAST_DRAG_GAP_MM
        high = knots[index + 1].height_mm - LEAST_DRAG_GAP_MM
        knot = replace(knot, height_mm=round(min(max(height_mm, low), high), 4))
    if angle_deg is not None:
        knot = _turned(knot, angle_deg, angles)
    refuse_locked(knots[index], knot)
    return with_knots(design, (*knots[:index], knot, *knots[index + 1 :]))


def add_knot(design: Design, height_mm: float, angle_deg: float) -> tuple[Design, int]:
    """A new knot on the curve, and its index."""
    knots = design.wall.knots
    if not 0.0 < height_mm < design.wall.height_mm:
        raise ValueError(f"A knot lies between the floor and the lip, 0 to {design.wall.height_mm:g} mm.")
    if any(too_near(k.height_mm, height_mm) for k in knots):
        raise ValueError(f"There is a knot at {height_mm:g} mm already: make it a corner instead.")
    index = sum(k.height_mm < height_mm for k in knots)
    return with_knots(design, (*knots[:index], Knot(height_mm, angle_deg), *knots[index:])), index


def delete_knot(design: Design, index: int) -> Design:
    knots = design.wall.knots
    if index in (0, len(knots) - 1):
        raise ValueError("The knots at the floor and at the lip end the wall; they cannot be deleted.")
    refuse_locked(knots[index], None)
    return with_knots(design, (*knots[:index], *knots[index + 1 :]))


def turned_over(design: Design) -> Design:
    """All angles, those of locked knots too, measured from the horizontal turned into angles from the axis."""

    def turn(knot: Knot) -> Knot:
        leaving = None if knot.leaving_deg is None else round(90.0 - knot.leaving_deg, 6)
        return replace(knot, angle_deg=round(90.0 - knot.angle_deg, 6), leaving_deg=leaving)

    return with_knots(design, tuple(turn(k) for k in design.wall.knots))


def turned(design: Design, which: Collection[int], by_deg: float) -> Design:
    """These knots, by their places, turned by one angle; a corner turns as a whole."""

    def turn(knot: Knot) -> Knot:
        leaving = None if knot.leaving_deg is None else round(knot.leaving_deg + by_deg, 6)
        return replace(knot, angle_deg=round(knot.angle_deg + by_deg, 6), leaving_deg=leaving)

    return with_knots(design, tuple(turn(k) if i in which else k for i, k in enumerate(design.wall.knots)))


def held(design: Design, hold: Hold, lip_radius_mm: float, floor_radius_mm: float) -> Design:
    """Hold the lip, the floor or both at the radii the wall has now."""
    lip = round(lip_radius_mm, 4) if hold in (Hold.LIP, Hold.BOTH) else None
    floor = round(floor_radius_mm, 4) if hold in (Hold.FLOOR, Hold.BOTH) else None
    return replace(design, wall=replace(design.wall, lip_radius_mm=lip, floor_radius_mm=floor))


def plain_cone(name: str, height_mm: float, lip_radius_mm: float, angle_deg: float = 14.5) -> Design:
    """A straight cone to start from, with grooves over nearly its whole wall."""
    knots = (Knot(0.0, angle_deg), Knot(height_mm, angle_deg))
    usual = GrooveRule()
    room = height_mm / cos(radians(angle_deg)) - usual.mouth_mm - 2.0 * usual.from_mm
    count = max(1, 1 + int(room / PLAIN_PITCH_MM))
    end = usual.from_mm + usual.mouth_mm + PLAIN_PITCH_MM * (count - 1)
    grooves = replace(usual, count=count, to_mm=end)
    return Design(name, WallCurve(knots, lip_radius_mm=lip_radius_mm), grooves, lineage=Lineage(Way.CONE))


def _turned(knot: Knot, angle_deg: float, angles: Angles) -> Knot:
    if knot.leaving_deg is None:
        return replace(knot, angle_deg=angle_deg)
    if angles.arriving and angles.leaving:
        shift = angle_deg - knot.angle_deg
        return replace(knot, angle_deg=angle_deg, leaving_deg=round(knot.leaving_deg + shift, 6))
    return replace(knot, **({"angle_deg": angle_deg} if angles.arriving else {"leaving_deg": angle_deg}))

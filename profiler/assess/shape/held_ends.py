"""Both ends of the wall held: when one knot is edited, the other unlocked knots turn by one common angle."""

from dataclasses import dataclass
from typing import TypeVar

from msgspec.structs import replace

from profiler.assess.shape.shape_stage import wall_of
from profiler.study import Design, Field, Knot, Study
from profiler.study.edits.design_edits import with_knots

SAME_MM = 1e-7
LIMIT_DEG = 80.0
STEPS = 80

T = TypeVar("T")


class CannotJoin(ValueError):
    """No turn of the other knots joins the two held radii."""


@dataclass(frozen=True, slots=True)
class Joined:
    design: Design
    turned_deg: float


def changed(study: Study, field: Field[T], value: T) -> Study:
    """The study with one value set, and with what follows from a knot's where both ends of the wall are held.

    Raises ValueError, one sentence, for what cannot be set; CannotJoin where the held ends would part.
    """
    there = field.set(study, value)
    row = field.row
    if there is study or field.of is not Knot or field.kind is not float or row is None:
        return there
    return there.having("design", joined(there.design, row).design)


def mismatch_mm(design: Design) -> float:
    """Floor radius the curve comes to less the floor radius held; the wall is built down from the lip."""
    curve = design.wall
    if curve.lip_radius_mm is None or curve.floor_radius_mm is None:
        return 0.0
    return float(wall_of(design).radius[0]) - curve.floor_radius_mm


def joined(design: Design, edited: int | None = None) -> Joined:
    """The design with its unlocked knots, but the edited one, turned until both held radii are met.

    Raises CannotJoin where all others are locked, or where no turn within the angles allowed does it.
    """
    free = [i for i, k in enumerate(design.wall.knots) if i != edited and not k.locked]
    if abs(mismatch_mm(design)) <= SAME_MM:
        return Joined(design, 0.0)
    if not free:
        raise CannotJoin("Both ends are held and every other knot is locked: unlock one, or free an end.")
    angles = [a for i in free for a in (design.wall.knots[i].angle_deg, design.wall.knots[i].leaving)]
    low, high = -LIMIT_DEG - min(angles), LIMIT_DEG - max(angles)
    # opening the wall more widens what lies between floor and lip, so the floor radius falls as the turn grows
    if low >= high or mismatch_mm(_turned(design, free, low)) < 0.0 or mismatch_mm(_turned(design, free, high)) > 0.0:
        raise CannotJoin("Both ends are held and the other knots cannot turn far enough to meet them.")
    turn = _root(design, free, low, high)
    return Joined(_turned(design, free, turn), turn)


def _root(design: Design, free: list[int], low: float, high: float) -> float:
    """False position with the Illinois rule: the mismatch falls steadily from low to high."""
    at_low, at_high = (mismatch_mm(_turned(design, free, t)) for t in (low, high))
    turn, side = 0.0, 0
    for _ in range(STEPS):
        turn = low + (high - low) * at_low / (at_low - at_high)
        here = mismatch_mm(_turned(design, free, turn))
        if abs(here) <= SAME_MM:
            break
        if here > 0.0:
            low, at_low = turn, here
            at_high = 0.5 * at_high if side > 0 else at_high
            side = 1
        else:
            high, at_high = turn, here
            at_low = 0.5 * at_low if side < 0 else at_low
            side = -1
    return turn


def _turned(design: Design, free: list[int], turn: float) -> Design:
    def turned(knot: Knot) -> Knot:
        leaving = None if knot.leaving_deg is None else knot.leaving_deg + turn
        return replace(knot, angle_deg=knot.angle_deg + turn, leaving_deg=leaving)

    knots = design.wall.knots
    return with_knots(design, tuple(turned(k) if i in free else k for i, k in enumerate(knots)))

"""Curves to start from, each of few numbers, and always fitted: one angle, two with a corner, graded by a power law."""

from collections.abc import Sequence

from msgspec.structs import replace

from profiler.assess.fitting.fit import Fit, fit
from profiler.assess.fitting.rescaled import with_rule_anew
from profiler.assess.shape.shape_stage import wall_of
from profiler.study import Design, Knot, Machine, Way
from profiler.study.edits.design_edits import with_knots

GRADED_KNOTS = 5  # arcs between them keep to the law within a degree of 20 for powers from 0.7 to 3, 2.5 at 0.5
KEPT = 4  # decimals, as knots are kept when they are dragged
Knots = tuple[Knot, ...]


def one_angle(height_mm: float, angle_deg: float) -> Knots:
    """A straight cone."""
    return Knot(0.0, angle_deg), Knot(height_mm, angle_deg)


def two_angles(height_mm: float, lower_deg: float, upper_deg: float, corner_mm: float) -> Knots:
    """Two straight cones that meet in a corner. Raises ValueError where the corner lies outside the wall."""
    if not 0.0 < corner_mm < height_mm:
        raise ValueError(f"The corner lies inside the wall, between 0 and {height_mm:g} mm.")
    return Knot(0.0, lower_deg), Knot(corner_mm, lower_deg, upper_deg), Knot(height_mm, upper_deg)


def graded(height_mm: float, floor_deg: float, lip_deg: float, power: float) -> Knots:
    """Angle = lip + (floor - lip)(1 - z/H)^power at five equal heights. Raises ValueError for a power that is none.

    Power 1: the angle falls evenly; above it falls early, near the floor.
    """
    if not 0.2 <= power <= 5.0:
        raise ValueError(f"A power of {power:g} makes no wall; give it from 0.2 to 5.")
    shares = [k / (GRADED_KNOTS - 1) for k in range(GRADED_KNOTS)]
    angles = [round(lip_deg + (floor_deg - lip_deg) * (1.0 - share) ** power, KEPT) for share in shares]
    heights = [round(share * height_mm, KEPT) for share in shares[:-1]] + [height_mm]
    return tuple(Knot(z, angle) for z, angle in zip(heights, angles, strict=True))


def started(design: Design, machine: Machine, knots: Sequence[Knot]) -> Fit:
    """The design with this curve, fitted to the machine's lip, height and seat, its grooves by their rule anew.

    Raises ValueError where a knot is locked: a starting curve replaces every one.
    """
    if any(k.locked for k in design.wall.knots):
        raise ValueError("A starting curve replaces every knot, and some are locked: unlock them first.")
    old = wall_of(design)
    held = replace(design, wall=replace(design.wall, lip_radius_mm=machine.lip_radius_mm, floor_radius_mm=None))
    curve = with_knots(held, tuple(knots)).done(Way.CURVE, design)
    return fit(with_rule_anew(curve, curve, old), machine)

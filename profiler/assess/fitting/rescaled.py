"""A design brought to another height and lip radius: angles kept, knot heights in proportion, the floor gives way.

Grooves follow their rule anew: as many as before, as far from both ends as before, the pitch between them what is left;
fewer only where the lands would fall below the design's own least land. Whether the result can be built is not asked
here.
"""

from itertools import pairwise
from math import floor

import numpy as np
from msgspec.structs import replace

from profiler.assess.shape.held_ends import mismatch_mm
from profiler.assess.shape.shape_stage import lands_of, wall_of
from profiler.geometry.wall import Wall
from profiler.study import Design, GrooveRule, Knot, Placing, WallCurve
from profiler.study.edits.design_edits import with_grooves

HEIGHT_DECIMALS = 4  # as knots are kept when they are dragged
SAME_MM = 1e-9


def rescaled(design: Design, lip_radius_mm: float, height_mm: float) -> Design:
    """The design with exactly this lip radius and height; the very same curve where it has them already.

    Raises ValueError where the design has no wall to start from, or the knots would lie on one another.
    """
    old = wall_of(design)
    taller = abs(old.height[-1] - height_mm) > SAME_MM
    curve = _with_height(design.wall, height_mm) if taller else design.wall
    parted = abs(mismatch_mm(design)) > SAME_MM
    if parted or abs(old.radius[-1] - lip_radius_mm) > SAME_MM or (taller and curve.floor_radius_mm is not None):
        curve = replace(curve, lip_radius_mm=lip_radius_mm, floor_radius_mm=None)
    moved = design if curve is design.wall else replace(design, wall=curve)
    return with_rule_anew(moved, design, old) if taller else moved


def _with_height(curve: WallCurve, height_mm: float) -> WallCurve:
    scale = height_mm / curve.height_mm
    last = len(curve.knots) - 1

    def moved(place: int, knot: Knot) -> Knot:
        height = height_mm if place == last else round(knot.height_mm * scale, HEIGHT_DECIMALS)
        return replace(knot, height_mm=height)

    knots = tuple(moved(place, knot) for place, knot in enumerate(curve.knots))
    if any(above.height_mm <= below.height_mm for below, above in pairwise(knots)):
        raise ValueError(f"At a height of {height_mm:g} mm two knots of the wall would lie on one another.")
    return replace(curve, knots=knots)


def with_rule_anew(moved: Design, design: Design, old: Wall) -> Design:
    """Rule, listed heights and single grooves' shifts carried over from the old wall to that of the moved design."""
    rule, new = design.grooves, wall_of(moved)
    scale = float(new.height[-1] / old.height[-1])
    if rule.placing is Placing.LISTED:
        heights = tuple(round(z * scale, HEIGHT_DECIMALS) for z in rule.heights_mm)
        return with_grooves(moved, replace(rule, heights_mm=heights))
    along = rule.placing is Placing.ALONG_WALL
    before, after = (float(w.length[-1] if along else w.height[-1]) for w in (old, new))
    left = before - rule.to_mm
    if left < 0.0:  # it reached past the lip before: a mouth stays as far inside as the shop's rule asks
        left = 0.5 * rule.least_land_mm
    to_mm = floor(10.0 * (after - left) + 1e-6) / 10.0
    shifts = tuple(replace(c, shift_mm=round(c.shift_mm * scale, 1)) for c in rule.changes)
    return _with_fewer(with_grooves(moved, replace(rule, to_mm=to_mm, changes=shifts)), new, least_land(design, old))


def least_land(design: Design, wall: Wall) -> float:
    """The narrowest land the grooves may leave: the shop's, or what the design has already where that is less."""
    own = float(np.min(lands_of(design, wall), initial=np.inf))
    return max(min(design.grooves.least_land_mm, own), 0.0)


def _with_fewer(design: Design, wall: Wall, least: float) -> Design:
    """As many grooves as the lands between them allow."""
    rule: GrooveRule = design.grooves
    for count in range(rule.count, 0, -1):
        fewer = replace(rule, count=count, changes=tuple(c for c in rule.changes if c.place <= count))
        tried = with_grooves(design, fewer)
        if float(np.min(lands_of(tried, wall), initial=np.inf)) >= least - 1e-9:
            return tried
    return design

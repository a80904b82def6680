"""The numbers a search may turn, as points of a unit cube: angles of knots, sorted heights, numbers of the grooves.

Locked knots stay, and so does a held end; where both are held all unlocked angles turn by one common angle. Grooves
follow their rule anew: as far from both ends of the wall as before, whatever its length becomes.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from msgspec.structs import replace

from profiler.assess.fitting.rescaled import with_rule_anew
from profiler.assess.shape.held_ends import CannotJoin, joined
from profiler.assess.shape.shape_stage import wall_of
from profiler.geometry.wall import FloatArray, Wall
from profiler.study import Design, Hold, Knot
from profiler.study.edits.design_edits import with_grooves, with_knots
from profiler.units import DEGREE

KNOTS = (2, 5)
ANGLES_DEG = (-5.0, 45.0)
LEAST_GAP = 0.05  # of the wall's height, between two knots
MOST_NUMBERS = 8
KEPT = 4  # decimals, as knots are kept when they are dragged


@dataclass(frozen=True, slots=True)
class GrooveNumber:
    """A number of the groove rule and its range."""

    name: str
    low: float
    high: float
    whole: bool = False


def groove_numbers(design: Design, names: Sequence[str]) -> tuple[GrooveNumber, ...]:
    """Ranges round what the design has. Raises ValueError for a name that is none of mouth, depth, count."""
    rule = design.grooves
    known = {
        "mouth": GrooveNumber("mouth_mm", 0.5 * rule.mouth_mm, 1.5 * rule.mouth_mm),
        "depth": GrooveNumber("depth_mm", 0.5 * rule.depth_mm, 1.5 * rule.depth_mm),
        "count": GrooveNumber("count", max(1.0, 0.5 * rule.count), 1.5 * rule.count, True),
    }
    for name in names:
        if name not in known:
            raise ValueError(f"“{name}” cannot be searched of the grooves: mouth, depth and count can.")
        if not rule.count:
            raise ValueError("The design has no grooves to search.")
    return tuple(known[name] for name in names)


@dataclass(frozen=True, slots=True)
class FreeCurve:
    """A design and which of its numbers are free."""

    design: Design
    turned: tuple[int, ...]  # knots whose angle is free
    stretches: tuple[tuple[int, ...], ...]  # knots whose height is free, between two that stay
    grooves: tuple[GrooveNumber, ...]
    angles_deg: tuple[float, float]
    drawn: Wall  # as the search found it: what the grooves' rule was made for

    @property
    def count(self) -> int:
        return len(self.turned) + sum(map(len, self.stretches)) + len(self.grooves)

    @property
    def at_start(self) -> FloatArray:
        """(n,) where the design itself lies, brought inside where it lies outside."""
        knots, rule = self.design.wall.knots, self.design.grooves
        low, high = self.angles_deg
        found = [(knots[i].angle_deg - low) / (high - low) for i in self.turned]
        for stretch in self.stretches:
            bottom, gap, room = self._room(stretch)
            found += [(knots[i].height_mm - bottom - (n + 1) * gap) / room for n, i in enumerate(stretch)]
        found += [(getattr(rule, g.name) - g.low) / (g.high - g.low) for g in self.grooves]
        return np.asarray(np.clip(np.array(found), 0.0, 1.0))

    def at(self, point: FloatArray) -> Design:
        """The design at a point. Raises CannotJoin where the held ends cannot be met within the range of angles."""
        low, high = self.angles_deg
        knots = list(self.design.wall.knots)
        values = iter(point.tolist())
        for i in self.turned:
            knots[i] = _turned_to(knots[i], round(low + (high - low) * next(values), KEPT))
        for stretch in self.stretches:
            bottom, gap, room = self._room(stretch)
            for n, (i, share) in enumerate(zip(stretch, sorted(next(values) for _ in stretch), strict=True)):
                knots[i] = replace(knots[i], height_mm=round(bottom + (n + 1) * gap + share * room, KEPT))
        rule = self.design.grooves
        for g in self.grooves:
            value = g.low + (g.high - g.low) * next(values)
            rule = replace(rule, **{g.name: round(value) if g.whole else round(value, 2)})
        moved = self._with_ends(with_grooves(with_knots(self.design, tuple(knots)), rule))
        return with_rule_anew(moved, moved, self.drawn)

    def _with_ends(self, design: Design) -> Design:
        if design.wall.hold is not Hold.BOTH:
            return design
        found = joined(design).design
        low, high = self.angles_deg
        if any(not low <= found.wall.knots[i].angle_deg <= high for i in self.turned):
            raise CannotJoin("Meeting both held ends takes an angle outside the range.")
        return found

    def _room(self, stretch: tuple[int, ...]) -> tuple[float, float, float]:
        """Height of the fixed knot below, the least gap, and what is left to share out, mm."""
        knots = self.design.wall.knots
        bottom, top = knots[stretch[0] - 1].height_mm, knots[stretch[-1] + 1].height_mm
        gap = min(LEAST_GAP * self.design.wall.height_mm, 0.5 * (top - bottom) / (len(stretch) + 1))
        return bottom, gap, top - bottom - (len(stretch) + 1) * gap


def free_curve(
    design: Design,
    knots: int | None = None,
    grooves: Sequence[str] = (),
    angles_deg: tuple[float, float] = ANGLES_DEG,
) -> FreeCurve:
    """What is free of a design. Raises ValueError, one sentence, where nothing is, or too much."""
    if not angles_deg[0] < angles_deg[1]:
        raise ValueError(f"No angle is left between {angles_deg[0]:g} and {angles_deg[1]:g}°.")
    own = len(design.wall.knots)
    wanted = knots if knots is not None else min(max(own, KNOTS[0]), KNOTS[1])
    if not KNOTS[0] <= wanted <= KNOTS[1]:
        raise ValueError(f"A curve is searched with {KNOTS[0]} to {KNOTS[1]} knots, not {wanted}.")
    start = design if wanted == own else _with_so_many(design, wanted)
    rows = start.wall.knots
    turned = tuple(i for i, k in enumerate(rows) if not k.locked)
    if not turned:
        raise ValueError("Every knot is locked: unlock those that may turn.")
    fixed = [i for i, k in enumerate(rows) if k.locked or i in (0, len(rows) - 1)]
    stretches = tuple(tuple(range(a + 1, b)) for a, b in pairwise(fixed) if b - a > 1)
    found = FreeCurve(start, turned, stretches, groove_numbers(design, grooves), angles_deg, wall_of(design))
    if found.count > MOST_NUMBERS:
        raise ValueError(
            f"{found.count} numbers would be free, more than {MOST_NUMBERS}: take fewer knots, or lock some."
        )
    return found


def _with_so_many(design: Design, count: int) -> Design:
    """The wall with so many knots on it: ends and locked ones stay, others lie where the gaps are widest."""
    wall, own = wall_of(design), design.wall.knots
    kept = [k for i, k in enumerate(own) if k.locked or i in (0, len(own) - 1)]
    if len(kept) > count:
        raise ValueError(f"{len(kept)} knots stay, ends and locked ones, so {count} are too few.")
    while len(kept) < count:
        gaps = [above.height_mm - below.height_mm for below, above in pairwise(kept)]
        i = int(np.argmax(gaps))
        height = round(0.5 * (kept[i].height_mm + kept[i + 1].height_mm), KEPT)
        angle = float(wall.angle_at(np.array([height]))[0]) / DEGREE
        kept.insert(i + 1, Knot(height, round(angle, KEPT)))
    return with_knots(design, tuple(kept))


def _turned_to(knot: Knot, angle_deg: float) -> Knot:
    """A corner keeps the difference of its two angles."""
    shift = angle_deg - knot.angle_deg
    leaving = None if knot.leaving_deg is None else round(knot.leaving_deg + shift, KEPT)
    return replace(knot, angle_deg=angle_deg, leaving_deg=leaving)

"""The plan of water holes: how many, how wide and how skewed, ring by ring.

Holes lie square to the axis, through the middle of a groove's floor, all of a ring alike and evenly spread. A plan
without a single hole is no plan: the water is then taken as spread evenly over the grooves.
"""

from typing import Annotated

from msgspec import Struct
from msgspec.structs import replace

from profiler.study.records.fields import number

MOST_HOLES = 2000


class HoleChange(Struct, frozen=True, forbid_unknown_fields=True):
    """One groove's ring where it departs from the plan. None: as the plan says."""

    place: int  # of the groove, in the groove rule's order, from 1 at the floor
    count: Annotated[int, number("Holes", "", 0, MOST_HOLES, 1, 0, "Holes of this ring; 0 for none.")] | None = None
    diameter_mm: Annotated[float, number("Hole diameter", "mm", 0.2, 50, 0.1, 2, "Of this ring.")] | None = None
    skew_deg: Annotated[float, number("Skew", "°", 0, 75, 1, 1, "Off the radius, of this ring.")] | None = None

    @property
    def is_nothing(self) -> bool:
        return self.count is None and self.diameter_mm is None and self.skew_deg is None


class HolePlan(Struct, frozen=True, forbid_unknown_fields=True):
    """All rings by one rule, and the rings that depart from it."""

    count: Annotated[
        int,
        number("Holes a ring", "", 0, MOST_HOLES, 1, 0, "0: no plan; water is then spread evenly over the grooves."),
    ] = 0
    diameter_mm: Annotated[float, number("Hole diameter", "mm", 0.2, 50, 0.1, 2, "A drill that the shop has.")] = 1.5
    skew_deg: Annotated[
        float, number("Skew", "°", 0, 75, 1, 1, "How far a hole leans off the radius, square to the axis.")
    ] = 0.0
    changes: tuple[HoleChange, ...] = ()

    def ring(self, place: int) -> tuple[int, float, float]:
        """Count, diameter in mm and skew in degrees of the ring at a groove's place."""
        change = next((c for c in self.changes if c.place == place), HoleChange(place))
        count = self.count if change.count is None else change.count
        diameter = self.diameter_mm if change.diameter_mm is None else change.diameter_mm
        return count, diameter, self.skew_deg if change.skew_deg is None else change.skew_deg

    @property
    def is_given(self) -> bool:
        """Whether there is a plan: a ring may still have all its holes stopped up."""
        return self.count > 0 or any((c.count or 0) > 0 for c in self.changes)


def change_ring(plan: HolePlan, place: int, name: str, value: object) -> HolePlan:
    """Let one ring depart from the plan, or follow it again with None."""
    now = next((c for c in plan.changes if c.place == place), HoleChange(place))
    changed = replace(now, **{name: value})
    others = [c for c in plan.changes if c.place != place]
    kept = others if changed.is_nothing else [*others, changed]
    return replace(plan, changes=tuple(sorted(kept, key=lambda c: c.place)))

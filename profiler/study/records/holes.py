"""The plan of water holes: how many, how wide and how skewed, ring by ring.

Holes lie square to the axis, through the middle of a groove's floor, all of a ring alike and evenly spread. Angles
count counter-clockwise as seen from the lip, where holes begin on the groove's floor, from a datum marked on the bowl.
A plan without a single hole is no plan: the water is then taken as spread evenly over the grooves.
"""

from typing import Annotated, ClassVar

from profiler.study.records.fields import member, number, optional, required
from profiler.study.records.record import Departure, Place, Record, Rows, Rule

MOST_HOLES = 2000


class HoleChange(Departure, frozen=True):
    """One groove's ring where it departs from the plan; its place is the groove's. None: as the plan says."""

    PLACE: ClassVar[Place] = Place(("design", "holes", Rows("changes")), "Change one ring's {}")

    place: Annotated[int, member("Place", "Of its groove in the rule's order, from 1 at the floor.")]
    count: Annotated[int, number("Holes", "", 0, MOST_HOLES, 1, 0, "Holes of this ring; 0 for none.")] | None = None
    diameter_mm: Annotated[float, number("Hole diameter", "mm", 0.2, 50, 0.1, 2, "Of this ring.")] | None = None
    skew_deg: Annotated[float, number("Skew", "°", -75, 75, 1, 1, "Off the radius, of this ring.")] | None = None


class HoleMaking(Record, frozen=True):
    """A way of making holes and what it can do. Lists to take from: `files/hole_makings`."""

    PLACE: ClassVar[Place] = Place(undo="Change the way of making's {}")

    name: Annotated[str, member("Name", "The name in lists.")]
    deepest: Annotated[
        float,
        number("Greatest depth", "diameters", 1, 200, 1, 1, "Depth over diameter; common practice, no source."),
    ]
    least_mm: Annotated[
        float, number("Smallest hole", "mm", 0.2, 50, 0.1, 2, "Smallest sensible diameter; common practice, no source.")
    ]


class HolePlan(Rule, frozen=True):
    """All rings by one rule, and the rings that depart from it."""

    PLACE: ClassVar[Place] = Place(("design", "holes"))
    DEPARTURE: ClassVar[type[Departure]] = HoleChange

    count: Annotated[
        int,
        number("Holes a ring", "", 0, MOST_HOLES, 1, 0, "0: no plan; water is then spread evenly over the grooves."),
    ] = 0
    diameter_mm: Annotated[float, number("Hole diameter", "mm", 0.2, 50, 0.1, 2, "A drill that the shop has.")] = 1.5
    skew_deg: Annotated[
        float,
        number("Skew", "°", -75, 75, 1, 1, "Off the radius on the way out; positive: counter-clockwise from the lip."),
    ] = 0.0
    changes: Annotated[tuple[HoleChange, ...], member("Single rings", "Rings that depart from the plan.")] = ()
    start_deg: Annotated[
        float,
        number("First hole", "°", 0, 360, 1, 1, "Of the lowest ring, from the datum, counter-clockwise from the lip."),
    ] = 0.0
    phase_deg: Annotated[
        float,
        number("Phase", "°", 0, 360, 0.5, 2, "Each ring's first hole is turned so far from that of the ring below."),
    ] = 0.0

    making: Annotated[
        HoleMaking | None, member("Made by", "How the holes are made; not stated: their depth is not judged.")
    ] = None

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


HOLE_DIAMETER = required(HolePlan, "diameter_mm", float)
HOLE_MAKING = optional(HolePlan, "making", HoleMaking)

"""A design: one bowl as it was decided. Wall curve, grooves, body; frozen values, no behaviour beyond asking.

Heights are above the bowl's inner floor, angles from the spin axis (0 upright, positive opens upward), all lengths mm.
"""

from enum import StrEnum
from math import inf
from typing import Annotated, ClassVar, Self

from profiler.study.records.fields import member, number, optional, required
from profiler.study.records.holes import HolePlan
from profiler.study.records.lineage import Lineage, Way
from profiler.study.records.materials import Material
from profiler.study.records.record import Departure, Place, Record, Rows, Rule

LEAST_KNOT_GAP_MM = 0.01  # nearer knots are one: no span between them can be cut, nor told from a corner
_ROUNDING_MM = 1e-9


class Hold(StrEnum):
    """Which end of the wall stays put while its curve is edited."""

    LIP = "lip"
    FLOOR = "floor"
    BOTH = "both ends"


class SquareTo(StrEnum):
    """What a groove's depth is square to."""

    WALL = "wall"
    AXIS = "axis"


class Placing(StrEnum):
    """How the rule spaces its grooves."""

    ALONG_WALL = "equal pitch along the wall"
    IN_HEIGHT = "equal pitch in height"
    LISTED = "listed heights"


class Knot(Record, frozen=True):
    """An editable point of the wall curve. A corner has a second, leaving angle.

    `eased` speaks of the span above: its angle follows a smooth cubic instead of one arc. A `locked` knot refuses every
    edit but being unlocked, and does not turn when both ends of the wall are held.
    """

    PLACE: ClassVar[Place] = Place(("design", "wall", Rows("knots")), "Change a knot's {}")

    height_mm: Annotated[float, number("Height", "mm", 0, 3000, 0.1, 1, "Above the bowl's inner floor.")]
    angle_deg: Annotated[
        float,
        number(
            "Wall angle",
            "°",
            -60,
            85,
            0.05,
            2,
            "From the spin axis: 0 is upright, positive opens upward.",
            short="Angle",
        ),
    ]
    leaving_deg: (
        Annotated[float, number("Angle above corner", "°", -60, 85, 0.05, 2, "Wall angle just above a corner.")] | None
    ) = None
    eased: Annotated[
        bool,
        member(
            "Ease the span above",
            "A smooth cubic instead of one arc; fitted with arcs to 0.01 mm.",
            undo="Ease the span above",
        ),
    ] = False
    locked: Annotated[
        bool,
        member(
            "Lock this knot",
            "Neither mouse nor keys nor tables change it, and it does not turn when both ends are held.",
            undo="Lock this knot",
        ),
    ] = False

    @property
    def is_corner(self) -> bool:
        return self.leaving_deg is not None

    @property
    def leaving(self) -> float:
        """The wall angle just above, degrees."""
        return self.angle_deg if self.leaving_deg is None else self.leaving_deg


KNOT_HEIGHT = required(Knot, "height_mm", float)
KNOT_ANGLE = required(Knot, "angle_deg", float)
KNOT_LEAVING = optional(Knot, "leaving_deg", float)
KNOT_EASED = required(Knot, "eased", bool)
KNOT_LOCKED = required(Knot, "locked", bool)


class WallCurve(Record, frozen=True):
    """Knots from the floor (height 0) to the lip, and the radius that is held: a radius that is None is free."""

    PLACE: ClassVar[Place] = Place(("design", "wall"))

    knots: Annotated[tuple[Knot, ...], member("Knots", "From the floor, at height 0, up to the lip; at least two.")]
    lip_radius_mm: (
        Annotated[float, number("Lip radius", "mm", 20, 3000, 0.1, 2, "Radius of the bowl's top rim.", empty="")] | None
    ) = None
    floor_radius_mm: (
        Annotated[
            float, number("Floor radius", "mm", 10, 3000, 0.1, 2, "Radius where the wall meets the floor.", empty="")
        ]
        | None
    ) = None

    @property
    def hold(self) -> Hold:
        if self.lip_radius_mm is not None and self.floor_radius_mm is not None:
            return Hold.BOTH
        return Hold.FLOOR if self.floor_radius_mm is not None else Hold.LIP

    @property
    def height_mm(self) -> float:
        return self.knots[-1].height_mm if self.knots else 0.0

    def having_row(self, name: str, key: int, row: Record) -> Self:
        """Knots stay in their order; a corner lies inside the wall."""
        if isinstance(row, Knot):
            _check_knot(self.knots, key, row)
        return super().having_row(name, key, row)


LIP_RADIUS = optional(WallCurve, "lip_radius_mm", float)
FLOOR_RADIUS = optional(WallCurve, "floor_radius_mm", float)


class GrooveChange(Departure, frozen=True):
    """One groove that departs from the rule: moved, cut otherwise, or left out. None: as the rule says."""

    PLACE: ClassVar[Place] = Place(("design", "grooves", Rows("changes")), "Change one groove's {}")

    place: Annotated[int, member("Place", "In the rule's order, from 1 at the floor.")]
    off: Annotated[
        bool, member("Leave this groove out", "It keeps its place in the rule.", undo="Leave a groove out")
    ] = False
    shift_mm: Annotated[
        float,
        number(
            "Moved by",
            "mm",
            -500,
            500,
            0.1,
            2,
            "Along the wall from the rule's place, upward positive.",
            undo="Move one groove",
        ),
    ] = 0.0
    mouth_mm: Annotated[float, number("Mouth", "mm", 0.5, 300, 0.1, 2, "Opening along the wall.")] | None = None
    depth_mm: (
        Annotated[float, number("Depth", "mm", 0.5, 300, 0.1, 2, "From the mouth line to the groove floor.")] | None
    ) = None


GROOVE_OFF = required(GrooveChange, "off", bool)
GROOVE_SHIFT = required(GrooveChange, "shift_mm", float)


class GrooveRule(Rule, frozen=True):
    """All grooves of a design by one rule. Mouths are measured along the wall."""

    PLACE: ClassVar[Place] = Place(("design", "grooves"), "Change the grooves' {}")
    DEPARTURE: ClassVar[type[Departure]] = GrooveChange

    placing: Annotated[
        Placing,
        member("Placing", "What is equal from groove to groove.", undo="Place the grooves differently"),
    ] = Placing.ALONG_WALL
    count: Annotated[
        int,
        number("Groove count", "", 0, 500, 1, 0, "How many the rule places.", undo="Change the groove count"),
    ] = 16
    from_mm: Annotated[
        float,
        number(
            "Grooves from",
            "mm",
            0,
            3000,
            0.5,
            1,
            "Lower edge of the lowest, from the floor; see Placing.",
            undo="Change where the grooves start",
        ),
    ] = 8.0
    to_mm: Annotated[
        float,
        number(
            "Grooves to",
            "mm",
            0,
            3000,
            0.5,
            1,
            "Upper edge of the topmost, from the floor; see Placing.",
            undo="Change where the grooves end",
        ),
    ] = 336.0
    heights_mm: Annotated[
        tuple[float, ...], member("Listed heights", "Mid-mouth heights in mm, where Placing is by a list.")
    ] = ()
    mouth_mm: Annotated[float, number("Mouth", "mm", 0.5, 300, 0.1, 2, "Opening along the wall.")] = 13.0
    depth_mm: Annotated[float, number("Depth", "mm", 0.5, 300, 0.1, 2, "From the mouth line to the groove floor.")] = (
        12.0
    )
    flank_deg: Annotated[
        float,
        number("Flank angle", "°", 0, 45, 0.5, 1, "Each flank's lean from the depth direction; widens the mouth."),
    ] = 6.0
    floor_radius_mm: Annotated[
        float, number("Floor radius", "mm", 0, 100, 0.1, 2, "Fillet between flank and groove floor.")
    ] = 2.0
    edge_radius_mm: Annotated[
        float, number("Edge radius", "mm", 0, 100, 0.1, 2, "Rounding of the groove's two edges.")
    ] = 0.6
    square_to: Annotated[
        SquareTo,
        member("Square to", "What the depth is square to.", options=("the wall", "the axis"), undo="Turn the grooves"),
    ] = SquareTo.WALL
    changes: Annotated[tuple[GrooveChange, ...], member("Single grooves", "Grooves that depart from the rule.")] = ()
    least_land_mm: Annotated[
        float, number("Least land", "mm", 0, 100, 0.5, 1, "Narrowest land that lasts: a shop's own rule.")
    ] = 4.0
    least_wall_mm: Annotated[
        float, number("Least wall behind", "mm", 0, 100, 0.5, 1, "Thinnest wall behind a groove: a shop's own rule.")
    ] = 8.0


GROOVE_PLACING = required(GrooveRule, "placing", Placing)
GROOVE_COUNT = required(GrooveRule, "count", int)
GROOVES_FROM = required(GrooveRule, "from_mm", float)
GROOVES_TO = required(GrooveRule, "to_mm", float)
GROOVE_MOUTH = required(GrooveRule, "mouth_mm", float)
GROOVE_DEPTH = required(GrooveRule, "depth_mm", float)
GROOVE_SQUARE_TO = required(GrooveRule, "square_to", SquareTo)


class Body(Record, frozen=True):
    """What surrounds the wall: floor plate with hub hole, wall thickness, lip flange, material density."""

    PLACE: ClassVar[Place] = Place(("design", "body"))

    fill_seat: Annotated[
        bool,
        member(
            "Fill the seat, but for the jacket gap",
            "The outside follows the machine's seat instead of the wall.",
            undo="Fill the seat",
        ),
    ] = False
    wall_mm: Annotated[
        float, number("Wall thickness", "mm", 1, 300, 0.5, 1, "Square to the wall, grooves not cut.")
    ] = 26.0
    floor_plate_mm: Annotated[float, number("Floor plate", "mm", 1, 300, 0.5, 1, "Thickness of the bowl's floor.")] = (
        16.0
    )
    hub_hole_mm: Annotated[float, number("Hub hole", "mm", 2, 2000, 0.5, 1, "Diameter of the hole for the hub.")] = 76.0
    flange_width_mm: Annotated[
        float, number("Lip flange width", "mm", 0, 500, 0.5, 1, "How far the flange stands out from the outer wall.")
    ] = 18.0
    flange_mm: Annotated[float, number("Lip flange", "mm", 1, 300, 0.5, 1, "Thickness of the lip flange.")] = 14.0
    density_kg_m3: Annotated[
        float,
        number(
            "Body density",
            "kg/m³",
            200,
            20000,
            10,
            0,
            "Cast polyurethane lies between 1100 and 1200 kg/m³ (suppliers' data sheets); weigh a sample of your own.",
        ),
    ] = 1150.0
    material: Annotated[
        Material | None,
        member("Material of the bowl", "Its strength and stiffness; the body's density is a number of its own."),
    ] = None
    backed: Annotated[
        bool,
        member(
            "Ribs or a core back the bowl",
            "They, not its wall, carry the jacket's inward pressure.",
            undo="Back the bowl",
        ),
    ] = False

    def having(self, name: str, value: object) -> Self:
        """A material with another density than the one before sets the body's own."""
        changed = super().having(name, value)
        old, new = self.material, changed.material
        if new is not None and new is not old and (old is None or old.density_kg_m3 != new.density_kg_m3):
            return changed.having("density_kg_m3", new.density_kg_m3)
        return changed


BODY_FILL = required(Body, "fill_seat", bool)
BODY_WALL = required(Body, "wall_mm", float)
BODY_MATERIAL = optional(Body, "material", Material)
BODY_BACKED = required(Body, "backed", bool)


class Design(Record, frozen=True):
    """One bowl."""

    PLACE: ClassVar[Place] = Place(("design",))

    name: Annotated[str, member("Name", "Differs from those of the other designs.")]
    wall: Annotated[WallCurve, member("Wall curve", "The wall angle against height, and which end is held.")]
    grooves: Annotated[GrooveRule, member("Grooves", "All grooves, by one rule.")] = GrooveRule()
    body: Annotated[Body, member("Body", "What surrounds the wall.")] = Body()
    holes: Annotated[HolePlan, member("Water holes", "All rings of holes, by one plan.")] = HolePlan()
    note: Annotated[str, member("Note", "For whoever reads the file.")] = ""
    lineage: Annotated[Lineage, member("Lineage", "Made from which design, how, and why.")] = Lineage()

    def done(self, way: Way, to: Self) -> Self:
        """This design, come of something done to the whole of another; that one itself where nothing changed."""
        return to if self == to else self.having("lineage", to.lineage.followed_by(way))


def refuse_locked(old: Knot, new: Knot | None) -> None:
    """Raises ValueError, a sentence, where a locked knot would be changed or (None) taken away."""
    if old.locked and (new is None or (new.locked and new != old)):
        raise ValueError(f"The knot at {old.height_mm:g} mm is locked: unlock it to change it.")


def too_near(one_mm: float, other_mm: float) -> bool:
    """Whether two heights are too near one another for two knots."""
    return abs(one_mm - other_mm) < LEAST_KNOT_GAP_MM - _ROUNDING_MM


def too_near_words(one_mm: float, other_mm: float) -> str:
    return (
        f"Knots at {one_mm:g} and {other_mm:g} mm are nearer than {LEAST_KNOT_GAP_MM:g} mm: make them one knot, or a "
        "corner."
    )


def _check_knot(knots: tuple[Knot, ...], index: int, row: Knot) -> None:
    """Raises ValueError for a knot that cannot stand among the others; what did not change is not asked about."""
    old, height = knots[index], row.height_mm
    refuse_locked(old, row)
    if row.leaving_deg is not None and old.leaving_deg is None and index in (0, len(knots) - 1):
        raise ValueError("A corner lies inside the wall, not at the floor or the lip.")
    if height == old.height_mm:
        return
    if index == 0:
        raise ValueError("The lowest knot stands on the floor: its height stays 0 mm.")
    others = [k.height_mm for i, k in enumerate(knots) if i != index]
    if height in others:
        raise ValueError(f"Two knots cannot share the height {height:g} mm: make it a corner instead.")
    if near := [other for other in others if too_near(other, height)]:
        raise ValueError(too_near_words(near[0], height))
    below = knots[index - 1].height_mm
    above = knots[index + 1].height_mm if index + 1 < len(knots) else inf
    if not below < height < above:
        room = f"above {below:g} mm" if above == inf else f"between {below:g} and {above:g} mm"
        raise ValueError(f"This knot lies {room}; {height:g} mm is outside.")

"""A design: one bowl as it was decided. Wall curve, grooves, body; frozen values, no behaviour beyond asking.

Heights are above the bowl's inner floor, angles from the spin axis (0 upright, positive opens upward), all lengths mm.
"""

from enum import StrEnum
from typing import Annotated

from msgspec import Struct

from profiler.study.records.fields import number
from profiler.study.records.holes import HolePlan
from profiler.study.records.materials import Material


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


class Knot(Struct, frozen=True, forbid_unknown_fields=True):
    """An editable point of the wall curve. A corner has a second, leaving angle.

    `eased` speaks of the span above: its angle follows a smooth cubic instead of one arc. A `locked` knot does not turn
    when both ends of the wall are held.
    """

    height_mm: Annotated[float, number("Height", "mm", 0, 3000, 0.1, 1, "Above the bowl's inner floor.")]
    angle_deg: Annotated[
        float, number("Wall angle", "°", -60, 85, 0.05, 2, "From the spin axis: 0 is upright, positive opens upward.")
    ]
    leaving_deg: (
        Annotated[float, number("Leaving angle", "°", -60, 85, 0.05, 2, "Wall angle just above a corner.")] | None
    ) = None
    eased: bool = False
    locked: bool = False

    @property
    def is_corner(self) -> bool:
        return self.leaving_deg is not None

    @property
    def leaving(self) -> float:
        """The wall angle just above, degrees."""
        return self.angle_deg if self.leaving_deg is None else self.leaving_deg


class WallCurve(Struct, frozen=True, forbid_unknown_fields=True):
    """Knots from the floor (height 0) to the lip, and the radius that is held: a radius that is None is free."""

    knots: tuple[Knot, ...]
    lip_radius_mm: (
        Annotated[float, number("Lip radius", "mm", 20, 3000, 0.1, 2, "Radius of the bowl's top rim.")] | None
    ) = None
    floor_radius_mm: (
        Annotated[float, number("Floor radius", "mm", 10, 3000, 0.1, 2, "Radius where the wall meets the floor.")]
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


class GrooveChange(Struct, frozen=True, forbid_unknown_fields=True):
    """One groove that departs from the rule: moved, cut otherwise, or left out. None: as the rule says."""

    place: int  # in the rule's order, from 1 at the floor
    off: bool = False
    shift_mm: Annotated[
        float, number("Moved by", "mm", -500, 500, 0.1, 2, "Along the wall from the rule's place, upward positive.")
    ] = 0.0
    mouth_mm: Annotated[float, number("Mouth", "mm", 0.5, 300, 0.1, 2, "Opening along the wall.")] | None = None
    depth_mm: (
        Annotated[float, number("Depth", "mm", 0.5, 300, 0.1, 2, "From the mouth line to the groove floor.")] | None
    ) = None

    @property
    def is_nothing(self) -> bool:
        return not self.off and self.shift_mm == 0.0 and self.mouth_mm is None and self.depth_mm is None


class GrooveRule(Struct, frozen=True, forbid_unknown_fields=True):
    """All grooves of a design by one rule. Mouths are measured along the wall."""

    placing: Placing = Placing.ALONG_WALL
    count: Annotated[int, number("Groove count", "", 0, 500, 1, 0, "How many the rule places.")] = 16
    from_mm: Annotated[
        float, number("Grooves from", "mm", 0, 3000, 0.5, 1, "Lower edge of the lowest, from the floor; see Placing.")
    ] = 8.0
    to_mm: Annotated[
        float, number("Grooves to", "mm", 0, 3000, 0.5, 1, "Upper edge of the topmost, from the floor; see Placing.")
    ] = 336.0
    heights_mm: tuple[float, ...] = ()
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
    square_to: SquareTo = SquareTo.WALL
    changes: tuple[GrooveChange, ...] = ()
    least_land_mm: Annotated[
        float, number("Least land", "mm", 0, 100, 0.5, 1, "Narrowest land that lasts: a shop's own rule.")
    ] = 4.0
    least_wall_mm: Annotated[
        float, number("Least wall behind", "mm", 0, 100, 0.5, 1, "Thinnest wall behind a groove: a shop's own rule.")
    ] = 8.0


class Body(Struct, frozen=True, forbid_unknown_fields=True):
    """What surrounds the wall: floor plate with hub hole, wall thickness, lip flange, material density."""

    fill_seat: bool = False  # the outside follows the machine's seat, one jacket gap away, instead of the wall
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
    material: Material | None = None  # its strength and stiffness; the density above is the body's own
    backed: bool = False  # ribs or a core of its own carry the jacket's inward pressure


class Design(Struct, frozen=True, forbid_unknown_fields=True):
    """One bowl."""

    name: str
    wall: WallCurve
    grooves: GrooveRule = GrooveRule()
    body: Body = Body()
    holes: HolePlan = HolePlan()
    note: str = ""

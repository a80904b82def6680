"""A machine: what a bowl must fit and how it may spin."""

from dataclasses import dataclass
from enum import StrEnum
from math import inf
from typing import Annotated, ClassVar, Self

from profiler.study.records.fields import NOT_GIVEN, member, number, optional, required
from profiler.study.records.materials import Material
from profiler.study.records.record import Place, Record, Rows


class Turning(StrEnum):
    """Which way the rotor turns, as seen from the lip."""

    UNKNOWN = "not given"
    COUNTER_CLOCKWISE = "counter-clockwise"
    CLOCKWISE = "clockwise"


class SeatPoint(Record, frozen=True):
    """A point of the seat, the rotor's inner profile; heights from the seat's floor."""

    PLACE: ClassVar[Place] = Place(("machine", Rows("seat")), "Change the seat")

    height_mm: Annotated[float, number("Seat height", "mm", 0, 3000, 0.5, 1, "From the seat's floor.", short="Height")]
    radius_mm: Annotated[
        float, number("Seat radius", "mm", 10, 3000, 0.5, 1, "Inner radius of the rotor there.", short="Radius")
    ]


SEAT_HEIGHT = required(SeatPoint, "height_mm", float)
SEAT_RADIUS = required(SeatPoint, "radius_mm", float)


DEFLECTOR, FEED_PIPE = "deflector", "feed pipe"


@dataclass(frozen=True, slots=True)
class FeedPart:
    """A part on the axis inside the bowl: the deflector stands from the floor up, the feed pipe hangs from above."""

    word: str
    across_mm: float
    height_mm: float  # the deflector's top, the pipe's lower end, above the bowl's inner floor
    hangs: bool


class Machine(Record, frozen=True):
    """The rotor a bowl goes into. The bowl's floor plate stands on the seat's floor.

    A number that is None is not given: nothing is worked out with it, and what lacks it says so. The three that no
    machine tells (overspeed, required factor, balance grade) are limits a designer sets, and stand at usual values.
    """

    PLACE: ClassVar[Place] = Place(("machine",), "Change the machine's {}")

    name: Annotated[str, member("Name", "The name in lists and reports.")]
    seat: Annotated[
        tuple[SeatPoint, ...],
        member("Seat", "Points of the rotor's inner profile, upward; the first on the seat's floor."),
    ]
    lip_radius_mm: Annotated[float, number("Lip radius", "mm", 20, 3000, 0.1, 2, "The bowl's lip must end here.")]
    height_mm: Annotated[float, number("Bowl height", "mm", 10, 3000, 0.5, 1, "Inner floor to lip.")]
    jacket_gap_mm: (
        Annotated[
            float,
            number(
                "Jacket gap",
                "mm",
                0,
                200,
                0.5,
                1,
                "Least width of the water space between bowl and seat.",
                empty=NOT_GIVEN,
            ),
        ]
        | None
    ) = None
    speed_low_rpm: (
        Annotated[float, number("Slowest speed", "rpm", 1, 10000, 5, 0, "Lowest of the drive.", empty=NOT_GIVEN)] | None
    ) = None
    speed_high_rpm: (
        Annotated[
            float, number("Fastest speed", "rpm", 1, 10000, 5, 0, "Highest the rotor may turn at.", empty=NOT_GIVEN)
        ]
        | None
    ) = None
    feed_pipe_mm: (
        Annotated[
            float,
            number(
                "Feed pipe",
                "mm",
                0,
                2000,
                0.5,
                1,
                "Outer diameter of the pipe on the axis; 0: there is none.",
                empty=NOT_GIVEN,
            ),
        ]
        | None
    ) = None
    feed_pipe_end_mm: (
        Annotated[
            float,
            number(
                "Feed pipe end",
                "mm",
                0,
                3000,
                0.5,
                1,
                "Height of its lower end above the bowl's inner floor.",
                empty=NOT_GIVEN,
            ),
        ]
        | None
    ) = None
    deflector_mm: (
        Annotated[
            float,
            number(
                "Deflector",
                "mm",
                0,
                3000,
                0.5,
                1,
                "Diameter of the disc that turns the feed outward; 0: there is none.",
                empty=NOT_GIVEN,
            ),
        ]
        | None
    ) = None
    deflector_height_mm: (
        Annotated[
            float,
            number(
                "Deflector height",
                "mm",
                0,
                3000,
                0.5,
                1,
                "Height of its top above the bowl's inner floor.",
                empty=NOT_GIVEN,
            ),
        ]
        | None
    ) = None
    entry_mm: (
        Annotated[
            float,
            number(
                "Entry height",
                "mm",
                0,
                3000,
                1,
                0,
                "No state is claimed below; empty: four film depths over the friction factor, at least one pitch.",
            ),
        ]
        | None
    ) = None
    jacket_inlet_mm: (
        Annotated[
            float,
            number("Jacket inlet", "mm", 0, 3000, 1, 0, "Radius at which water enters the jacket.", empty=NOT_GIVEN),
        ]
        | None
    ) = None
    supply_kpa: (
        Annotated[
            float,
            number("Supply pressure", "kPa", 0, 2000, 5, 0, "At the jacket inlet with no flow.", empty=NOT_GIVEN),
        ]
        | None
    ) = None
    supply_l_min: (
        Annotated[
            float,
            number(
                "Free supply flow",
                "L/min",
                0,
                20000,
                5,
                0,
                "Water at the jacket inlet with no pressure against it.",
                empty=NOT_GIVEN,
            ),
        ]
        | None
    ) = None
    strainer_um: (
        Annotated[
            float,
            number(
                "Strainer", "µm", 0, 5000, 10, 0, "Opening of the water strainer; 0: there is none.", empty=NOT_GIVEN
            ),
        ]
        | None
    ) = None
    shell_mm: (
        Annotated[float, number("Shell", "mm", 0, 200, 0.5, 1, "Thickness of the rotor's shell.", empty=NOT_GIVEN)]
        | None
    ) = None
    shell_floor_mm: (
        Annotated[
            float,
            number(
                "Shell floor",
                "mm",
                0,
                300,
                0.5,
                1,
                "Thickness of the rotor's floor, taken as a full disc.",
                empty=NOT_GIVEN,
            ),
        ]
        | None
    ) = None
    shell_material: Annotated[
        Material | None, member("Material of the shell", "Its strength, stiffness and density.")
    ] = None
    overspeed_factor: Annotated[
        float, number("Overspeed", "×", 1, 2, 0.05, 2, "What the rotor must stand, over the duty's speed.")
    ] = 1.2
    least_factor: Annotated[
        float,
        number(
            "Required strength factor",
            "",
            1,
            20,
            0.1,
            1,
            "Strength over stress, at speed and overspeed: the designer's own.",
        ),
    ] = 2.0
    balance_grade_mm_s: Annotated[
        float,
        number(
            "Balance grade",
            "mm/s",
            0.1,
            4000,
            0.1,
            1,
            "G of ISO 21940-11: 6.3 for centrifuge drums and process plant, 16 for slurry pump impellers.",
        ),
    ] = 6.3
    spin_up_s: (
        Annotated[float, number("Spin-up time", "s", 1, 3600, 5, 0, "From rest to the duty's speed.", empty=NOT_GIVEN)]
        | None
    ) = None
    drive_kw: (
        Annotated[
            float, number("Drive power", "kW", 0, 5000, 0.5, 1, "What the drive gives the shaft.", empty=NOT_GIVEN)
        ]
        | None
    ) = None
    flange_hold_kn: (
        Annotated[
            float,
            number(
                "Flange bolt capacity",
                "kN",
                0,
                20000,
                5,
                0,
                "The lip flange's bolts along the axis, all together.",
                empty=NOT_GIVEN,
            ),
        ]
        | None
    ) = None
    further_mass_kg: (
        Annotated[
            float,
            number(
                "Other mass",
                "kg",
                0,
                50000,
                1,
                1,
                "Hub, shaft and pulley: the rest of the rotating assembly.",
                empty=NOT_GIVEN,
            ),
        ]
        | None
    ) = None
    further_inertia_kg_m2: (
        Annotated[
            float,
            number("Other inertia", "kg m²", 0, 50000, 0.01, 3, "Of the same, about the spin axis.", empty=NOT_GIVEN),
        ]
        | None
    ) = None
    turning: Annotated[
        Turning,
        member(
            "Turns, from the lip",
            "The rotor's sense of rotation, seen from the lip.",
            undo="Change the sense of rotation",
        ),
    ] = Turning.UNKNOWN
    note: Annotated[str, member("Note", "For whoever reads the file.")] = ""

    @property
    def feed_parts(self) -> tuple[FeedPart, ...]:
        """Those that are there, as far as they are given: a part without its size or height is not known."""
        given = (
            (DEFLECTOR, self.deflector_mm, self.deflector_height_mm, False),
            (FEED_PIPE, self.feed_pipe_mm, self.feed_pipe_end_mm, True),
        )
        return tuple(FeedPart(word, d, z, hangs) for word, d, z, hangs in given if d and d > 0.0 and z is not None)

    def may_turn_at(self, speed_rpm: float) -> bool:
        """Whether neither limit that is given forbids it."""
        low, high = self.speed_low_rpm, self.speed_high_rpm
        return (low is None or low <= speed_rpm) and (high is None or speed_rpm <= high)

    def having_row(self, name: str, key: int, row: Record) -> Self:
        """Seat points stay in their order, the lowest on the seat's floor."""
        if isinstance(row, SeatPoint) and row.height_mm != self.seat[key].height_mm:
            _check_height(self.seat, key, row.height_mm)
        return super().having_row(name, key, row)


TURNING = required(Machine, "turning", Turning)
JACKET_GAP = optional(Machine, "jacket_gap_mm", float)
SLOWEST_SPEED = optional(Machine, "speed_low_rpm", float)
FASTEST_SPEED = optional(Machine, "speed_high_rpm", float)
JACKET_INLET = optional(Machine, "jacket_inlet_mm", float)
SUPPLY_PRESSURE = optional(Machine, "supply_kpa", float)
SHELL = optional(Machine, "shell_mm", float)
SHELL_FLOOR = optional(Machine, "shell_floor_mm", float)
SHELL_MATERIAL = optional(Machine, "shell_material", Material)
OVERSPEED = required(Machine, "overspeed_factor", float)
REQUIRED_FACTOR = required(Machine, "least_factor", float)
BALANCE_GRADE = required(Machine, "balance_grade_mm_s", float)
SPIN_UP = optional(Machine, "spin_up_s", float)
DRIVE_POWER = optional(Machine, "drive_kw", float)
FLANGE_BOLT_CAPACITY = optional(Machine, "flange_hold_kn", float)
OTHER_MASS = optional(Machine, "further_mass_kg", float)
OTHER_INERTIA = optional(Machine, "further_inertia_kg_m2", float)

SPINNING = (
    SHELL, SHELL_FLOOR, OVERSPEED, REQUIRED_FACTOR, BALANCE_GRADE, SPIN_UP, DRIVE_POWER, FLANGE_BOLT_CAPACITY,
    OTHER_MASS, OTHER_INERTIA,
)  # fmt: skip


def _check_height(seat: tuple[SeatPoint, ...], index: int, height_mm: float) -> None:
    """Raises ValueError for a height at which this point cannot stand among the others."""
    if index == 0:
        raise ValueError("The lowest seat point stands on the seat's floor: its height stays 0 mm.")
    below = seat[index - 1].height_mm
    above = seat[index + 1].height_mm if index + 1 < len(seat) else inf
    if not below < height_mm < above:
        room = f"above {below:g} mm" if above == inf else f"between {below:g} and {above:g} mm"
        raise ValueError(f"This seat point lies {room}; {height_mm:g} mm is outside.")

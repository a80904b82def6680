"""A duty: one way of running, with its slurry."""

from enum import StrEnum
from typing import Annotated, ClassVar, Self

from msgspec import Meta
from msgspec.structs import replace

from profiler.study.records.fields import NOT_GIVEN, member, number, optional, required
from profiler.study.records.record import Place, Record
from profiler.study.records.size_classes import SizeClass


class GrainShape(StrEnum):
    """How a target grain is shaped, which decides how fast it settles."""

    SPHERE = "sphere"
    SAND = "sand"
    FLAKE = "flake"


class FrictionBasis(StrEnum):
    """Which law a friction was typed or fitted for.

    The present law weighs the grains in place. The former one weighed those delivered, which are fewer, and so took a
    larger friction for the same slope. What was typed for it stays as typed, and is marked until it is typed anew.
    """

    IN_PLACE = "in place"
    DELIVERED = "delivered"


FRICTIONS = ("friction_low", "friction", "friction_high")
FRICTION_USUAL = (0.35, 0.9)  # outside: doubt the measurement, the concentration or the regime
FRICTION_POSSIBLE = (0.15, 1.4)  # outside: not a friction between grains


def _friction(label: str, help: str) -> Meta:
    return number(label, "", *FRICTION_POSSIBLE, 0.01, 3, help)


FOLLOWS = {"speed_rpm": "follow_speed", "dry_feed_t_h": "follow_feed", "water_l_min": "follow_water"}


class Calibrated(Record, frozen=True):
    """That the friction rests on measurements, and the conditions they were taken at: far from them it is less sure."""

    PLACE: ClassVar[Place] = Place(undo="Change the calibration's {}")

    solids_pct: Annotated[float, number("Solids measured at", "% by mass", 1, 75, 0.5, 1, "In the feed, by mass.")]
    d50_um: Annotated[float, number("Size d50 measured at", "µm", 5, 5000, 5, 0, "Half of the solids was finer.")]
    lip_radius_mm: Annotated[float, number("Lip radius measured at", "mm", 20, 3000, 1, 1, "Of the bowl that ran.")]
    rests_on: Annotated[str, member("Rests on", "The measurements, in words.")] = ""


class Duty(Record, frozen=True):
    """Slurry, feed, speed and water of one way of running."""

    PLACE: ClassVar[Place] = Place(("duty",))

    name: Annotated[str, member("Name", "Differs from those of the other duties.")]
    speed_rpm: Annotated[float, number("Speed", "rpm", 1, 10000, 5, 0, "Speed of the bowl.")] = 640.0
    solids_pct: Annotated[
        float, number("Solids", "% by mass", 1, 75, 0.5, 1, "Solids in the feed slurry, by mass.")
    ] = 42.0
    d50_um: Annotated[float, number("Size d50", "µm", 5, 5000, 5, 0, "Half of the solids' mass is finer.")] = 110.0
    top_size_um: Annotated[
        float, number("Top size", "µm", 5, 50000, 50, 0, "Coarsest grains fed; a mouth should be three times as wide.")
    ] = 800.0
    dry_feed_t_h: Annotated[float, number("Dry feed", "t/h", 0.001, 5000, 0.1, 2, "Dry solids fed.")] = 3.0
    water_l_min: Annotated[float, number("Water", "L/min", 0, 20000, 1, 1, "Fluidising water asked for.")] = 40.0
    solids_density_kg_m3: Annotated[
        float, number("Solids density", "kg/m³", 1100, 20000, 10, 0, "Density of the solid grains.")
    ] = 2750.0
    temperature_c: Annotated[float, number("Temperature", "°C", 1, 80, 1, 0, "Of the water.")] = 20.0
    yield_stress_pa: (
        Annotated[
            float,
            number(
                "Yield stress",
                "Pa",
                0,
                200,
                0.5,
                2,
                "Of clay in the carrier, as measured on water and fines; 0: measured, and there is none.",
                empty=NOT_GIVEN,
            ),
        ]
        | None
    ) = None
    friction_low: Annotated[
        float, _friction("Friction, low", "In place, lower end of the 90 % range: smooth, rounded grains.")
    ] = 0.45
    friction: Annotated[
        float,
        _friction(
            "Friction",
            "Between moving grains in place, the one uncertain number of the model. A measured slope fixes only "
            "friction over slip: the slip of the grains stays at its published value.",
        ),
    ] = 0.60
    friction_high: Annotated[
        float, _friction("Friction, high", "In place, upper end of the 90 % range: rough, crushed grains.")
    ] = 0.80
    friction_basis: Annotated[
        FrictionBasis,
        member("Friction typed for", "Grains in place, as now weighed, or those delivered, as the former law had it."),
    ] = FrictionBasis.IN_PLACE
    calibrated: Annotated[
        Calibrated | None, member("Calibrated", "What the friction was measured at; none: it is a guess.")
    ] = None
    in_window: Annotated[bool, member("In the ore window", "Whether it is one of the duties of the ore window.")] = (
        False
    )
    weight: Annotated[
        float,
        number("Weight", "", 0, 1000, 1, 1, "Share of time in the ore window, in any unit; at 0 it is left out."),
    ] = 1.0
    target_density_kg_m3: Annotated[
        float,
        number(
            "Target density", "kg/m³", 1500, 23000, 100, 0,
            "Of the grains to be caught. Native gold with 5 to 30 % silver: 18 500 to 15 400 kg/m³.",
        ),
    ] = 17500.0  # fmt: skip
    target_um: Annotated[
        float, number("Target size", "µm", 1, 5000, 5, 0, "Of the grains to be caught: sieve size, or equal volume.")
    ] = 50.0
    target_shape: Annotated[GrainShape, member("Target shape", "How the grains to be caught are shaped.")] = (
        GrainShape.FLAKE
    )
    target_flatness: Annotated[
        float,
        number(
            "Flatness", "", 0.2, 1, 0.05, 2,
            "Of flakes: thickness over the root of length times width. Nuggets 0.7, placer flakes 0.3 to 0.5.",
        ),
    ] = 0.5  # fmt: skip
    heavy_density_kg_m3: Annotated[
        float, number("Heavy density", "kg/m³", 1500, 20000, 100, 0, "Of the heavy minerals that fill a groove.")
    ] = 5000.0
    heavy_pct: Annotated[
        float, number("Heavy minerals", "%", 0, 100, 0.1, 2, "Share of the dry feed's mass, the target too.")
    ] = 1.0
    cycle_min: Annotated[float, number("Cycle", "min", 1, 10000, 5, 0, "From one rinse to the next.")] = 60.0
    rinse_min: Annotated[float, number("Rinse", "min", 0, 1000, 0.5, 1, "How long a rinse takes, feed off.")] = 2.0
    follow_speed: Annotated[
        bool, member("Speed follows the first duty", "It changes with the first duty until it is changed here.")
    ] = False
    follow_feed: Annotated[
        bool, member("Dry feed follows the first duty", "It changes with the first duty until it is changed here.")
    ] = False
    follow_water: Annotated[
        bool, member("Water follows the first duty", "It changes with the first duty until it is changed here.")
    ] = False
    size_classes: Annotated[
        tuple[SizeClass, ...], member("Size classes", "Coarse first; where there are any, d50 follows from them.")
    ] = ()

    def having(self, name: str, value: object) -> Self:
        """As of any record. A friction that is typed is typed for the present law; a number typed follows no more."""
        changed = super().having(name, value)
        follows = FOLLOWS.get(name)
        if follows is not None and changed is not self:
            changed = replace(changed, **{follows: False})
        if name not in FRICTIONS:
            return changed
        if changed is not self and changed.calibrated is not None:
            changed = replace(changed, calibrated=None)
        if changed.friction_basis is FrictionBasis.IN_PLACE:
            return changed
        return replace(changed, friction_basis=FrictionBasis.IN_PLACE)


SPEED = required(Duty, "speed_rpm", float)
SOLIDS = required(Duty, "solids_pct", float)
D50 = required(Duty, "d50_um", float)
DRY_FEED = required(Duty, "dry_feed_t_h", float)
WATER = required(Duty, "water_l_min", float)
SOLIDS_DENSITY = required(Duty, "solids_density_kg_m3", float)
YIELD_STRESS = optional(Duty, "yield_stress_pa", float)
FRICTION = required(Duty, "friction", float)
TARGET_DENSITY = required(Duty, "target_density_kg_m3", float)
TARGET_SIZE = required(Duty, "target_um", float)
TARGET_SHAPE = required(Duty, "target_shape", GrainShape)
FLATNESS = required(Duty, "target_flatness", float)
HEAVY_DENSITY = required(Duty, "heavy_density_kg_m3", float)
HEAVY_MINERALS = required(Duty, "heavy_pct", float)
CYCLE = required(Duty, "cycle_min", float)
RINSE = required(Duty, "rinse_min", float)

FOLLOWING = tuple(required(Duty, tick, bool) for tick in FOLLOWS.values())

TURNED_MOST = (SPEED, SOLIDS, D50, DRY_FEED, WATER)  # in the bar, and in the line that says how a duty runs
OF_THE_CATCH = (TARGET_DENSITY, TARGET_SIZE, FLATNESS, HEAVY_DENSITY, HEAVY_MINERALS, CYCLE, RINSE)


def following(duties: tuple[Duty, ...]) -> tuple[Duty, ...]:
    """The duties with what follows the first brought to its values; the very same where nothing differs."""
    if not duties:
        return duties
    first = duties[0]

    def led(duty: Duty) -> Duty:
        taken = {name: getattr(first, name) for name, tick in FOLLOWS.items() if getattr(duty, tick)}
        return replace(duty, **taken) if any(getattr(duty, n) != v for n, v in taken.items()) else duty

    led_duties = (first, *(led(d) for d in duties[1:]))
    return duties if all(a is b for a, b in zip(duties, led_duties, strict=True)) else led_duties

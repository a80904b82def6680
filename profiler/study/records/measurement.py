"""What was measured of the slurry in a bowl that ran: its angle at a height, or what a stopped bowl showed.

Design and duty are kept as they were when it ran, since the study's own go on changing. What follows for the friction
is worked out elsewhere.
"""

from enum import StrEnum
from typing import Annotated, ClassVar

from profiler.study.records.design import Design
from profiler.study.records.duty import Duty
from profiler.study.records.fields import NOT_GIVEN, member, number
from profiler.study.records.record import Place, Record


class Seen(StrEnum):
    """What a groove of a stopped bowl looked like."""

    PACKED = "packed"
    CLEAN = "clean"
    UNSURE = "unsure"


class Measurement(Record, frozen=True):
    """One look at one bowl under one duty: an angle, or the grooves of a stopped bowl."""

    PLACE: ClassVar[Place] = Place(undo="Change a measurement's {}")

    name: Annotated[str, member("Name", "Differs from those of the other measurements.")]
    design: Annotated[Design, member("Design", "The bowl as it was when it ran.")]
    duty: Annotated[Duty, member("Duty", "As it ran.")]
    how: Annotated[str, member("How", "How the angle was measured, or how the bowl was stopped.")] = ""
    height_mm: (
        Annotated[
            float,
            number(
                "Height measured at",
                "mm",
                0,
                3000,
                1,
                1,
                "Above the bowl's inner floor; where an angle is.",
                empty=NOT_GIVEN,
            ),
        ]
        | None
    ) = None
    angle_deg: (
        Annotated[float, number("Measured angle", "°", 0, 60, 0.1, 2, "Of the slurry's surface from the axis.")] | None
    ) = None
    spread_deg: Annotated[
        float, number("Spread of the angle", "°", 0.01, 10, 0.1, 2, "One standard deviation of the measured angle.")
    ] = 0.3
    grooves: Annotated[
        tuple[Seen, ...], member("Grooves seen", "Of a stopped bowl, one for each groove, from the floor up.")
    ] = ()

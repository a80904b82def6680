"""A bowl's inside as it was measured: points of one casting after so many hours, beside the drawing it was made to.

The drawing is kept as it was, since the study's own designs go on changing. What follows is worked out elsewhere.
"""

from typing import Annotated

from profiler.study.records.design import Design
from profiler.study.records.fields import member, number
from profiler.study.records.record import Record


class ProfilePoint(Record, frozen=True):
    """One measured point of the inside."""

    radius_mm: Annotated[float, number("Radius", "mm", 0, 5000, 0.01, 3, "From the spin axis.")]
    height_mm: Annotated[float, number("Height", "mm", -500, 5000, 0.01, 3, "Above the bowl's inner floor.")]


class MeasuredProfile(Record, frozen=True):
    """The inside of one casting at one age."""

    name: Annotated[str, member("Name", "Differs from those of the other profiles.")]
    design: Annotated[Design, member("Design", "The bowl as it was drawn.")]
    points: Annotated[tuple[ProfilePoint, ...], member("Points", "From the floor up.")] = ()
    serial: Annotated[str, member("Serial", "Of the casting.")] = ""
    date: Annotated[str, member("Measured on", "The day, as ISO 8601 has it.")] = ""
    hours: Annotated[float, number("Hours run", "h", 0, 1e6, 1, 0, "Since the casting was new.")] = 0.0
    how: Annotated[str, member("How", "How it was measured.")] = ""

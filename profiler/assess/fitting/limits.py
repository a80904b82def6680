"""What a bowl may not pass on its machine, and by how much a design misses it.

The outside of a body that fills the seat does not depend on the wall, so it is laid once and many walls are asked.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from profiler.assess.shape.shape_stage import along_seat, behind_grooves, mouths_of, wall_of
from profiler.geometry import grooves as g
from profiler.geometry.wall import Wall
from profiler.numbers import Against
from profiler.study import Design, Machine
from profiler.study.records.machine import FEED_PIPE

SAMPLES = 65  # heights at which a bare wall's thickness is asked


class Limit(StrEnum):
    """What can keep a bowl from fitting; the value stands in files."""

    HUB = "hub"
    LEAST_WALL = "least_wall"
    SEAT = "seat"
    FEED_PIPE = "feed_pipe"
    DEFLECTOR = "deflector"
    INPUT = "input"  # a number that cannot be worked with
    SECTION = "section"  # the section could not be made in any machine


TURNABLE = (Limit.HUB, Limit.LEAST_WALL, Limit.FEED_PIPE, Limit.DEFLECTOR)  # other angles may make room


@dataclass(frozen=True, slots=True)
class Miss:
    """The limit a design passes, by how much (None: it cannot be told), and half a sentence that says so."""

    limit: Limit
    by_mm: float | None
    words: str


@dataclass(frozen=True, slots=True)
class Room:
    """The room a machine leaves a bowl; `outer` is None where there is no seat."""

    machine: Machine
    outer: Wall | None

    def miss(self, design: Design) -> Miss | None:
        """The limit this design misses by most, or None. Raises ValueError where it has no wall."""
        return max(self._misses(design), key=lambda m: m.by_mm or 0.0, default=None)

    def fits(self, design: Design) -> bool:
        """Whether it misses none; quicker than to ask which. Raises ValueError where it has no wall."""
        return next(self._misses(design), None) is None

    def _misses(self, design: Design) -> Iterator[Miss]:
        """Quick ones first."""
        wall = wall_of(design)
        yield from self._misses_inside(design, wall)
        if self.outer is not None:
            yield from _bare_wall(design, wall, self.outer)
            yield from _wall_behind_grooves(design, wall, self.outer)

    def _misses_inside(self, design: Design, wall: Wall) -> Iterator[Miss]:
        """Hub hole, feed pipe and deflector, which the wall must stay outside of."""
        machine, hub = self.machine, 0.5 * design.body.hub_hole_mm
        floor, low, top = float(wall.radius[0]), float(np.min(wall.radius)), float(wall.height[-1])
        if floor <= hub:
            told, by = Against(floor, hub), Against(hub - floor, 0.0)
            words = f"the floor radius would come to {told:.2f} mm, {by:.2f} mm inside the hub hole"
            yield Miss(Limit.HUB, hub - floor, f"{words} of radius {hub:g} mm")
        elif low <= 0.0:
            yield Miss(Limit.HUB, -low, f"the wall would pass the axis by {Against(-low, 0.0):.2f} mm")
        for part in machine.feed_parts:
            radius, half = float(wall.radius_at(min(part.height_mm, top))), 0.5 * part.across_mm
            if radius <= half:
                told, by = Against(radius, half), Against(half - radius, 0.0)
                words = f"the wall would come to R {told:.2f} mm at {part.height_mm:g} mm, {by:.2f} mm"
                limit = Limit.FEED_PIPE if part.word == FEED_PIPE else Limit.DEFLECTOR
                yield Miss(limit, half - radius, f"{words} inside the {part.word} of radius {half:g} mm")


def _bare_wall(design: Design, wall: Wall, outer: Wall) -> Iterator[Miss]:
    at = np.linspace(0.0, float(outer.height[-1]), SAMPLES)
    bare = (outer.radius_at(at) - wall.radius_at(at)) * np.cos(wall.angle_at(at))
    thinnest = int(np.argmin(bare))
    yield from _thin(design, float(bare[thinnest]), f"at {at[thinnest]:.0f} mm")


def _wall_behind_grooves(design: Design, wall: Wall, outer: Wall) -> Iterator[Miss]:
    mouths, cut, places = mouths_of(design, wall)
    if len(mouths):
        behind = behind_grooves(outer, g.sharp_corners(mouths, cut))
        worst = int(np.argmin(behind))
        yield from _thin(design, float(behind[worst]), f"behind groove {places[worst]}")


def _thin(design: Design, left_mm: float, where: str) -> Iterator[Miss]:
    """The least wall between the inside and the outside along the seat."""
    least = design.grooves.least_wall_mm
    by = least - left_mm
    if by > 1e-9:
        left, beyond = (
            f"{Against(left_mm, least):.2f} mm of wall would be left",
            f"the wall would pass its outside by {Against(-left_mm, 0.0):.2f} mm",
        )
        words = left if left_mm > 0.0 else beyond
        short = Against(by, 0.0)
        yield Miss(Limit.LEAST_WALL, by, f"{words} {where}, {short:.2f} mm short of the least wall of {least:g} mm")


def room_of(design: Design, machine: Machine) -> Room:
    """Raises NoOffset (a ValueError) where the seat, less the jacket gap, cannot be followed."""
    if not design.body.fill_seat:
        return Room(machine, None)
    low, high = -design.body.floor_plate_mm, design.wall.height_mm - design.body.flange_mm
    return Room(machine, along_seat(machine, low, high))

"""The diameters by which a bowl fits its rotor: what each is for, the class chosen for it, its room in the seat.

A class is the designer's choice; without one the general tolerance holds. Room is worked out at the nominal sizes.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from profiler import numbers
from profiler.assess.shape.shape_stage import Shape
from profiler.pictures.drawing.digits import Digits, fixed
from profiler.pictures.drawing.tolerances import Tolerances, deviations
from profiler.pictures.sheet.blocks import Table
from profiler.study import Machine
from profiler.study.records.machine import JACKET_GAP

LEAST_SHARP = 1e-3  # rad of turning that makes a knuckle
MOST_KNUCKLES = 6


@dataclass(frozen=True, slots=True)
class Fit:
    """One diameter. `room` is the gap on the radius to the seat, None where the seat does not reach there."""

    surface: str
    height: float
    diameter: float
    grade: str
    purpose: str
    room: float | None = None

    @property
    def class_words(self) -> str:
        """The class as it follows the diameter; empty where none was chosen or it has none for this size."""
        return self.grade if self.grade and deviations(self.grade, self.diameter) is not None else ""

    @property
    def deviation_words(self) -> str:
        found = deviations(self.grade, self.diameter) if self.grade else None
        if found is None:
            return "general" if not self.grade else "none for this size"
        upper, lower = found
        if upper == -lower:
            return f"±{upper:.2f}"
        return f"{upper:+.3f} / 0" if upper else f"0 / {numbers.fixed(lower, 3, signed=True)}"


def fits_of(shape: Shape, machine: Machine, chosen: Tolerances) -> list[Fit]:
    """Hub hole, foot, knuckles and upper end of the outside, and the flange."""
    outer, shell = shape.shell.outer, shape.shell
    low, high = shell.underside, shell.flange_underside
    found = [Fit("hub hole", low, 2.0 * shell.hub_radius, chosen.hub, "receives the hub and centres the bowl")]
    places = [("foot", low), *(("knuckle", z) for z in knuckles(shape)), ("under flange", high)]
    for surface, z in places:
        room = _room(machine, shape, z)
        diameter = 2.0 * float(outer.radius_at(z)) if z < high else 2.0 * float(outer.radius[-1])
        found.append(Fit(surface, z, diameter, chosen.outside, _purpose(room, machine), room))
    rim = Fit("lip flange", high, 2.0 * shell.flange_radius, chosen.outside, "rests on the rotor's rim, seals there")
    return [*found, rim] if shell.flange_radius > float(outer.radius[-1]) + 1e-6 else found


def knuckles(shape: Shape) -> list[float]:
    """Heights at which the outside turns sharply; none where there are too many to be made one by one."""
    outer = shape.shell.outer
    turned = np.abs(outer.lower[1:] - outer.upper[:-1]) > LEAST_SHARP
    heights = outer.height[1:-1][turned].tolist()
    return heights if len(heights) <= MOST_KNUCKLES else []


def fits_table(fits: list[Fit], digits: Digits) -> Table:
    """What holds the bowl in its rotor; empty where nothing is known of the seat."""
    rows = tuple(_row(fit, digits) for fit in fits)
    heads = ("Surface", "height", "Ø", "class", "deviations", "what the fit is for")
    units = ("", "mm", "mm", "", "mm", "room is on the radius, at nominal size")
    return Table("FITS", (27.0, 18.0, 18.0, 13.0, 28.0, 72.0), heads, units, rows)


def _row(fit: Fit, digits: Digits) -> tuple[str, ...]:
    return (
        fit.surface, fixed(fit.height, digits.height), fixed(fit.diameter, digits.diameter), fit.class_words or "-",
        fit.deviation_words, fit.purpose,
    )  # fmt: skip


def _purpose(room: float | None, machine: Machine) -> str:
    if room is None:
        return "room in the rotor not known"
    if room < -1e-6:
        return f"TOO LARGE for the seat by {-room:.2f} mm"
    return f"room {room:.2f} mm; jacket gap {JACKET_GAP.told(machine.jacket_gap_mm)}"


def _room(machine: Machine, shape: Shape, height: float) -> float | None:
    """From the outside level out to the seat; the seat's heights count from its floor, where the underside stands."""
    points = list(_seat_points(machine, shape.shell.underside))
    if len(points) < 2:
        return None
    z, r = np.array(points).T
    if not np.all(np.diff(z) > 0.0) or not z[0] - 1e-6 <= height <= z[-1] + 1e-6:
        return None
    outer = shape.shell.outer
    radius = float(outer.radius[-1]) if height >= float(outer.height[-1]) else float(outer.radius_at(height))
    return float(np.interp(height, z, r)) - radius


def _seat_points(machine: Machine, floor: float) -> Iterator[tuple[float, float]]:
    return ((p.height_mm + floor, p.radius_mm) for p in machine.seat)

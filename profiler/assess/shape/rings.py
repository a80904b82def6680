"""The water holes of a shape: where each ring's holes start and end, and what feeds their jacket. Lengths in m here."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from profiler.assess.shape.stations import IntArray
from profiler.geometry.grooves import Contours
from profiler.geometry.wall import FloatArray, Wall
from profiler.physics.water import hole_flow
from profiler.physics.water.jacket import Rings, Supply
from profiler.study import HolePlan, Machine
from profiler.study.records.holes import HoleMaking
from profiler.units import DEGREE, KILOPASCAL, LITRE_PER_MINUTE, MM


@dataclass(frozen=True, slots=True)
class HoleRings:
    """g rings, one per groove, and the jacket's inlet. A ring without holes has a count of 0."""

    rings: Rings
    skew: FloatArray  # (g,) rad off the radius, on the way out; positive counter-clockwise seen from the lip
    first: FloatArray  # (g,) rad azimuth of the first hole, on the groove's floor
    outer_radius: FloatArray  # (g,) where a hole comes in from the jacket
    in_jacket: NDArray[np.bool_]  # (g,) whether the jacket lies behind the groove at all
    inlet_radius: float | None  # where water enters the jacket; None: not given
    inlet_height: float
    still_pressure: float | None  # Pa at no flow, at the inlet; None: the supply's curve is not known
    open_flow: float | None  # m3/s at no pressure
    making: HoleMaking | None = None  # how they are made, where that is said

    @property
    def told_at(self) -> float:
        """Radius at which the network's pressure is told: the inlet's, or the axis where that is not given.

        The rings' flows do not depend on it; a supply's curve, which holds at the inlet alone, does.
        """
        return 0.0 if self.inlet_radius is None else self.inlet_radius

    @property
    def inlet_mm(self) -> float:
        """As it is told; nan where it is not given."""
        return np.nan if self.inlet_radius is None else self.inlet_radius / MM

    def supply(self, flow: FloatArray) -> Supply:
        """What feeds the jacket where so much is asked for."""
        curve = self.still_pressure, self.open_flow
        known = self.inlet_radius is not None and None not in curve
        return Supply(flow, self.told_at, self.inlet_height, *(curve if known else (None, None)))

    def at_inlet(self, pressure: FloatArray) -> FloatArray:
        """Pressures of the network as they stand at the inlet; nan where that is not given."""
        return np.full_like(pressure, np.nan) if self.inlet_radius is None else pressure


def rings_of(
    plan: HolePlan, machine: Machine, contours: Contours, outer: Wall, place: IntArray, underside: float
) -> HoleRings:
    """The rings of a plan for at least one groove. Lengths handed in are mm."""
    each = np.array([plan.ring(int(p)) for p in place], dtype=float)
    floor = np.mean(contours.corners[:, 1:3], axis=1) * MM
    radius, height = floor[:, 0], floor[:, 1]
    skew = each[:, 2] * DEGREE
    outside = outer.radius_at(height / MM) * MM
    # no length through a groove that has no wall behind
    length = np.maximum(hole_flow.skewed_length(radius, outside, skew), 0.0)
    behind = (height > 0.0) & (height < float(outer.height[-1]) * MM)
    return HoleRings(
        Rings(radius, height, each[:, 0], each[:, 1] * MM, length),
        skew,
        np.asarray((plan.start_deg + plan.phase_deg * np.arange(len(place))) * DEGREE),
        outside,
        behind,
        _si(machine.jacket_inlet_mm, MM),
        underside * MM,
        _si(machine.supply_kpa, KILOPASCAL),
        _si(machine.supply_l_min, LITRE_PER_MINUTE),
        plan.making,
    )


def _si(value: float | None, unit: float) -> float | None:
    return None if value is None else value * unit

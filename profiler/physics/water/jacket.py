"""Fluidising water in the rotating frame: from the jacket through the rings' holes against what lies in the grooves.

Balance at the floor of ring i, radius r_i; the column inside a hole then cancels:

    p_j = p_s + 1/2 rho w^2 (r_i^2 - r_in^2) - rho g (z_i - z_in)
    p_b = 1/2 rho_m w^2 (r_s^2 - (r_s - h)^2) + 1/2 rho_bed w^2 (r_i^2 - r_s^2)
    Q_i = n C_d A sqrt(2 (p_j - p_b)/rho)

p_s at the inlet is what makes the rings' flows add up to what is supplied. Below zero the jacket runs part full: its
free surface stands at r_0, and rings nearer to the axis are dry. Where p_j is less than p_b slurry runs back through
the holes, and the ring's flow is negative. Derived; no published source.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from profiler.physics.rotor.rotation import FloatArray, Values, rotating_head
from profiler.physics.water import hole_flow
from profiler.units import GRAVITY

BoolArray = NDArray[np.bool_]

_LEAST_DRIVE = 1.0  # Pa; a jet's law is taken as straight below it, so that its slope stays finite
_ROUNDS = 8  # of the coefficients, from nothing
_START_REYNOLDS = 3000.0
_LEAST_IDEAL = 1e-3  # m/s
_STEPS = 80
_CLOSE, _NEARLY = 1e-14, 1e-5  # of the flows, whichever way they run


@dataclass(frozen=True, slots=True)
class Rings:
    """g rings of holes, SI."""

    radius: FloatArray  # (g,) of the groove floor where the holes come in
    height: FloatArray  # (g,) above the inner floor
    count: FloatArray  # (g,) holes; 0 where there are none
    diameter: FloatArray  # (g,)
    length: FloatArray  # (g,) of the hole

    @property
    def area(self) -> FloatArray:
        return np.asarray(self.count * (0.25 * np.pi) * self.diameter**2)


@dataclass(frozen=True, slots=True)
class Supply:
    """What feeds the jacket of each duty, (d,) or numbers. Its curve p = p0 (1 - (Q/Q0)^2), where known, caps it."""

    flow: FloatArray  # (d,) m3/s asked for
    inlet_radius: float
    inlet_height: float
    still_pressure: float | None = None  # Pa at no flow; None: no curve is known, any pressure is to be had
    open_flow: float | None = None  # m3/s at no pressure

    def at(self, pressure: FloatArray) -> FloatArray:
        """m3/s delivered against an inlet pressure: what is asked for, but never more than the curve gives.

        Into a jacket part full it runs freely: nothing sucks.
        """
        if self.still_pressure is None or self.open_flow is None:
            return self.flow + 0.0 * pressure
        share = 1.0 - np.maximum(pressure, 0.0) / max(self.still_pressure, _LEAST_DRIVE)
        return np.minimum(self.flow, self.open_flow * np.sqrt(np.maximum(share, 0.0)))


@dataclass(frozen=True, slots=True)
class Jacket:
    """The balance found: d duties, g rings."""

    flow: FloatArray  # (d, g) m3/s of each ring; negative: slurry runs back
    supplied: FloatArray  # (d,) m3/s
    inlet_pressure: FloatArray  # (d,) Pa, p_s; below zero the jacket is part full
    pressure: FloatArray  # (d, g) Pa in the jacket at the ring; not below zero
    back_pressure: FloatArray  # (d, g) Pa
    coefficient: FloatArray  # (d, g) C_d
    reynolds: FloatArray  # (d, g) of a hole
    free_surface: FloatArray  # (d,) m, r_0; nan where the jacket is full: no ring dry, no pull at the inlet
    dry: BoolArray  # (d, g) no water reaches the ring

    @property
    def backflow(self) -> BoolArray:
        """(d, g) where slurry runs into the jacket."""
        return np.asarray(self.flow < 0.0)


def back_pressure(
    angular_speed: Values,
    floor_radius: Values,
    surface_radius: Values,
    film_depth: Values,
    slurry_density: Values,
    bed_density: Values,
) -> FloatArray:
    """Pressure [Pa] at a groove's floor under a bed up to `surface_radius` and a film upon it; all SI."""
    film = rotating_head(slurry_density, angular_speed, surface_radius - film_depth, surface_radius)
    return film + rotating_head(bed_density, angular_speed, surface_radius, floor_radius)


def balance(
    rings: Rings,
    supply: Supply,
    angular_speed: FloatArray,
    resisting: FloatArray,
    liquid_density: FloatArray,
    liquid_viscosity: FloatArray,
    start: Jacket | None = None,
    rounds: int = _ROUNDS,
) -> Jacket:
    """The jacket's balance for duties (d,) against back pressures `resisting` (d, g) [Pa].

    Without any hole nothing flows, and no pressure is told. The flows add up to what is supplied to 1e-12 of it. While
    all rings run forward each is right to 1e-6 of their mean in the usual `rounds`, or in three from a `start` near by.
    """
    area = rings.area
    if not (area > 0.0).any():
        return _shut(resisting)
    density, viscosity = liquid_density[:, None], liquid_viscosity[:, None]
    head = rotating_head(density, angular_speed[:, None], supply.inlet_radius, rings.radius)
    head = head - density * GRAVITY * (rings.height - supply.inlet_height)
    ratio = rings.length / rings.diameter
    scale = rings.diameter * density / viscosity
    velocity = _START_REYNOLDS / scale + 0.0 * resisting
    coefficient = hole_flow.discharge_coefficient(velocity * scale, ratio)
    near = None  # an inlet pressure near by
    if start is not None:
        near, velocity, coefficient = start.inlet_pressure, start.reynolds / scale, start.coefficient
    for k in range(rounds):
        close = _CLOSE if k == rounds - 1 else _NEARLY
        with np.errstate(divide="ignore", invalid="ignore"):
            near = pressure = _inlet_pressure(area * coefficient, supply, head, resisting, density, near, close)
        ideal = _jet(np.maximum(pressure[:, None] + head, 0.0) - resisting, density)
        if k == rounds - 1:
            break
        size = np.maximum(np.abs(ideal), _LEAST_IDEAL)
        velocity = hole_flow.closer_velocity(np.maximum(velocity, 1e-3 * size), size, scale, ratio)
        coefficient = velocity / size
    at_ring = pressure[:, None] + head
    dry = (at_ring < 0.0) & (rings.count > 0.0)
    inner = np.square(supply.inlet_radius) - 2.0 * pressure / (liquid_density * np.square(angular_speed))
    return Jacket(
        flow=area * coefficient * ideal,
        supplied=supply.at(pressure),
        inlet_pressure=pressure,
        pressure=np.maximum(at_ring, 0.0),
        back_pressure=resisting,
        coefficient=coefficient,
        reynolds=np.abs(coefficient * ideal) * scale,
        free_surface=np.where((pressure < 0.0) | dry.any(axis=1), np.sqrt(np.maximum(inner, 0.0)), np.nan),
        dry=np.asarray(dry),
    )


def _shut(resisting: FloatArray) -> Jacket:
    none, unknown = np.zeros_like(resisting), np.full(len(resisting), np.nan)
    lost = np.full_like(resisting, np.nan)
    dry = np.zeros(resisting.shape, dtype=bool)
    return Jacket(none, none[:, 0], unknown, lost, resisting, lost, none, unknown, dry)


def _inlet_pressure(
    opening: FloatArray,
    supply: Supply,
    head: FloatArray,
    resisting: FloatArray,
    density: FloatArray,
    start: FloatArray | None,
    close: float,
) -> FloatArray:
    """(d,) p_s at which the rings take what is supplied: Newton steps kept within a bracket that only narrows.

    A duty that has settled stays where it is, so that its answer does not depend on who else is asked about.
    """
    open_to = opening > 0.0
    need = np.where(open_to, resisting - head, -np.inf).max(axis=1)
    most = 0.5 * density[:, 0] * (supply.flow / opening.sum(axis=1)) ** 2
    low, high = -np.where(open_to, head, -np.inf).max(axis=1), need + most + _LEAST_DRIVE
    low = np.minimum(low, high - 1.0)
    pressure = need + most if start is None else np.minimum(np.maximum(start, low), high)
    jets = opening * np.sqrt(2.0 / density)
    for _ in range(_STEPS):
        at_ring = pressure[:, None] + head
        drive = np.maximum(at_ring, 0.0) - resisting
        size = np.abs(drive)
        each_by_drive = jets / np.sqrt(np.maximum(size, _LEAST_DRIVE))
        asked = supply.at(pressure)
        excess = np.add.reduce(each_by_drive * drive, axis=1) - asked
        settled = np.abs(excess) <= close * np.add.reduce(each_by_drive * size, axis=1)
        if settled.all():
            break
        less = excess < 0.0
        low, high = np.where(less, pressure, low), np.where(less, high, pressure)
        by_pressure = np.where(size > _LEAST_DRIVE, 0.5, 1.0) * (at_ring > 0.0) * each_by_drive
        slope = np.add.reduce(by_pressure, axis=1) + _fall(supply, pressure, asked)
        newton = pressure - excess / slope
        good = (newton > low) & (newton < high)
        pressure = np.where(settled, pressure, np.where(good, newton, 0.5 * (low + high)))
    return np.asarray(pressure)


def _fall(supply: Supply, pressure: FloatArray, delivered: FloatArray) -> FloatArray:
    """How fast the supply falls with pressure where its curve caps it."""
    if supply.still_pressure is None or supply.open_flow is None:
        return np.zeros_like(pressure)
    capped = (delivered < supply.flow) & (delivered > 0.0) & (pressure > 0.0)
    if not capped.any():
        return np.asarray(0.0)
    slope = 0.5 * supply.open_flow**2 / (max(supply.still_pressure, _LEAST_DRIVE) * np.where(capped, delivered, 1.0))
    return np.where(capped, slope, 0.0)


def _jet(drive: FloatArray, density: FloatArray) -> FloatArray:
    """Ideal velocity [m/s], signed."""
    return np.asarray(drive * np.sqrt(2.0 / (density * np.maximum(np.abs(drive), _LEAST_DRIVE))))

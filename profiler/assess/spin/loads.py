"""Pressures and hoop stresses of the spinning rotor: its shell under the jacket, the bowl under jacket and slurry.

Every height is a ring of its own: what floor, flange and rim hold is left out. SI; d duties, n heights.
"""

from dataclasses import dataclass

import numpy as np

from profiler.assess.flow.flow_stage import MIDDLE, Flow, at_stations
from profiler.assess.shape.shape_stage import Shape
from profiler.assess.spin.parts import has_seat, has_shell, seat_profile
from profiler.geometry.wall import FloatArray
from profiler.physics.grains import packing, suspension
from profiler.physics.rotor import stress as rotor_stress
from profiler.physics.rotor.rotation import rotating_head
from profiler.physics.water.jacket import back_pressure
from profiler.study import Body, Machine, Material
from profiler.units import GRAVITY, KILOPASCAL, MM

HEIGHTS = 65
MEGAPASCAL = 1e6


@dataclass(frozen=True, slots=True)
class Inlet:
    """The jacket at its inlet, and how it turns."""

    pressure: FloatArray  # (d,) Pa; below zero where the jacket runs part full
    radius: float
    height: float
    density: FloatArray  # (d,)
    told: bool = True  # False: nothing is known of it; no pressure is taken, and what it decides alone has no figure

    def at(self, radius: FloatArray, height: FloatArray, angular_speed: FloatArray) -> FloatArray:
        """(d, n) Pa at places (n,): never a suction."""
        density = self.density[:, None]
        head = rotating_head(density, angular_speed[:, None], self.radius, radius)
        return np.asarray(np.maximum(self.pressure[:, None] + head - density * GRAVITY * (height - self.height), 0.0))


@dataclass(frozen=True, slots=True)
class ShellStress:
    """Along the shell where the jacket, or the bowl, presses on it."""

    height: FloatArray  # (d, n), the same for every duty
    radius: FloatArray  # (d, n) of its inside, likewise
    pressure: FloatArray  # (d, n) on its inside
    own: FloatArray  # (d, n) of its own rotation, as a disc at its bore
    thin: FloatArray  # (d, n) thin ring and thin shell
    thick: FloatArray  # (d, n) disc and thick cylinder, at the bore
    overspeed: FloatArray  # (d, n) the same at overspeed, with the supply's full pressure

    def at_worst(self, values: FloatArray) -> FloatArray:
        """(d,) of values (d, n), where the thick ring's stress is largest."""
        where = np.argmax(self.thick, axis=1)[:, None]
        return np.asarray(np.take_along_axis(values, where, axis=1)[:, 0])


@dataclass(frozen=True, slots=True)
class InsertLoad:
    """The bowl between jacket and slurry, (d,)."""

    inward_bare: FloatArray  # Pa, largest net inward pressure with the water on and no slurry; nan where not told
    inward: FloatArray  # Pa, the same while running; zero where nothing presses inward
    folds_low: FloatArray  # Pa, outside pressure that folds a long tube as thin as the wall behind the grooves
    folds_high: FloatArray  # Pa, the same with grooves not cut; nan without a material
    hoop: FloatArray  # Pa, running with the water off: own rotation and the slurry inside, wall behind the grooves


def inlet_of(machine: Machine, shape: Shape, flow: Flow) -> Inlet:
    """The network's pressure where holes are given, the supply's where they are not."""
    supply = np.where(flow.feed.water_flow > 0.0, (machine.supply_kpa or 0.0) * KILOPASCAL, 0.0)
    radius = None if machine.jacket_inlet_mm is None else machine.jacket_inlet_mm * MM
    jacket, holes, found = flow.water.jacket, shape.holes, supply
    if jacket is not None and holes is not None and np.all(np.isfinite(jacket.inlet_pressure)):
        found, radius = jacket.inlet_pressure, holes.told_at
    told = radius is not None
    if radius is None:  # the shell's stress is then at least that of its own rotation
        found, radius = 0.0 * supply, _outermost(shape, machine)
    return Inlet(found, radius, shape.shell.underside * MM, flow.feed.water_density, told)


def shut_off(inlet: Inlet, machine: Machine) -> Inlet:
    """The same with the holes blocked: the supply's full pressure stands in the jacket.

    Where the inlet's radius is not given nobody knows what that does in the jacket: it is left out, and told so.
    """
    if machine.jacket_inlet_mm is None:
        return inlet
    full = np.maximum(np.maximum(inlet.pressure, (machine.supply_kpa or 0.0) * KILOPASCAL), 0.0)
    return Inlet(full, inlet.radius, inlet.height, inlet.density, inlet.told)


def _outermost(shape: Shape, machine: Machine) -> float:
    """m: no water of the jacket stands farther out."""
    outer = float(np.max(shape.shell.outer.radius)), shape.shell.flange_radius
    return max(*outer, *(p.radius_mm for p in machine.seat)) * MM


def shell_stress(shape: Shape, flow: Flow, machine: Machine, body: Body, inlet: Inlet) -> ShellStress | None:
    """None where the machine has no shell to reckon with."""
    steel = machine.shell_material
    if not has_shell(machine) or steel is None or machine.shell_mm is None:
        return None
    height, radius = seat_profile(machine)
    floor = shape.shell.underside
    top = min(float(height[-1]), float(shape.shell.outer.height[-1]) - floor)
    z = np.union1d(np.linspace(0.0, max(top, 0.0), HEIGHTS), height[height < top])
    seat = np.interp(z, height, radius)
    band = np.clip(np.searchsorted(height, z, side="right") - 1, 0, len(height) - 2)
    lean = np.arctan(np.diff(radius) / np.diff(height))[band]
    at = _Ring(seat * MM, machine.shell_mm * MM, lean, steel)
    speed, full = flow.feed.angular_speed, shut_off(inlet, machine)
    over = speed * machine.overspeed_factor
    place = (z + floor) * MM
    if leans(machine, body):
        pressure, worst = (_leaning(shape, flow, body, place, at.inner, w) for w in (speed, over))
    else:
        pressure, worst = inlet.at(at.inner, place, speed), full.at(at.inner, place, over)
    high, wide = (np.broadcast_to(a, pressure.shape) for a in (place, at.inner))
    thick = at.thick(speed, pressure)
    return ShellStress(high, wide, pressure, at.own(speed), at.thin(speed, pressure), thick, at.thick(over, worst))


def leans(machine: Machine, body: Body) -> bool:
    """Whether the bowl fills its seat without a jacket, and so leans on the shell."""
    return body.fill_seat and machine.jacket_gap_mm is not None and machine.jacket_gap_mm <= 0.0


def insert_load(shape: Shape, flow: Flow, machine: Machine, body: Body, inlet: Inlet) -> InsertLoad:
    outer_wall, wall = shape.shell.outer, shape.wall
    z = np.linspace(0.0, float(outer_wall.height[-1]), HEIGHTS)
    outer, inner = outer_wall.radius_at(z) * MM, wall.radius_at(z) * MM
    least = (float(np.min(shape.wall_behind)) if len(shape.mouths) else _wall(shape)) * MM
    behind = outer - np.maximum(least, 1e-6) / np.cos(outer_wall.angle_at(z))
    speed = flow.feed.angular_speed
    turning, still = inlet.at(outer, z * MM, speed), inlet.at(outer, z * MM, 0.0 * speed)
    own = rotor_stress.liner_pressure(body.density_kg_m3, speed[:, None], inner, outer)
    if leans(machine, body):
        turning, still = np.zeros_like(turning), np.zeros_like(still)
    bare = np.maximum(turning - own, still)
    inside = _slurry_pressure(shape, flow, z * MM, behind, speed)
    running = turning - own - _slurry_pressure(shape, flow, z * MM, inner, speed)
    low, high, hoop = (np.full(len(speed), np.nan) for _ in range(3))
    if body.material is not None:
        modulus, nu = body.material.modulus_mpa * MEGAPASCAL, body.material.poisson
        low, high = (
            rotor_stress.buckling_pressure(modulus, nu, thickness, float(np.max(outer))) + 0.0 * speed
            for thickness in (max(least, 0.0), _wall(shape) * MM)
        )
        turned = rotor_stress.disc_hoop(body.density_kg_m3, speed[:, None], behind, outer, behind, nu)
        hoop = np.max(turned + rotor_stress.thick_cylinder(inside, behind, outer, behind), axis=1)
    pressed, still_pressed = (
        np.maximum(np.max(p, axis=1), 0.0) if inlet.told else np.full(len(speed), np.nan) for p in (running, bare)
    )
    return InsertLoad(still_pressed, pressed, low, high, hoop)


@dataclass(frozen=True, slots=True)
class Thrust:
    """Along the axis, (d,) N, parting bowl and rotor: as if the seal under the floor let water in to the hub."""

    floor: FloatArray  # on the floor plate, from the hub to its outer edge
    flange: FloatArray  # on the wall's outside and the lip flange, out to the seat

    @property
    def whole(self) -> FloatArray:
        return self.floor + self.flange


def thrust(shape: Shape, flow: Flow, machine: Machine, inlet: Inlet) -> Thrust:
    """The wall's outside counts by the ring it covers as seen along the axis. nan where no pressure is told."""
    if not inlet.told:
        none = np.full(len(inlet.pressure), np.nan)
        return Thrust(none, none)
    top = float(shape.shell.outer.height[-1])
    out = shape.shell.flange_radius
    if has_seat(machine):
        height, radius = seat_profile(machine)
        out = float(np.interp(top - shape.shell.underside, height, radius))
    hub, foot = shape.shell.hub_radius, min(float(shape.shell.outer.radius[0]), out)
    given = inlet.density, flow.feed.angular_speed, inlet.pressure, inlet.radius
    return Thrust(
        rotor_stress.end_thrust(*given, hub * MM, foot * MM), rotor_stress.end_thrust(*given, foot * MM, out * MM)
    )


@dataclass(frozen=True, slots=True)
class _Ring:
    """The shell as a ring at each height. On a cone pressure stretches a ring t cos(lean) thick; t/cos(lean) turns."""

    inner: FloatArray  # (n,)
    thickness: float  # square to the shell
    lean: FloatArray  # (n,) from the axis
    steel: Material

    def own(self, speed: FloatArray) -> FloatArray:
        outer = self.inner + self.thickness / np.cos(self.lean)
        density, nu = self.steel.density_kg_m3, self.steel.poisson
        return rotor_stress.disc_hoop(density, speed[:, None], self.inner, outer, self.inner, nu)

    def thin(self, speed: FloatArray, pressure: FloatArray) -> FloatArray:
        middle = self.inner + 0.5 * self.thickness / np.cos(self.lean)
        turned = rotor_stress.thin_ring(self.steel.density_kg_m3, speed[:, None], middle)
        return turned + rotor_stress.thin_shell(pressure, self.inner, self.thickness, self.lean)

    def thick(self, speed: FloatArray, pressure: FloatArray) -> FloatArray:
        outer = self.inner + self.thickness * np.cos(self.lean)
        return self.own(speed) + rotor_stress.thick_cylinder(pressure, self.inner, outer, self.inner)


def _wall(shape: Shape) -> float:
    """mm: the thinnest wall with no groove cut."""
    outer = shape.shell.outer
    z = np.linspace(0.0, float(outer.height[-1]), HEIGHTS)
    return float(np.min((outer.radius_at(z) - shape.wall.radius_at(z)) * np.cos(shape.wall.angle_at(z))))


def _leaning(
    shape: Shape, flow: Flow, body: Body, height: FloatArray, seat: FloatArray, speed: FloatArray
) -> FloatArray:
    """(d, n) Pa of slurry and bowl on the shell: the bowl as a liquid of its density, the larger of two bounds."""
    inner = np.minimum(shape.wall.radius_at(np.clip(height / MM, 0.0, shape.height)) * MM, seat)
    liner = rotor_stress.liner_pressure(body.density_kg_m3, speed[:, None], inner, seat)
    return liner + _slurry_pressure(shape, flow, height, inner, speed)


def _slurry_pressure(shape: Shape, flow: Flow, height: FloatArray, radius: FloatArray, speed: FloatArray) -> FloatArray:
    """(d, n) Pa of film and bed at places outside them: a settled bed out to the radius."""
    feed, stations = flow.feed, shape.stations.line.height
    film = flow.film
    surface = _interpolated(height, stations, np.minimum(flow.bed.radius[:, MIDDLE], shape.stations.line.radius))
    depth = _interpolated(height, stations, at_stations(shape, film.depth[:, MIDDLE]))
    fraction = _interpolated(height, stations, at_stations(shape, flow.in_place_fraction[:, MIDDLE]))
    thin = suspension.mixture_density(fraction, feed.solids_density[:, None], feed.water_density[:, None])
    bed = packing.bulk_density(feed.solids_density, feed.water_density)[:, None]
    inside = np.minimum(surface, radius)
    return back_pressure(speed[:, None], radius, inside, np.minimum(depth, inside), thin, bed)


def _interpolated(height: FloatArray, stations: FloatArray, rows: FloatArray) -> FloatArray:
    """(d, n) values at heights, from those at the stations."""
    return np.stack([np.interp(height, stations, row) for row in rows])

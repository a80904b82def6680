"""What turns with the bowl, part by part: body, shell, hub and shaft, jacket water, slurry, full grooves.

Everything is taken as turning at the bowl's own speed, the film too: its lag would take off less than it is worth
saying. The bed of a groove is counted in the slurry only above the mouth line; the grooves themselves are taken full
of heavy minerals. Water holes are not cut from the body. SI, heights above the bowl's inner floor; d duties.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from profiler.assess.flow.flow_stage import MIDDLE, Flow, at_stations
from profiler.assess.shape.shape_stage import Shape
from profiler.geometry.chain import figures
from profiler.geometry.revolved import Revolved, between, of_figures
from profiler.geometry.section import inner_edge, outline
from profiler.geometry.wall import FloatArray
from profiler.physics.grains import packing, suspension
from profiler.physics.rotor.body import Mass, together
from profiler.study import Body, Duty, Machine
from profiler.units import MM

WATER_HEIGHTS = 129


@dataclass(frozen=True, slots=True)
class Parts:
    """Each (d,). A part that is not given weighs nothing here; what lacks it is marked (quantities/left_out)."""

    liner: Mass  # the bowl itself, grooves cut
    shell: Mass  # the rotor's shell and floor
    further: Mass  # hub, shaft and pulley, as typed; taken at the seat's floor
    water: Mass  # in the jacket
    slurry: Mass  # film and bed over the wall
    concentrate: Mass  # in the grooves

    @property
    def dry(self) -> Mass:
        """What is balanced in the shop: without water, slurry and concentrate."""
        return together((self.liner, self.shell, self.further))

    @property
    def whole(self) -> Mass:
        return together((self.dry, self.water, self.slurry, self.concentrate))


def parts_of(shape: Shape, flow: Flow, machine: Machine, body: Body, duties: Sequence[Duty]) -> Parts:
    still = np.zeros(len(duties))
    liquid = flow.feed.water_density
    heavy = np.array([d.heavy_density_kg_m3 for d in duties])
    further = Mass(
        still + (machine.further_mass_kg or 0.0),
        still + shape.shell.underside * MM,
        still + (machine.further_inertia_kg_m2 or 0.0),
        still,
    )
    return Parts(
        liner=_of(of_figures(shape.figures), body.density_kg_m3 + still),
        shell=_shell(shape, machine, still),
        further=further,
        water=_water(shape, flow, machine, liquid),
        slurry=_slurry(shape, flow),
        concentrate=_of(groove_contents(shape), packing.bulk_density(heavy, liquid)),
    )


def groove_contents(shape: Shape) -> Revolved:
    """mm: what is cut out of the wall, roundings and all."""
    plain = outline(inner_edge(shape.wall, shape.mouths, None), shape.shell)
    return of_figures(figures(plain)).less(of_figures(shape.figures))


def radial_thickness(machine: Machine) -> FloatArray:
    """(k,) mm of the shell between neighbouring seat points, measured along the radius."""
    height, radius = seat_profile(machine)
    lean = np.arctan(np.diff(radius) / np.diff(height))
    return np.asarray((machine.shell_mm or 0.0) / np.cos(lean))


def has_seat(machine: Machine) -> bool:
    """Whether the seat is a profile that rises."""
    heights = [p.height_mm for p in machine.seat]
    return len(heights) > 1 and bool(np.all(np.diff(heights) > 0.0))


def lacks_supply(machine: Machine, duty: Duty) -> bool:
    """Where water enters the jacket, or the pressure of the water wanted, is not given: more presses than is known."""
    return machine.jacket_inlet_mm is None or (machine.supply_kpa is None and duty.water_l_min > 0.0)


def has_shell(machine: Machine) -> bool:
    return has_seat(machine) and bool(machine.shell_mm) and machine.shell_material is not None


def seat_profile(machine: Machine) -> tuple[FloatArray, FloatArray]:
    """Heights above the seat's floor and radii, mm."""
    points = np.array([(p.height_mm, p.radius_mm) for p in machine.seat])
    return points[:, 0], points[:, 1]


def _of(body: Revolved, density: FloatArray) -> Mass:
    """A body in mm at a density: a mass for every duty."""
    return Mass(
        body.volume * 1e-9 * density,
        np.asarray(body.centre_height * MM + 0.0 * density),
        body.polar_inertia * 1e-15 * density,
        body.transverse_inertia * 1e-15 * density,
    )


def _weighed(body: Revolved) -> Mass:
    """A body that was integrated with its density, in SI."""
    return Mass(body.volume, body.centre_height, body.polar_inertia, body.transverse_inertia)


def _shell(shape: Shape, machine: Machine, still: FloatArray) -> Mass:
    """Bands square to the axis at their ends, one between each two seat points, and a full disc for the floor."""
    if not has_shell(machine) or machine.shell_material is None:
        return Mass(still, still, still, still)
    height, radius = seat_profile(machine)
    z, thick = height + shape.shell.underside, radial_thickness(machine)
    inner = np.stack((radius[:-1], radius[1:]), axis=1)
    under, disc = [z[0] - (machine.shell_floor_mm or 0.0), z[0]], radius[0] + thick[0]
    heights = np.concatenate(([under], np.stack((z[:-1], z[1:]), axis=1)))
    bands = between(
        heights, np.concatenate(([[0.0, 0.0]], inner)), np.concatenate(([[disc, disc]], inner + thick[:, None]))
    )
    each = _of(bands, np.asarray(machine.shell_material.density_kg_m3))
    parts = (each.mass, each.centre, each.polar, each.transverse)
    return together([Mass(*(still + figure for figure in part)) for part in zip(*parts, strict=True)])


def _water(shape: Shape, flow: Flow, machine: Machine, liquid: FloatArray) -> Mass:
    """Between bowl and seat, out from the free surface where the jacket runs part full."""
    still = 0.0 * liquid
    if not has_seat(machine):
        return Mass(still, still, still, still)
    outer, underside = shape.shell.outer, shape.shell.underside
    height, radius = seat_profile(machine)
    top = min(float(outer.height[-1]), float(height[-1]) + underside)
    z = np.union1d(np.linspace(underside, top, WATER_HEIGHTS), height[height + underside < top] + underside)
    inside, seat = outer.radius_at(z), np.interp(z - underside, height, radius)
    level = still + np.nan if flow.water.jacket is None else flow.water.jacket.free_surface / MM
    start = np.minimum(np.fmax(inside, level[:, None]), np.maximum(seat, inside))
    return _of(between(z, start, np.maximum(seat, inside)), liquid)


def _slurry(shape: Shape, flow: Flow) -> Mass:
    at, feed, film = shape.stations, flow.feed, flow.film
    surface = np.minimum(flow.bed.radius[:, MIDDLE], at.line.radius)
    inner = np.maximum(surface - at_stations(shape, film.depth[:, MIDDLE]), 0.0)
    fraction = at_stations(shape, flow.in_place_fraction[:, MIDDLE])
    thin = suspension.mixture_density(fraction, feed.solids_density[:, None], feed.water_density[:, None])
    bed = packing.bulk_density(feed.solids_density, feed.water_density)[:, None]
    height = at.line.height
    moving, calm = between(height, inner, surface, thin), between(height, surface, at.line.radius, bed)
    return together((_weighed(moving), _weighed(calm)))

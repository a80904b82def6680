"""The catch stage: what water each groove gets against what it needs, which grains it keeps, what it contains.

Screening figures, put together from published groups; no recovery follows from them. Every array leads with the duty:
d duties, g grooves; SI.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from profiler.assess.catch.arrival import Arrival, arrival_of
from profiler.assess.catch.contents import Contents, contents_of
from profiler.assess.catch.exposed_film import ExposedFilm, exposed_film
from profiler.assess.catch.groove_water import GrooveWater, groove_water
from profiler.assess.flow.feed import Feed
from profiler.assess.flow.flow_stage import HIGH, LOW, MIDDLE, Flow, at_grooves, cover_of
from profiler.assess.flow.water_network import Moments, moments
from profiler.assess.shape.shape_stage import Shape
from profiler.geometry.wall import FloatArray
from profiler.physics.grains import capture, settling
from profiler.physics.grains import real_grains as grains
from profiler.physics.slurry import film
from profiler.study import Duty, GrainShape
from profiler.units import MICRON, MM


@dataclass(frozen=True, slots=True)
class Catch:
    water: GrooveWater
    moments: Moments | None  # None where no hole plan is given
    film: ExposedFilm  # over every groove; the stream and the field are its middle
    stream: FloatArray  # (d, g) m/s of the film against the wall
    field: FloatArray  # (d, g) m/s2 of the film
    in_place_fraction: FloatArray  # (d, g) grains in the film by volume, without the fines that count as liquid
    arrival: Arrival
    target_velocity: FloatArray  # (d, g) m/s of the duty's target grain among the others, at the film's field
    flush_ratio: FloatArray  # (d, g) water at the mouth over it: from 1 the target is carried out
    exchange_ratio: FloatArray  # (d, 3, g) target velocity over the exchange velocity, strictest first
    rouse: FloatArray  # (d, g) of the target
    stokes: FloatArray  # (d, g)
    shields: FloatArray  # (d, g) at the groove's floor
    shields_critical: FloatArray  # (d, g)
    width_over_depth: FloatArray  # (d, g)
    kept: FloatArray  # (d, 3, g) m, smallest target grain kept; nan where a calm bed covers the groove
    washed: FloatArray  # (d, 3, g) m, largest gangue grain washed out; nan likewise
    contents: Contents


def catch_of(shape: Shape, flow: Flow, duties: Sequence[Duty]) -> Catch:
    """Everything about water and grains in the grooves of a shape under duties whose flow is known."""
    feed = flow.feed
    heavy = np.array([d.heavy_density_kg_m3 for d in duties])
    water = groove_water(shape, flow, heavy)
    passing = exposed_film(shape, flow)
    stream, field = passing.speed[:, MIDDLE], passing.acceleration[:, MIDDLE]
    fraction = at_grooves(shape, flow.film.in_place_fraction[:, MIDDLE])  # grains are hindered by those that are there
    liquid, viscosity = (at_grooves(shape, a[:, 0]) for a in (flow.carrier.density, flow.carrier.viscosity))
    target = target_law(duties, liquid, viscosity, field)
    size = np.array([d.target_um * MICRON for d in duties])[:, None] + 0.0 * stream
    alone = target(size)
    velocity = grains.hindered(alone, size, fraction, liquid, viscosity)
    exchange = capture.exchange_velocity(stream[:, None], np.array(capture.EXCHANGE)[:, None])
    needed = np.maximum(exchange, water.mouth_velocity[:, None])
    fall = flow.groove_overfall
    covered = ~((fall[:, LOW] > 0.0) | (fall[:, HIGH] > 0.0))[:, None]  # sheltered, below the entry height too
    needed = np.where(covered, np.nan, needed)
    density = np.array([d.target_density_kg_m3 for d in duties])[:, None]
    number = settling.archimedes_number(size, density, liquid, viscosity, field)
    width = shape.cut.mouth * MM

    def among(law: Callable[[FloatArray], FloatArray]) -> grains.SizeLaw:
        return lambda d: grains.hindered(law(d), d, fraction[:, None], liquid[:, None], viscosity[:, None])

    return Catch(
        water=water,
        moments=_moments(shape, flow, heavy),
        film=passing,
        stream=stream,
        field=field,
        in_place_fraction=fraction,
        arrival=arrival_of(shape, flow, velocity, target, (fraction, liquid, viscosity)),
        target_velocity=velocity,
        flush_ratio=water.mouth_velocity / velocity,
        exchange_ratio=np.sort(velocity[:, None] / exchange, axis=1),
        rouse=capture.rouse_number(velocity, stream),
        stokes=capture.stokes_number(alone, field, stream, width),
        shields=capture.shields_at_floor(stream, liquid, density, field, size),
        shields_critical=film.critical_shields(np.cbrt(number)),
        width_over_depth=np.broadcast_to(shape.cut.mouth / shape.cut.depth, stream.shape),
        kept=grains.size_that_settles(
            needed, among(target_law(duties, liquid[:, None], viscosity[:, None], field[:, None]))
        ),
        washed=grains.size_that_settles(
            needed, among(gangue_law(feed, liquid[:, None], viscosity[:, None], field[:, None]))
        ),
        contents=contents_of(shape, flow, duties),
    )


def _moments(shape: Shape, flow: Flow, heavy: FloatArray) -> Moments | None:
    if shape.holes is None or flow.water.jacket is None:
        return None
    cover = cover_of(shape, flow.film, flow.carrier, flow.bed)
    return moments(shape.holes, flow.feed, cover, heavy, flow.water.jacket)


def target_law(duties: Sequence[Duty], liquid: FloatArray, viscosity: FloatArray, field: FloatArray) -> grains.SizeLaw:
    """Terminal velocity of the duties' target grains by size; sizes and liquid shaped as `field`, the duty first."""
    each = (-1, *(1,) * (field.ndim - 1))
    density = np.array([d.target_density_kg_m3 for d in duties]).reshape(each)
    flatness = np.array([d.target_flatness for d in duties]).reshape(each)
    shapes = np.array([tuple(GrainShape).index(d.target_shape) for d in duties]).reshape(each)
    kinds = {d.target_shape for d in duties}

    def velocity(size: FloatArray) -> FloatArray:
        given = (size, density, liquid, viscosity, field)
        laws = {
            GrainShape.SPHERE: lambda: settling.terminal_velocity(*given),
            GrainShape.SAND: lambda: grains.sand_velocity(*given),
            GrainShape.FLAKE: lambda: grains.flake_velocity(*given, flatness),
        }
        found: FloatArray = np.zeros(np.broadcast_shapes(np.shape(size), field.shape))
        for k, kind in enumerate(GrainShape):
            if kind in kinds:
                found = np.where(shapes == k, laws[kind](), found)
        return found

    return velocity


def gangue_law(feed: Feed, liquid: FloatArray, viscosity: FloatArray, field: FloatArray) -> grains.SizeLaw:
    """Of the gangue's grains likewise."""
    density = feed.solids_density.reshape(-1, *(1,) * (field.ndim - 1))
    return lambda size: grains.sand_velocity(size, density, liquid, viscosity, field)

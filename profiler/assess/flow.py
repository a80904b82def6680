"""The flow stage: repose, surface, overturn and states along a shape, for any number of duties at once.

Leading axes are (duty, friction) with friction low, middle, high; this is the one place where a shape's millimetres and
a duty's units become SI.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..physics import overturn, repose, rotation, suspension, water
from ..physics.surface import Bed, FloatArray, bed_surface
from ..study import Duty
from ..units import DEGREE, GRAVITY, LITRE_PER_MINUTE, MICRON, MM, PERCENT, RPM, TONNE_PER_HOUR
from .shape import Shape
from .stations import Stations

LOW, MIDDLE, HIGH = 0, 1, 2
UNCALIBRATED_BAND = 2.0 * DEGREE  # least half width of the repose band without a measurement; 90 % range, Monte Carlo
SOLVER_STEPS = (4, 3, 16)  # one pass each: repose depends on the surface's radius, the surface on repose

StateArray = NDArray[np.int8]


@dataclass(frozen=True, slots=True)
class Feed:
    """The duties as arrays over them, (d,), SI."""

    angular_speed: FloatArray
    slurry_flow: FloatArray  # m3/s
    solids_flow: FloatArray  # m3/s
    mass_flow: FloatArray  # kg/s
    water_flow: FloatArray  # m3/s, fluidising
    water_density: FloatArray
    water_viscosity: FloatArray
    solids_density: FloatArray
    grain_size: FloatArray
    friction: FloatArray  # (d, 3)


@dataclass(frozen=True, slots=True)
class Flow:
    """What the slurry does. d duties, n stations, g grooves, m nodes; SI and radians."""

    feed: Feed
    film: repose.Film  # (d, 3, m) at the nodes
    angle: FloatArray  # (d, 3, n) repose angle: low, middle, high of the band
    film_acceleration: FloatArray  # (d, n) at middle friction
    acceleration: FloatArray  # (d, n) of the wall
    bed: Bed  # (d, 3, n)
    overfall: FloatArray  # (d, 3, n) of the mouth imagined round each station
    ratio: FloatArray  # (d, n)
    state: StateArray  # (d, n)
    groove_overfall: FloatArray  # (d, 3, g)
    groove_ratio: FloatArray  # (d, g)
    groove_state: StateArray  # (d, g)
    groove_power: FloatArray  # (d, g) W
    groove_buried: FloatArray  # (d, g) m, over the lower edge at middle friction
    groove_held_at: FloatArray  # (d, g) m, height of the land that holds the bed over the lower edge
    groove_water: FloatArray  # (d, g) m3/s


def feed_of(duties: Sequence[Duty]) -> Feed:
    def column(name: str, factor: float = 1.0) -> FloatArray:
        return np.array([getattr(d, name) for d in duties], dtype=float) * factor

    temperature = column("temperature_c")
    liquid, solids = np.asarray(water.density(temperature)), column("solids_density_kg_m3")
    solids_mass = column("dry_feed_t_h", TONNE_PER_HOUR)
    mass = solids_mass / column("solids_pct", PERCENT)
    solids_flow = solids_mass / solids
    flow = solids_flow + (mass - solids_mass) / liquid
    friction = np.stack([column(n) for n in ("friction_low", "friction", "friction_high")], axis=1)
    viscosity = np.asarray(water.viscosity(temperature))
    return Feed(
        column("speed_rpm", RPM), flow, solids_flow, mass, column("water_l_min", LITRE_PER_MINUTE), liquid, viscosity,
        solids, column("d50_um", MICRON), friction,
    )  # fmt: skip


def flow_of(shape: Shape, duties: Sequence[Duty]) -> Flow:
    """Everything the slurry does in this shape under each duty. The duties' numbers lie within their bounds."""
    at = shape.stations
    feed = feed_of(duties)
    film, bed, angle = _settle(at, feed, len(shape.mouths))

    tilted = np.tan(film.slope[:, MIDDLE])
    overfall = overturn.overfall(at.line, bed, at.imagined, at.imagined_places)
    ratio = overturn.overturn_ratio(
        overfall[:, MIDDLE], at.imagined.mouth, _spread(tilted, at.left_node, at.node_share)
    )
    state = overturn.states(overfall[:, LOW], overfall[:, HIGH], ratio)

    fall = overturn.overfall(at.line, bed, at.edges, at.edge_places)
    slope = _spread(tilted, at.groove_left_node, at.groove_node_share)
    groove_ratio = overturn.overturn_ratio(fall[:, MIDDLE], at.edges.mouth, slope)
    speed = feed.angular_speed[:, None]
    share = feed.water_flow[:, None] / max(len(shape.mouths), 1)
    local_mass = feed.mass_flow[:, None] + feed.water_density[:, None] * share * np.arange(len(shape.mouths))
    middle_radius = shape.wall.radius_at(shape.mouths.middle) * MM
    power = overturn.released_power(local_mass, rotation.acceleration(speed, middle_radius), fall[:, MIDDLE])
    lower = at.edge_places.lower_index
    return Flow(
        feed=feed,
        film=film,
        angle=angle,
        film_acceleration=_spread(film.acceleration[:, MIDDLE], at.left_node, at.node_share),
        acceleration=rotation.acceleration(speed, at.radius * MM),
        bed=bed,
        overfall=overfall,
        ratio=ratio,
        state=state,
        groove_overfall=fall,
        groove_ratio=groove_ratio,
        groove_state=overturn.states(fall[:, LOW], fall[:, HIGH], groove_ratio),
        groove_power=power,
        groove_buried=bed.buried(at.line)[:, MIDDLE][:, lower],
        groove_held_at=bed.held_at[:, MIDDLE][:, lower],
        groove_water=np.broadcast_to(share, (len(duties), len(shape.mouths))),
    )


def _settle(at: Stations, feed: Feed, grooves: int) -> tuple[repose.Film, Bed, FloatArray]:
    """Repose and surface found together: each pass solves repose at the radius of the last surface."""
    speed = feed.angular_speed[:, None, None]
    below = feed.water_flow[:, None, None] * (at.node_grooves_below / max(grooves, 1))
    flow = feed.slurry_flow[:, None, None] + below
    fraction = feed.solids_flow[:, None, None] / flow
    slurry = repose.Slurry(
        *(a[:, None, None] for a in (feed.solids_density, feed.grain_size, feed.water_density, feed.water_viscosity))
    )
    friction = feed.friction[:, :, None]
    wall = at.radius[at.node] * MM
    radius: FloatArray = np.broadcast_to(wall, (len(feed.angular_speed), 3, len(wall)))
    film: repose.Film | None = None
    for steps in SOLVER_STEPS:
        film = repose.repose(radius, speed, flow, fraction, slurry, friction, start=film, passes=steps)
        angle = _widened(film)
        bed = bed_surface(at.line, _spread(np.tan(angle), at.left_node, at.node_share))
        radius = np.minimum(bed.radius[..., at.node], wall)
        radius = np.maximum(radius, 0.2 * wall)  # a bed that fills the bowl: its angle is then of no use anyway
    assert film is not None
    return film, bed, np.arctan(bed.slope)


def _widened(film: repose.Film) -> FloatArray:
    """The band: friction low and high, at least so wide, never below the tilt of clear water."""
    angle = film.angle.copy()
    middle = angle[:, MIDDLE]
    tilt = np.arctan(GRAVITY / film.acceleration[:, MIDDLE])
    angle[:, LOW] = np.minimum(angle[:, LOW], np.maximum(middle - UNCALIBRATED_BAND, np.minimum(tilt, middle)))
    angle[:, HIGH] = np.maximum(angle[:, HIGH], middle + UNCALIBRATED_BAND)
    return angle


def _spread(at_nodes: FloatArray, left: NDArray[np.intp], share: FloatArray) -> FloatArray:
    """Values at nodes carried linearly to stations or grooves, along the last axis."""
    low = at_nodes[..., left]
    return np.asarray(low + (at_nodes[..., left + 1] - low) * share)


def slurry_fraction(duty: Duty) -> float:
    """Volume fraction of solids in the duty's feed."""
    liquid = float(np.asarray(water.density(duty.temperature_c)))
    return float(np.asarray(suspension.volume_fraction(duty.solids_pct * PERCENT, duty.solids_density_kg_m3, liquid)))

"""The flow stage: repose, surface, overturn and states along a shape, for any number of duties at once.

Leading axes are (duty, friction) with friction low, middle, high; this is the one place where a shape's millimetres and
a duty's units become SI.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from profiler.assess.flow.carrier import Carrier, slurry_of
from profiler.assess.flow.feed import Feed, feed_of
from profiler.assess.flow.water_network import Cover, Water, added, even, network
from profiler.assess.shape.shape_stage import Shape
from profiler.physics.rotor import rotation
from profiler.physics.slurry import overturn, repose
from profiler.physics.slurry.surface import Bed, FloatArray, bed_surface
from profiler.physics.water.jacket import Jacket
from profiler.study import Duty
from profiler.units import DEGREE, MM

LOW, MIDDLE, HIGH = 0, 1, 2
UNCALIBRATED_BAND = 2.0 * DEGREE  # least half width of the repose band without a measurement; 90 % range, Monte Carlo
# Passes of water, dilution, repose, surface, back pressure, every one from the one before it: steps of the film's
# solver, rounds of the jacket's.
PASSES = ((2, 3), (2, 1), (16, 3))
LEAST_ROOM = 0.2  # of the wall's radius is left of a bed that fills the bowl: its angle is then of no use anyway

StateArray = NDArray[np.int8]


@dataclass(frozen=True, slots=True)
class Flow:
    """What the slurry does. d duties, n stations, g grooves, m nodes; SI and radians."""

    feed: Feed
    film: repose.Film  # (d, 3, m) at the nodes; its fractions are of grains, without the fines that count as liquid
    carrier: Carrier
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
    water: Water

    @property
    def delivered_fraction(self) -> FloatArray:
        """(d, 3, m) all solids, fines too, by volume of what flows past: what thickens it and is carried to the lip."""
        return self.carrier.with_fines(self.film.delivered_fraction)

    @property
    def in_place_fraction(self) -> FloatArray:
        """(d, 3, m) all solids, fines too, by volume of what is there: what weighs and what grains settle through."""
        return self.carrier.with_fines(self.film.in_place_fraction)

    @property
    def groove_water(self) -> FloatArray:
        """(d, g) m3/s"""
        return self.water.ring


def flow_of(shape: Shape, duties: Sequence[Duty]) -> Flow:
    """Everything the slurry does in this shape under each duty. The duties' numbers lie within their bounds."""
    at = shape.stations
    feed = feed_of(duties)
    settled, taken = _settle(shape, feed)
    film, bed = settled.film, settled.bed

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
    local_mass = feed.mass_flow[:, None] + feed.water_density[:, None] * taken.added_below
    middle_radius = shape.wall.radius_at(shape.mouths.middle) * MM
    power = overturn.released_power(local_mass, rotation.acceleration(speed, middle_radius), fall[:, MIDDLE])
    lower = at.edge_places.lower_index
    return Flow(
        feed=feed,
        film=film,
        carrier=settled.carrier,
        angle=np.arctan(bed.slope),
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
        water=taken,
    )


def cover_of(shape: Shape, film: repose.Film, carrier: Carrier, bed: Bed) -> Cover:
    """What lies over each ring's holes at middle friction."""
    at, mouths = shape.stations, shape.mouths
    wall = shape.wall.radius_at(mouths.middle) * MM
    left = np.clip(np.searchsorted(at.height, mouths.middle, side="right") - 1, 0, len(at.height) - 2)
    share = (mouths.middle - at.height[left]) / (at.height[left + 1] - at.height[left])
    return Cover(
        wall,
        _spread(bed.radius[:, MIDDLE], left, share),
        at_grooves(shape, film.depth[:, MIDDLE]),
        at_grooves(shape, carrier.with_fines(film.in_place_fraction)[:, MIDDLE]),
    )


@dataclass(frozen=True, slots=True)
class _Pass:
    """What one pass found."""

    film: repose.Film
    carrier: Carrier
    bed: Bed
    ring: FloatArray  # (d, g) m3/s
    jacket: Jacket | None


def _settle(shape: Shape, feed: Feed) -> tuple[_Pass, Water]:
    """Water, repose and surface found together: each pass meets the surface of the one before."""
    settled = _pass(shape, feed, None, *PASSES[0])
    moved: FloatArray = np.zeros(len(feed.angular_speed))
    for steps, rounds in PASSES[1:]:
        before, settled = settled, _pass(shape, feed, settled, steps, rounds)
        moved = np.max(np.abs(settled.film.angle[:, MIDDLE] - before.film.angle[:, MIDDLE]), axis=1)
    total = feed.water_flow if settled.jacket is None else settled.jacket.supplied
    moved = np.round(moved, 7)  # what is finer is the solver's own noise
    return settled, Water(settled.ring, total, settled.jacket, moved)


def _pass(shape: Shape, feed: Feed, before: _Pass | None, steps: int, rounds: int) -> _Pass:
    """One pass; the first meets full grooves and a surface along the wall."""
    at, grooves = shape.stations, len(shape.mouths)
    wall = at.radius[at.node] * MM
    if shape.holes is None:
        jacket, ring = None, even(feed, grooves)
        below = feed.water_flow[:, None, None] * (at.node_grooves_below / max(grooves, 1))
    else:
        cover = _bare(shape, feed) if before is None else cover_of(shape, before.film, before.carrier, before.bed)
        jacket = network(shape.holes, feed, cover, None if before is None else before.jacket, rounds)
        ring = jacket.flow
        below = added(ring)[:, None, at.node_grooves_below.astype(np.intp)]
    flow = feed.slurry_flow[:, None, None] + below
    film, radius = None, np.broadcast_to(wall, (len(feed.angular_speed), 3, len(wall)))
    if before is not None:
        film = before.film
        radius = np.maximum(np.minimum(before.bed.radius[..., at.node], wall), LEAST_ROOM * wall)
    carrier, slurry = slurry_of(feed, flow, wall, film, None if before is None else before.carrier)
    speed, friction = feed.angular_speed[:, None, None], feed.friction[:, :, None]
    film = repose.repose(radius, speed, flow, carrier.fraction, slurry, friction, start=film, passes=steps)
    tangent = np.tan(_widened(film))
    slope = _spread(tangent, at.left_node, at.node_share)
    below = slope.copy()
    below[..., at.join] = tangent[..., at.join_node]
    bed = bed_surface(at.line, slope, below)
    return _Pass(film, carrier, bed, ring, jacket)


def at_grooves(shape: Shape, at_nodes: FloatArray) -> FloatArray:
    """Values at the nodes, (..., m), carried to the middles of the mouths, (..., g)."""
    return _spread(at_nodes, shape.stations.groove_left_node, shape.stations.groove_node_share)


def _bare(shape: Shape, feed: Feed) -> Cover:
    """Grooves full to their mouths and no film: where the first pass starts."""
    wall = shape.wall.radius_at(shape.mouths.middle) * MM
    nothing = np.zeros((len(feed.angular_speed), len(wall)))
    return Cover(wall, wall + nothing, nothing, nothing)


def _widened(film: repose.Film) -> FloatArray:
    """The band: friction low and high, at least so wide, never below the tilt of clear water."""
    angle = film.angle.copy()
    middle = angle[:, MIDDLE]
    tilt = rotation.tilt(film.acceleration[:, MIDDLE])
    angle[:, LOW] = np.minimum(angle[:, LOW], np.maximum(middle - UNCALIBRATED_BAND, np.minimum(tilt, middle)))
    angle[:, HIGH] = np.maximum(angle[:, HIGH], middle + UNCALIBRATED_BAND)
    return angle


def _spread(at_nodes: FloatArray, left: NDArray[np.intp], share: FloatArray) -> FloatArray:
    """Values at nodes carried linearly to stations or grooves, along the last axis."""
    low = at_nodes[..., left]
    return np.asarray(low + (at_nodes[..., left + 1] - low) * share)

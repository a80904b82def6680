"""The flow stage: repose, surface, overturn and states along a shape, for any number of duties at once.

Leading axes are (duty, friction) with friction low, middle, high; this is the one place where a shape's millimetres and
a duty's units become SI.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from profiler.assess.flow.by_duty import cut, put
from profiler.assess.flow.carrier import Carrier, slurry_of
from profiler.assess.flow.entry import entry_heights
from profiler.assess.flow.feed import FAR, Feed, feed_of
from profiler.assess.flow.no_answer import Answers, answers
from profiler.assess.flow.water_network import Cover, Water, added, even, network
from profiler.assess.shape.shape_stage import Shape
from profiler.physics.rotor import rotation
from profiler.physics.slurry import overturn, repose
from profiler.physics.slurry.film_solver import PASSES as FILM_PASSES
from profiler.physics.slurry.surface import Bed, FloatArray, bed_surface
from profiler.physics.water.jacket import Jacket
from profiler.study import Duty, Machine
from profiler.units import DEGREE, MM

LOW, MIDDLE, HIGH = 0, 1, 2
UNCALIBRATED_BAND = 2.0 * DEGREE  # least half width of the repose band without a measurement; 90 % range, Monte Carlo
CALIBRATED_BAND, FAR_BAND = 1.0 * DEGREE, 1.3 * DEGREE  # with one; far from its conditions: the same Monte Carlo
# Passes of water, dilution, repose, surface, back pressure, every one from the one before it: steps of the film's
# solver, rounds of the jacket's.
PASSES = ((2, 1), (2, 3), (16, 3))
MOST_PASSES = 16
SETTLED = 1e-3  # of a duty's mean ring flow, what all further passes would still move
NEARLY_STILL = 0.1  # of the mean: a ring that takes so little may turn, and its flow swings before it shrinks
SETTLED_ANGLE = 0.005 * DEGREE  # of repose, likewise: under a thick bed the angle follows the surface, water or none
MOST_ANGLE = 89.9 * DEGREE  # no edge of the band is drawn flatter
DAMPED = 0.5  # of the way that a damped pass goes
SWINGING = 0.65  # of a shift over the one before, at least, where a ring runs back
SLOW = 0.1  # a shift over the one before, from which the next pass is damped
TINY = 1e-300
LEAST_ROOM = 0.2  # of the wall's radius is left of a bed that fills the bowl: its angle is then of no use anyway

StateArray = NDArray[np.int8]
BoolArray = NDArray[np.bool_]


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
    state: StateArray  # (d, n) State.NONE below the entry height, where no bed lies, and where there is no answer
    groove_overfall: FloatArray  # (d, 3, g)
    groove_ratio: FloatArray  # (d, g)
    groove_state: StateArray  # (d, g) likewise
    groove_power: FloatArray  # (d, g) W
    groove_buried: FloatArray  # (d, g) m, over the lower edge at middle friction
    groove_held_at: FloatArray  # (d, g) m, height of the land that holds the bed over the lower edge
    water: Water
    entry: FloatArray  # (d,) mm above the floor, below which no state is claimed
    answers: Answers  # of which duties, and which of their frictions, nothing can be said

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


def flow_of(shape: Shape, machine: Machine, duties: Sequence[Duty]) -> Flow:
    """Everything the slurry does in this shape under each duty. The duties' numbers lie within their bounds.

    The numbers of a duty that `answers` says are missing mean nothing; they are kept apart by whoever shows them.
    """
    at = shape.stations
    feed = feed_of(duties)
    settled, taken = _settle(shape, feed)
    film = settled.described
    entry = entry_heights(machine, shape, film)
    known = answers(shape, machine, entry, settled.carrier.grain_size, film, settled.bed)
    bed = _without_high(settled.bed, known)

    tilted = np.tan(film.slope[:, MIDDLE])
    overfall = overturn.overfall(at.line, bed, at.imagined, at.imagined_places)
    ratio = overturn.overturn_ratio(overfall[:, MIDDLE], at.imagined.mouth, at_stations(shape, tilted))
    bedded = film.has_bed[:, MIDDLE]
    bedded_here = bedded.take(at.left_node, axis=-1)
    ratio = np.where(bedded_here, ratio, np.nan)
    claimed = bedded_here & (at.height >= entry[:, None]) & ~known.missing[:, None]
    state = _claimed(overturn.states(overfall[:, LOW], overfall[:, HIGH], ratio), claimed)

    fall = overturn.overfall(at.line, bed, at.edges, at.edge_places)
    slope = _spread(tilted, at.groove_left_node, at.groove_node_share)
    groove_ratio = overturn.overturn_ratio(fall[:, MIDDLE], at.edges.mouth, slope)
    groove_bedded = bedded.take(at.groove_left_node, axis=-1)
    groove_ratio = np.where(groove_bedded, groove_ratio, np.nan)
    groove_claimed = groove_bedded & (shape.mouths.middle >= entry[:, None]) & ~known.missing[:, None]
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
        film_acceleration=at_stations(shape, film.acceleration[:, MIDDLE]),
        acceleration=rotation.acceleration(speed, at.radius * MM),
        bed=bed,
        overfall=overfall,
        ratio=ratio,
        state=state,
        groove_overfall=fall,
        groove_ratio=groove_ratio,
        groove_state=_claimed(overturn.states(fall[:, LOW], fall[:, HIGH], groove_ratio), groove_claimed),
        groove_power=power,
        groove_buried=bed.buried(at.line)[:, MIDDLE].take(lower, axis=-1),
        groove_held_at=bed.held_at[:, MIDDLE].take(lower, axis=-1),
        water=taken,
        entry=entry,
        answers=known,
    )


def _claimed(state: StateArray, claimed: BoolArray) -> StateArray:
    return np.where(claimed, state, overturn.State.NONE).astype(np.int8)


def _without_high(bed: Bed, known: Answers) -> Bed:
    """The bed without that of high friction where that has no answer."""
    if not known.high_missing.any():
        return bed
    lost = np.zeros((*known.why.shape, 1), dtype=bool)
    lost[:, HIGH, 0] = known.high_missing
    rise, level, held, radius = (np.where(lost, np.nan, a) for a in (bed.rise, bed.level, bed.held_at, bed.radius))
    return replace(bed, rise=rise, level=level, held_at=held, radius=radius)


def cover_of(shape: Shape, film: repose.Film, carrier: Carrier, bed: Bed) -> Cover:
    """What lies over each ring's holes at middle friction."""
    at, mouths = shape.stations, shape.mouths
    wall = shape.wall.radius_at(mouths.middle) * MM
    left = np.minimum(np.maximum(np.searchsorted(at.height, mouths.middle, side="right") - 1, 0), len(at.height) - 2)
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

    sought: repose.Sought | None  # where the next search starts, while that is kept
    film: repose.Film | None  # described where more than the next search follows from it
    angle: FloatArray  # (d, 3, m) repose
    carrier: Carrier
    bed: Bed
    ring: FloatArray  # (d, g) m3/s
    jacket: Jacket | None

    @property
    def described(self) -> repose.Film:
        assert self.film is not None
        return self.film


def _settle(shape: Shape, feed: Feed) -> tuple[_Pass, Water]:
    """Water, repose and surface found together: each pass meets the surface of the one before.

    A duty that has settled stays as it is, so that its answer does not depend on who else is asked about.
    """
    count = len(feed.angular_speed)
    before = settled = _pass(shape, feed, None, *PASSES[0])
    moved, rest, last, turn, turned = (np.zeros(count) for _ in range(5))
    share, half = np.ones(count), np.zeros(count, dtype=bool)  # of a shift over the one before; what is damped
    going = np.arange(count)
    for k in range(1, MOST_PASSES):
        some = len(going) < count
        old, met = (cut(p, going, count) for p in (before, settled)) if some else (before, settled)
        new = _pass(
            shape,
            cut(feed, going, count) if some else feed,
            _damped(old, met, half[going]),
            *PASSES[min(k, len(PASSES) - 1)],
        )
        shift = _shift(met.ring, new.ring)
        turned[going] = np.max(np.abs(new.angle[:, MIDDLE] - met.angle[:, MIDDLE]), axis=1)
        turn[going], rest[going] = turned[going], shift
        if k > 1:
            least = np.where(half[going], DAMPED, 0.0)  # what is damped cannot shrink faster
            turns = np.maximum(turned[going] / np.maximum(moved[going], TINY), least)
            now = np.maximum(shift / np.maximum(last[going], TINY), least)
            turn[going], half[going] = _rest(turned[going], turns), np.maximum(now, turns) > SLOW
            rest[going] = _rest(shift, _trusted(now, share[going], new.ring))
            share[going] = now
        moved[going], last[going] = turned[going], shift
        before, settled = settled, put(settled, going, count, new) if some else new
        if k + 1 >= len(PASSES):
            open_bowl = np.min(settled.bed.radius[:, MIDDLE], axis=1) > 0.0  # where the bed closes it nothing settles
            going = np.flatnonzero(((rest > SETTLED) | (turn > SETTLED_ANGLE)) & open_bowl)
            if not len(going):
                break
    entering = feed.water_flow * (len(shape.mouths) > 0)  # where nothing is grooved no water comes in
    total = entering if settled.jacket is None else settled.jacket.supplied
    moved = np.round(moved, 7)  # what is finer is the solver's own noise
    return settled, Water(settled.ring, total, settled.jacket, moved, rest, turn)


def _damped(a: _Pass, b: _Pass, half: BoolArray) -> _Pass:
    """The later pass, these duties' surfaces half-way to those of the one before: what shrinks slowly may swing."""
    if not half.any():
        return b
    radius = np.where(half[:, None, None], (1.0 - DAMPED) * a.bed.radius + DAMPED * b.bed.radius, b.bed.radius)
    return replace(b, bed=replace(b.bed, radius=radius))


def _shift(before: FloatArray, now: FloatArray) -> FloatArray:
    """(d,) largest change of a ring's flow over the mean flow of the rings."""
    if not now.size:
        return np.zeros(len(now))
    mean = np.mean(np.abs(now), axis=1)
    return np.asarray(np.max(np.abs(now - before), axis=1) / np.where(mean > 0.0, mean, np.inf))


def _trusted(share: FloatArray, before: FloatArray, ring: FloatArray) -> FloatArray:
    """(d,) the share of a shift that is counted on. Where a ring runs back, or nearly stands, one is now and then small
    though the next is not."""
    if not ring.size:
        return share
    swings = ring.min(axis=1) < NEARLY_STILL * np.abs(ring).mean(axis=1)
    return np.asarray(np.where(swings, np.maximum(np.maximum(share, before), SWINGING), share))


def _rest(shift: FloatArray, share: FloatArray) -> FloatArray:
    """(d,) what all further passes would still move, each shifting by this share of the one before."""
    share = np.minimum(share, 0.9)
    return np.asarray(shift * share / (1.0 - share))


def _pass(shape: Shape, feed: Feed, before: _Pass | None, steps: int, rounds: int) -> _Pass:
    """One pass; the first meets full grooves and a surface along the wall."""
    at, grooves = shape.stations, len(shape.mouths)
    wall = at.radius[at.node] * MM
    if shape.holes is None:
        jacket, ring = None, even(feed, grooves)
        below = feed.water_flow[:, None, None] * (at.node_grooves_below / max(grooves, 1))
    else:
        cover = _bare(shape, feed) if before is None else cover_of(shape, before.described, before.carrier, before.bed)
        jacket = network(shape.holes, feed, cover, None if before is None else before.jacket, rounds)
        ring = jacket.flow
        below = added(ring)[:, None, at.node_grooves_below.astype(np.intp)]
    flow = feed.slurry_flow[:, None, None] + below
    film, radius = None, np.broadcast_to(wall, (len(feed.angular_speed), 3, len(wall)))
    if before is not None:
        film = before.film
        radius = np.maximum(np.minimum(before.bed.radius.take(at.node, axis=-1), wall), LEAST_ROOM * wall)
    carrier, slurry = slurry_of(feed, flow, wall, film, None if before is None else before.carrier)
    speed, friction = feed.angular_speed[:, None, None], feed.friction[:, :, None]
    start = None if before is None else before.sought or film
    sought = repose.seek(radius, speed, flow, carrier.fraction, slurry, friction, start=start, passes=steps)
    cut_short = steps < FILM_PASSES
    film = None if cut_short and shape.holes is None and feed.classes is None else sought.film()
    angle, acceleration = (sought.angle, sought.acceleration) if film is None else (film.angle, film.acceleration)
    tangent = np.tan(_widened(angle, acceleration[:, MIDDLE], least_band(feed, shape.lip_radius)[:, None]))
    slope = at_stations(shape, tangent)
    below = slope.copy()
    below[..., at.join] = tangent.take(at.join_node, axis=-1)
    bed = bed_surface(at.line, slope, below)
    return _Pass(sought if cut_short else None, film, angle, carrier, bed, ring, jacket)


def at_stations(shape: Shape, at_nodes: FloatArray) -> FloatArray:
    """Values at the nodes, (..., m), carried linearly to the stations, (..., n)."""
    return _spread(at_nodes, shape.stations.left_node, shape.stations.node_share)


def at_grooves(shape: Shape, at_nodes: FloatArray) -> FloatArray:
    """Values at the nodes, (..., m), carried to the middles of the mouths, (..., g)."""
    return _spread(at_nodes, shape.stations.groove_left_node, shape.stations.groove_node_share)


def _bare(shape: Shape, feed: Feed) -> Cover:
    """Grooves full to their mouths and no film: where the first pass starts."""
    wall = shape.wall.radius_at(shape.mouths.middle) * MM
    nothing = np.zeros((len(feed.angular_speed), len(wall)))
    return Cover(wall, wall + nothing, nothing, nothing)


def least_band(feed: Feed, lip_radius_mm: float) -> FloatArray:
    """(d,) rad, half the width below which no friction makes the band."""
    far = feed.measured_elsewhere | (np.abs(lip_radius_mm - feed.measured_radius) > FAR * feed.measured_radius)
    measured = np.where(far, FAR_BAND, CALIBRATED_BAND)
    return np.where(np.isnan(feed.measured_radius), UNCALIBRATED_BAND, measured)


def _widened(found: FloatArray, acceleration: FloatArray, least: FloatArray) -> FloatArray:
    """The band: friction low and high, at least so wide, never below the tilt of clear water at the acceleration."""
    angle = found.copy()
    middle = angle[:, MIDDLE]
    tilt = rotation.tilt(acceleration)
    angle[:, LOW] = np.minimum(angle[:, LOW], np.maximum(middle - least, np.minimum(tilt, middle)))
    angle[:, HIGH] = np.maximum(angle[:, HIGH], middle + least)
    return np.minimum(angle, MOST_ANGLE)


def _spread(at_nodes: FloatArray, left: NDArray[np.intp], share: FloatArray) -> FloatArray:
    """Values at nodes carried linearly to stations or grooves, along the last axis."""
    low = at_nodes.take(left, axis=-1)
    return np.asarray(low + (at_nodes.take(left + 1, axis=-1) - low) * share)

"""The law of the carpet: what a film over a moving bed of grains must satisfy, and the derivatives of that.

Grains in contact creep along at a share s of the speed of the water and of the grains it carries. So more of them lie
on the bed than pass with the feed, and it is those that weigh: for every grain delivered g more stand in place,

    g = min( F (1/s - 1), (P - C)/((1 - P) C) ) >= 0,         in place (1 + g) C/(1 + g C), at most P

with C the delivered volume fraction, F the share of it in contact, P what a settled bed packs to. With L the film's lag
behind the bowl, b the angle between its motion relative to the wall and the wall's meridian, a' = a (1 - L)^2, D the
relative submerged density, W the delivered fraction by mass and K = (1 + g W)/(1 + g C) the mass in place over the mass
delivered:

    slope    tan(alpha) = cos(b) [ (F + g) C D mu + (1 + g C) theta_c D d/h ]/[ (1 + C D)(1 + g W) ]
    pull     V_rel^2 = 8 a' h sin(alpha) K/(f cos(b)),            V = V_rel cos(b) = q/h
    turning  L (1 - L) sin(alpha) = 2 (V/(w r))^2 sin(theta)/K,   tan(b) = L w r/V

The Coriolis force acts on what is delivered, the drag balances the weight in place. V, f and its Reynolds number are
those of the delivered mixture; q is the flow per length of rim, v and theta_c are settling velocity and threshold of
the grains at a', F = exp(-k V_rel/v). F enters g linearly, so a sum over size classes is exact. With s = 1 nothing
stands still, g = 0 and K = 1: the balance of the delivered fraction. What the slope equation divides by cos(b) is held
at or below C_m D mu/(1 + C_m D), C_m the larger of C and P: a bed at packing holds no more.

A carrier of clay with a yield stress t holds up (1 + g C) t/(rho a' h)/[(1 + C D)(1 + g W)] besides, in that bracket
but beyond that limit, since it asks for no grain in contact: force balance of a layer of the mass in place against the
stress at its foot, t = rho_in_place a' h sin(alpha). The friction of the film stays that of a liquid without it.

Sources: balance Takahashi T. (1978) J. Hydraul. Div. ASCE 104(8) 1153-1169; F Gillies, Shook & Xu (2004) Can. J. Chem.
Eng. 82, 1060-1065 (both from memory); s = 0.6 Abrahams A.D. (2003) J. Hydraul. Eng. 129(2) 159-163 (abstract: grains at
0.6 of the water's speed, friction 0.6 in 55 sheet-flow experiments). How it is solved is in `film_solver`.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import pi
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from profiler.physics.grains import classed_grains, packing, settling, suspension
from profiler.physics.grains.classed_grains import CONTACT_DECAY as CONTACT_DECAY
from profiler.physics.grains.classed_grains import ContactLoad, Mixture
from profiler.physics.rotor import rotation
from profiler.physics.rotor.rotation import FloatArray, Values
from profiler.physics.slurry.film import FilmFriction, critical_shields, critical_shields_slope, film_friction
from profiler.units import GRAVITY

BoolArray = npt.NDArray[np.bool_]

SLIP = 0.6  # speed of grains in contact over that of the water and the carried grains; 1: they keep up
PACKED = packing.SETTLED  # no more of the volume than this can be grains in place
BED_FRACTION = 0.03  # delivered volume fraction from which the whole slope is that of a bed
NO_BED_FRACTION = 0.01  # below it there is no bed to lean on; in between the slope is eased in


@dataclass(frozen=True, slots=True)
class Slurry:
    """Solids and carrier. Every field a number or an array that broadcasts against the points; all positive."""

    solids_density: Values  # kg/m3
    grain_size: Values  # m, d50
    liquid_density: Values  # kg/m3
    liquid_viscosity: Values  # Pa s, with the fines that count as liquid
    mixture: Mixture | None = None  # the grains by size class, with which F is summed; None: all are of one size
    yield_stress: Values | None = None  # Pa, of the carrier; 0 where it has none, None: it has none anywhere


class Case(NamedTuple):
    """What stays put while the film is sought; full arrays, so that no pass has to broadcast."""

    radius: FloatArray
    acceleration: FloatArray  # of the bowl
    rim_speed: FloatArray
    rim_flow: FloatArray  # q
    grain_size: FloatArray
    fraction: FloatArray  # C, delivered
    mass_fraction: FloatArray  # W, delivered
    slack: FloatArray  # 1/s - 1
    room: FloatArray  # g of a packed bed; infinite without solids
    most: FloatArray  # C_m D/(1 + C_m D): the slope over the friction that a bed at packing holds
    packs: bool  # whether any point may reach it
    reynolds: FloatArray
    buoyancy: FloatArray  # C D/(1 + C D)
    threshold: FloatArray  # D d/(1 + C D)
    clay: FloatArray | None  # t/(rho a (1 + C D)), m: over h the slope a yield stress holds; None without one
    decay: FloatArray  # k rho d/mu: times V_rel over the grain's Reynolds number it is the exponent of F
    log_archimedes: FloatArray  # at the bowl's acceleration
    relative: Mixture | None  # the classes' sizes over the grain size, and their shares
    tilt: FloatArray  # tan(delta) at the bowl's acceleration
    lagging: bool
    turning: BoolArray  # where the lag is sought: not among points that make no sense
    odds_limit: FloatArray  # ln(L/(1 - L)) goes no higher


class State(NamedTuple):
    """What is sought, and by how much a further pass would move it."""

    depth: FloatArray
    tangent: FloatArray  # tan(alpha)
    log_odds: FloatArray  # ln(L/(1 - L)); minus infinity for a film that turns with the bowl
    log_reynolds: FloatArray  # of grains settling at a'; the class leads where there are several
    error: FloatArray


class Stream(NamedTuple):
    """The film that a state describes."""

    velocity: FloatArray
    lag: FloatArray
    remaining: FloatArray  # 1 - L
    sideways: FloatArray  # L w r
    relative: FloatArray  # V_rel
    log_archimedes: FloatArray  # at a'
    friction: FilmFriction
    load: ContactLoad  # F and how it fades
    standing: FloatArray  # g
    packed: BoolArray | None  # where g is that of a packed bed and does not follow F; None where it is nowhere
    volume: FloatArray  # 1 + g C
    tilt: FloatArray  # tan(delta) at a'


class Motion(NamedTuple):
    """The same with what its equations ask, and how that changes."""

    stream: Stream
    cosine: FloatArray  # cos(b)
    leaning: FloatArray  # sin(b)^2
    aside: FloatArray  # sin(b)^2 (1 - L): d ln V_rel by the lag odds
    mass: FloatArray  # 1 + g W
    fading_by_depth: FloatArray  # d ln F/d ln h
    fading_by_lag: FloatArray  # d ln F by the lag odds
    heaping: FloatArray  # d ln K/d ln F
    threshold: FloatArray  # theta_c D d/h/(1 + C D), and what a yield stress holds
    threshold_by_field: FloatArray  # its derivative by ln a'
    clay: FloatArray | None  # what a yield stress adds to the threshold, which it is counted in; None without one


class Equation(NamedTuple):
    """The logarithm of one side over the other, and its derivatives by ln h, ln tan(alpha) and the lag odds."""

    error: FloatArray
    by_depth: FloatArray | float
    by_slope: FloatArray | float
    by_lag: FloatArray


SlopeEquation = Callable[[State, Motion], Equation]


def case_of(
    radius: Values,
    angular_speed: Values,
    flow: Values,
    fraction: Values,
    slurry: Slurry,
    slip: Values,
    other: Values,
    lagging: bool,
) -> Case:
    """The arguments of `repose` as one case; `other` is what else the points broadcast against."""
    grain, liquid, viscosity = slurry.grain_size, slurry.liquid_density, slurry.liquid_viscosity
    acceleration = rotation.acceleration(angular_speed, radius)
    archimedes = settling.archimedes_number(grain, slurry.solids_density, liquid, viscosity, acceleration)
    excess = (slurry.solids_density - liquid) / liquid
    load = fraction * excess
    rim_flow = flow / (2.0 * pi * radius)
    reynolds = 4.0 * rim_flow * liquid * (1.0 + load) / (viscosity * suspension.relative_viscosity(fraction))
    zero = 0.0 * (reynolds + archimedes + other + slip)
    mixture, held = slurry.mixture, slurry.yield_stress
    full = fraction + zero
    slack = 1.0 / slip - 1.0 + zero
    room = np.maximum(PACKED - full, 0.0) / ((1.0 - PACKED) * full)
    return Case(
        radius=radius + zero,
        acceleration=acceleration + zero,
        rim_speed=angular_speed * radius + zero,
        rim_flow=rim_flow + zero,
        grain_size=grain + zero,
        fraction=full,
        mass_fraction=(fraction + load) / (1.0 + load) + zero,
        slack=slack,
        room=room,
        most=_heaviest(full, excess),
        packs=bool((slack >= room).any()),
        reynolds=reynolds + zero,
        buoyancy=load / (1.0 + load) + zero,
        threshold=excess * grain / (1.0 + load) + zero,
        clay=None if held is None else held / (liquid * acceleration * (1.0 + load)) + zero,
        decay=CONTACT_DECAY * liquid * grain / viscosity + zero,
        log_archimedes=np.log(archimedes) + zero,
        relative=None if mixture is None else Mixture(mixture.size / grain, mixture.share),
        tilt=GRAVITY / acceleration + zero,
        lagging=lagging,
        turning=full > 0.0,
        odds_limit=zero,
    )


def _heaviest(fraction: FloatArray, excess: Values) -> FloatArray:
    load = np.maximum(fraction, PACKED) * excess
    return np.asarray(load / (1.0 + load))


def stream_of(case: Case, state: State) -> Stream:
    velocity = case.rim_flow / state.depth
    lag = 1.0 / (1.0 + np.exp(-state.log_odds))
    remaining = 1.0 - lag
    sideways = lag * case.rim_speed
    relative = np.sqrt(velocity * velocity + sideways * sideways)
    log_archimedes = case.log_archimedes + 2.0 * np.log(remaining)
    load = classed_grains.contact_load(state.log_reynolds, log_archimedes, case.decay * relative, case.relative)
    standing, packed = load.fraction * case.slack, None
    if case.packs:
        packed = standing >= case.room
        standing = np.where(packed, case.room, standing)
    friction = film_friction(state.depth, case.grain_size, case.reynolds)
    volume, tilt = 1.0 + standing * case.fraction, case.tilt / (remaining * remaining)
    return Stream(
        velocity, lag, remaining, sideways, relative, log_archimedes, friction, load, standing, packed, volume, tilt
    )


def motion_of(case: Case, state: State) -> Motion:
    stream = stream_of(case, state)
    lag, load = stream.lag, stream.load
    leaning = (stream.sideways / stream.relative) ** 2
    aside = leaning * stream.remaining
    mass = 1.0 + stream.standing * case.mass_fraction
    heaping = 1.0 / stream.volume - 1.0 / mass  # since dg/d ln F = g
    grain_number = np.exp(stream.log_archimedes / 3.0)
    threshold = case.threshold / state.depth
    pushed, by_field = critical_shields(grain_number), critical_shields_slope(grain_number) * grain_number / 3.0
    pushed, by_field, clay = threshold * pushed, threshold * by_field, None
    if case.clay is not None:
        clay = case.clay / (stream.remaining**2 * state.depth)
        pushed, by_field = pushed + clay, by_field - clay
    return Motion(
        stream,
        cosine=stream.velocity / stream.relative,
        leaning=leaning,
        aside=aside,
        mass=mass,
        fading_by_depth=load.exponent * (1.0 - leaning),
        fading_by_lag=-load.exponent * (aside + 2.0 * lag / load.settling_slope),
        heaping=heaping if stream.packed is None else np.where(stream.packed, 0.0, heaping),
        threshold=pushed,
        threshold_by_field=by_field,
        clay=clay,
    )


def pull(case: Case, state: State, motion: Motion, flat: FloatArray) -> Equation:
    """`flat` is cos(alpha)^2, here and below."""
    at = motion.stream
    drive = case.acceleration * at.remaining**2 * state.depth * state.tangent * np.sqrt(flat) * motion.cosine
    heaped = drive * motion.mass / at.volume  # with K
    return Equation(
        np.log(8.0 * heaped / (at.friction.factor * at.velocity**2)),
        3.0 - motion.leaning - at.friction.gradient + motion.heaping * motion.fading_by_depth,
        flat,
        motion.heaping * motion.fading_by_lag - motion.aside - 2.0 * at.lag,
    )


def turning(case: Case, state: State, motion: Motion, flat: FloatArray) -> Equation:
    """The turning equation divided by the pull, which leaves L on one side: L f r = 16 h cos(b)(1-L) sin(theta).

    What stands in place cancels here: it adds as much to the drag as to the weight.
    """
    at = motion.stream
    level = 1.0 / (1.0 + at.tilt * at.tilt)  # cos(delta)^2
    tangents = state.tangent + at.tilt
    drag = case.radius * at.friction.factor * at.lag
    spin = 16.0 * state.depth * motion.cosine * at.remaining * tangents * np.sqrt(flat * level)
    cotangent = (1.0 - state.tangent * at.tilt) / tangents  # of theta
    by_lag = 1.0 + motion.aside - 2.0 * cotangent * at.lag * at.tilt * level
    by_depth = motion.leaning - 1.0 + at.friction.gradient
    return Equation(np.log(drag / spin), by_depth, -cotangent * state.tangent * flat, by_lag)


def contact_slope(case: Case, friction: Values) -> SlopeEquation:
    """The slope is the one that grains in contact hold up."""
    contact, most = case.buoyancy * friction, case.most * friction

    def equation(state: State, motion: Motion) -> Equation:
        at = motion.stream
        total = contact * (at.load.fraction + at.standing) + motion.threshold * at.volume
        gained = 1.0 / motion.mass - motion.threshold / total  # d ln(total/mass)/d ln F, since dg/d ln F = g
        if at.packed is not None:
            gained = np.where(at.packed, contact * at.load.fraction / total, gained)
        pushed = at.volume / total  # by the threshold
        by_depth = motion.leaning - gained * motion.fading_by_depth + motion.threshold * pushed
        by_lag = 2.0 * at.lag * motion.threshold_by_field * pushed - gained * motion.fading_by_lag + motion.aside
        held, limit = total / motion.mass, most if motion.clay is None else most + _clay_held(motion)
        full = held > limit
        if full.any():
            held = np.where(full, limit, held)
            by_depth = np.where(full, motion.leaning, by_depth)
            by_lag = np.where(full, motion.aside, by_lag)
            if motion.clay is not None:
                share = np.where(full, _clay_held(motion) / held, 0.0)
                by_depth = by_depth + share * (1.0 + motion.heaping * motion.fading_by_depth)
                by_lag = by_lag - share * (2.0 * at.lag - motion.heaping * motion.fading_by_lag)
        return Equation(np.log(state.tangent / (motion.cosine * held)), by_depth, 1.0, by_lag)

    return equation


def measured_slope(angle: Values) -> SlopeEquation:
    """The slope is what a measured angle leaves above the level surface of the film."""

    def equation(state: State, motion: Motion) -> Equation:
        tilt = np.arctan(motion.stream.tilt)
        tangent = np.tan(angle - tilt)
        by_lag = motion.stream.lag * np.sin(2.0 * tilt) * (tangent + 1.0 / tangent)
        return Equation(np.log(state.tangent / tangent), 0.0, 1.0, by_lag)

    return equation


def friction_of(case: Case, state: State) -> FloatArray:
    """The friction with which grains in contact hold up the slope of a state: the slope equation turned round."""
    motion = motion_of(case, state)
    held = state.tangent / motion.cosine
    total = held * motion.mass - motion.threshold * motion.stream.volume
    contact = total / ((motion.stream.load.fraction + motion.stream.standing) * case.buoyancy)
    by_grains = held if motion.clay is None else held - _clay_held(motion)
    return np.asarray(np.maximum(contact, by_grains / case.most))


def _clay_held(motion: Motion) -> FloatArray:
    """The slope a yield stress holds up, over cos(b)."""
    assert motion.clay is not None
    return np.asarray(motion.clay * motion.stream.volume / motion.mass)

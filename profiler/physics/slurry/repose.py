"""The angle at which a moving slurry comes to rest against the wall: a Coulomb carpet on a level surface.

The weight of the grains that ride on their neighbours, times the friction between them, balances the pull of the film
down its slope. Grains the flow carries take no part (F); the threshold stress of the bed adds a little. The film is as
deep as its flow and its friction ask, and turns slower than the bowl. With L its lag, b the angle between its motion
relative to the wall and the wall's meridian, and a' = a (1 - L)^2:

    slope    tan(alpha) = cos(b) [ F C D mu + theta_c D d/h ]/(1 + C D),   F = exp(-k V_rel/v)
    pull     V_rel^2 = 8 a' h sin(alpha)/(f cos(b)),                       V = V_rel cos(b) = q/h
    turning  L (1 - L) sin(alpha) = 2 (V/(w r))^2 sin(theta),              tan(b) = L w r/V
             theta = alpha + atan(g/a')

D is the relative submerged density, q the flow per length of rim, v and theta_c settling velocity and threshold of the
grains at a'. Balance: Takahashi T. (1978) J. Hydraul. Div. ASCE 104(8) 1153-1169; F: Gillies, Shook & Xu (2004) Can. J.
Chem. Eng. 82, 1060-1065 (both from memory). One parameter, mu, is uncertain, and one measured angle fixes it
(`friction_from_angle`). Not here: grooves, clay, the sum over size classes, a whole wall's surface, the model's limits.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import pi
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from profiler.physics.grains import classed_grains, settling, suspension
from profiler.physics.grains.classed_grains import CONTACT_DECAY as CONTACT_DECAY
from profiler.physics.grains.classed_grains import ContactLoad, Mixture
from profiler.physics.rotor import rotation
from profiler.physics.rotor.rotation import FloatArray, Values
from profiler.physics.slurry.film import FilmFriction, critical_shields, critical_shields_slope, film_friction
from profiler.units import GRAVITY

BoolArray = npt.NDArray[np.bool_]

BED_FRACTION = 0.03  # volume fraction below which there is no bed to lean on
FRICTION_USUAL = (0.25, 0.75)  # outside: doubt the measurement, the concentration or the regime
FRICTION_POSSIBLE = (0.1, 1.2)  # outside: not a friction between grains

_PASSES = 16  # every film the wall carries is found in these
_CLOSE = 1e-6  # a Newton step this small leaves an error of about its square
_LARGEST_STEP = 2.0  # in the logarithms
_DEEPEST = 1e3  # radii; a depth that runs away stops here
_START_FRICTION_FACTOR = 0.08
_START_SLOPE = 0.02
_START_LAG = 0.4
_LITTLE_LAG = -5.0  # in lag odds; from here the smaller of two lags is found


@dataclass(frozen=True, slots=True)
class Slurry:
    """Solids and carrier. Every field a number or an array that broadcasts against the points; all positive."""

    solids_density: Values  # kg/m3
    grain_size: Values  # m, d50
    liquid_density: Values  # kg/m3
    liquid_viscosity: Values  # Pa s, with the fines that count as liquid
    mixture: Mixture | None = None  # the grains by size class, with which F is summed; None: all are of one size


@dataclass(frozen=True, slots=True)
class Film:
    """The moving film and its angle at each point; all arrays of one broadcast shape.

    Where `has_bed` is false the film has no slope of its own: `angle` is the tilt of the level surface, `slope` and
    `lag` are zero, depth and velocity those of a film that turns with the bowl and just moves its few grains. Where
    `carried` is false no lag satisfies the balance with a film thinner than the radius: `lag` is held at one half
    (zero if it was not sought) and `depth` is at most the radius.
    """

    angle: FloatArray  # rad, from the spin axis: the repose angle
    slope: FloatArray  # rad, against the level surface of the film's own rotation
    depth: FloatArray  # m
    velocity: FloatArray  # m/s, along the wall
    lag: FloatArray  # share of the bowl's speed by which the film turns slower
    lag_angle: FloatArray  # rad, from the wall's meridian to the film's motion relative to the wall
    acceleration: FloatArray  # m/s2, of the film
    solids_fraction: FloatArray  # by volume
    contact_fraction: FloatArray  # share of the solids that ride on their neighbours
    friction_factor: FloatArray  # Darcy
    reynolds: FloatArray  # 4 q/nu of the slurry
    roughness_capped: BoolArray
    reynolds_floored: BoolArray
    carried: BoolArray  # false: the wall does not carry the slurry round
    has_bed: BoolArray  # false: the solids fraction is below BED_FRACTION


def repose(
    radius: Values,
    angular_speed: Values,
    flow: Values,
    solids_fraction: Values,
    slurry: Slurry,
    friction: Values,
    *,
    lag: bool = True,
    start: Film | None = None,
    passes: int = _PASSES,
) -> Film:
    """Repose angle and film at each point of the arguments' broadcast shape.

    `radius` [m] of the surface; `angular_speed` [rad/s]; `flow` [m3/s] and `solids_fraction` [-, by volume] of the
    slurry that passes there, water added below included; `friction` [-] between grains. `lag=False` lets the film turn
    with the bowl. `start`, a film of the same shape at nearly the same conditions, saves passes: the loop ends once
    every point has settled, to 1e-9 or better. Fewer `passes` than the default leave unsettled points as they stand.

    All arguments must be positive; callers check. A point that makes no sense becomes nan and disturbs no other.
    """
    with np.errstate(all="ignore"):
        case = _case(radius, angular_speed, flow, solids_fraction, slurry, friction, lag)
        contact = case.buoyancy * friction
        state = _solve(case, _contact_slope(contact), _start(case, contact, start), passes)
        return _film(case, state)


def friction_from_angle(
    angle: Values,
    radius: Values,
    angular_speed: Values,
    flow: Values,
    solids_fraction: Values,
    slurry: Slurry,
    *,
    lag: bool = True,
) -> FloatArray:
    """Friction [-] with which `repose` predicts the measured `angle` [rad from the spin axis].

    The other arguments are those of `repose`; the solids fraction is the local one, not the feed's. nan where the angle
    is not clearly above the level surface of the film, and where there is no bed. Where the lag is above about 0.15 two
    frictions may give one angle; as a rule the larger, with less lag, is found. Callers judge the value.
    """
    with np.errstate(all="ignore"):
        case = _case(radius, angular_speed, flow, solids_fraction, slurry, angle, lag)
        level_lag = 0.999 * (1.0 - np.sqrt(case.tilt / np.tan(angle)))  # more lag than this leaves no slope
        case = case._replace(odds_limit=np.minimum(np.log(level_lag / (1.0 - level_lag)), 0.0))
        start = _start(case, np.tan(angle - np.arctan(case.tilt)), None)
        start = start._replace(log_odds=np.minimum(start.log_odds, _LITTLE_LAG))
        state = _settle(case, _measured_slope(angle), start, 3 * _PASSES)
        motion = _motion(case, state)
        possible = (state.log_odds < case.odds_limit) | (case.odds_limit == 0.0)
        friction = (state.tangent / motion.cosine - motion.threshold) / (motion.load.fraction * case.buoyancy)
        return np.where(possible & case.turning & (state.error <= _CLOSE), friction, np.nan)


class _Case(NamedTuple):
    """What stays put while the film is sought; full arrays, so that no pass has to broadcast."""

    radius: FloatArray
    acceleration: FloatArray  # of the bowl
    rim_speed: FloatArray
    rim_flow: FloatArray  # q
    grain_size: FloatArray
    solids_fraction: FloatArray
    reynolds: FloatArray
    buoyancy: FloatArray  # C D/(1 + C D)
    threshold: FloatArray  # D d/(1 + C D)
    decay: FloatArray  # k rho d/mu: times V_rel over the grain's Reynolds number it is the exponent of F
    log_archimedes: FloatArray  # at the bowl's acceleration
    relative: Mixture | None  # the classes' sizes over the grain size, and their shares
    tilt: FloatArray  # tan(delta) at the bowl's acceleration
    lagging: bool
    turning: BoolArray  # where the lag is sought
    odds_limit: FloatArray  # ln(L/(1 - L)) goes no higher


class _State(NamedTuple):
    """What is sought, and by how much the last pass moved it."""

    depth: FloatArray
    tangent: FloatArray  # tan(alpha)
    log_odds: FloatArray  # ln(L/(1 - L)); minus infinity for a film that turns with the bowl
    log_reynolds: FloatArray  # of grains settling at a'; the class leads where there are several
    error: FloatArray


class _Motion(NamedTuple):
    """The film that a state describes."""

    velocity: FloatArray
    lag: FloatArray
    remaining: FloatArray  # 1 - L
    cosine: FloatArray  # cos(b)
    leaning: FloatArray  # sin(b)^2
    friction: FilmFriction
    load: ContactLoad  # F and how it fades
    threshold: FloatArray  # theta_c D d/h/(1 + C D)
    threshold_by_field: FloatArray  # its derivative by ln a'
    tilt: FloatArray  # tan(delta) at a'


class _Equation(NamedTuple):
    """The logarithm of one side over the other, and its derivatives by ln h, ln tan(alpha) and the lag odds."""

    error: FloatArray
    by_depth: FloatArray | float
    by_slope: FloatArray | float
    by_lag: FloatArray


_SlopeEquation = Callable[[_State, _Motion], _Equation]


def _case(
    radius: Values, angular_speed: Values, flow: Values, fraction: Values, slurry: Slurry, other: Values, lagging: bool
) -> _Case:
    grain, liquid, viscosity = slurry.grain_size, slurry.liquid_density, slurry.liquid_viscosity
    acceleration = rotation.acceleration(angular_speed, radius)
    archimedes = settling.archimedes_number(grain, slurry.solids_density, liquid, viscosity, acceleration)
    excess = (slurry.solids_density - liquid) / liquid
    load = fraction * excess
    rim_flow = flow / (2.0 * pi * radius)
    reynolds = 4.0 * rim_flow * liquid * (1.0 + load) / (viscosity * suspension.relative_viscosity(fraction))
    zero = 0.0 * (reynolds + archimedes + other)
    mixture = slurry.mixture
    return _Case(
        radius=radius + zero,
        acceleration=acceleration + zero,
        rim_speed=angular_speed * radius + zero,
        rim_flow=rim_flow + zero,
        grain_size=grain + zero,
        solids_fraction=fraction + zero,
        reynolds=reynolds + zero,
        buoyancy=load / (1.0 + load) + zero,
        threshold=excess * grain / (1.0 + load) + zero,
        decay=CONTACT_DECAY * liquid * grain / viscosity + zero,
        log_archimedes=np.log(archimedes) + zero,
        relative=None if mixture is None else Mixture(mixture.size / grain, mixture.share),
        tilt=GRAVITY / acceleration + zero,
        lagging=lagging,
        turning=~(fraction + zero < BED_FRACTION),
        odds_limit=zero,
    )


def _start(case: _Case, tangent: FloatArray, start: Film | None) -> _State:
    slope = np.maximum(tangent, _START_SLOPE)
    depth = np.cbrt(case.rim_flow**2 * _START_FRICTION_FACTOR / (8.0 * case.acceleration * slope))
    relative = case.rim_flow / (depth * case.rim_speed)
    lag = np.minimum(2.0 * relative * relative * (1.0 + case.tilt / slope), _START_LAG)
    if start is not None:
        depth = np.where(start.depth > 0.0, start.depth, depth)
        slope = np.where(start.slope > 0.0, np.tan(start.slope), slope)
        lag = np.where(start.lag > 0.0, start.lag, lag)
    lag = np.where(case.turning, lag, 0.0) if case.lagging else np.zeros_like(lag)
    log_odds = np.minimum(np.log(lag / (1.0 - lag)), case.odds_limit)
    log_reynolds = classed_grains.start_log_reynolds(np.exp(case.log_archimedes) * (1.0 - lag) ** 2, case.relative)
    return _State(depth, slope, log_odds, log_reynolds, np.full_like(depth, np.inf))


def _solve(case: _Case, law: _SlopeEquation, start: _State, passes: int) -> _State:
    """Newton passes for all points; then, with the lag held at its limit, for those that no lag satisfies."""
    state = _settle(case, law, start, passes)
    lost = ((state.error > _CLOSE) | (state.depth > case.radius)) & case.turning
    if not case.lagging or passes < _PASSES or not lost.any():
        return state
    held = start._replace(log_odds=case.odds_limit)
    mixed = _State(*(np.where(lost, h, s) for h, s in zip(held, state, strict=True)))
    return _settle(case._replace(turning=case.turning & ~lost), law, mixed, passes)


def _settle(case: _Case, law: _SlopeEquation, state: _State, passes: int) -> _State:
    for _ in range(passes):
        state = _step(case, law, state)
        if not np.fmax.reduce(state.error, axis=None) > _CLOSE:
            break
    return state


def _step(case: _Case, law: _SlopeEquation, state: _State) -> _State:
    """One Newton step for depth, slope and lag together.

    In logarithms pull and turning are nearly linear; the slope equation is tame while the slope need not follow the
    depth at once, though F fall from one to nothing.
    """
    motion = _motion(case, state)
    flat = 1.0 / (1.0 + state.tangent * state.tangent)  # cos(alpha)^2
    pull = _pull(case, state, motion, flat)
    slope = _without_depth(law(state, motion), pull)
    odds_step: FloatArray | float = 0.0
    if case.lagging:
        turning = _without_depth(_turning(case, state, motion, flat), pull)
        share = turning.by_slope / slope.by_slope
        odds_step = (share * slope.error - turning.error) / (turning.by_lag - share * slope.by_lag)
        odds_step = np.minimum(_bounded(odds_step), case.odds_limit - state.log_odds)
        odds_step = np.where(case.turning, odds_step, 0.0)
    slope_step = _bounded(-(slope.error + slope.by_lag * odds_step) / slope.by_slope)
    rest = pull.error + pull.by_slope * slope_step + pull.by_lag * odds_step
    depth_step = _bounded(-rest / pull.by_depth)
    depth = np.minimum(state.depth * np.exp(depth_step), _DEEPEST * case.radius)
    moved = np.maximum(np.abs(depth_step), np.maximum(np.abs(slope_step), np.abs(odds_step)))
    error = np.where(depth < _DEEPEST * case.radius, moved, 0.0)
    return _State(
        depth, state.tangent * np.exp(slope_step), state.log_odds + odds_step, motion.load.log_reynolds, error
    )


def _motion(case: _Case, state: _State) -> _Motion:
    velocity = case.rim_flow / state.depth
    lag = 1.0 / (1.0 + np.exp(-state.log_odds))
    remaining = 1.0 - lag
    sideways = lag * case.rim_speed
    relative = np.sqrt(velocity * velocity + sideways * sideways)
    log_archimedes = case.log_archimedes + 2.0 * np.log(remaining)
    grain_number = np.exp(log_archimedes / 3.0)
    threshold = case.threshold / state.depth
    return _Motion(
        velocity=velocity,
        lag=lag,
        remaining=remaining,
        cosine=velocity / relative,
        leaning=(sideways / relative) ** 2,
        friction=film_friction(state.depth, case.grain_size, case.reynolds),
        load=classed_grains.contact_load(state.log_reynolds, log_archimedes, case.decay * relative, case.relative),
        threshold=threshold * critical_shields(grain_number),
        threshold_by_field=threshold * critical_shields_slope(grain_number) * grain_number / 3.0,
        tilt=case.tilt / (remaining * remaining),
    )


def _pull(case: _Case, state: _State, motion: _Motion, flat: FloatArray) -> _Equation:
    drive = case.acceleration * motion.remaining**2 * state.depth * state.tangent * np.sqrt(flat) * motion.cosine
    error = np.log(8.0 * drive / (motion.friction.factor * motion.velocity**2))
    by_depth = 3.0 - motion.leaning - motion.friction.gradient
    return _Equation(error, by_depth, flat, -motion.leaning * motion.remaining - 2.0 * motion.lag)


def _turning(case: _Case, state: _State, motion: _Motion, flat: FloatArray) -> _Equation:
    """The turning equation divided by the pull, which leaves L on one side: L f r = 16 h cos(b)(1-L) sin(theta)."""
    level = 1.0 / (1.0 + motion.tilt * motion.tilt)  # cos(delta)^2
    tangents = state.tangent + motion.tilt
    drag = case.radius * motion.friction.factor * motion.lag
    spin = 16.0 * state.depth * motion.cosine * motion.remaining * tangents * np.sqrt(flat * level)
    cotangent = (1.0 - state.tangent * motion.tilt) / tangents  # of theta
    by_lag = 1.0 + motion.leaning * motion.remaining - 2.0 * cotangent * motion.lag * motion.tilt * level
    by_depth = motion.leaning - 1.0 + motion.friction.gradient
    return _Equation(np.log(drag / spin), by_depth, -cotangent * state.tangent * flat, by_lag)


def _contact_slope(contact: FloatArray) -> _SlopeEquation:
    """The slope is the one that grains in contact hold up; `contact` is C D mu/(1 + C D)."""

    def equation(state: _State, motion: _Motion) -> _Equation:
        held = contact * motion.load.fraction
        total = held + motion.threshold
        fading = held * motion.load.exponent
        aside = motion.leaning * motion.remaining
        by_depth = motion.leaning - (fading * (1.0 - motion.leaning) - motion.threshold) / total
        slowing = fading * (2.0 * motion.lag / motion.load.settling_slope + aside)
        by_lag = (slowing + 2.0 * motion.lag * motion.threshold_by_field) / total + aside
        return _Equation(np.log(state.tangent / (motion.cosine * total)), by_depth, 1.0, by_lag)

    return equation


def _measured_slope(angle: Values) -> _SlopeEquation:
    """The slope is what a measured angle leaves above the level surface of the film."""

    def equation(state: _State, motion: _Motion) -> _Equation:
        tilt = np.arctan(motion.tilt)
        tangent = np.tan(angle - tilt)
        by_lag = motion.lag * np.sin(2.0 * tilt) * (tangent + 1.0 / tangent)
        return _Equation(np.log(state.tangent / tangent), 0.0, 1.0, by_lag)

    return equation


def _without_depth(row: _Equation, pull: _Equation) -> _Equation:
    share = row.by_depth / pull.by_depth
    return _Equation(
        row.error - share * pull.error, 0.0, row.by_slope - share * pull.by_slope, row.by_lag - share * pull.by_lag
    )


def _bounded(step: FloatArray) -> FloatArray:
    return np.minimum(np.maximum(step, -_LARGEST_STEP), _LARGEST_STEP)


def _film(case: _Case, state: _State) -> Film:
    depth = np.minimum(state.depth, case.radius)
    motion = _motion(case, state._replace(depth=depth))
    has_bed = ~(case.solids_fraction < BED_FRACTION)
    slope = np.where(has_bed, np.arctan(state.tangent), 0.0)
    return Film(
        angle=slope + np.arctan(motion.tilt),
        slope=slope,
        depth=depth,
        velocity=motion.velocity,
        lag=motion.lag,
        lag_angle=np.arctan(motion.lag * case.rim_speed / motion.velocity),
        acceleration=case.acceleration * motion.remaining * motion.remaining,
        solids_fraction=case.solids_fraction,
        contact_fraction=motion.load.fraction,
        friction_factor=motion.friction.factor,
        reynolds=case.reynolds,
        roughness_capped=motion.friction.roughness_capped,
        reynolds_floored=motion.friction.reynolds_floored,
        carried=(motion.lag < 0.5) & (state.depth < case.radius),
        has_bed=has_bed,
    )

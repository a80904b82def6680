"""The angle at which a moving slurry comes to rest against the wall: a Coulomb carpet on a level surface.

The weight of the grains that ride on their neighbours, times the friction between them, balances the pull of the
film down its slope. Grains the flow carries take no part (F); the threshold stress of the bed adds a little. The
film is as deep as its flow and its friction ask, and turns slower than the bowl. With L its lag, b the angle
between its motion relative to the wall and the wall's meridian, and a' = a (1 - L)^2:

    tan(alpha) = cos(b) [ F C D mu + theta_c D d/h ] / (1 + C D),   F = exp(-k V_rel/v),   V_rel = V/cos(b)
    V_rel^2    = 8 a' h sin(alpha)/(f cos(b)),                      V = q/h,               tan(b) = L w r/V
    L (1 - L)  = 2 (V/(w r))^2 sin(theta)/sin(alpha),               theta = alpha + atan(g/a')

D is the relative submerged density, q the flow per length of rim, v and theta_c the settling velocity and threshold
of the grains at a'. Balance: Takahashi T. (1978) J. Hydraul. Div. ASCE 104(8) 1153-1169; F: Gillies, Shook & Xu
(2004) Can. J. Chem. Eng. 82, 1060-1065 (both from memory). One parameter, mu, is uncertain, and one measured angle
fixes it (`friction_from_angle`). Grooves, clay and wide size distributions are not here, nor the surface of a whole
wall, nor what counts as outside the model's range.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import pi

import numpy as np
import numpy.typing as npt

from profiler.physics import rotation, settling, suspension
from profiler.physics.film import FilmFriction, critical_shields, critical_shields_slope, film_friction
from profiler.physics.rotation import FloatArray, Values
from profiler.units import GRAVITY

BoolArray = npt.NDArray[np.bool_]

BED_FRACTION = 0.03  # volume fraction below which there is no bed to lean on
CONTACT_DECAY = 0.0097  # k: how fast grains leave the contact load, per V/v
FRICTION_USUAL = (0.25, 0.75)  # outside: doubt the measurement, the concentration or the regime
FRICTION_POSSIBLE = (0.1, 1.2)  # outside: not a friction between grains

_PASSES = 40
_CLOSE = 1e-6  # a Newton step this small leaves an error of about its square
_LARGEST_STEP = 2.0  # in the logarithms of depth and lag
_START_FRICTION_FACTOR = 0.08
_START_SLOPE = 0.02


@dataclass(frozen=True, slots=True)
class Slurry:
    """Solids and carrier. Every field a number or an array that broadcasts against the points; all positive."""

    solids_density: Values  # kg/m3
    grain_size: Values  # m, d50
    liquid_density: Values  # kg/m3
    liquid_viscosity: Values  # Pa s, with the fines that count as liquid


@dataclass(frozen=True, slots=True)
class Film:
    """The moving film and its angle at each point; all arrays of one broadcast shape.

    Where `has_bed` is false the film has no slope of its own: `angle` is the tilt of the level surface, `slope`
    and `lag` are zero, depth and velocity those of a film that turns with the bowl and just moves its few grains.
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
    carried: BoolArray  # false where no lag satisfies the balance: the wall does not carry the slurry round
    has_bed: BoolArray  # false where the solids fraction is below BED_FRACTION


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

    `radius` [m] of the surface; `angular_speed` [rad/s]; `flow` [m3/s] and `solids_fraction` [-, by volume] of
    the slurry that passes there, water added below included; `friction` [-] between grains. `lag=False` lets the
    film turn with the bowl. `start`, a film of the same shape at nearly the same conditions, saves passes. The
    loop ends when every point has converged, or after `passes`.

    All arguments must be positive; callers check. A point that makes no sense becomes nan and disturbs no other.
    Where no lag satisfies the balance it is held at one half and `carried` is false.
    """
    with np.errstate(all="ignore"):
        case = _case(radius, angular_speed, flow, solids_fraction, slurry, friction, lag)
        contact = case.buoyancy * friction
        law = _contact_law(case, contact)
        state = _solve(case, law, _start(case, contact, start), passes)
        return _film(case, law, state)


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

    The other arguments are those of `repose`; the solids fraction is the local one, not the feed's. nan where the
    angle is not above the level surface of the film, and where there is no bed. Whether the value can be believed
    is for the caller to say, with FRICTION_USUAL and FRICTION_POSSIBLE.
    """
    with np.errstate(all="ignore"):
        case = _case(radius, angular_speed, flow, solids_fraction, slurry, angle, lag)
        case = _with_slope_left(case, angle)
        law = _measured_law(case, angle)
        state = _solve(case, law, _start(case, np.tan(angle - np.arctan(case.tilt)), None), _PASSES)
        motion = _motion(case, state)
        needed = law(motion).tangent / motion.cosine - motion.threshold
        friction = needed / (motion.contact_fraction * case.buoyancy)
        return np.where(case.has_bed & (state.error < _CLOSE), friction, np.nan)


@dataclass(frozen=True, slots=True)
class _Case:
    """What stays put while the film is sought; full arrays, so that no pass has to broadcast."""

    lagging: bool
    radius: FloatArray
    acceleration: FloatArray  # of the bowl
    rim_speed: FloatArray
    rim_flow: FloatArray  # q
    grain_size: FloatArray
    solids_fraction: FloatArray
    reynolds: FloatArray
    buoyancy: FloatArray  # C D/(1 + C D)
    threshold: FloatArray  # D d/(1 + C D)
    decay: FloatArray  # k rho d/mu: the exponent of F is this times V_rel over the grain's Reynolds number
    log_archimedes: FloatArray  # at the bowl's acceleration
    tilt: FloatArray  # tan(delta) at the bowl's acceleration
    has_bed: BoolArray
    log_odds_limit: FloatArray | float  # ln(L/(1 - L)) goes no higher


@dataclass(frozen=True, slots=True)
class _State:
    """What is sought, and by how much the last pass moved it."""

    depth: FloatArray
    log_odds: FloatArray  # ln(L/(1 - L)); minus infinity for a film that does not lag
    tangent: FloatArray
    log_reynolds: FloatArray  # of a grain settling at the film's acceleration
    error: FloatArray


@dataclass(frozen=True, slots=True)
class _Motion:
    """The film that a state describes, before its slope is known."""

    depth: FloatArray
    velocity: FloatArray
    lag: FloatArray
    remaining: FloatArray  # 1 - L
    cosine: FloatArray  # cos(b)
    leaning: FloatArray  # sin(b)^2
    friction: FilmFriction
    exponent: FloatArray  # of F
    contact_fraction: FloatArray  # F
    threshold: FloatArray  # theta_c D d/h / (1 + C D)
    threshold_gradient: FloatArray  # of that, by ln a'
    settling_slope: FloatArray  # d ln a'/d ln v
    log_reynolds: FloatArray
    tilt: FloatArray  # tan(delta) at the film's acceleration


@dataclass(frozen=True, slots=True)
class _Slope:
    """tan(alpha) and the derivatives of its logarithm by the logarithms of depth and lag odds."""

    tangent: FloatArray
    by_depth: FloatArray | float
    by_lag: FloatArray


_Law = Callable[[_Motion], _Slope]


def _case(
    radius: Values,
    angular_speed: Values,
    flow: Values,
    solids_fraction: Values,
    slurry: Slurry,
    last: Values,
    lagging: bool,
) -> _Case:
    acceleration = rotation.acceleration(angular_speed, radius)
    rim_flow = flow / (2.0 * pi * radius)
    excess = (slurry.solids_density - slurry.liquid_density) / slurry.liquid_density
    load = solids_fraction * excess
    density = slurry.liquid_density * (1.0 + load)
    viscosity = slurry.liquid_viscosity * suspension.relative_viscosity(solids_fraction)
    archimedes = settling.archimedes_number(
        slurry.grain_size,
        slurry.solids_density,
        slurry.liquid_density,
        slurry.liquid_viscosity,
        acceleration,
    )
    reynolds = 4.0 * rim_flow * density / viscosity
    zero = 0.0 * (reynolds + archimedes + last)
    fraction = solids_fraction + zero
    return _Case(
        lagging=lagging,
        radius=radius + zero,
        acceleration=acceleration + zero,
        rim_speed=angular_speed * radius + zero,
        rim_flow=rim_flow + zero,
        grain_size=slurry.grain_size + zero,
        solids_fraction=fraction,
        reynolds=reynolds + zero,
        buoyancy=load / (1.0 + load) + zero,
        threshold=excess * slurry.grain_size / (1.0 + load) + zero,
        decay=CONTACT_DECAY * slurry.liquid_density * slurry.grain_size / slurry.liquid_viscosity + zero,
        log_archimedes=np.log(archimedes) + zero,
        tilt=GRAVITY / acceleration + zero,
        has_bed=~(fraction < BED_FRACTION),
        log_odds_limit=0.0,
    )


def _start(case: _Case, tangent: FloatArray, start: Film | None) -> _State:
    slope = np.maximum(tangent, _START_SLOPE)
    depth = np.cbrt(case.rim_flow**2 * _START_FRICTION_FACTOR / (8.0 * case.acceleration * slope))
    if start is not None:
        depth = np.where(start.depth > 0.0, start.depth, depth)
    lag = np.zeros_like(depth)
    if case.lagging:
        relative = case.rim_flow / (depth * case.rim_speed)
        lag = np.minimum(2.0 * relative * relative * (1.0 + case.tilt / slope), 0.4)
        if start is not None:
            lag = np.where(start.lag > 0.0, start.lag, lag)
        lag = np.where(case.has_bed, lag, 0.0)
    log_odds = np.minimum(np.log(lag / (1.0 - lag)), case.log_odds_limit)
    log_reynolds = settling.approximate_log_reynolds(np.exp(case.log_archimedes) * (1.0 - lag) ** 2)
    return _State(depth, log_odds, slope, log_reynolds, np.full_like(depth, np.inf))


def _solve(case: _Case, law: _Law, state: _State, passes: int) -> _State:
    for _ in range(passes):
        state = _step(case, law, state)
        if not np.fmax.reduce(state.error, axis=None) > _CLOSE:
            break
    return state


def _step(case: _Case, law: _Law, state: _State) -> _State:
    """One Newton step for depth and lag together, in their logarithms; the lag stops at its limit."""
    motion = _motion(case, state)
    law_slope = law(motion)
    n, remaining, friction = motion.leaning, motion.remaining, motion.friction
    tangent = state.tangent
    flat = 1.0 / (1.0 + tangent * tangent)  # cos(alpha)^2
    pull = 8.0 * case.acceleration * remaining * remaining * motion.depth * tangent * np.sqrt(flat) * motion.cosine
    e1 = np.log(pull / (friction.factor * motion.velocity * motion.velocity))
    e1x = 3.0 - n - friction.gradient
    e2 = np.log(tangent / law_slope.tangent)
    k2 = -law_slope.by_depth / e1x
    a11 = 1.0 - k2 * flat
    b1 = e2 - k2 * e1
    if not case.lagging:
        dy = 0.0
        dp = -b1 / a11
        e1y = 0.0
    else:
        e1y = -n * remaining - 2.0 * motion.lag
        level = 1.0 / (1.0 + motion.tilt * motion.tilt)
        total = tangent + motion.tilt
        cotangent = (1.0 - tangent * motion.tilt) / total
        drag = case.radius * friction.factor * motion.lag
        spin = 16.0 * motion.depth * motion.cosine * remaining * total * np.sqrt(flat * level)
        e3 = np.log(drag / spin)
        k3 = (n - 1.0 + friction.gradient) / e1x
        a12 = -law_slope.by_lag - k2 * e1y
        a21 = -cotangent * tangent * flat - k3 * flat
        a22 = 1.0 + n * remaining - 2.0 * cotangent * motion.lag * motion.tilt * level - k3 * e1y
        b2 = e3 - k3 * e1
        m = a21 / a11
        dy = (m * b1 - b2) / (a22 - m * a12)
        dy = np.minimum(np.maximum(dy, -_LARGEST_STEP), _LARGEST_STEP)
        dy = np.minimum(dy, case.log_odds_limit - state.log_odds)
        dy = np.where(case.has_bed, dy, 0.0)
        dp = -(b1 + a12 * dy) / a11
    dp = np.minimum(np.maximum(dp, -PS), PS)
    dx = -(e1 + flat * dp + e1y * dy) / e1x
    depth = np.minimum(motion.depth * np.exp(np.minimum(np.maximum(dx, -_LARGEST_STEP), _LARGEST_STEP)), case.radius)
    moved = np.maximum(np.maximum(np.abs(depth / motion.depth - 1.0), np.abs(dy)), np.where(depth<case.radius,np.abs(dp),0.0))
    return _State(depth, state.log_odds + dy, tangent * np.exp(dp), motion.log_reynolds, moved)


PS = 3.0


def _motion(case: _Case, state: _State) -> _Motion:
    depth = state.depth
    velocity = case.rim_flow / depth
    lag = 1.0 / (1.0 + np.exp(-state.log_odds))
    remaining = 1.0 - lag
    sideways = lag * case.rim_speed
    relative_squared = velocity * velocity + sideways * sideways
    relative = np.sqrt(relative_squared)
    log_archimedes = case.log_archimedes + 2.0 * np.log(remaining)
    log_reynolds, settling_slope = settling.improve_log_reynolds(state.log_reynolds, log_archimedes)
    exponent = case.decay * relative * np.exp(-log_reynolds)
    grain_number = np.exp(log_archimedes / 3.0)
    threshold = case.threshold / depth
    return _Motion(
        depth=depth,
        velocity=velocity,
        lag=lag,
        remaining=remaining,
        cosine=velocity / relative,
        leaning=sideways * sideways / relative_squared,
        friction=film_friction(depth, case.grain_size, case.reynolds),
        exponent=exponent,
        contact_fraction=np.exp(-exponent),
        threshold=threshold * critical_shields(grain_number),
        threshold_gradient=threshold * critical_shields_slope(grain_number) * grain_number / 3.0,
        settling_slope=settling_slope,
        log_reynolds=log_reynolds,
        tilt=case.tilt / (remaining * remaining),
    )


def _contact_law(case: _Case, contact: FloatArray) -> _Law:
    """The slope that the grains in contact hold up."""

    def law(motion: _Motion) -> _Slope:
        held = contact * motion.contact_fraction
        total = held + motion.threshold
        n, aside = motion.leaning, motion.leaning * motion.remaining
        fading = held * motion.exponent
        by_depth = (fading * (1.0 - n) - motion.threshold) / total - n
        slowing = fading * (2.0 * motion.lag / motion.settling_slope + aside)
        by_lag = -(slowing + 2.0 * motion.lag * motion.threshold_gradient) / total - aside
        return _Slope(motion.cosine * total, by_depth, by_lag)

    return law


def _measured_law(case: _Case, angle: Values) -> _Law:
    """The slope that is left of a measured angle above the level surface of the film."""

    def law(motion: _Motion) -> _Slope:
        tangent = np.tan(angle - np.arctan(motion.tilt))
        level = 1.0 / (1.0 + motion.tilt * motion.tilt)
        by_lag = -2.0 * motion.lag * motion.tilt * level * (tangent + 1.0 / tangent)
        return _Slope(tangent, 0.0, by_lag)

    return law


def _with_slope_left(case: _Case, angle: Values) -> _Case:
    """The case with the lag kept below where the measured angle would be level."""
    level_lag = 0.999 * (1.0 - np.sqrt(case.tilt / np.tan(angle)))
    return replace(case, log_odds_limit=np.minimum(np.log(level_lag / (1.0 - level_lag)), 0.0))


def _film(case: _Case, law: _Law, state: _State) -> Film:
    motion = _motion(case, state)
    slope = np.where(case.has_bed, np.arctan(law(motion).tangent), 0.0)
    return Film(
        angle=slope + np.arctan(motion.tilt),
        slope=slope,
        depth=motion.depth,
        velocity=motion.velocity,
        lag=motion.lag,
        lag_angle=np.arccos(motion.cosine),
        acceleration=case.acceleration * motion.remaining * motion.remaining,
        solids_fraction=case.solids_fraction,
        contact_fraction=motion.contact_fraction,
        friction_factor=motion.friction.factor,
        reynolds=case.reynolds,
        roughness_capped=motion.friction.roughness_capped,
        reynolds_floored=motion.friction.reynolds_floored,
        carried=motion.lag < 0.5,
        has_bed=case.has_bed,
    )

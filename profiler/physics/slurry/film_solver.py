"""How the film is found: Newton's method for depth, slope and lag together, all points at once.

It starts from closed forms, or from a film at nearly the same conditions, and ends once every point has settled. The
equations are in `carpet`.
"""

from typing import NamedTuple

import numpy as np

from profiler.physics.grains import classed_grains
from profiler.physics.rotor.rotation import FloatArray
from profiler.physics.slurry.carpet import (
    Case,
    Equation,
    SlopeEquation,
    State,
    motion_of,
    pull,
    turning,
)

PASSES = 16  # every film the wall carries is found in these
CLOSE = 1e-11  # what the next Newton step would move, were it smaller than the last as that than the one before

_LARGEST_STEP = 2.0  # in the logarithms
_FIRST_STEP = 1e-2  # what the first is measured by
_DEEPEST = 1e3  # radii; a depth that runs away stops here
_START_FRICTION_FACTOR = 0.08
_START_SLOPE = 0.02
_START_LAG = 0.4


class Guess(NamedTuple):
    """Where the search starts."""

    depth: FloatArray
    slope: FloatArray  # tan(alpha)
    lag: FloatArray


def guess(case: Case, tangent: FloatArray) -> Guess:
    """A film of this slope whose grains are all in contact: closed forms, within a few tens of per cent."""
    standing = np.minimum(case.slack, case.room)
    heaped = (1.0 + standing * case.mass_fraction) / (1.0 + standing * case.fraction)
    slope = np.maximum(tangent, _START_SLOPE)
    depth = np.cbrt(case.rim_flow**2 * _START_FRICTION_FACTOR / (8.0 * case.acceleration * slope * heaped))
    relative = case.rim_flow / (depth * case.rim_speed)
    return Guess(depth, slope, np.minimum(2.0 * relative * relative * (1.0 + case.tilt / slope) / heaped, _START_LAG))


def held_slope(case: Case, friction: FloatArray | float) -> FloatArray:
    """tan(alpha) of a bed whose grains are all in contact and need no push."""
    standing = np.minimum(case.slack, case.room)
    return case.buoyancy * friction * (1.0 + standing) / (1.0 + standing * case.mass_fraction)


def started(case: Case, at: Guess) -> State:
    lag = np.where(case.turning, at.lag, 0.0) if case.lagging else np.zeros_like(at.lag)
    log_odds = np.minimum(np.log(lag / (1.0 - lag)), case.odds_limit)
    log_reynolds = classed_grains.start_log_reynolds(case.log_archimedes + 2.0 * np.log(1.0 - lag), case.relative)
    return State(at.depth, at.slope, log_odds, log_reynolds, np.full_like(at.depth, np.inf))


def resumed(case: Case, state: State) -> State:
    """Where a search left off, taken up under conditions that changed a little."""
    return state._replace(depth=np.minimum(state.depth, case.radius), error=np.full_like(state.depth, np.inf))


def solve(case: Case, law: SlopeEquation, start: State, passes: int) -> State:
    """Newton passes for all points; then, with the lag held at its limit, for those that no lag satisfies."""
    state = settle(case, law, start, passes)
    lost = ((state.error > CLOSE) | (state.depth > case.radius)) & case.turning
    if not case.lagging or passes < PASSES or not lost.any():
        return state
    held = start._replace(log_odds=case.odds_limit)
    mixed = State(*(np.where(lost, h, s) for h, s in zip(held, state, strict=True)))
    return settle(case._replace(turning=case.turning & ~lost), law, mixed, passes)


def settle(case: Case, law: SlopeEquation, state: State, passes: int) -> State:
    """Points that have settled stay as they are, so that no answer depends on who else is asked about."""
    before: FloatArray | float = _FIRST_STEP
    moving = state.error > CLOSE
    for _ in range(passes):
        after = _step(case, law, state)
        moved = after.error
        after = after._replace(error=moved * np.minimum(moved / before, 1.0))  # what the next step would move
        before = np.maximum(moved, 1e-300)
        if not moving.all():
            after = State(*(np.where(moving, new, old) for new, old in zip(after, state, strict=True)))
        state = after
        moving = state.error > CLOSE
        if not moving.any():
            break
    return state


def _step(case: Case, law: SlopeEquation, state: State) -> State:
    """One Newton step for depth, slope and lag together.

    In logarithms pull and turning are nearly linear; the slope equation is tame while the slope need not follow the
    depth at once, though F fall from one to nothing.
    """
    motion = motion_of(case, state)
    flat = 1.0 / (1.0 + state.tangent * state.tangent)  # cos(alpha)^2
    drawn = pull(case, state, motion, flat)
    slope = _without_depth(law(state, motion), drawn)
    odds_step: FloatArray | float = 0.0
    if case.lagging:
        turned = _without_depth(turning(case, state, motion, flat), drawn)
        share = turned.by_slope / slope.by_slope
        odds_step = (share * slope.error - turned.error) / (turned.by_lag - share * slope.by_lag)
        odds_step = np.minimum(_bounded(odds_step), case.odds_limit - state.log_odds)
        odds_step = np.where(case.turning, odds_step, 0.0)
    slope_step = _bounded(-(slope.error + slope.by_lag * odds_step) / slope.by_slope)
    rest = drawn.error + drawn.by_slope * slope_step + drawn.by_lag * odds_step
    depth_step = _bounded(-rest / drawn.by_depth)
    depth = np.minimum(state.depth * np.exp(depth_step), _DEEPEST * case.radius)
    moved = np.maximum(np.abs(depth_step), np.maximum(np.abs(slope_step), np.abs(odds_step)))
    error = np.where(depth < _DEEPEST * case.radius, moved, 0.0)
    return State(
        depth, state.tangent * np.exp(slope_step), state.log_odds + odds_step, motion.stream.load.log_reynolds, error
    )


def _without_depth(row: Equation, drawn: Equation) -> Equation:
    share = row.by_depth / drawn.by_depth
    return Equation(
        row.error - share * drawn.error, 0.0, row.by_slope - share * drawn.by_slope, row.by_lag - share * drawn.by_lag
    )


def _bounded(step: FloatArray) -> FloatArray:
    return np.minimum(np.maximum(step, -_LARGEST_STEP), _LARGEST_STEP)

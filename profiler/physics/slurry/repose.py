"""The angle at which a moving slurry comes to rest against the wall: a Coulomb carpet on a level surface.

The weight of the grains that ride on their neighbours, times the friction between them, balances the pull of the film
down its slope. Grains the flow carries take no part; the threshold stress of the bed adds a little. The film is as deep
as its flow and its friction ask, and turns slower than the bowl. The grains in contact move slower than the water, so
more of them lie on the bed than pass with the feed: the balance weighs what is in place. The equations are in `carpet`.

One parameter, the friction in place, is uncertain, and one measured angle fixes it (`measured_friction`); the slip of
the grains stays at its published value, since a slope fixes about friction over slip. Not here: grooves, clay, a whole
wall's surface, the model's limits.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from profiler.physics.rotor.rotation import FloatArray, Values
from profiler.physics.slurry import carpet, film_solver
from profiler.physics.slurry.carpet import BED_FRACTION, NO_BED_FRACTION, SLIP, BoolArray, Case, State
from profiler.physics.slurry.carpet import Slurry as Slurry


@dataclass(frozen=True, slots=True)
class Film:
    """The moving film and its angle at each point; all arrays of one broadcast shape.

    Where so few grains are delivered that no bed lies under them, `slope` is still that at which the film would carry
    its grains, but it counts for less and less: between BED_FRACTION and NO_BED_FRACTION `angle` is eased from the
    slope above the level surface to the level surface alone, and below that `has_bed` is false. Where
    `carried` is false no lag satisfies the balance with a film thinner than the radius: `lag` is held at one half
    (zero if it was not sought) and `depth` is at most the radius.
    """

    angle: FloatArray  # rad, from the spin axis: the repose angle
    slope: FloatArray  # rad, against the level surface of the film's own rotation
    depth: FloatArray  # m
    velocity: FloatArray  # m/s, along the wall, mean of what is delivered
    lag: FloatArray  # share of the bowl's speed by which the film turns slower
    lag_angle: FloatArray  # rad, from the wall's meridian to the film's motion relative to the wall
    acceleration: FloatArray  # m/s2, of the film
    delivered_fraction: FloatArray  # grains by volume of what flows past
    in_place_fraction: FloatArray  # grains by volume of what is there: more, since those in contact move slower
    contact_fraction: FloatArray  # share of the delivered grains that ride on their neighbours
    friction_factor: FloatArray  # Darcy
    reynolds: FloatArray  # 4 q/nu of the delivered slurry
    roughness_capped: BoolArray
    reynolds_floored: BoolArray
    packed: BoolArray  # as many grains in place as a settled bed holds
    carried: BoolArray  # false: the wall does not carry the slurry round
    has_bed: BoolArray  # false: the delivered fraction is below NO_BED_FRACTION


class Sought(NamedTuple):
    """A film as a few passes of the solver leave it: enough for the next search at nearly the same conditions."""

    case: Case
    state: State

    @property
    def angle(self) -> FloatArray:
        """As that of the `Film`."""
        tilt = self.case.tilt * (1.0 + np.exp(self.state.log_odds)) ** 2
        return np.asarray(_bedded(self.case.fraction) * np.arctan(self.state.tangent) + np.arctan(tilt))

    @property
    def acceleration(self) -> FloatArray:
        """As that of the `Film`."""
        return np.asarray(self.case.acceleration / (1.0 + np.exp(self.state.log_odds)) ** 2)

    def film(self) -> Film:
        with np.errstate(all="ignore"):
            return _film(self.case, self.state)


def repose(
    radius: Values,
    angular_speed: Values,
    flow: Values,
    solids_fraction: Values,
    slurry: Slurry,
    friction: Values,
    *,
    slip: Values = SLIP,
    lag: bool = True,
    start: Film | Sought | None = None,
    passes: int = film_solver.PASSES,
) -> Film:
    """Repose angle and film at each point of the arguments' broadcast shape.

    `radius` [m] of the surface; `angular_speed` [rad/s]; `flow` [m3/s] and `solids_fraction` [-, by volume] of the
    slurry that passes there, water added below included; `friction` [-] between grains in place; `slip` [-], their
    speed over that of the water. `lag=False` lets the film turn with the bowl. `start`, a film of the same shape at
    nearly the same conditions, saves passes: the loop ends once every point has settled, to 1e-9 or better. Fewer
    `passes` than the default leave unsettled points as they stand.

    All arguments must be positive, the slip at most 1; callers check. A point that makes no sense becomes nan and
    disturbs no other.
    """
    return seek(
        radius, angular_speed, flow, solids_fraction, slurry, friction, slip=slip, lag=lag, start=start, passes=passes
    ).film()


def seek(
    radius: Values,
    angular_speed: Values,
    flow: Values,
    solids_fraction: Values,
    slurry: Slurry,
    friction: Values,
    *,
    slip: Values = SLIP,
    lag: bool = True,
    start: Film | Sought | None = None,
    passes: int = film_solver.PASSES,
) -> Sought:
    """As `repose`, but the film is not described yet: a search that goes on elsewhere does not ask for it."""
    with np.errstate(all="ignore"):
        case = carpet.case_of(radius, angular_speed, flow, solids_fraction, slurry, slip, friction, lag)
        law = carpet.contact_slope(case, friction)
        return Sought(case, film_solver.solve(case, law, _start(case, friction, start), passes))


def _start(case: Case, friction: Values, film: Film | Sought | None) -> State:
    if isinstance(film, Sought):
        if np.isfinite(film.state.depth * film.state.tangent * film.state.log_odds).all():
            return film_solver.resumed(case, film.state)
        film = film.film()
    if film is not None and all((known > 0.0).all() for known in (film.depth, film.slope, film.lag)):
        return film_solver.started(case, film_solver.Guess(film.depth, np.tan(film.slope), film.lag))
    at = film_solver.guess(case, film_solver.held_slope(case, friction))
    if film is not None:
        depth = np.where(film.depth > 0.0, film.depth, at.depth)
        slope = np.where(film.slope > 0.0, np.tan(film.slope), at.slope)
        at = film_solver.Guess(depth, slope, np.where(film.lag > 0.0, film.lag, at.lag))
    return film_solver.started(case, at)


def _film(case: Case, state: State) -> Film:
    depth = np.minimum(state.depth, case.radius)
    stream = carpet.stream_of(case, state._replace(depth=depth))
    slope = np.arctan(state.tangent)
    return Film(
        angle=_bedded(case.fraction) * slope + np.arctan(stream.tilt),
        slope=slope,
        depth=depth,
        velocity=stream.velocity,
        lag=stream.lag,
        lag_angle=np.arctan(stream.lag * case.rim_speed / stream.velocity),
        acceleration=case.acceleration * stream.remaining * stream.remaining,
        delivered_fraction=case.fraction,
        in_place_fraction=case.fraction * (1.0 + stream.standing) / stream.volume,
        contact_fraction=stream.load.fraction,
        friction_factor=stream.friction.factor,
        reynolds=case.reynolds,
        roughness_capped=stream.friction.roughness_capped,
        reynolds_floored=stream.friction.reynolds_floored,
        packed=np.zeros(depth.shape, dtype=np.bool_) if stream.packed is None else stream.packed,
        carried=(stream.lag < 0.5) & (state.depth < case.radius),
        has_bed=~(case.fraction < NO_BED_FRACTION),
    )


def _bedded(fraction: FloatArray) -> FloatArray:
    """How much of the slope a bed of this delivered fraction holds up: smooth from none to all."""
    share = np.minimum(np.maximum((fraction - NO_BED_FRACTION) / (BED_FRACTION - NO_BED_FRACTION), 0.0), 1.0)
    return share * share * (3.0 - 2.0 * share)

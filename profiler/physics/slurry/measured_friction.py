"""The friction behind a measured angle: the model turned round, so that one measurement fixes its one parameter."""

import numpy as np

from profiler.physics.rotor.rotation import FloatArray, Values
from profiler.physics.slurry import carpet, film_solver
from profiler.physics.slurry.carpet import SLIP, Slurry

_LITTLE_LAG = -5.0  # in lag odds; from here the smaller of two lags is found


def friction_from_angle(
    angle: Values,
    radius: Values,
    angular_speed: Values,
    flow: Values,
    solids_fraction: Values,
    slurry: Slurry,
    *,
    slip: Values = SLIP,
    lag: bool = True,
) -> FloatArray:
    """Friction [-] with which `repose` predicts the measured `angle` [rad from the spin axis].

    The other arguments are those of `repose`; the solids fraction is the local one, not the feed's. nan where the
    angle is not clearly above the level surface of the film, and where too few grains are delivered for a whole bed.
    Where the lag is above about 0.15 two frictions may give one angle; as a rule the larger, with less lag, is found.
    Callers judge the value.
    """
    with np.errstate(all="ignore"):
        case = carpet.case_of(radius, angular_speed, flow, solids_fraction, slurry, slip, angle, lag)
        level_lag = 0.999 * (1.0 - np.sqrt(case.tilt / np.tan(angle)))  # more lag than this leaves no slope
        case = case._replace(odds_limit=np.minimum(np.log(level_lag / (1.0 - level_lag)), 0.0))
        start = film_solver.started(case, film_solver.guess(case, np.tan(angle - np.arctan(case.tilt))))
        start = start._replace(log_odds=np.minimum(start.log_odds, _LITTLE_LAG))
        state = film_solver.settle(case, carpet.measured_slope(angle), start, 3 * film_solver.PASSES)
        friction = carpet.friction_of(case, state)
        possible = (state.log_odds < case.odds_limit) | (case.odds_limit == 0.0)
        bedded = ~(case.fraction < carpet.BED_FRACTION)
        return np.where(possible & bedded & (state.error <= film_solver.CLOSE), friction, np.nan)

"""Balances made to close by weighted least squares, with the chi-square test of how far they were from closing.

Every measurement moves in proportion to its own variance until input equals output. The reconciled values are
shown beside the measured ones, never in their place. Not here: the balances as measured (balance), what is said
of a run that does not close (run_flags).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from profiler.statistics.balances.balance import Balances, Estimates, Streams
from profiler.words import Basis

Values = NDArray[np.float64]

_PASSES = 30
_CLOSED = 1e-12  # remaining imbalance over metal fed at which the passes stop


@dataclass(frozen=True)
class ReconciledRuns:
    """n runs made to close, arrays (n,): masses kg, grades g/t, recovery a fraction.

    `chi_square` has one degree of freedom; `adjustments` (5, n) are in standard deviations of feed mass,
    concentrate mass, feed grade, concentrate grade and tail grade. NaN where one of the five is not known.
    """

    feed_mass: Values
    concentrate_mass: Values
    feed_grade: Values
    concentrate_grade: Values
    tail_grade: Values
    recovery: Values
    recovery_sd: Values
    chi_square: Values
    adjustments: Values


def reconcile_runs(streams: Streams) -> ReconciledRuns:
    """Each run's five measurements moved until feed metal equals concentrate and tail metal.

    Minimises the weighted squares under F*f = C*c + (F - C)*t, linearised again at every pass. The tail mass is
    the rest of the feed and is not read.
    """
    measured, sd = _columns(streams)
    values = measured.copy()
    for _ in range(_PASSES):
        slope = _slope(values)
        variance = np.sum((slope * sd) ** 2, axis=0)
        multiplier = (np.sum(slope * (measured - values), axis=0) + _imbalance(values)) / variance
        values = measured - sd**2 * slope * multiplier
        if not np.any(np.abs(_imbalance(values)) > _CLOSED * np.abs(values[0] * values[2])):
            break
    recovery, recovery_sd = _recovery(values, sd)
    adjustments = (values - measured) / sd
    return ReconciledRuns(
        feed_mass=values[0],
        concentrate_mass=values[1],
        feed_grade=values[2],
        concentrate_grade=values[3],
        tail_grade=values[4],
        recovery=recovery,
        recovery_sd=recovery_sd,
        chi_square=np.sum(adjustments**2, axis=0),
        adjustments=adjustments,
    )


def recoveries_on(basis: Basis, balances: Balances, reconciled: ReconciledRuns) -> Estimates:
    """Recoveries (n,) as fractions with their deviations; NaN where a run does not give one on this basis."""
    if basis is Basis.BUILT_UP:
        return balances.built_up
    if basis is Basis.OVER_FEED:
        return balances.over_feed
    if basis is Basis.TWO_PRODUCT:
        return balances.two_product
    if basis is Basis.RECONCILED:
        return Estimates(reconciled.recovery, reconciled.recovery_sd)
    raise ValueError(f"{basis.value} is not worked out from feed, concentrate and tail.")


def _columns(streams: Streams) -> tuple[Values, Values]:
    """Measured values and standard deviations (5, n), NaN throughout a run that lacks one or holds a bad one."""
    feed, concentrate, tail = streams.feed, streams.concentrate, streams.tail
    measured = np.stack([feed.mass, concentrate.mass, feed.grade, concentrate.grade, tail.grade])
    relative = np.stack([feed.mass_rsd, concentrate.mass_rsd, feed.grade_rsd, concentrate.grade_rsd, tail.grade_rsd])
    sd = measured * relative
    bad = ~np.all(np.isfinite(measured) & (measured > 0.0) & np.isfinite(sd) & (sd > 0.0), axis=0)
    return np.where(bad, np.nan, measured), np.where(bad, np.nan, sd)


def _imbalance(values: Values) -> Values:
    feed, concentrate, f, c, t = values
    return np.asarray(feed * f - concentrate * c - (feed - concentrate) * t)


def _slope(values: Values) -> Values:
    feed, concentrate, f, c, t = values
    return np.stack([f - t, t - c, feed, -concentrate, concentrate - feed])


def _recovery(values: Values, sd: Values) -> tuple[Values, Values]:
    """Recovery C*c/(F*f) and its deviation after reconciliation, V - V a' (a V a')^-1 a V."""
    feed, concentrate, f, c, _ = values
    recovery = concentrate * c / (feed * f)
    gradient = recovery * np.stack([-1.0 / feed, 1.0 / concentrate, -1.0 / f, 1.0 / c, np.zeros_like(f)])
    slope = _slope(values)
    along = np.sum(slope * sd**2 * gradient, axis=0)
    variance = np.sum((gradient * sd) ** 2, axis=0) - along**2 / np.sum((slope * sd) ** 2, axis=0)
    return recovery, np.sqrt(variance)

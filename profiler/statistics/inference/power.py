"""How much a trial of a given size can see, and how large a trial must be: exact, by the noncentral t.

Two-sided at 5 per cent and 80 per cent power unless told otherwise. Not here: the scatter itself (differences,
budget), tables for the planner (planner).
"""

from math import ceil, exp, isfinite, sqrt

from profiler.statistics.inference.comparison import Comparison, Kind
from profiler.statistics.inference.probability import chi_square_quantile, t_power, t_quantile

POWER = 0.80
ALPHA = 0.05


def detectable(standard_error: float, df: float, *, power: float = POWER, alpha: float = ALPHA) -> float:
    """True difference that a test with this standard error finds with the given power."""
    from scipy.optimize import brentq

    upper = 4.0 * t_quantile(1.0 - alpha / 2.0, df)
    while t_power(upper, df, alpha=alpha) < power:
        upper *= 2.0
    return standard_error * float(brentq(lambda nc: t_power(nc, df, alpha=alpha) - power, 0.0, upper, xtol=1e-10))


def units_for(
    gain: float,
    spread: float,
    kind: Kind = Kind.PAIRED,
    *,
    power: float = POWER,
    alpha: float = ALPHA,
    one_sided: bool = False,
) -> float:
    """Pairs (or runs of each design, or blocks of exchanged machines), not rounded, that show the gain.

    `gain` and `spread` in the same unit; spread as in `Comparison.spread`. 2 (4 for exchanged machines) is the least.
    """
    from scipy.optimize import brentq

    if not (isfinite(gain) and gain != 0.0):
        raise ValueError(f"A gain of {gain} can never be shown; give one that differs from zero.")
    if not (isfinite(spread) and spread > 0.0):
        raise ValueError(f"The spread must be above zero, not {spread}.")
    standardised = abs(gain) / spread

    def shortfall(units: float) -> float:
        errors, df = _error_and_df(units, kind)
        return t_power(standardised / errors, df, alpha=alpha, one_sided=one_sided) - power

    least = 4.0 if kind is Kind.EXCHANGED else 2.0
    if shortfall(least) >= 0.0:
        return least
    upper = 2.0 * least
    while shortfall(upper) < 0.0:
        upper *= 2.0
    return float(brentq(shortfall, upper / 2.0, upper, xtol=1e-9))


def whole_units_for(gain: float, spread: float, kind: Kind = Kind.PAIRED, *, power: float = POWER) -> int:
    """`units_for`, rounded up to what can be run."""
    return ceil(units_for(gain, spread, kind, power=power) - 1e-9)


def needed(comparison: Comparison, gain: float) -> int:
    """Pairs (runs of each design, blocks) in all that would show the gain at the scatter this trial found."""
    return whole_units_for(gain, comparison.spread, comparison.kind)


def half_width(units: int, kind: Kind = Kind.PAIRED, confidence: float = 0.95) -> float:
    """Half-width of the interval in units of the spread."""
    errors, df = _error_and_df(float(units), kind)
    return t_quantile(0.5 + confidence / 2.0, df) * errors


def spread_upper_factor(units: int, confidence: float = 0.80) -> float:
    """Factor on the observed spread of that many differences: its one-sided upper limit. Plan with it."""
    if units < 2:
        raise ValueError("A spread needs at least 2 differences.")
    return sqrt((units - 1.0) / chi_square_quantile(1.0 - confidence, units - 1.0))


def spread_relative_sd(units: int) -> float:
    """Standard deviation over mean of the standard deviation of that many normal values (exact; GUM table E.1)."""
    from scipy.special import gammaln

    mean = sqrt(2.0 / (units - 1.0)) * exp(float(gammaln(units / 2.0) - gammaln((units - 1.0) / 2.0)))
    return sqrt(1.0 - mean**2) / mean


def _error_and_df(units: float, kind: Kind) -> tuple[float, float]:
    """Standard error in units of the spread, and degrees of freedom, for `units` pairs, runs each or blocks."""
    if kind is Kind.PAIRED:
        return 1.0 / sqrt(units), units - 1.0
    if kind is Kind.UNPAIRED:
        return sqrt(2.0 / units), 2.0 * units - 2.0
    return 1.0 / sqrt(units), units - 2.0

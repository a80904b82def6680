"""Quantiles and tail areas used by the trial room, all from scipy.special.

scipy is imported when a function is called, so that opening the program does not wait for it.
Not here: what is tested with these numbers (differences, power, reconciliation).
"""

from math import isnan


def t_quantile(probability: float, df: float) -> float:
    """Student's t below which `probability` lies."""
    from scipy.special import stdtrit

    return float(stdtrit(df, probability))


def t_tail(t: float, df: float) -> float:
    """Probability that Student's t exceeds `t`."""
    from scipy.special import stdtr

    return float(stdtr(df, -t))


def t_two_sided(t: float, df: float) -> float:
    """Probability that Student's t is further from zero than `t`, either way."""
    return 2.0 * t_tail(abs(t), df)


def f_tail(f: float, df_upper: float, df_lower: float) -> float:
    """Probability that Fisher's F exceeds `f`."""
    from scipy.special import fdtrc

    return float(fdtrc(df_upper, df_lower, f))


def chi_square_quantile(probability: float, df: float) -> float:
    """Chi-square below which `probability` lies."""
    from scipy.special import chdtri

    return float(chdtri(df, 1.0 - probability))


def t_power(noncentrality: float, df: float, *, alpha: float = 0.05, one_sided: bool = False) -> float:
    """Probability that a t test rejects when the true difference is `noncentrality` standard errors.

    Exact, by the noncentral t distribution. Two-sided unless told otherwise.
    """
    limit = t_quantile(1.0 - (alpha if one_sided else alpha / 2.0), df)
    below = 0.0 if one_sided else _noncentral_t_below(-limit, noncentrality, df)
    return 1.0 - _noncentral_t_below(limit, noncentrality, df) + below


def _noncentral_t_below(t: float, noncentrality: float, df: float) -> float:
    """Distribution of the noncentral t; the library's series gives NaN where it is too small to matter."""
    from scipy.special import nctdtr

    below = float(nctdtr(df, noncentrality, t))
    return 0.0 if isnan(below) else below

"""Assay error from duplicates, and the variance between and within tests.

Prefer the coefficient of variation of duplicates for coarse gold: the median method assumes bell-shaped errors
and reads low. Not here: the error of taking the sample (grains, fundamental_error).
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Values = NDArray[np.float64]

MEDIAN_DIFFERENCE_TO_SD = 1.048358  # 1/(sqrt 2 * 0.674490), normal errors
_GROUP = 11  # pairs per group, Thompson and Howarth
_LEAST_PAIRS = 50  # below this the line through group medians is not trusted


@dataclass(frozen=True)
class DuplicateError:
    """Relative error of one assay from n pairs, as fractions, and the pooled deviation in the unit given.

    `cv` is the root mean square coefficient of variation of the pairs (Stanley and Lawie's average), `log_cv` the
    same from logarithms. The two plain means of differences are there because laboratories quote them.
    """

    pairs: int
    cv: float
    log_cv: float
    mean_half_difference: float
    mean_relative_difference: float
    pooled_sd: float


@dataclass(frozen=True)
class ErrorLine:
    """Standard deviation of one assay = constant + slope * grade. Few pairs make it a guess."""

    constant: float
    slope: float
    groups: int
    trusted: bool


@dataclass(frozen=True)
class Nested:
    """Mean squares within and between tests and the deviations they mean. More assays do not replace tests."""

    within_square: float
    between_square: float
    assay_sd: float
    test_sd: float


def duplicate_error(first: ArrayLike, second: ArrayLike) -> DuplicateError:
    """Error of one assay from duplicate pairs (n,) and (n,); all must be above zero."""
    a, b = _pairs(first, second)
    half = np.abs(a - b) / (a + b)
    return DuplicateError(
        pairs=a.size,
        cv=float(np.sqrt(2.0 * np.mean(half**2))),
        log_cv=float(np.sqrt(np.mean(np.log(a / b) ** 2) / 2.0)),
        mean_half_difference=float(half.mean()),
        mean_relative_difference=float(2.0 * half.mean()),
        pooled_sd=float(np.sqrt(np.mean((a - b) ** 2) / 2.0)),
    )


def replicate_cv(groups: Sequence[Sequence[float]]) -> tuple[float, int]:
    """Relative error of one assay from groups of two or more, and its degrees of freedom; singles are passed over.

    For pairs it is `DuplicateError.cv`. Raises ValueError if no group has two.
    """
    squares, df = 0.0, 0
    for group in groups:
        if len(group) < 2:
            continue
        values = np.asarray(group, dtype=np.float64)
        _refuse_not_positive(values)
        squares += float(values.var(ddof=1) / values.mean() ** 2) * (values.size - 1)
        df += values.size - 1
    if df == 0:
        raise ValueError("No sample was assayed twice, so the assay error is not known.")
    return float(np.sqrt(squares / df)), df


def error_line(first: ArrayLike, second: ArrayLike) -> ErrorLine:
    """Thompson and Howarth: group medians of |difference| against group means, groups of 11 by rising mean."""
    a, b = _pairs(first, second)
    if a.size < 2 * _GROUP:
        raise ValueError(f"{a.size} pairs make no line; at least {2 * _GROUP} are needed, {_LEAST_PAIRS} for trust.")
    mean, difference = (a + b) / 2.0, np.abs(a - b)
    order = np.argsort(mean, kind="stable")
    groups = a.size // _GROUP
    taken = order[: groups * _GROUP].reshape(groups, _GROUP)
    slope, constant = np.polyfit(mean[taken].mean(axis=1), np.median(difference[taken], axis=1), 1)
    return ErrorLine(
        float(constant * MEDIAN_DIFFERENCE_TO_SD),
        float(slope * MEDIAN_DIFFERENCE_TO_SD),
        groups,
        a.size >= _LEAST_PAIRS,
    )


def nested(tests: ArrayLike) -> Nested:
    """Variance of tests (n, m), m assays of each: what more assays can reduce and what only more tests can."""
    values = np.asarray(tests, dtype=np.float64)
    if values.ndim != 2 or min(values.shape) < 2:
        raise ValueError("Nested duplicates need at least 2 tests with the same number of assays, at least 2.")
    means = values.mean(axis=1)
    within = float(values.var(axis=1, ddof=1).mean())
    between = float(values.shape[1] * means.var(ddof=1))
    return Nested(within, between, within**0.5, max((between - within) / values.shape[1], 0.0) ** 0.5)


def between_laboratories_rsd(mass_fraction: float) -> float:
    """Horwitz's relative deviation between laboratories, 2*C^-0.1505 per cent, as a fraction; a hint only."""
    if not 0.0 < mass_fraction <= 1.0:
        raise ValueError(f"A mass fraction lies above 0 and up to 1, not {mass_fraction:g}.")
    return float(0.02 * mass_fraction**-0.1505)


def _pairs(first: ArrayLike, second: ArrayLike) -> tuple[Values, Values]:
    a, b = np.asarray(first, dtype=np.float64), np.asarray(second, dtype=np.float64)
    if a.ndim != 1 or a.shape != b.shape or a.size == 0:
        raise ValueError("Duplicates come as two lists of the same length.")
    _refuse_not_positive(np.concatenate([a, b]))
    return a, b


def _refuse_not_positive(values: Values) -> None:
    if not np.all(np.isfinite(values) & (values > 0.0)):
        raise ValueError("Duplicate assays must be above zero to have a relative error.")

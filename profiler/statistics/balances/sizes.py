"""Size by size: recovery in each class, what each class contributes to the gain, and design against head.

A better bowl can look worse on a finer feed. The difference of two recoveries is the design's part, the class
recoveries compared on the mean head, plus the head's part, the heads compared at the mean recovery. Shares and
recoveries are fractions; arrays (k,) run from the coarsest class down. Not here: openings (sieves).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from profiler.statistics.inference.comparison import Comparison, Interval, Kind
from profiler.statistics.inference.differences import compare
from profiler.statistics.inference.multiplicity import holm

Values = NDArray[np.float64]


@dataclass(frozen=True)
class SizedStream:
    """Dry mass of a stream (kg), mass shares of its classes (k,) and their grades (k,) in g/t."""

    mass: float
    shares: Values
    grades: Values


@dataclass(frozen=True)
class SizeBalance:
    """Metal shares of the built-up head (k,), class recoveries (k,), NaN where a class holds no metal."""

    head_shares: Values
    recoveries: Values
    recovery: float


@dataclass(frozen=True)
class SizeGain:
    """New minus reference; `by_design` and `by_head` (k,) add up to `design` and `head`, these to `raw`."""

    by_design: Values
    by_head: Values
    raw: float
    design: float
    head: float


@dataclass(frozen=True)
class SizeClassTest:
    """One class: difference of recovery and its part of the gain, each with a 95 per cent interval.

    `p` stands alone; `holm_p` is corrected for the number of classes. Judge a class by the latter.
    """

    difference: float
    interval95: Interval
    contribution: float
    contribution_interval95: Interval
    p: float
    holm_p: float


def size_balance(concentrate: SizedStream, tail: SizedStream) -> SizeBalance:
    """Class recoveries on built-up head from the screened and assayed concentrate and tail."""
    if not concentrate.shares.shape == concentrate.grades.shape == tail.shares.shape == tail.grades.shape:
        raise ValueError("Concentrate and tail need the same size classes, each with a mass share and a grade.")
    caught, lost = (part.mass * part.shares / part.shares.sum() * part.grades for part in (concentrate, tail))
    metal = caught + lost
    if not metal.sum() > 0.0:
        raise ValueError("Neither concentrate nor tail holds metal.")
    recoveries = np.divide(caught, metal, out=np.full_like(metal, np.nan), where=metal > 0.0)
    return SizeBalance(metal / metal.sum(), recoveries, float(caught.sum() / metal.sum()))


def size_gain(
    reference_head: ArrayLike, reference_recoveries: ArrayLike, new_head: ArrayLike, new_recoveries: ArrayLike
) -> SizeGain:
    """Split of the difference into design and head, class by class; arrays (k,)."""
    first_head, first, second_head, second = (
        np.asarray(part, dtype=np.float64) for part in (reference_head, reference_recoveries, new_head, new_recoveries)
    )
    for head in (first_head, second_head):
        _refuse_not_whole(head)
    by_design = (first_head + second_head) / 2.0 * (second - first)
    by_head = (second_head - first_head) * (first + second) / 2.0
    raw = float(np.sum(second_head * second) - np.sum(first_head * first))
    return SizeGain(by_design, by_head, raw, float(by_design.sum()), float(by_head.sum()))


def class_tests(
    kind: Kind, reference: ArrayLike, new: ArrayLike, head_shares: ArrayLike, swapped: ArrayLike = ()
) -> tuple[SizeClassTest | None, ...]:
    """Class tests by the trial's layout: recoveries (n, k) and (m, k), n = m unless unpaired, mean head (k,).

    A class is None where fewer than two observations have both recoveries, or these do not scatter.
    """
    first, second = np.asarray(reference, dtype=np.float64), np.asarray(new, dtype=np.float64)
    shares, turned = np.asarray(head_shares, dtype=np.float64), np.asarray(swapped, dtype=bool)
    alike = first.shape == second.shape or kind is Kind.UNPAIRED
    if not (first.ndim == second.ndim == 2 and alike and first.shape[1:] == second.shape[1:] == shares.shape):
        raise ValueError("Class tests need recoveries (pairs, classes) of both designs and a head of these classes.")
    comparisons = [_class_comparison(kind, first[:, k], second[:, k], turned) for k in range(shares.size)]
    corrected = holm([np.nan if comparison is None else comparison.p for comparison in comparisons])
    return tuple(
        None
        if comparison is None
        else _class_test(comparison.difference, comparison.interval95, share, comparison.p, p)
        for comparison, share, p in zip(comparisons, shares, corrected, strict=True)
    )


def _class_comparison(kind: Kind, first: Values, second: Values, turned: NDArray[np.bool_]) -> Comparison | None:
    kept_first, kept_second = np.isfinite(first), np.isfinite(second)
    if kind is not Kind.UNPAIRED:
        kept_first = kept_second = kept_first & kept_second
    try:
        return compare(kind, first[kept_first], second[kept_second], turned[kept_first] if turned.size else ())
    except ValueError:
        return None


def _class_test(difference: float, limits: Interval, share: float, p: float, corrected: float) -> SizeClassTest:
    share = float(share)
    return SizeClassTest(difference, limits, share * difference, limits.times(share), p, float(corrected))


def _refuse_not_whole(shares: Values) -> None:
    if np.any(shares < 0.0) or abs(float(shares.sum()) - 1.0) > 1e-3:
        raise ValueError(f"The metal shares of the classes must add up to 1, not {shares.sum():.4g}.")

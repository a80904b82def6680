"""The difference between two designs with its error: paired, unpaired and exchanged machines.

Not here: how runs become pairs (layout), permutations (permutation), covariates (adjustment), what the numbers mean for
the trial (verdict).
"""

from math import sqrt

import numpy as np
from numpy.typing import ArrayLike

from profiler.statistics.inference.comparison import Comparison, Interval, Kind, Values
from profiler.statistics.inference.probability import t_quantile

_SAME = 1e-10  # spread below this share of the largest value is rounding of the arithmetic, not scatter


def paired(reference: ArrayLike, new: ArrayLike) -> Comparison:
    """Paired t on new - reference, arrays (n,) in the same order of pairs.

    Raises ValueError below two pairs, for unequal lengths, and where all differences are the same.
    """
    first, second = _finite(reference, "reference"), _finite(new, "new design")
    if first.size != second.size:
        raise ValueError(f"Pairs need as many values of each design, not {first.size} and {second.size}.")
    if first.size < 2:
        raise ValueError(f"{first.size} complete pair(s) give no interval; at least 2 are needed, 6 for a verdict.")
    differences = second - first
    spread = _spread(differences, np.concatenate([first, second]), "pair differences")
    return Comparison(
        kind=Kind.PAIRED,
        difference=float(differences.mean()),
        standard_error=spread / sqrt(first.size),
        df=first.size - 1.0,
        reference_mean=float(first.mean()),
        new_mean=float(second.mean()),
        spread=spread,
        units=(first.size, first.size),
    )


def unpaired(reference: ArrayLike, new: ArrayLike) -> Comparison:
    """Welch's t on two independent sets, arrays (n,) and (m,); unequal variances allowed."""
    first, second = _finite(reference, "reference"), _finite(new, "new design")
    if min(first.size, second.size) < 2:
        raise ValueError(
            f"{first.size} value(s) of the reference and {second.size} of the new design give no interval; "
            "at least 2 of each are needed, 6 for a verdict."
        )
    _refuse_same(first, second)
    of_first, of_second = first.var(ddof=1) / first.size, second.var(ddof=1) / second.size
    return Comparison(
        kind=Kind.UNPAIRED,
        difference=float(second.mean() - first.mean()),
        standard_error=float(np.sqrt(of_first + of_second)),
        df=welch_df((of_first, first.size - 1.0), (of_second, second.size - 1.0)),
        reference_mean=float(first.mean()),
        new_mean=float(second.mean()),
        spread=float(np.sqrt((first.var(ddof=1) + second.var(ddof=1)) / 2.0)),
        units=(first.size, second.size),
    )


def exchanged(reference: ArrayLike, new: ArrayLike, swapped: ArrayLike) -> Comparison:
    """Two machines side by side whose bowls change places: half the difference of the differences.

    Arrays (n,), one value of each design per block (the two machines at the same time); `swapped` is true
    where the second machine carries the reference. The steady difference between the machines drops out.
    """
    first, second = _finite(reference, "reference"), _finite(new, "new design")
    turned = np.asarray(swapped, dtype=bool)
    if not first.size == second.size == turned.size:
        raise ValueError("Each block of an exchange trial needs one value of each design.")
    blocks = second - first
    straight, crossed = blocks[~turned], blocks[turned]
    if min(straight.size, crossed.size) < 2:
        raise ValueError(
            f"An exchange trial needs at least 2 blocks either way round, not {straight.size} and {crossed.size}."
        )
    _refuse_same(straight, crossed, scale=np.concatenate([first, second]))
    of_straight, of_crossed = straight.var(ddof=1) / straight.size, crossed.var(ddof=1) / crossed.size
    return Comparison(
        kind=Kind.EXCHANGED,
        difference=float((straight.mean() + crossed.mean()) / 2.0),
        standard_error=float(np.sqrt(of_straight + of_crossed)) / 2.0,
        df=welch_df((of_straight, straight.size - 1.0), (of_crossed, crossed.size - 1.0)),
        reference_mean=float((first[~turned].mean() + first[turned].mean()) / 2.0),
        new_mean=float((second[~turned].mean() + second[turned].mean()) / 2.0),
        spread=float(np.sqrt((straight.var(ddof=1) + crossed.var(ddof=1)) / 2.0)),
        units=(first.size, first.size),
    )


def mean_interval(values: ArrayLike, groups: ArrayLike | None = None, confidence: float = 0.95) -> Interval | None:
    """Of a design's mean over what repeats (n,); with groups (n,) of the mean of their means. None below two each.

    It holds the scatter from lot to lot too, which drops out of the difference of pairs.
    """
    sample = _finite(values, "design")
    labels = np.zeros(sample.size) if groups is None else np.asarray(groups, dtype=np.float64)
    parts = [sample[labels == label] for label in np.unique(labels)]
    if min(part.size for part in parts) < 2:
        return None
    of_parts = [(float(part.var(ddof=1)) / part.size, part.size - 1.0) for part in parts]
    variance = sum(of_part for of_part, _ in of_parts) / len(parts) ** 2
    df = welch_df(*of_parts) if variance > 0.0 else parts[0].size - 1.0
    middle = sum(float(part.mean()) for part in parts) / len(parts)
    half = t_quantile(0.5 + confidence / 2.0, df) * sqrt(variance)
    return Interval(middle - half, middle + half)


def compare(kind: Kind, reference: ArrayLike, new: ArrayLike, swapped: ArrayLike = ()) -> Comparison:
    """The comparison that belongs to the kind; `swapped` is read for exchanged machines only."""
    if kind is Kind.PAIRED:
        return paired(reference, new)
    if kind is Kind.UNPAIRED:
        return unpaired(reference, new)
    return exchanged(reference, new, swapped)


def metal_weighted(
    comparison: Comparison,
    values: tuple[ArrayLike, ArrayLike],
    metal: tuple[ArrayLike, ArrayLike],
    swapped: ArrayLike = (),
) -> Comparison:
    """The same difference with each unit weighted by the metal fed to it: the one to quote for money.

    `values` and `metal` of (reference, new). A pair or block has one weight, the mean of its two sides. The spread
    stays that of the unweighted units; unequal weights widen the error by sum(w^2)/sum(w)^2 against 1/n.
    """
    first, second = _finite(values[0], "reference"), _finite(values[1], "new design")
    weights = _finite(metal[0], "metal fed"), _finite(metal[1], "metal fed")
    if min(float(side.min()) for side in weights) <= 0.0:
        raise ValueError("Each unit must have been fed some metal to be weighted by it.")
    if comparison.kind is Kind.UNPAIRED:
        sides = _weighted(first, weights[0]), _weighted(second, weights[1])
        means, variance = (sides[0][0], sides[1][0]), sides[0][1] + sides[1][1]
    else:
        both = (weights[0] + weights[1]) / 2.0
        turned = np.asarray(swapped, dtype=bool) if comparison.kind is Kind.EXCHANGED else np.zeros(first.size, bool)
        groups = [group for group in (~turned, turned) if np.any(group)]
        means = (
            sum(_weighted(first[group], both[group])[0] for group in groups) / len(groups),
            sum(_weighted(second[group], both[group])[0] for group in groups) / len(groups),
        )
        variance = sum(_weighted((second - first)[group], both[group])[1] for group in groups) / len(groups) ** 2
    return Comparison(
        kind=comparison.kind,
        difference=means[1] - means[0],
        standard_error=sqrt(variance),
        df=comparison.df,
        reference_mean=means[0],
        new_mean=means[1],
        spread=comparison.spread,
        units=comparison.units,
    )


def welch_df(*variances: tuple[float, float]) -> float:
    """Degrees of freedom of a sum of variances of means, each given with its own (Welch, Satterthwaite)."""
    total = sum(variance for variance, _ in variances)
    return float(total**2 / sum(variance**2 / df for variance, df in variances))


def _finite(values: ArrayLike, what: str) -> Values:
    array = np.asarray(values, dtype=np.float64)
    if array.ndim != 1 or not np.all(np.isfinite(array)):
        raise ValueError(f"The values of the {what} must be a list of finite numbers.")
    return array


def _spread(differences: Values, scale: Values, what: str) -> float:
    spread = float(differences.std(ddof=1))
    if spread <= _SAME * max(float(np.abs(scale).max()), 1e-300):
        raise ValueError(
            f"All {differences.size} {what} are the same ({differences.mean():.4g}): without scatter there is no "
            "interval. Were figures copied?"
        )
    return spread


def _refuse_same(first: Values, second: Values, scale: Values | None = None) -> None:
    largest = float(np.abs(np.concatenate([first, second]) if scale is None else scale).max())
    if max(float(first.std(ddof=1)), float(second.std(ddof=1))) <= _SAME * max(largest, 1e-300):
        raise ValueError(
            "All values of either design are the same: without scatter there is no interval. Were figures copied?"
        )


def _weighted(values: Values, weights: Values) -> tuple[float, float]:
    """Weighted mean and its variance, the values scattering alike whatever their weight."""
    share = weights / weights.sum()
    return float(share @ values), float(values.var(ddof=1) * (share @ share))

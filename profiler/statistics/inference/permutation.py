"""Permutation tests: they need no bell curve, only that the designs could have changed places.

Pairs: each difference could as well have had the other sign. Unpaired runs: the labels could have been dealt
otherwise. Exact while the number of arrangements allows it, above that drawn with a fixed seed, and the result
says which. Not here: the t tests (differences).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

EXACT_UP_TO = 20  # pairs, or runs of both designs together: 2**20 arrangements
DRAWS = 20_000
_SEED = 20_011


@dataclass(frozen=True)
class Permutation:
    """Two-sided and upper one-sided probability; the mid value counts ties by half.

    `arrangements` were looked at: all there are if `exact`, otherwise seeded draws.
    """

    two_sided: float
    upper: float
    upper_mid: float
    exact: bool
    arrangements: int


def sign_flips(differences: ArrayLike) -> Permutation:
    """Sign-flip test on pair differences (n,): exact up to 20 pairs, above that 20,000 seeded flips."""
    values = _values(differences)
    observed = float(values.sum())
    scale = float(np.abs(values).sum())
    if values.size <= EXACT_UP_TO:
        half = _all_flips(values)
        return _counted(np.concatenate([half, -half]), observed, scale, exact=True)
    return _counted(_drawn_flips(values), observed, scale, exact=False)


def label_shuffles(reference: ArrayLike, new: ArrayLike) -> Permutation:
    """Re-dealing the labels of unpaired runs: exact up to 20 runs together, above that 20,000 seeded shuffles."""
    first, second = _values(reference), _values(new)
    together = np.concatenate([first, second])
    together = together - together.mean()
    observed = float(together[first.size :].sum())
    scale = float(np.abs(together).sum())
    if together.size <= EXACT_UP_TO:
        sums, counts = np.zeros(1), np.zeros(1, dtype=np.int64)
        for value in together:
            sums = np.concatenate([sums, sums + value])
            counts = np.concatenate([counts, counts + 1])
        return _counted(sums[counts == second.size], observed, scale, exact=True)
    return _counted(_drawn_shuffles(together, first.size, second.size), observed, scale, exact=False)


def smallest_two_sided(pairs: int) -> float:
    """The least two-sided probability that many pairs can reach: below 6 pairs never 5 per cent."""
    return float(2.0 ** (1 - pairs))


def _values(values: ArrayLike) -> NDArray[np.float64]:
    array = np.asarray(values, dtype=np.float64)
    if array.ndim != 1 or array.size == 0 or not np.all(np.isfinite(array)):
        raise ValueError("A permutation test needs a list of finite numbers.")
    return array


def _all_flips(values: NDArray[np.float64]) -> NDArray[np.float64]:
    """Every sum with the first sign kept, (2**(n-1),); the other half are their negatives."""
    sums = np.empty(2 ** (values.size - 1))
    sums[0] = values[0]
    for done, value in enumerate(values[1:]):
        known = 2**done
        sums[known : 2 * known] = sums[:known] - value
        sums[:known] += value
    return sums


def _drawn_flips(values: NDArray[np.float64]) -> NDArray[np.float64]:
    """Seeded sums: each random byte picks the signs of eight values from a table of their 256 sums."""
    padded = np.concatenate([values, np.zeros(-values.size % 8)]).reshape(-1, 8)
    bits = np.unpackbits(np.arange(256, dtype=np.uint8)[:, None], axis=1)
    tables = padded @ (1.0 - 2.0 * bits).T
    picks = np.random.default_rng(_SEED).integers(0, 256, size=(tables.shape[0], DRAWS))
    return np.asarray(np.take_along_axis(tables, picks, axis=1).sum(axis=0), dtype=np.float64)


def _drawn_shuffles(values: NDArray[np.float64], first: int, second: int) -> NDArray[np.float64]:
    """Seeded sums of the second side: the smaller side is dealt from the values by size, the same for either order.

    Selection sampling: a value is taken with the chance of places still to fill over values still to come, which
    makes every choice of the smaller side equally likely (Knuth, The Art of Computer Programming, 3.4.2, from memory;
    a test counts the choices).
    """
    draw, dealt = np.random.default_rng(_SEED), min(first, second)
    to_take, sums = np.full(DRAWS, float(dealt)), np.zeros(DRAWS)
    for to_come, value in zip(range(values.size, 0, -1), np.sort(values), strict=True):
        taken = draw.random(DRAWS) * to_come < to_take
        sums += value * taken
        to_take -= taken
    return sums if second == dealt else -sums


def _counted(sums: NDArray[np.float64], observed: float, scale: float, *, exact: bool) -> Permutation:
    near = 1e-9 * max(scale, 1e-300)
    further = int(np.count_nonzero(np.abs(sums) >= abs(observed) - near))
    above = int(np.count_nonzero(sums > observed + near))
    level = int(np.count_nonzero(np.abs(sums - observed) <= near))
    own = 0 if exact else 1  # the arrangement that was run counts among the drawn ones
    total = sums.size + own
    return Permutation(
        two_sided=(further + own) / total,
        upper=(above + level + own) / total,
        upper_mid=(above + (level + own) / 2.0) / total,
        exact=exact,
        arrangements=sums.size,
    )

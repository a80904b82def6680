"""Several tests at once: without correction six size classes give a false alarm in one trial of four.

Make one test the primary one (the recovery as a whole); classes explain it.
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray


def holm(probabilities: ArrayLike) -> NDArray[np.float64]:
    """Holm's step-down adjusted probabilities, in the order given; NaN stays NaN and does not count."""
    p, order, count = _sorted(probabilities)
    stepped = np.maximum.accumulate(p[order] * np.arange(count, 0, -1.0))
    return _placed(p, order, stepped)


def false_discovery(probabilities: ArrayLike) -> NDArray[np.float64]:
    """Benjamini and Hochberg's adjusted probabilities, in the order given; NaN stays NaN and does not count."""
    p, order, count = _sorted(probabilities)
    stepped = np.minimum.accumulate((p[order] * count / np.arange(1.0, count + 1.0))[::-1])[::-1]
    return _placed(p, order, stepped)


def false_alarm(tests: int, level: float = 0.05) -> float:
    """Chance of at least one false alarm in that many independent tests."""
    return float(1.0 - (1.0 - level) ** tests)


def _sorted(probabilities: ArrayLike) -> tuple[NDArray[np.float64], NDArray[np.intp], int]:
    p = np.asarray(probabilities, dtype=np.float64)
    if np.any((p < 0.0) | (p > 1.0)):
        raise ValueError("Probabilities lie between 0 and 1.")
    count = int(np.count_nonzero(~np.isnan(p)))
    return p, np.argsort(p, kind="stable")[:count], count


def _placed(p: NDArray[np.float64], order: NDArray[np.intp], stepped: NDArray[np.float64]) -> NDArray[np.float64]:
    adjusted = np.full_like(p, np.nan)
    adjusted[order] = np.minimum(stepped, 1.0)
    return adjusted

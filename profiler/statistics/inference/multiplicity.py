"""Several tests at once: without correction six size classes give a false alarm in one trial of four.

Make one test the primary one (the recovery as a whole); classes explain it.
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray


def holm(probabilities: ArrayLike) -> NDArray[np.float64]:
    """Holm's step-down adjusted probabilities, in the order given; NaN stays NaN and does not count."""
    p = np.asarray(probabilities, dtype=np.float64)
    if np.any((p < 0.0) | (p > 1.0)):
        raise ValueError("Probabilities lie between 0 and 1.")
    count = int(np.count_nonzero(~np.isnan(p)))
    order = np.argsort(p, kind="stable")[:count]
    adjusted = np.full_like(p, np.nan)
    adjusted[order] = np.minimum(np.maximum.accumulate(p[order] * np.arange(count, 0, -1.0)), 1.0)
    return adjusted


def false_alarm(tests: int, level: float = 0.05) -> float:
    """Chance of at least one false alarm in that many independent tests."""
    return float(1.0 - (1.0 - level) ** tests)

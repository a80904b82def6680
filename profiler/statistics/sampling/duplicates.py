"""Assay error from duplicates.

The coefficient of variation of the duplicates themselves: methods by medians assume bell-shaped errors and read low
for coarse gold. Not here: the error of taking the sample (grains, fundamental_error).
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64]


def replicate_cv(groups: Sequence[Sequence[float]]) -> tuple[float, int]:
    """Relative error of one assay from groups of two or more, and its degrees of freedom; singles are passed over.

    For pairs it is the root mean square of their coefficients of variation (Stanley and Lawie 2007). Raises ValueError
    if no group has two.
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


def _refuse_not_positive(values: Values) -> None:
    if not np.all(np.isfinite(values) & (values > 0.0)):
        raise ValueError("Duplicate assays must be above zero to have a relative error.")

"""Two one-sided tests: results of R as they stand in statsmodels' own tests (statsmodels/stats/tests/test_tost.py).

Data `clinic`, first 15 against last 15 patients, margin 0.6; R prints 16 digits, checked to 9.
"""

import numpy as np
import pytest

from profiler.statistics.inference.differences import paired, unpaired

VAR1_FIRST = [2.84, 2.51, 2.41, 2.95, 3.14, 3.79, 4.14, 3.85, 3.02, 3.45, 5.37, 3.81, 4.19, 3.16, 3.84]
VAR1_LAST = [2.60, 2.82, 2.18, 3.46, 4.01, 3.04, 3.47, 4.06, 2.91, 3.59, 4.51, 3.16, 3.86, 3.31, 3.02]
VAR2_FIRST = [4.00, 3.26, 4.14, 3.42, 3.25, 4.34, 4.97, 4.31, 3.11, 3.41, 5.02, 4.21, 4.59, 5.30, 4.32]
VAR2_LAST = [3.76, 3.66, 3.65, 3.60, 3.48, 2.87, 3.24, 3.92, 3.99, 4.21, 4.21, 3.31, 3.61, 2.97, 2.73]


@pytest.mark.parametrize(
    ("compared", "first", "last", "p"),
    [
        (paired, VAR1_FIRST, VAR1_LAST, 0.003166881489265175),
        (unpaired, VAR1_FIRST, VAR1_LAST, 0.04853083976236974),
        (paired, VAR2_FIRST, VAR2_LAST, 0.4412034046017588),
        (unpaired, VAR2_FIRST, VAR2_LAST, 0.4317936812594803),
    ],
)
def test_equivalence_within_the_margin(compared, first: list[float], last: list[float], p: float) -> None:
    assert compared(last, first).p_equivalent(0.6) == pytest.approx(p, abs=1e-9)


def test_equivalence_of_a_ratio_on_logarithms() -> None:
    found = paired(np.log(VAR1_LAST), np.log(VAR1_FIRST))
    assert found.p_equivalent(np.log(1.25)) == pytest.approx(0.0001664157928976468, abs=1e-10)


@pytest.mark.parametrize("margin", [0.30, 0.38, 0.41, 0.55, 0.60])
def test_equivalence_is_the_ninety_per_cent_interval_inside_the_margin(margin: float) -> None:
    found = paired(VAR1_LAST, VAR1_FIRST)
    assert (found.p_equivalent(margin) < 0.05) == found.interval90.within(margin)

"""NIST StRD certified values, from the files that scipy ships with its own tests."""

from pathlib import Path

import numpy as np
import pytest
import scipy

from profiler.statistics.inference.regression import least_squares
from tests.oracles.trials import nested_test

FOLDER = Path(scipy.__file__).parent / "stats" / "tests" / "data"
pytestmark = pytest.mark.skipif(
    not (FOLDER / "nist_anova" / "SiRstv.dat").exists(), reason="this scipy comes without its test data"
)


@pytest.mark.parametrize(
    ("name", "f", "digits"),
    [
        ("SiRstv", 1.18046237440255, 1e-9),  # values near 196 scatter by 0.1: six figures are lost of sixteen
        ("SmLs01", 21.0, 1e-10),
        ("AtmWtAg", 15.9467335677930, 1e-6),  # values agree in seven leading digits
    ],
)
def test_one_way_f_agrees_with_the_certified_value(name: str, f: float, digits: float) -> None:
    found, _ = _one_way(name, shift=0.0)
    assert found.f == pytest.approx(f, rel=digits)


def test_certified_squares_of_the_silicon_data() -> None:
    found, residual = _one_way("SiRstv", shift=0.0)
    assert found.square == pytest.approx(0.0511462616, rel=1e-8)
    assert residual == pytest.approx(0.21663656, rel=1e-8)
    assert found.square / (found.square + residual) == pytest.approx(0.190999039051129, rel=1e-8)
    assert (residual / found.df[1]) ** 0.5 == pytest.approx(0.104076068334656, rel=1e-8)


def test_subtracting_the_common_digits_costs_no_accuracy() -> None:
    """Two groups, so F is t squared: |t| 3.99333614 to the digits that the decimal input allows."""
    found, _ = _one_way("AtmWtAg", shift=107.868)
    assert found.f**0.5 == pytest.approx(3.99333614, abs=2e-8)


def test_certified_line_of_the_norris_data() -> None:
    y, x = _columns(FOLDER / "nist_linregress" / "Norris.dat").T
    fit = least_squares(np.column_stack([np.ones(x.size), x]), y)
    assert fit.coefficients == pytest.approx([-0.262323073774029, 1.00211681802045], rel=1e-11)
    assert fit.standard_errors == pytest.approx([0.232818234301152, 0.429796848199937e-3], rel=1e-10)
    assert (fit.residual_square / fit.df) ** 0.5 == pytest.approx(0.884796396144373, rel=1e-10)


def _one_way(name: str, *, shift: float):
    group, value = _columns(FOLDER / "nist_anova" / f"{name}.dat").T
    levels = (group[:, None] == np.unique(group)[None, :]).astype(float)
    full = least_squares(levels, value - shift)
    return nested_test(full, least_squares(np.ones((value.size, 1)), value - shift)), full.residual_square


def _columns(path: Path) -> np.ndarray:
    lines = path.read_text(encoding="utf-8").splitlines()[60:]  # NIST files: data from line 61
    return np.array([[float(part) for part in line.split()] for line in lines if line.strip()])

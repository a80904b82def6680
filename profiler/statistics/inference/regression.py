"""Ordinary least squares with standard errors.

Columns are given as they stand; a column that the others already explain is refused. Not here: which columns a
trial may use (adjustment, trends).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray


@dataclass(frozen=True)
class Fit:
    """Coefficients (k,) with standard errors (k,), residuals (n,), residual sum of squares and its df."""

    coefficients: NDArray[np.float64]
    standard_errors: NDArray[np.float64]
    residuals: NDArray[np.float64]
    residual_square: float
    df: int


def least_squares(columns: ArrayLike, response: ArrayLike) -> Fit:
    """Fit response (n,) on columns (n, k). Raises ValueError without a degree of freedom left or if collinear."""
    x = np.asarray(columns, dtype=np.float64)
    y = np.asarray(response, dtype=np.float64)
    if x.ndim != 2 or y.shape != (x.shape[0],):
        raise ValueError("A fit needs columns (n, k) and a response (n,).")
    df = x.shape[0] - x.shape[1]
    if df < 1:
        raise ValueError(f"{x.shape[0]} values cannot carry {x.shape[1]} unknowns and an error estimate.")
    scale = np.sqrt(np.sum(x**2, axis=0))
    if np.any(scale == 0.0):
        raise ValueError("A column of the fit is zero throughout.")
    orthogonal, triangle = np.linalg.qr(x / scale)
    if np.min(np.abs(np.diag(triangle))) < 1e-9:
        raise ValueError("The columns of the fit depend on each other.")
    inverse = np.linalg.inv(triangle)
    coefficients = inverse @ (orthogonal.T @ y) / scale
    residuals = y - x @ coefficients
    square = float(residuals @ residuals)
    errors = np.sqrt(square / df * np.sum(inverse**2, axis=1)) / scale
    return Fit(coefficients, errors, residuals, square, df)

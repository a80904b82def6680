"""Shades between the numbers of a map: linear, exact at the lattice, and blank where there is no number."""

import numpy as np
import pytest

from profiler.pictures.basics.display import Area, Role
from profiler.pictures.basics.frame import framed
from profiler.pictures.basics.shading import SHADES, between, shades

X, Y = np.linspace(10.0, 50.0, 5), np.linspace(0.0, 3.0, 4)
PLANE = X[None, :] + 20.0 * Y[:, None]
FRAME = framed(400.0, 300.0, (10.0, 50.0), (0.0, 3.0), "x", "y")


def test_a_plane_is_met_everywhere() -> None:
    """A linear function is reproduced by linear interpolation, whatever the lattice."""
    at_x, at_y = np.linspace(10.0, 50.0, 37), np.linspace(0.0, 3.0, 29)
    assert between(X, Y, PLANE, at_x, at_y) == pytest.approx(at_x[None, :] + 20.0 * at_y[:, None])


def test_at_the_lattice_the_numbers_are_kept() -> None:
    odd = np.sin(PLANE)
    assert between(X, Y, odd, X, Y) == pytest.approx(odd)


def test_where_a_number_is_missing_its_own_surroundings_are_blank_and_no_others() -> None:
    holed = PLANE.copy()
    holed[1, 2] = np.nan
    found = between(X, Y, holed, np.array([30.0, 34.0, 36.0, 20.0]), np.array([1.0]))
    assert np.isnan(found[0]).tolist() == [True, True, False, False]


def test_the_shades_fill_the_frame_without_seams() -> None:
    items = shades(X, Y, PLANE, FRAME, Role.REPOSE, counted=False)
    left, top, right, bottom = FRAME.box
    area = sum(float(np.ptp(i.points[:, 0]) * np.ptp(i.points[:, 1])) for i in items if isinstance(i, Area))
    assert area == pytest.approx((round(right) - round(left)) * (round(bottom) - round(top)))
    assert len({i.opacity for i in items if isinstance(i, Area)}) == SHADES


def test_counted_numbers_have_a_shade_each() -> None:
    items = shades(X, Y, np.round(PLANE / 40.0), FRAME, Role.STRONG, counted=True)
    assert len({i.opacity for i in items if isinstance(i, Area)}) == 4  # nought to three

"""Level lines against an outside reference (contourpy, of matplotlib) and closed forms."""

import contourpy
import numpy as np
import pytest

from profiler.pictures.basics.contours import contour, length, levels, longest


def field(seed):
    rng = np.random.default_rng(seed)
    x, y = np.sort(rng.uniform(0.0, 5.0, 30)), np.sort(rng.uniform(-2.0, 2.0, 25))
    across, upward = np.meshgrid(x, y)
    return x, y, np.sin(2.0 * across) * np.cos(2.0 * upward) + 0.1 * across + 0.02 * rng.normal(size=across.shape)


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("level", [-0.7, -0.2, 0.0, 0.4, 0.9])
def test_lines_are_as_many_and_as_long_as_an_outside_program_finds(seed, level):
    x, y, values = field(seed)
    ours = contour(x, y, values, level)
    theirs = contourpy.contour_generator(x, y, values, name="serial").lines(level)
    assert len(ours) == len(theirs)
    assert sorted(map(length, ours)) == pytest.approx(sorted(map(length, theirs)), rel=1e-9)


def test_every_point_lies_on_the_level_for_a_plane():
    x, y = np.linspace(0.0, 3.0, 7), np.linspace(0.0, 2.0, 5)
    plane = 2.0 * x[None, :] + 3.0 * y[:, None]
    (line,) = contour(x, y, plane, 4.3)
    np.testing.assert_allclose(2.0 * line[:, 0] + 3.0 * line[:, 1], 4.3, atol=1e-12)


def test_a_ring_ends_where_it_begins():
    x = np.linspace(-1.0, 1.0, 40)
    (ring,) = contour(x, x, np.hypot(x[None, :], x[:, None]), 0.6)
    assert (ring[0] == ring[-1]).all()
    assert length(ring) == pytest.approx(2.0 * np.pi * 0.6, rel=0.01)


def test_cells_without_a_number_are_left_out():
    x = np.linspace(0.0, 1.0, 5)
    values = np.tile(x, (5, 1))
    values[:3] = np.nan
    (line,) = contour(x, x, values, 0.4)
    assert line[:, 1].min() >= x[3]


def test_levels_are_round_and_inside_and_none_for_a_flat_map():
    assert levels(np.array([[0.3, 9.7]])).tolist() == [2.0, 4.0, 6.0, 8.0]
    assert len(levels(np.full((3, 3), 2.0))) == 0
    assert len(levels(np.full((3, 3), np.nan))) == 0
    assert longest([]) is None

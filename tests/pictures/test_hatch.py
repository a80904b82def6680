"""Hatching: lines at 45 degrees that fill an area and stay inside it."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from profiler.geometry.chain import sampled
from profiler.pictures.basics.display import boxed, hatch
from tests.pictures.scenes import axis, scene

SLANT = np.sqrt(2.0)  # lines whose y - x differs by the spacing lie this much closer together


def length_of(ends: np.ndarray) -> float:
    return float(np.hypot(*(ends[:, 1] - ends[:, 0]).T).sum())


def body_ring() -> np.ndarray:
    drawn = scene()
    ring = sampled(drawn.shown.shape.outline, 0.15)
    return np.stack((ring[:, 0] * drawn.axis.scale, axis().ys(ring[:, 1])), axis=1)


@pytest.mark.parametrize("slope", [1.0, -1.0])
def test_length_times_spacing_is_the_area_of_the_grooved_body(slope: float) -> None:
    ring = body_ring()
    ends = hatch(ring, 2.0, slope)
    assert length_of(ends) * 2.0 / SLANT == pytest.approx(shapely.Polygon(ring).area, rel=0.01)


@settings(max_examples=60, deadline=None, derandomize=True, database=None)
@given(st.integers(3, 12), st.integers(0, 10_000), st.sampled_from([1.0, -1.0]))
def test_length_times_spacing_is_the_area_of_any_star_shaped_outline(corners: int, seed: int, slope: float) -> None:
    chance = np.random.default_rng(seed)
    turn = np.linspace(0.0, 2.0 * np.pi, corners, endpoint=False)
    reach = chance.uniform(60.0, 200.0, corners)
    ring = np.stack((300.0 + reach * np.cos(turn), 300.0 + reach * np.sin(turn)), axis=1)
    ends = hatch(ring, 0.5, slope)
    assert length_of(ends) * 0.5 / SLANT == pytest.approx(shapely.Polygon(ring).area, rel=0.01)


@pytest.mark.parametrize("slope", [1.0, -1.0])
def test_every_line_lies_inside_and_leans_by_45_degrees(slope: float) -> None:
    ring = body_ring()
    ends = hatch(ring, 9.0, slope)
    assert len(ends) > 50
    middles = ends.mean(axis=1)
    assert shapely.contains_xy(shapely.Polygon(ring).buffer(1e-6), middles[:, 0], middles[:, 1]).all()
    across, down = (ends[:, 1] - ends[:, 0]).T
    assert down == pytest.approx(slope * across, abs=1e-9)


def test_an_area_smaller_than_the_spacing_may_stay_empty() -> None:
    assert len(hatch(boxed(1.0, 3.0, 1.5, 3.5), 8.0)) == 0

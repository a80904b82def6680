"""Overfall, overturn ratio and the four states against closed forms and laws.

Derived, not published; the boundary of 2 between weak and strong is this program's own choice.
"""

from dataclasses import replace
from itertools import pairwise
from math import atan, radians, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from profiler.assess.shape.stations import Stations
from profiler.geometry.wall import FloatArray, Wall
from profiler.physics.slurry.overturn import (
    STRONG_RATIO,
    Edges,
    State,
    overfall,
    overturn_ratio,
    places,
    released_power,
    states,
)
from profiler.physics.slurry.surface import Bed, WallLine, bed_surface
from tests.laws.slurry.walls import FEW, Span, band_at, bed_at, buried_mm, spanned, stations

TILT_60_G = atan(1.0 / 60.0)  # of clear water
MOUTHS = [(z, z + 12.0) for z in range(10, 280, 24)]

wall_angles = st.lists(st.floats(-10.0, 35.0), min_size=3, max_size=6)
reposes = st.floats(2.0, 14.0)


def through(angles_deg: list[float]) -> Wall:
    """Arcs through equally spaced knots over 300 mm."""
    step = 300.0 / (len(angles_deg) - 1)
    return spanned(*(Span(step, a, b) for a, b in pairwise(angles_deg)), lip_radius_mm=400.0)


def fall_mm(at: Stations, bed: Bed) -> FloatArray:
    return overfall(at.line, bed, at.edges, at.edge_places) * 1e3


def field(at: Stations, low: float, middle: float, high: float, tilt: float) -> tuple[FloatArray, FloatArray]:
    """Overfalls (3, n) in m and overturn ratio (n,) of the mouth imagined round every station."""
    fall = overfall(at.line, band_at(at, low, middle, high), at.imagined, at.imagined_places)[0]
    slope = np.full(len(at.height), tan(radians(middle) - tilt))
    return fall, overturn_ratio(fall[1], at.imagined.mouth, slope)


# closed forms


@pytest.mark.parametrize(("wall_deg", "printed"), [(30.0, 3.408), (14.0, 0.828)])
def test_the_overturn_ratio_of_an_exposed_cone_is_the_ratio_of_tangents(wall_deg: float, printed: float) -> None:
    at = stations(spanned(Span(300.0, wall_deg), lip_radius_mm=400.0), MOUTHS)
    bed = bed_at(at, 8.2)
    fall = overfall(at.line, bed, at.edges, at.edge_places)
    slope = tan(radians(8.2) - TILT_60_G)
    ratio = overturn_ratio(fall, at.edges.mouth, np.full(len(fall), slope))
    closed = (tan(radians(wall_deg)) - tan(radians(8.2))) / slope
    assert closed == pytest.approx(printed, abs=5e-4)  # derived
    assert ratio == pytest.approx(np.full(len(MOUTHS), closed), rel=1e-9)


def test_the_overfall_of_an_exposed_cone_is_what_the_wall_opens_more_than_repose() -> None:
    at = stations(spanned(Span(300.0, 14.0)), MOUTHS)
    expected = 12.0 * (tan(radians(14.0)) - tan(radians(7.5)))
    assert fall_mm(at, bed_at(at, 7.5)) == pytest.approx(np.full(len(MOUTHS), expected), abs=1e-9)


def test_in_a_cylinder_the_overfall_is_minus_the_depth_of_the_bed() -> None:
    at = stations(spanned(Span(300.0, 0.0)), MOUTHS)
    lower = np.array([low for low, _ in MOUTHS])
    assert fall_mm(at, bed_at(at, 7.5)) == pytest.approx(-(300.0 - lower) * tan(radians(7.5)), abs=1e-9)


def test_power_is_flow_times_field_times_fall_and_none_where_nothing_falls() -> None:
    power = released_power(np.array([2.0, 2.0]), np.array([500.0, 500.0]), np.array([0.003, -0.003]))
    assert power == pytest.approx([3.0, 0.0])  # 2 kg/s x 500 m/s2 x 3 mm


# laws


@FEW
@given(wall_angles, reposes, st.floats(0.0, 4.0), st.floats(0.0, 4.0))
def test_the_overfall_is_largest_at_low_repose_and_smallest_at_high(
    angles: list[float], middle: float, down: float, up: float
) -> None:
    at = stations(through(angles), MOUTHS)
    bed = band_at(at, max(middle - down, 0.5), middle, middle + up)
    for edges, where in ((at.edges, at.edge_places), (at.imagined, at.imagined_places)):
        low, mid, high = overfall(at.line, bed, edges, where)[0]
        assert np.all(low >= mid - 1e-15) and np.all(mid >= high - 1e-15)


@FEW
@given(wall_angles, reposes, st.integers(0, 5), st.floats(-3.0, 3.0))
def test_the_overfall_follows_every_knot_without_a_jump(
    angles: list[float], repose: float, index: int, turn: float
) -> None:
    """Turning a knot changes no overfall by more than twice what it moves the wall, anywhere."""
    turned = list(angles)
    turned[index % len(turned)] += turn
    before, after = through(angles), through(turned)
    here, there = stations(before, MOUTHS), stations(after, MOUTHS)
    fine = np.linspace(0.0, 300.0, 6001)
    moved = float(np.max(np.abs(after.radius_at(fine) - before.radius_at(fine))))
    change = np.abs(fall_mm(there, bed_at(there, repose)) - fall_mm(here, bed_at(here, repose)))
    assert np.all(change <= 2.0 * moved + 1e-6)  # mm; the wall was looked at every 0.05 mm only


@FEW
@given(wall_angles, reposes, st.floats(0.05, 20.0))
def test_the_overturn_ratio_does_not_change_when_all_lengths_scale(
    angles: list[float], repose: float, factor: float
) -> None:
    at = stations(through(angles), MOUTHS)
    line, edges = at.line, at.edges
    larger = replace(line, height=line.height * factor, radius=line.radius * factor)
    wider = Edges(edges.lower * factor, edges.upper * factor, edges.lower_radius * factor, edges.upper_radius * factor)
    slope = np.full(len(MOUTHS), tan(radians(repose)))

    def ratio(on: WallLine, of: Edges) -> FloatArray:
        bed = bed_surface(on, np.full(len(on.height), tan(radians(repose))))
        return overturn_ratio(overfall(on, bed, of, places(on, of)), of.mouth, slope)

    assert ratio(larger, wider) == pytest.approx(ratio(line, edges), abs=1e-9)


@FEW
@given(wall_angles, reposes)
def test_where_the_bed_is_held_from_above_the_overfall_is_minus_its_depth_over_the_lower_edge(
    angles: list[float], repose: float
) -> None:
    at = stations(through(angles), MOUTHS)
    bed = bed_at(at, repose)
    fall, deep = fall_mm(at, bed), buried_mm(at, bed)[at.edge_places.lower_index]
    covered = deep > 0.0
    assert fall[covered] == pytest.approx(-deep[covered], abs=1e-9)
    assert np.all(fall[~covered] >= -1e-6)  # an exposed lower edge: the stream falls, or at least does not rise


def test_the_four_states_are_told_by_low_and_high_overfall_and_the_ratio() -> None:
    table = [
        (3.0, 1.0, 2.0, State.STRONG),  # at the boundary itself the overturn counts as strong
        (3.0, 1.0, 1.999, State.WEAK),
        (3.0, 0.0, 5.0, State.MATCHED),
        (0.001, -3.0, 0.0, State.MATCHED),
        (0.0, -3.0, -1.0, State.SHELTERED),
        (-1.0, -3.0, -1.0, State.SHELTERED),
    ]
    low, high, ratio, expected = (np.array(column) for column in zip(*table, strict=True))
    assert STRONG_RATIO == 2.0
    assert states(low, high, ratio).tolist() == expected.tolist()


@FEW
@given(wall_angles, reposes)
def test_an_upper_edge_counts_as_a_land_even_where_the_mouth_is_only_imagined(
    angles: list[float], repose: float
) -> None:
    """So the field along the wall says of a groove's height what the groove itself says."""
    at = stations(through(angles), MOUTHS)
    bed = bed_at(at, repose)
    cut = fall_mm(at, bed)
    imagined = overfall(at.line, bed, at.imagined, at.imagined_places) * 1e3
    for (low, high), value in zip(MOUTHS, cut, strict=True):
        middle = 0.5 * (low + high)
        near = int(np.argmin(np.abs(at.height - middle)))
        reach = abs(float(at.height[near]) - middle)
        assert imagined[near] == pytest.approx(value, abs=2.0 * reach + 1e-9)  # tangents below 1 on both edges


# a graded wall, at repose bands that do not change along it

# Middle, low and high repose angle in degrees without film lag, for 30, 45 and 60 % solids by mass and grains of 75,
# 150 and 300 um, at 60 g in a small bowl (radius 150 mm, 6 m3/h) and a large one (600 mm, 100 m3/h). Derived.
BANDS = [
    (5.51, 4.28, 7.17), (5.96, 4.61, 7.80), (6.49, 5.07, 8.42), (7.55, 5.76, 9.96), (8.20, 6.22, 10.88),
    (8.79, 6.72, 11.61), (9.54, 7.21, 12.66), (10.39, 7.80, 13.87), (11.03, 8.32, 14.69),
    (4.97, 3.89, 6.43), (5.55, 4.29, 7.27), (5.95, 4.59, 7.80), (6.77, 5.21, 8.86), (7.67, 5.82, 10.18),
    (8.21, 6.22, 10.92), (8.52, 6.49, 11.20), (9.75, 7.32, 13.00), (10.42, 7.81, 13.94),
]  # fmt: skip


def passed(states_upward: np.ndarray) -> list[State]:
    """The states met on the way up, each run once."""
    met = [State(int(states_upward[0]))]
    for state in states_upward:
        if state != met[-1]:
            met.append(State(int(state)))
    return met


@pytest.mark.parametrize("band", BANDS)
def test_a_graded_wall_passes_the_four_states_in_order(band: tuple[float, float, float]) -> None:
    """30 to 0 degrees in one arc: strong overturn at the foot, then weak, matched, and sheltered up to the lip."""
    middle, low, high = band
    at = stations(spanned(Span(400.0, 30.0, 0.0), lip_radius_mm=600.0))
    fall, ratio = field(at, low, middle, high, TILT_60_G)
    met = passed(states(fall[0], fall[2], ratio))
    assert met == [State.STRONG, State.WEAK, State.MATCHED, State.SHELTERED]


def test_an_upright_top_shelters_itself_and_the_cone_right_below_while_the_foot_overturns() -> None:
    at = stations(spanned(Span(200.0, 15.0), Span(100.0, 1.0)))
    fall, ratio = field(at, 6.0, 8.0, 10.0, TILT_60_G)
    state = states(fall[0], fall[2], ratio)
    assert np.all(state[at.height >= 180.0] == State.SHELTERED)
    assert np.all(state[at.height <= 20.0] == State.WEAK)  # E = (tan 15 - tan 8)/tan(8 - 0.95) = 1.03

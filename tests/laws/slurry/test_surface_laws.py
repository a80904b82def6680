"""The slurry surface against its closed forms and its laws.

Every number here is derived, none is published: where a closed form exists the test works it out itself and holds the
program to 1e-9, then compares it with the digits the derivation was written down with.
"""

from math import asin, atan, cos, degrees, log, pi, radians, sin, sqrt, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from profiler.geometry.wall import Wall
from profiler.physics.slurry.surface import WallLine, bed_surface
from tests.laws.slurry.walls import FEW, Span, at_height, bed_at, buried_mm, spanned, stations
from tests.oracles.surface import exposure_ends

GRAVITY = 9.80665  # m/s2, standard gravity (ISO 80000-3)
CLOSED_MM = 1e-9

Spans = list[tuple[float, float, float]]  # height in mm, angle below in degrees, bend from -1 to 1

TIGHTEST_MM = 150.0  # radius of the tightest arc tried: stations 1 mm apart follow it to 1e-8 mm
walls = st.lists(st.tuples(st.floats(5.0, 150.0), st.floats(-15.0, 35.0), st.floats(-1.0, 1.0)), min_size=1, max_size=5)
reposes = st.floats(2.0, 15.0)


def made(spans: Spans) -> Wall:
    """Arcs no tighter than the tightest, with corners between them."""
    bent = []
    for height, start, bend in spans:
        end = min(max(sin(radians(start)) + bend * height / TIGHTEST_MM, -0.3), 0.65)
        bent.append(Span(height, start, degrees(asin(end))))
    return spanned(*bent, lip_radius_mm=900.0)


# the wall itself


def test_an_arc_span_rises_and_bends_as_a_circle_does() -> None:
    wall = spanned(Span(400.0, 30.0, 0.0))
    rise = 400.0 * (1.0 - cos(radians(30.0))) / sin(radians(30.0))
    assert rise == pytest.approx(107.180, abs=5e-4)  # derived
    assert wall.radius[1] - wall.radius[0] == pytest.approx(rise, abs=CLOSED_MM)
    assert -1.0 / wall.curvature()[0] == pytest.approx(800.0, abs=CLOSED_MM)  # derived: dz/(sin t2 - sin t1)
    assert wall.length[-1] == pytest.approx(800.0 * pi / 6.0, abs=CLOSED_MM)  # the arc over 30 degrees


def test_a_straight_wall_is_the_cone_formula() -> None:
    wall = spanned(Span(500.0, 13.0))
    rise = 500.0 * tan(radians(13.0))
    assert rise == pytest.approx(115.434, abs=5e-4)  # derived
    assert wall.radius[1] - wall.radius[0] == pytest.approx(rise, abs=CLOSED_MM)
    assert wall.length[-1] == pytest.approx(500.0 / cos(radians(13.0)), abs=CLOSED_MM)


@FEW
@given(walls)
def test_radius_and_length_are_the_integrals_of_the_angle(spans: Spans) -> None:
    wall = made(spans)
    for i in range(len(spans)):
        low, high = float(wall.height[i]), float(wall.height[i + 1])
        inside = low + 0.999999 * (high - low)  # up to, not past, the joint
        rise, _ = quad(lambda z: tan(float(wall.angle_at(z))), low, inside)
        along, _ = quad(lambda z: 1.0 / cos(float(wall.angle_at(z))), low, inside)
        assert float(wall.radius_at(inside)) - wall.radius[i] == pytest.approx(rise, abs=1e-7)
        assert float(wall.length_at(inside)) - wall.length[i] == pytest.approx(along, abs=1e-7)


# closed forms of the surface


def test_a_cone_opening_more_than_repose_is_exposed_everywhere() -> None:
    at = stations(spanned(Span(300.0, 14.0)))
    bed = bed_at(at, 7.5)
    assert np.all(buried_mm(at, bed) == 0.0)
    assert len(exposure_ends(at.line, bed)) == 0


def test_a_cylinder_is_buried_by_its_height_times_the_tangent_of_repose() -> None:
    at = stations(spanned(Span(200.0, 0.0)))
    bed = bed_at(at, 7.2)
    expected = (200.0 - at.height) * tan(radians(7.2))
    assert buried_mm(at, bed) == pytest.approx(expected, abs=CLOSED_MM)
    assert expected[0] == pytest.approx(25.266, abs=5e-4)  # derived
    assert bed.held_at * 1e3 == pytest.approx(np.full(len(at.height), 200.0))


def test_an_upright_top_buries_the_cone_below_it_down_to_where_its_depth_is_regained() -> None:
    at = stations(spanned(Span(300.0, 14.0), Span(250.0, 0.0)))
    bed = bed_at(at, 7.5)
    depth = 250.0 * tan(radians(7.5))
    reach = depth / (tan(radians(14.0)) - tan(radians(7.5)))
    assert (depth, reach) == (pytest.approx(32.9131, abs=5e-5), pytest.approx(279.694, abs=5e-4))  # derived
    assert buried_mm(at, bed)[at_height(at, 300.0)] == pytest.approx(depth, abs=CLOSED_MM)
    lowest, lip = exposure_ends(at.line, bed) * 1e3
    assert lowest == pytest.approx(300.0 - reach, abs=CLOSED_MM)
    assert lowest == pytest.approx(20.306, abs=5e-4)  # derived
    assert lip == 550.0
    buried = buried_mm(at, bed)
    assert np.all(buried[at.height < lowest - 1e-6] == 0.0)
    assert np.all(buried[(at.height > lowest + 1e-6) & (at.height < 550.0)] > 0.0)


def test_an_angle_falling_evenly_with_height_is_exposed_down_from_where_two_integrals_meet() -> None:
    """A wall of this kind is a log-cosine curve, so it is handed to the surface as numbers."""
    height, repose = 0.200, radians(7.5)
    per_metre = radians(30.0) / height

    def angle(z: float) -> float:
        return radians(30.0) - per_metre * z

    def regained(z: float) -> float:
        """What the wall opens more than repose from z up to the lip."""
        return log(1.0 / cos(angle(z))) / per_metre - (height - z) * tan(repose)

    z = np.linspace(0.0, height, 401)
    theta = radians(30.0) - per_metre * z
    radius = np.log(np.cos(theta) / cos(radians(30.0))) / per_metre
    line = WallLine(z, radius, np.tan(theta), np.tan(theta), np.ones(400, dtype=bool))
    bed = bed_surface(line, np.full(401, tan(repose)))

    end = brentq(regained, 0.05, 0.145, xtol=1e-15)
    assert end * 1e3 == pytest.approx(100.5686, abs=5e-5)  # derived
    assert degrees(angle(end)) == pytest.approx(14.9147, abs=5e-5)  # derived
    assert exposure_ends(line, bed)[0] == pytest.approx(end, abs=1e-12)

    deepest = -regained(0.150)
    assert deepest * 1e3 == pytest.approx(3.300744, abs=5e-7)  # derived; the wall stands at 7.5 degrees there
    assert angle(0.150) == pytest.approx(repose)
    buried = bed.buried(line)
    assert z[int(np.argmax(buried))] == pytest.approx(0.150)
    assert buried.max() == pytest.approx(deepest, abs=1e-12)


def test_a_liquid_in_a_cylinder_takes_the_paraboloid_through_the_lip() -> None:
    height, lip, speed2 = 0.300, 0.150, 60.0 * GRAVITY / 0.150
    at = stations(spanned(Span(300.0, 0.0), lip_radius_mm=150.0))
    radius = at.line.radius
    passes = []
    for _ in range(12):  # the tilt depends on the surface, the surface on the tilt
        bed = bed_surface(at.line, GRAVITY / (speed2 * radius))
        passes.append(float(lip - bed.radius[0]))
        radius = bed.radius
    exact = np.sqrt(lip**2 - 2.0 * GRAVITY * (height - at.line.height) / speed2)
    assert passes[0] == pytest.approx(0.005, abs=1e-12)  # derived: with the tilt taken at the wall
    assert passes[-1] * 1e3 == pytest.approx(5.08623, abs=5e-6)  # derived
    # the tilt runs straight between stations 0.75 mm apart, the paraboloid's is bent: 1e-11 m over the height
    assert radius == pytest.approx(exact, abs=2e-11)


def test_each_groove_of_an_opening_wall_holds_its_own_paraboloid_of_liquid() -> None:
    edges = [(20.0, 60.0), (100.0, 140.0), (200.0, 260.0)]
    speed2 = 60.0 * GRAVITY / 0.150
    wall = spanned(Span(300.0, 12.0), lip_radius_mm=150.0)
    at = stations(wall, edges)
    exact = at.line.radius.copy()
    for lower, upper in edges:
        inside = (at.height > lower) & (at.height < upper)
        own_edge = float(wall.radius_at(upper)) * 1e-3
        exact[inside] = np.sqrt(own_edge**2 - 2.0 * GRAVITY * (upper - at.height[inside]) * 1e-3 / speed2)
    slope = GRAVITY / (speed2 * exact)  # the exact surface's own tilt
    bed = bed_surface(at.line, slope)
    assert np.all(buried_mm(at, bed)[at.line.on_land] == 0.0)
    # the tilt jumps at a lower edge, from land to groove, and runs straight over one interval there
    steps = np.diff(at.line.height)
    jump = np.abs(np.diff(slope)) * steps
    assert bed.radius == pytest.approx(exact, abs=float(jump.max()) + 1e-12)
    above = (at.height > 201.0) & (at.height < 260.0)  # clear of the jump
    assert bed.radius[above] == pytest.approx(exact[above], abs=2e-11)


# laws of the surface


@FEW
@given(walls, reposes)
def test_the_surface_lies_outside_no_land_and_opens_at_least_as_fast_as_repose(spans: Spans, repose: float) -> None:
    at = stations(made(spans))
    bed = bed_at(at, repose)
    assert np.all(bed.radius <= at.line.radius + 1e-12)
    assert np.all(np.diff(bed.radius - bed.rise) >= -1e-15)
    assert bed.radius[-1] == pytest.approx(at.line.radius[-1], abs=1e-15)  # it begins at the lip


@FEW
@given(walls, reposes, st.floats(0.0, 5.0))
def test_a_larger_repose_angle_never_uncovers_anything(spans: Spans, repose: float, more: float) -> None:
    at = stations(made(spans))
    assert np.all(bed_at(at, repose + more).radius <= bed_at(at, repose).radius + 1e-12)


@FEW
@given(walls, reposes)
def test_the_land_that_holds_a_bed_lies_above_it_and_is_exposed(spans: Spans, repose: float) -> None:
    wall = made(spans)
    at = stations(wall)
    bed = bed_at(at, repose)
    held = bed.held_at * 1e3
    assert np.all(held >= at.height - 1e-9)
    reach = wall.radius_at(held) * 1e-3 - held * 1e-3 * tan(radians(repose))
    assert reach == pytest.approx(bed.level, abs=1e-9)  # m: a turning point is found on a cubic


@FEW
@given(walls, reposes, st.floats(0.0, 1.0))
def test_where_the_stations_lie_does_not_change_the_surface(spans: Spans, repose: float, shift: float) -> None:
    """Three times as many stations, at odd places, agree to 1e-7 mm with the usual ones."""
    wall = made(spans)
    usual = stations(wall)
    knots = wall.height
    odd = knots[0] + (knots[-1] - knots[0]) * (np.arange(1203) + 0.9 * shift + 0.05) / 1203.0
    height = np.unique(np.concatenate((usual.height, odd)))
    height = height[np.concatenate(([True], np.diff(height) > 1e-6))]  # a corner becomes one station ...
    corner = np.isin(height, knots[1:-1])
    height = np.repeat(height, np.where(corner, 2, 1))  # ... and then two again
    first = np.concatenate((np.diff(height) == 0.0, [False]))
    second = np.concatenate(([False], np.diff(height) == 0.0))
    below, above = wall.angle_at(height, above=False), wall.angle_at(height, above=True)
    fine = WallLine(
        height * 1e-3,
        wall.radius_at(height) * 1e-3,
        np.tan(np.where(second, above, below)),
        np.tan(np.where(first, below, above)),
        np.ones(len(height) - 1, dtype=bool),
    )
    tangent = tan(radians(repose))
    finer = bed_surface(fine, np.full(len(height), tangent))
    coarse = bed_at(usual, repose)
    assert np.interp(usual.height, height, finer.radius) == pytest.approx(coarse.radius, abs=1e-10)


def test_a_wall_lying_exactly_at_repose_is_exposed_and_does_not_flicker() -> None:
    at = stations(spanned(Span(300.0, 7.5)))
    assert np.all(buried_mm(at, bed_at(at, 7.5)) == 0.0)


def test_the_minimum_never_runs_over_the_wall_drawn_across_a_mouth() -> None:
    """A hump of the wall curve, cut away by a mouth, holds nothing."""
    wall = spanned(Span(100.0, 14.0), Span(40.0, -30.0), Span(40.0, 50.0), Span(120.0, 14.0))
    tangent = tan(radians(7.5))
    cut, whole = stations(wall, [(100.0, 180.0)]), stations(wall)
    assert buried_mm(whole, bed_at(whole, 7.5))[at_height(whole, 100.0)] > 20.0
    assert np.all(buried_mm(cut, bed_at(cut, 7.5))[cut.height <= 100.0] == 0.0)
    lands = np.linspace(180.0, 300.0, 20001)
    inside = (cut.height > 100.0) & (cut.height < 180.0)
    for z, surface in zip(cut.height[inside], bed_at(cut, 7.5).radius[inside] * 1e3, strict=True):
        assert surface == pytest.approx(float(np.min(wall.radius_at(lands) - (lands - z) * tangent)), abs=1e-9)


def test_both_edges_of_a_mouth_hold_the_bed() -> None:
    """Lands are closed: with the whole wall one mouth, its two edges are all that is left."""
    wall = spanned(Span(300.0, 14.0))
    at = stations(wall, [(0.0, 290.0)])
    tangent = tan(radians(7.5))
    surface = bed_at(at, 7.5).radius * 1e3
    assert surface[0] == pytest.approx(float(wall.radius[0]), abs=CLOSED_MM)  # the lower edge holds itself
    inside = (at.height > 0.0) & (at.height < 290.0)
    expected = float(wall.radius_at(290.0)) - (290.0 - at.height[inside]) * tangent
    assert surface[inside] == pytest.approx(expected, abs=CLOSED_MM)


def test_a_brim_leaning_in_is_a_dam() -> None:
    wall = spanned(Span(290.0, 14.0), Span(10.0, -20.0))
    at = stations(wall)
    depth = 10.0 * (tan(radians(7.5)) + tan(radians(20.0)))
    buried = buried_mm(at, bed_at(at, 7.5))
    assert buried[at_height(at, 290.0)] == pytest.approx(depth, abs=CLOSED_MM)
    reach = depth / (tan(radians(14.0)) - tan(radians(7.5)))
    assert exposure_ends(at.line, bed_at(at, 7.5))[0] * 1e3 == pytest.approx(290.0 - reach, abs=CLOSED_MM)


def test_a_corner_needs_no_special_case() -> None:
    """Two cones meeting at a corner: the upper, steeper one buries the lower as far as the two triangles say."""
    at = stations(spanned(Span(200.0, 20.0), Span(100.0, 4.0)))
    bed = bed_at(at, 9.0)
    depth = 100.0 * (tan(radians(9.0)) - tan(radians(4.0)))
    reach = depth / (tan(radians(20.0)) - tan(radians(9.0)))
    assert buried_mm(at, bed)[at_height(at, 200.0)] == pytest.approx(depth, abs=CLOSED_MM)
    assert exposure_ends(at.line, bed)[0] * 1e3 == pytest.approx(200.0 - reach, abs=CLOSED_MM)


def test_a_turning_point_between_stations_is_found() -> None:
    """Steeper than repose below, shallower above: the lowest point of r - B lies where the wall stands at repose."""
    wall = spanned(Span(300.0, 0.0, 30.0), lip_radius_mm=400.0)
    at = stations(wall)
    repose = 8.123
    turning = 300.0 * sin(radians(repose)) / sin(radians(30.0))  # sin(angle) is linear in height
    bed = bed_at(at, repose)
    exact = float(wall.radius_at(turning)) - turning * tan(radians(repose))
    assert bed.level[0] * 1e3 == pytest.approx(exact, abs=CLOSED_MM)
    assert bed.held_at[0] * 1e3 == pytest.approx(turning, abs=1e-5)  # a flat minimum: the place is less sharp


def test_the_tilt_of_clear_water_is_the_angle_of_the_paraboloid() -> None:
    """The closed form above used g/(w^2 r) as a tangent: at 60 g it is 0.9548 degrees (derived)."""
    assert degrees(atan(1.0 / 60.0)) == pytest.approx(0.9548, abs=5e-5)
    assert sqrt(0.150**2 - 2.0 * 0.300 * 0.150 / 60.0) == pytest.approx(0.150 - 0.00508623, abs=5e-9)

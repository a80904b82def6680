"""Laws of the wall, its grooves and its outer side: closed forms, symmetries, scaling, tangency.

Closed forms are derived from r(z) = r0 + integral of tan(angle) dz and hold to rounding; 1e-9 is asked of them.
"""

import numpy as np
import pytest
import shapely
from msgspec.structs import replace
from scipy.integrate import quad

from profiler.assess import Severity, evaluate
from profiler.assess.shape.shape_stage import mouths_of, shape_of, wall_of
from profiler.geometry.chain import Chain, arcs, figures, sampled
from profiler.geometry.offset import outward
from profiler.geometry.wall import build_wall
from profiler.study import Body, Design, Duty, GrooveRule, Knot, Placing, SquareTo, WallCurve
from profiler.study.edits.design_edits import move_knot, with_grooves
from profiler.study.files import examples

DEGREE = np.pi / 180.0
MACHINE = examples.read("graded").machine  # none of these laws depends on it
CURVE = WallCurve((Knot(0, 31), Knot(90, 12, 19), Knot(210, 6), Knot(280, -4)), lip_radius_mm=190.0)
GROOVES = GrooveRule(count=9, from_mm=10.0, to_mm=285.0, mouth_mm=9.0, depth_mm=11.0, flank_deg=7.0)


def wall(*pieces, lip=200.0):
    """Pieces (height, lower angle, upper angle) in degrees; heights are where they end."""
    heights = [0.0, *(p[0] for p in pieces)]
    return build_wall(heights, [p[1] * DEGREE for p in pieces], [p[2] * DEGREE for p in pieces], lip)


def chain_of(line):
    bulges = np.append(line.bulge(line.height[:-1], line.height[1:]), 0.0)
    return Chain(np.stack((line.radius, line.height), axis=1), bulges, closed=False)


def grooved(grooves=GROOVES, curve=CURVE):
    return built(Design("any", curve, grooves))


def built(design):
    shape, problems = shape_of(design, MACHINE)
    assert problems == ()
    return shape


def tangents(chain):
    """Unit directions at the start and at the end of every segment."""
    start, end, bulge = chain.ends()
    along = np.arctan2(*(end - start).T[::-1])
    half = 2.0 * np.arctan(bulge)
    return tuple(np.stack((np.cos(a), np.sin(a)), axis=1) for a in (along - half, along + half))


# the wall line


def test_a_span_from_30_to_0_degrees_is_an_arc_of_twice_its_height():
    span = wall((400.0, 30.0, 0.0))
    # dr = (cos t1 - cos t2) dz/(sin t2 - sin t1) = 400 (1 - cos 30)/sin 30; printed 107.180 and 800
    rise = span.radius[-1] - span.radius[0]
    assert rise == pytest.approx(400.0 * (1.0 - np.cos(30.0 * DEGREE)) / 0.5, abs=1e-9)
    assert rise == pytest.approx(107.180, abs=5e-4)
    assert arcs(chain_of(span))[1][0] == pytest.approx(800.0, abs=1e-9)


def test_a_straight_wall_is_a_cone():
    cone = wall((500.0, 13.0, 13.0))
    heights = np.linspace(0.0, 500.0, 11)
    expected = 200.0 - (500.0 - heights) * np.tan(13.0 * DEGREE)
    assert cone.radius_at(heights) == pytest.approx(expected, abs=1e-9)
    assert cone.length_at(heights) == pytest.approx(heights / np.cos(13.0 * DEGREE), abs=1e-9)
    assert cone.radius[-1] - cone.radius[0] == pytest.approx(115.434, abs=5e-4)  # printed


@pytest.mark.parametrize("difference_deg", [1e-4, 1e-7, 1e-10, 0.0, -1e-10, -1e-7])
def test_nearly_equal_angles_need_no_special_case(difference_deg):
    bent, straight = wall((300.0, 12.0, 12.0 + difference_deg)), wall((300.0, 12.0, 12.0))
    slack = 300.0 * abs(difference_deg) * DEGREE * 1.1  # an angle off by so much moves the radius so much
    assert bent.radius == pytest.approx(straight.radius, abs=1e-9 + slack)
    assert bent.length == pytest.approx(straight.length, abs=1e-9 + slack)


def test_radius_and_length_are_the_integrals_they_stand_for():
    line = wall_of(Design("any", CURVE))
    for z in (37.0, 90.0, 141.3, 280.0):
        joints = [j for j in line.height if 0.0 < j < z] or None
        rise, _ = quad(lambda x: float(np.tan(line.angle_at(x))), 0.0, z, points=joints, epsabs=1e-11)
        along, _ = quad(lambda x: float(1.0 / np.cos(line.angle_at(x))), 0.0, z, points=joints, epsabs=1e-11)
        assert float(line.radius_at(z)) == pytest.approx(line.radius[0] + rise, abs=1e-9)
        assert float(line.length_at(z)) == pytest.approx(along, abs=1e-9)


def test_height_and_length_along_the_wall_are_each_others_inverse():
    line = wall_of(Design("any", CURVE))
    lengths = np.linspace(0.0, line.length[-1], 200)
    assert line.length_at(line.height_at(lengths)) == pytest.approx(lengths, abs=1e-9)


def test_the_wall_as_a_chain_has_the_walls_length_and_points():
    line = wall_of(Design("any", CURVE))
    points = sampled(chain_of(line), 1e-3)
    assert line.radius_at(points[:, 1]) == pytest.approx(points[:, 0], abs=1e-9)
    _, end = tangents(chain_of(line))
    assert np.arctan2(end[-1, 0], end[-1, 1]) == pytest.approx(-4.0 * DEGREE, abs=1e-12)


@pytest.mark.parametrize("index", [0, 1, 2])
def test_turning_a_lower_knot_leaves_a_held_lip_where_it_is(index):
    design = Design("any", CURVE)
    turned = wall_of(move_knot(design, index, angle_deg=20.0))
    assert turned.radius[-1] == pytest.approx(190.0, abs=1e-9)
    assert abs(turned.radius[0] - wall_of(design).radius[0]) > 1.0


def test_turning_a_knot_leaves_a_held_floor_where_it_is():
    design = Design("any", replace(CURVE, lip_radius_mm=None, floor_radius_mm=120.0))
    turned = wall_of(move_knot(design, 2, angle_deg=20.0))
    assert turned.radius[0] == pytest.approx(120.0, abs=1e-9)
    assert abs(turned.radius[-1] - wall_of(design).radius[-1]) > 1.0


@pytest.mark.parametrize(
    ("heights", "angle"), [([0.0, 10.0, 10.0], 5.0), ([0.0, 10.0, 5.0], 5.0), ([0.0, 1.0, 2.0], 90.0)]
)
def test_a_wall_that_is_none_is_refused(heights, angle):
    with pytest.raises(ValueError, match=r"increase|90°"):
        build_wall(heights, [angle * DEGREE] * 2, [angle * DEGREE] * 2, 100.0)


# scaling


@pytest.mark.parametrize("name", examples.names())
def test_twice_the_lengths_make_eight_times_the_volume(name):
    design = examples.read(name).design
    one, two = built(design).figures, built(_scaled(design, 2.0)).figures
    assert two.length == pytest.approx(2.0 * one.length, rel=1e-9)
    assert two.area == pytest.approx(4.0 * one.area, rel=1e-9)
    assert two.volume == pytest.approx(8.0 * one.volume, rel=1e-9)
    assert two.polar_inertia == pytest.approx(32.0 * one.polar_inertia, rel=1e-9)
    assert two.centre_height == pytest.approx(2.0 * one.centre_height, rel=1e-9)


def _scaled(record, factor):
    """Every length of a design times a factor; angles and densities stay."""
    if isinstance(record, tuple):
        return tuple(_scaled(item, factor) for item in record)
    if not hasattr(record, "__struct_fields__"):
        return record
    values = {name: getattr(record, name) for name in record.__struct_fields__}
    return replace(
        record,
        **{
            name: value * factor if name.endswith("_mm") and isinstance(value, float) else _scaled(value, factor)
            for name, value in values.items()
        },
    )


# the outer wall


@pytest.mark.parametrize("thickness", [3.0, 26.0, 60.0])
@pytest.mark.parametrize(
    "line",
    [
        wall((300.0, 20.0, 20.0)),
        wall((120.0, 26.0, 17.0), (240.0, 17.0, 8.0), (330.0, 8.0, 0.5)),
        wall((150.0, 15.0, 15.0), (250.0, 1.0, 1.0)),
        wall((150.0, 2.0, 2.0), (250.0, 20.0, 20.0)),
        wall((4.0, -11.0, 27.0), (150.0, 27.0, 10.0), (250.0, -10.0, 25.0)),
    ],
    ids=["cone", "graded", "inward corner", "outward corner", "short end that vanishes"],
)
def test_the_outer_wall_lies_the_thickness_away_and_more_only_where_it_goes_on_straight(line, thickness):
    outer = outward(line, thickness, -20.0, 236.0)
    inner = shapely.LineString(sampled(chain_of(line), 1e-6))
    points = sampled(chain_of(outer), 1e-5)
    away = shapely.distance(inner, shapely.points(points))
    ends = [line.height[k] - thickness * np.sin(t) for k, t in ((0, line.lower[0]), (-1, line.upper[-1]))]
    between = (points[:, 1] >= ends[0]) & (points[:, 1] <= ends[1])
    # both lines are sampled: 1e-5 and 1e-6 of sag
    assert away[between] == pytest.approx(thickness, abs=2e-5)
    assert np.all(away > thickness - 2e-5)
    assert (outer.height[0], outer.height[-1]) == pytest.approx((-20.0, 236.0), abs=1e-9)


# grooves


def test_a_mouth_is_as_wide_as_asked_along_the_wall():
    shape = grooved()
    mouths = shape.mouths
    assert mouths.upper_length - mouths.lower_length == pytest.approx(9.0, abs=1e-9)
    assert shape.wall.length_at(mouths.upper) - shape.wall.length_at(mouths.lower) == pytest.approx(9.0, abs=1e-9)


def test_equal_pitch_along_the_wall_runs_from_end_to_end_of_the_stretch():
    mouths = grooved().mouths
    assert np.diff(mouths.lower_length) == pytest.approx((285.0 - 10.0 - 9.0) / 8.0, abs=1e-9)
    assert (mouths.lower_length[0], mouths.upper_length[-1]) == pytest.approx((10.0, 285.0), abs=1e-9)


def test_equal_pitch_in_height_steps_evenly_and_ends_at_the_stretch():
    design = Design("any", CURVE, replace(GROOVES, placing=Placing.IN_HEIGHT, to_mm=270.0))
    mouths, _, _ = mouths_of(design, wall_of(design))
    steps = np.diff(mouths.lower)
    assert steps == pytest.approx(steps[0], abs=1e-9)
    assert (mouths.lower[0], mouths.upper[-1]) == pytest.approx((10.0, 270.0), abs=1e-9)


def test_listed_heights_are_the_middles_along_the_wall_whatever_their_order():
    design = Design("any", CURVE, replace(GROOVES, placing=Placing.LISTED, heights_mm=(200.0, 50.0)))
    line = wall_of(design)
    mouths, _, _ = mouths_of(design, line)
    middle = 0.5 * (mouths.lower_length + mouths.upper_length)
    assert line.height_at(middle) == pytest.approx([50.0, 200.0], abs=1e-9)


def test_a_groove_square_to_the_wall_is_its_depth_from_the_mouth_line():
    corners = grooved().contours.corners
    mouth = corners[:, 3] - corners[:, 0]
    along = mouth / np.hypot(*mouth.T)[:, None]
    for floor_corner in (1, 2):
        to_floor = corners[:, floor_corner] - corners[:, 0]
        square = along[:, 1] * to_floor[:, 0] - along[:, 0] * to_floor[:, 1]
        assert square == pytest.approx(11.0, abs=1e-9)


def test_a_groove_square_to_the_axis_has_an_upright_floor_its_depth_behind_the_mouth():
    corners = grooved(replace(GROOVES, square_to=SquareTo.AXIS)).contours.corners
    middle = 0.5 * (corners[:, 0, 0] + corners[:, 3, 0])
    assert corners[:, 1, 0] == pytest.approx(middle + 11.0, abs=1e-9)
    assert corners[:, 2, 0] == pytest.approx(middle + 11.0, abs=1e-9)


def test_flanks_lean_by_their_angle_and_narrow_the_floor():
    corners = grooved().contours.corners
    mouth, floor = (np.hypot(*(corners[:, b] - corners[:, a]).T) for a, b in ((0, 3), (1, 2)))
    assert mouth - floor == pytest.approx(2.0 * 11.0 * np.tan(7.0 * DEGREE), abs=1e-9)


@pytest.mark.parametrize("square_to", list(SquareTo))
def test_every_rounding_of_a_groove_is_tangent_to_what_it_joins(square_to):
    """Wherever the inner edge turns, it turns along an arc: only the wall's own corner stays sharp."""
    shape = grooved(replace(GROOVES, square_to=square_to, edge_radius_mm=0.9))
    start, end = tangents(shape.edge)
    turn = np.degrees(np.arccos(np.clip(np.sum(end[:-1] * start[1:], axis=1), -1.0, 1.0)))
    sharp = np.flatnonzero(turn > 1e-4)
    assert shape.edge.points[sharp + 1, 1] == pytest.approx([90.0], abs=1e-9)
    assert turn[sharp] == pytest.approx([7.0], abs=1e-6)  # from 12 to 19 degrees
    radius = arcs(shape.edge)[1]
    assert np.sum(np.abs(radius - 0.9) < 1e-6) == 2 * len(shape.mouths)
    assert np.sum(np.abs(radius - 2.0) < 1e-6) == 2 * len(shape.mouths)


def test_sharp_grooves_take_exactly_their_own_area_from_the_body():
    rule = replace(GROOVES, edge_radius_mm=0.0, floor_radius_mm=0.0)
    shape, plain = grooved(rule), grooved(replace(rule, count=0))
    holes = shapely.polygons(shape.contours.corners)
    body = shapely.Polygon(sampled(plain.outline, 1e-5))
    left = body.difference(shapely.unary_union(holes))
    # between a mouth's chord and the curved wall the polygons cut less than 0.01 mm2 each
    assert figures(shape.outline).area == pytest.approx(left.area, abs=0.01 * len(holes))
    trapezoid = 11.0 * (9.0 - 11.0 * np.tan(7.0 * DEGREE))  # its mouth is a chord, a little under 9 mm
    assert figures(plain.outline).area - left.area == pytest.approx(len(holes) * trapezoid, rel=3e-3)


@pytest.mark.parametrize("gap_mm", [0.5, 0.06, 0.04, 0.001])
@pytest.mark.parametrize("below", [True, False])
def test_a_corner_a_hair_beside_a_groove_bends_nothing_else(below, gap_mm):
    """Joints closer to a groove than the least segment are left out; the wall beyond must not notice."""

    def with_corner_at(height):
        curve = WallCurve((Knot(0, 22), Knot(height, 15, 6), Knot(330, 1)), lip_radius_mm=217.6)
        return built(Design("any", curve, GrooveRule(placing=Placing.LISTED, heights_mm=(160.0,))))

    corner = 150.0 if below else 170.0
    for more in (1.0, 0.1, 0.01, 1e-3, 1e-4, 1e-5, 0.0):  # the groove's feet move a little with the corner
        feet = with_corner_at(corner).contours.points[0, [0, 7], 1]
        corner = float(feet[0]) - gap_mm - more if below else float(feet[1]) + gap_mm + more
    shape = with_corner_at(corner)
    inner = shapely.LineString(sampled(shape.edge, 1e-4))
    heights = np.concatenate((np.linspace(0.0, feet[0], 60), np.linspace(feet[1], 330.0, 60)))
    wall_points = shapely.points(np.stack((shape.wall.radius_at(heights), heights), axis=1))
    # what may be lost is the corner itself: 0.05 mm times the sine of the 9 degrees it turns
    assert shapely.distance(inner, wall_points).max() < 0.01


@pytest.mark.parametrize("rule", [GROOVES, replace(GROOVES, count=0), replace(GROOVES, square_to=SquareTo.AXIS)])
def test_the_outline_is_one_simple_closed_curve(rule):
    shape = grooved(rule)
    polygon = shapely.Polygon(sampled(shape.outline, 1e-5))
    assert polygon.is_valid
    assert polygon.exterior.is_ccw
    assert polygon.area == pytest.approx(shape.figures.area, rel=1e-6)


def test_the_mirrored_half_has_the_same_area_on_the_other_side():
    outline = grooved().outline
    mirrored = outline.mirrored()
    left, right = (shapely.Polygon(sampled(c, 1e-4)) for c in (mirrored, outline))
    assert left.area == pytest.approx(right.area, rel=1e-9)
    assert left.bounds == pytest.approx((-right.bounds[2], right.bounds[1], -right.bounds[0], right.bounds[3]))


def test_a_thicker_wall_stands_further_behind_the_grooves():
    design = with_grooves(Design("any", CURVE), GROOVES)
    thin, thick = (built(replace(design, body=Body(wall_mm=w))).wall_behind for w in (24.0, 29.0))
    assert thick - thin == pytest.approx(5.0, abs=0.2)  # a flank's corner meets an arc: not exactly square to both


CROSSINGS = {
    "grooves that meet in the body, where the wall curves outward": (
        Design("any", WallCurve((Knot(0, 0), Knot(100, 50)), lip_radius_mm=200.0), GrooveRule(
            count=8, from_mm=5.0, to_mm=110.0, mouth_mm=10.5, depth_mm=40.0, flank_deg=0.0), Body(wall_mm=60.0)),
        "outline_crosses",
    ),
    "a groove through the top, where the wall leans inward": (
        Design("any", WallCurve((Knot(0, 0), Knot(100, -45)), lip_radius_mm=150.0), GrooveRule(
            placing=Placing.LISTED, heights_mm=(91.0,), mouth_mm=9.0, depth_mm=16.0), Body(flange_width_mm=60.0)),
        "outline_crosses",
    ),
    "a thick flange on a thin, wide opening wall": (
        Design("any", WallCurve((Knot(0, 40), Knot(100, 40)), lip_radius_mm=200.0), GrooveRule(count=0),
               Body(wall_mm=8.0, flange_width_mm=0.0, flange_mm=20.0)),
        "flange_inside_lip",
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", CROSSINGS)
def test_a_section_that_crosses_itself_is_a_stop_finding(case):
    design, code = CROSSINGS[case]
    evaluation = evaluate(design, MACHINE, Duty("any"))
    assert not shapely.Polygon(sampled(evaluation.shape.outline, 1e-4)).is_valid
    found = {f.code: f for f in evaluation.findings if f.severity is Severity.STOP}
    assert code in found
    assert found[code].from_mm is not None

"""Water holes in the solid: true cylinders whose edges lie on both surfaces, or axes and points and a reason.

A radial hole between two coaxial cylinders has a volume known by one quadrature, 2 int sqrt(c2 - y2) (sqrt(R2 - y2) -
sqrt(r2 - y2)) dy (common calculus); any other is integrated over the hole's disc. A uniform cubic spline through a
circle stays within r h^4/384 of it (de Boor, A Practical Guide to Splines, chapter on interpolation; from memory).
"""

from collections import Counter
from dataclasses import replace as with_
from math import asin, cos, pi, radians, sin, sqrt

import numpy as np
import pytest
from msgspec.structs import replace
from scipy.integrate import quad

from profiler.assess import Stages, evaluate
from profiler.assess.shape.bore_rings import Ring, rings_of
from profiler.geometry.chain import figures
from profiler.output.step.bores import LEAST_LAND_MM, MOST_BORES, drilled
from profiler.output.step.profile import pieces_of
from profiler.output.step.seams import free_azimuth, is_free
from profiler.output.step.solid import Label, file_text, solid_of
from profiler.output.step.splines import between, closed_poles
from profiler.output.step.write import StepOptions, step_text, words_of
from profiler.study import HoleChange, HolePlan
from profiler.study.files import examples
from tests.output.step.solid_reader import Solid
from tests.published.drawings.test_drawing_values import chain, polygon

INNER, OUTER, TALL = 40.0, 52.0, 60.0
TUBE = polygon((INNER, 0), (OUTER, 0), (OUTER, TALL), (INNER, TALL))
ONE = Ring(1, 7, 4.0, 30.0, INNER, 0.0, OUTER, True)


def read(section, rings):
    made = solid_of(section, (), rings)
    solid = Solid(file_text(made, Label("any", "any")))
    solid.assert_closed()
    assert solid.apart() < 1e-6
    assert solid.genus() == 1 + made.holes
    assert_seams_are_free(solid)
    return made, solid


def assert_seams_are_free(solid):
    """No edge of a hole comes near the azimuth of its face's seam."""
    for face in solid.faces:
        seams = [use.edge for use in face.loops[0] if sum(u.edge == use.edge for u in face.loops[0]) == 2]
        if face.name.startswith("water hole") or not seams or len(face.loops) == 1:
            continue
        seam = next(use for use in face.loops[0] if use.edge == seams[0]).curve.at(np.array([0.5]))[0]
        for (hole,) in face.loops[1:]:
            points = hole.curve.at(np.linspace(0.0, 1.0, 200))
            away = np.abs(points[:, 1] * seam[0] - points[:, 0] * seam[1]) / np.hypot(*seam[:2])
            ahead = points[:, :2] @ seam[:2] > 0.0
            assert np.min(np.where(ahead, away, np.inf)) > 0.4 * LEAST_LAND_MM


def holes_volume(made, section):
    """By quadrature over each hole's disc, Gauss and Legendre outward and equal steps round."""
    pieces, total = pieces_of(section), 0.0
    nodes, weights = np.polynomial.legendre.leggauss(24)
    for each in made.bored:
        ring, half = each.ring, 0.5 * each.ring.diameter
        out, turn = 0.5 * half * (nodes + 1.0)[:, None], 2.0 * pi * np.arange(96) / 96
        aside, height = ring.offset + out * np.cos(turn), ring.height + out * np.sin(turn)
        ends = [np.sqrt(pieces[e.piece].radius_at(height) ** 2 - aside**2) for e in (each.inner, each.outer)]
        total += ring.count * float(np.sum((ends[1] - ends[0]) * out * 0.5 * half * weights[:, None])) * 2.0 * pi / 96
    return total


def less_the_holes(section, made):
    """The bored body's volume, as sure as edges lie: within 1e-6 mm of the holes' walls, and 1e-9 of the whole."""
    whole, taken = figures(section).volume, holes_volume(made, section)
    walls = sum(4.0 / each.ring.diameter for each in made.bored) * taken
    return pytest.approx(whole - taken, abs=1e-6 * walls + 1e-9 * whole)


def test_radial_holes_through_a_tube_take_out_what_calculus_says():
    made, solid = read(TUBE, [ONE])

    def strip(y):
        return 2.0 * sqrt(4.0 - y * y) * (sqrt(OUTER**2 - y * y) - sqrt(INNER**2 - y * y))

    each = quad(strip, -2.0, 2.0, epsabs=0.0, epsrel=1e-11)[0]
    assert holes_volume(made, TUBE) == pytest.approx(7 * each, rel=1e-9)
    assert solid.volume() == less_the_holes(TUBE, made)
    assert solid.kinds == {"CYLINDRICAL_SURFACE": 2 + 7, "PLANE": 2}


def test_the_first_hole_lies_on_the_x_axis_and_skew_leans_counter_clockwise():
    skew = radians(25.0)
    made, solid = read(TUBE, [with_(ONE, count=3, skew=skew)])
    bores = [face for face in solid.faces if face.name == "water hole of groove 1"]
    middles = np.array([[np.mean(use.curve.at(np.arange(64) / 64), axis=0) for use in face.loops[0][1::2]]
                        for face in bores])  # fmt: skip
    outside, inside = middles[0]
    assert inside[1] == pytest.approx(0.0, abs=0.05) and inside[0] == pytest.approx(INNER, abs=0.1)
    # by the sine rule the outer end stands skew - asin(r sin(skew) / R) round from the inner one
    expected = skew - asin(INNER * sin(skew) / OUTER)
    assert np.arctan2(outside[1], outside[0]) == pytest.approx(expected, abs=2e-3) and expected > 0.0
    assert solid.volume() == less_the_holes(TUBE, made)


@pytest.mark.parametrize("skew_deg", [0.0, 30.0, 75.0])
@pytest.mark.parametrize("bulge", [-0.1, 0.0, 0.1])
def test_holes_end_on_cones_and_arcs_too(bulge, skew_deg):
    """A leaning wall, straight or an arc either way, its outside a cone; 0.1 makes a revolved face, -0.1 a torus."""
    section = chain((60, 0, 0), (95, 80, 0), (70, 80, bulge), (40, 0, 0))
    middle = float(pieces_of(section)[2].radius_at(np.array(40.0)))
    made, solid = read(section, [Ring(1, 5, 3.0, 40.0, middle, radians(skew_deg), 77.5, True)])
    assert made.holes == 5 and not made.marked
    assert solid.volume() == less_the_holes(section, made)


def test_a_face_whose_rings_leave_no_gap_for_a_seam_is_parted_between_them():
    """Each ring leans a quarter of a pitch more than the one below; inside they begin one above the other."""
    rings = [with_(ONE, groove=k + 1, count=36, height=10.0 + 12.0 * k, diameter=5.0, skew=0.19 * k) for k in range(4)]
    made, solid = read(TUBE, rings)
    assert made.holes == 4 * 36
    assert len(solid.faces) == made.faces == 4 * 36 + 2 + 1 + 4
    assert solid.volume() == less_the_holes(TUBE, made)


def test_an_azimuth_is_free_where_it_is_half_a_land_away_from_every_hole():
    (each,), _ = drilled(pieces_of(TUBE), TUBE.points, [with_(ONE, skew=0.3)])
    middle, found = free_azimuth([(each.ring, each.inner)])
    assert found and is_free(middle, [(each.ring, each.inner)])
    edge = each.ring.ways[3] + each.inner.last
    land = 0.5 * LEAST_LAND_MM / each.inner.radius
    for away, free in ((1.01 * land, True), (0.99 * land, False), (-0.1 * land, False)):
        assert is_free(edge + away, [(each.ring, each.inner)]) == free


def test_faces_whose_seams_differ_share_a_circle_in_two_halves():
    tapered = chain((INNER, 0, 0), (OUTER, 0, 0), (OUTER + 2, 30, 0), (OUTER, TALL, 0), (INNER, TALL, 0))
    # the upper ring leans by half a pitch on its way out, so that its gaps lie over the lower ring's holes
    rings = [with_(ONE, groove=1, count=28, height=15.0, diameter=5.0),
             with_(ONE, groove=2, count=28, height=45.0, diameter=5.0, skew=0.457)]  # fmt: skip
    made, solid = read(tapered, rings)
    assert made.holes == 56
    halves = [face for face in solid.faces if face.kind == "CONICAL_SURFACE" and len(face.loops[0]) > 4]
    assert halves, "no circle is parted"
    assert solid.volume() == less_the_holes(tapered, made)


STEPPED = polygon((40, 0), (52, 0), (52, 30), (56, 30), (56, 60), (40, 60))
POCKET = polygon((40, 0), (60, 0), (60, 60), (40, 60), (40, 33), (50, 31), (50, 27), (45, 27), (45, 28), (43, 20),
                 (40, 20))  # fmt: skip
REFUSALS = {
    "wider than the flat": (TUBE, [with_(ONE, height=1.5)]),
    "do not open into the jacket": (TUBE, [with_(ONE, in_jacket=False)]),
    "come out over an edge": (STEPPED, [ONE]),
    "meet another groove": (POCKET, [with_(ONE, height=24.0, inner=44.0, diameter=6.5)]),
    "meet each other": (TUBE, [with_(ONE, count=63)]),
    "graze": (TUBE, [with_(ONE, skew=radians(88.0))]),
    "too near to the holes of groove 1": (TUBE, [ONE, with_(ONE, groove=2, height=33.0)]),
}


@pytest.mark.parametrize("why", REFUSALS)
def test_a_ring_that_cannot_be_cut_is_given_as_axes_and_points(why):
    section, rings = REFUSALS[why]
    made, solid = read(section, rings)
    marked = made.marked[-1]
    assert why in marked.why and len(made.marked) == 1
    (curves,) = solid.file.all("GEOMETRIC_CURVE_SET")
    assert curves.values[0] == marked.ring.words
    marks = [solid.file[ref] for ref in curves.values[1]]
    assert Counter(mark.keyword for mark in marks) == {
        "TRIMMED_CURVE": marked.ring.count,
        "CARTESIAN_POINT": 2 * marked.ring.count,
    }
    for axis in (mark for mark in marks if mark.keyword == "TRIMMED_CURVE"):
        line, (start,), (end,) = axis.values[1:4]
        (a, b), origin = (np.array(solid.file[ref].values[1]) for ref in (start, end)), solid.file[line].values[1]
        way = solid.file[solid.file[solid.file[line].values[2]].values[1]].values[1]
        assert origin == start and (b - a) / np.linalg.norm(b - a) == pytest.approx(way, abs=1e-9)
        assert (np.hypot(*a[:2]), np.hypot(*b[:2])) == pytest.approx((marked.ring.inner, marked.ring.outer), abs=1e-8)


def test_a_ring_with_no_wall_behind_it_is_given_as_points():
    made, solid = read(TUBE, [with_(ONE, outer=INNER - 1.0, in_jacket=False)])
    (curves,) = solid.file.all("GEOMETRIC_CURVE_SET")
    assert {solid.file[ref].keyword for ref in curves.values[1]} == {"CARTESIAN_POINT"}
    assert len(curves.values[1]) == made.marked[0].ring.count


def test_a_hole_stays_in_its_face_however_near_to_its_end():
    """Just in is cut, just out is not: nothing in between makes a broken solid."""
    for height in (2.0 + LEAST_LAND_MM + 1e-6, 2.0 + LEAST_LAND_MM - 1e-6):
        made, _ = read(TUBE, [with_(ONE, height=height, count=2)])
        assert bool(made.bored) == (height > 2.0 + LEAST_LAND_MM)


def test_neighbours_are_cut_as_long_as_some_land_is_left_between_them():
    width = 2.0 * asin(2.0 / INNER)
    most = int(2.0 * pi / (width + LEAST_LAND_MM / INNER))
    assert read(TUBE, [with_(ONE, count=most)])[0].bored
    assert read(TUBE, [with_(ONE, count=most + 1)])[0].marked


@pytest.mark.parametrize("count", [24, 48, 96])
def test_the_closed_spline_follows_a_circle_as_closely_as_its_theory_says(count):
    turn = 2.0 * pi * np.arange(count) / count
    poles = closed_poles(np.stack((np.cos(turn), np.sin(turn)), axis=1))
    assert between(poles, 0.0) == pytest.approx(np.stack((np.cos(turn), np.sin(turn)), axis=1), abs=1e-14)
    off = np.max(np.abs(np.hypot(*between(poles, 0.5).T) - 1.0))
    assert off == pytest.approx((2.0 * pi / count) ** 4 / 384.0, rel=0.05)


@pytest.fixture(scope="module")
def watered():
    study = examples.read("watered")
    plan = HolePlan(4, 1.5, 0.0, (HoleChange(2, count=3, skew_deg=40.0), HoleChange(3, count=0),
                                  HoleChange(5, diameter_mm=9.0), HoleChange(8, count=5)))  # fmt: skip
    return evaluate(replace(study.design, holes=plan), study.machine, study.duty, want=Stages.FINDINGS)


def test_the_bowls_holes_go_from_groove_floor_to_outside(watered):
    text, made = step_text(watered, StepOptions())
    solid = Solid(text)
    solid.assert_closed()
    assert_seams_are_free(solid)
    assert solid.apart() < 1e-6 and solid.genus() == 1 + made.holes == 1 + 3 + 5 + 8 * 4
    names = Counter(face.name for face in solid.faces)
    assert names["water hole of groove 2"] == 3 and names["water hole of groove 3"] == 0
    floors = {face.name: len(face.loops) - 1 for face in solid.faces if face.name.endswith(" floor")}
    assert floors["groove 8 floor"] == 5 and floors["groove 5 floor"] == 0
    assert holes_volume(made, watered.shape.outline) > 1000.0
    assert solid.volume() == less_the_holes(watered.shape.outline, made)
    said = solid.file.header["FILE_DESCRIPTION"][0]
    assert any(line.startswith("40 water holes in 10 rings; the datum is the X axis") for line in said)
    assert "LEFT OUT of the solid: 4 water holes in 1 ring, given as axes and points:" in said
    assert "groove 5: 4 holes of diameter 9: they are wider than the flat of the groove floor." in said
    assert words_of(made) == f"exact solid, {made.faces} faces, 40 water holes, 1 ring of holes as axes and points"


def test_holes_can_be_left_out_and_the_file_says_so(watered):
    text, made = step_text(watered, StepOptions(holes=False))
    solid = Solid(text)
    assert not made.bored and not made.marked and solid.genus() == 1
    assert "LEFT OUT: the water holes." in solid.file.header["FILE_DESCRIPTION"][0]


def test_every_ring_lies_where_the_study_has_it(watered):
    """The plan's own numbers come through the water network's units unharmed."""
    _, made = step_text(watered, StepOptions())
    floor = watered.shape.contours.corners[:, 1:3].mean(axis=1)
    for each in made.bored:
        ring = each.ring
        assert (ring.inner, ring.height) == pytest.approx(tuple(floor[ring.groove - 1]), rel=1e-12)
    assert {each.ring.diameter for each in made.bored} == {1.5}
    assert cos(next(e.ring.skew for e in made.bored if e.ring.groove == 2)) == pytest.approx(cos(radians(40.0)))


def test_a_drill_list_longer_than_a_solid_takes_is_marked_beyond():
    rings = [with_(ONE, groove=k + 1, count=1200, diameter=0.05, height=8.0 * (k + 1)) for k in range(5)]
    bored, marked = drilled(pieces_of(TUBE), TUBE.points, rings)
    assert [each.ring.groove for each in bored] == [1, 2] and [each.ring.groove for each in marked] == [3, 4, 5]
    assert {each.why for each in marked} == {f"a solid takes no more than {MOST_BORES} holes"}


def test_start_phase_and_the_sense_of_the_skew_are_those_of_the_plan(watered):
    """Counter-clockwise from the X axis: hole 1 of ring k is at start + k phase."""
    plan = HolePlan(6, 1.5, -20.0, start_deg=15.0, phase_deg=7.5)
    e = evaluate(replace(watered.design, holes=plan), watered.machine, watered.duty, Stages(0))
    rings = rings_of(e.shape.holes)
    for k, ring in enumerate(rings):
        assert ring.azimuths[0] == pytest.approx(radians(15.0 + 7.5 * k))
        assert ring.ways[0] - ring.azimuths[0] == pytest.approx(radians(-20.0))
        start = ring.inner * np.array([cos(ring.azimuths[0]), sin(ring.azimuths[0])])
        end = start + ring.length * np.array([cos(ring.ways[0]), sin(ring.ways[0])])
        assert np.hypot(*end) == pytest.approx(ring.outer, rel=1e-12)
        assert np.arctan2(end[1], end[0]) == pytest.approx(ring.azimuths[0] + ring.at_outside, abs=1e-12)
    cut = solid_of(TUBE, (), [with_(ONE, skew=radians(-25.0), first=radians(40.0))])
    solid = Solid(file_text(cut, Label("any", "any")))
    solid.assert_closed()
    assert_seams_are_free(solid)

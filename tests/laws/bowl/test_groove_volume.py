"""What a groove contains, against shapely's polygon of the rounded section, turned by Pappus' second theorem."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
import shapely
from shapely.geometry import Polygon

from profiler.assess import Stages, evaluate
from profiler.geometry import grooves
from profiler.geometry.groove_capacity import contents_polygon, kept_at_rest, rounded_section, turned_volume
from profiler.study.files import examples
from tests.tiers import kept

FINE = 400  # chords an arc; its area is then right to 1e-6


def contours_of(name: str, **cut: float) -> grooves.Contours:
    study = examples.read(name)
    shape = evaluate(study.design, study.machine, study.duty, want=Stages.FLOW).shape
    assert shape is not None
    made = grooves.Cut(
        **{"mouth": shape.mouths.upper_length - shape.mouths.lower_length, "depth": np.full(len(shape.mouths), 9.0),
           "flank": 0.05, "floor_radius": 1.5, "edge_radius": 0.5, "square_to_axis": False} | cut
    )  # fmt: skip
    return grooves.contours(shape.wall, shape.mouths, made)


def drawn(contours: grooves.Contours, i: int) -> Polygon:
    """The rounded contour with its arcs in many chords, closed straight from end to end."""
    points = [contours.points[i, 0]]
    for (a, b), bulge in zip(pairwise(contours.points[i]), contours.bulges[i], strict=False):
        if bulge:
            turn, chord = 4.0 * np.arctan(bulge), b - a
            centre = 0.5 * (a + b) + np.array([-chord[1], chord[0]]) * (1.0 - bulge**2) / (4.0 * bulge)
            for angle in turn * np.arange(1, FINE) / FINE:
                cos, sin = np.cos(angle), np.sin(angle)
                points.append(centre + np.array([[cos, -sin], [sin, cos]]) @ (a - centre))
        points.append(b)
    return Polygon(points)


def turned(polygon: Polygon) -> float:
    return 2.0 * np.pi * polygon.centroid.x * polygon.area if polygon.area else 0.0


@pytest.mark.parametrize("name", kept(["graded", "cone", "upright"], ["graded"]))
@pytest.mark.parametrize("cut", [{}, {"floor_radius": 3.0}, {"edge_radius": 1.5}, {"square_to_axis": True}], ids=str)
@pytest.mark.parametrize("fall", [0.0, 2.0, 12.0, 30.0])
def test_a_groove_contains_its_rounded_section_outside_its_beds_line(
    name: str, cut: dict[str, float], fall: float
) -> None:
    contours = contours_of(name, **cut)
    section, lower = rounded_section(contours), contours.corners[:, 0]
    found = turned_volume(contents_polygon(section, lower, np.full(len(section), fall)))
    whole = turned_volume(section)
    for i, volume in enumerate(found):
        foot, bed = contours.points[i, 7], lower[i] + np.array([fall, 0.0])
        way = (foot - bed) / np.hypot(*(foot - bed))
        far = np.array([way[1], -way[0]]) * 500.0
        outside = Polygon([bed - 500.0 * way, bed + 500.0 * way, bed + 500.0 * way + far, bed - 500.0 * way + far])
        expected = turned(shapely.intersection(drawn(contours, i), outside))
        # chords enclose a whole arc's area exactly, one that is cut through nearly
        assert volume == pytest.approx(expected, rel=1e-5, abs=2e-5 * whole[i])


@pytest.mark.parametrize("square", [True, False])
def test_what_is_kept_at_rest_lies_lower_than_the_top_of_the_lower_edge(square: bool) -> None:
    contours = contours_of("graded", square_to_axis=square)
    for i, volume in enumerate(kept_at_rest(contours)):
        polygon = drawn(contours, i)
        rim = np.array(polygon.exterior.coords)[: FINE + 1, 1].max()
        expected = turned(shapely.intersection(polygon, shapely.box(0.0, -1e3, 1e4, rim)))
        assert volume == pytest.approx(expected, rel=2e-3, abs=0.5)


def test_sharp_corners_hold_their_quadrilateral_and_more_than_round_ones() -> None:
    round_one = contours_of("graded", edge_radius=0.0)
    sharp = contours_of("graded", edge_radius=0.0, floor_radius=0.0)
    whole = turned_volume(rounded_section(sharp))
    assert whole == pytest.approx(turned_volume(sharp.corners), rel=1e-12)
    share = turned_volume(rounded_section(round_one)) / whole
    assert np.all((share > 0.98) & (share < 0.995))
    half = turned_volume(rounded_section(contours_of("graded", edge_radius=0.0, floor_radius=0.75)))
    assert (whole - turned_volume(rounded_section(round_one))) / (whole - half) == pytest.approx(
        np.full(len(whole), 4.0), rel=0.02
    )  # a rounding takes away in proportion to its radius squared


def test_twice_all_lengths_give_eight_times_the_volume() -> None:
    contours = contours_of("graded")
    twice = replace(contours, corners=2.0 * contours.corners, points=2.0 * contours.points)
    one, two = rounded_section(contours), rounded_section(twice)
    assert turned_volume(two) == pytest.approx(8.0 * turned_volume(one), rel=1e-12)

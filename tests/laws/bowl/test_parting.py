"""How a former comes out: against plain geometry, and segments moved as they are told to, checked with shapely."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from shapely import affinity
from shapely.geometry import Point, Polygon

from profiler.assess import evaluate
from profiler.assess.shape.former_parting import parting_of
from profiler.geometry.parting import segments
from profiler.output.blocks.as_text import blocks_text
from profiler.output.moulder.moulder_blocks import Moulding, moulder_blocks
from profiler.output.writing import preview
from profiler.pictures.sheet.clashes import clashes
from profiler.study import GrooveRule, Knot, SquareTo
from profiler.study.edits.design_edits import plain_cone, with_grooves, with_knots
from profiler.study.files import examples


def evaluated(edit=lambda d: d, name="graded"):
    study = examples.read(name)
    return evaluate(edit(study.design), study.machine, study.duty)


def cone(angle_deg, **grooves):
    return lambda d: replace(
        with_grooves(
            plain_cone("cone", 330.0, 217.6, angle_deg),
            replace(GrooveRule(count=8, from_mm=20.0, to_mm=300.0), **grooves),
        ),
        body=d.body,
    )


def test_in_an_upright_bowl_each_rib_is_caught_by_its_depth():
    e = evaluated(cone(0.0, depth_mm=9.0))
    assert parting_of(e.shape).caught == pytest.approx(9.0, abs=1e-6)


def test_in_a_cone_a_rib_square_to_the_axis_is_caught_by_its_depth_less_what_the_mouth_opens():
    """Its floor lies `depth` outside the mouth's middle, and what lies above begins at the mouth's upper edge."""
    e = evaluated(cone(10.0, depth_mm=9.0, mouth_mm=12.0, edge_radius_mm=0.0, square_to=SquareTo.AXIS))
    rise = 0.5 * 12.0 * np.sin(np.radians(10.0))
    assert parting_of(e.shape).caught == pytest.approx(9.0 - rise, abs=1e-3)


def test_a_bowl_without_grooves_is_drawn_whole_and_one_that_leans_in_is_not():
    bare = evaluated(lambda d: with_grooves(d, GrooveRule(count=0)))
    assert parting_of(bare.shape).is_whole and "drawn out whole" in blocks_text(moulder_blocks(bare, Moulding()))
    waist = evaluated(lambda d: with_knots(with_grooves(d, GrooveRule(count=0)),
                                           (Knot(0.0, 20.0), Knot(200.0, 10.0), Knot(330.0, -8.0))))  # fmt: skip
    parting = parting_of(waist.shape)
    line = waist.shape.stations
    assert parting.wall_caught == pytest.approx(float(line.radius.max()) - waist.shape.lip_radius, abs=0.02)
    assert "leans in" in blocks_text(moulder_blocks(waist, Moulding()))


def test_above_the_split_line_nothing_is_caught_and_the_topmost_rib_lies_below_it():
    shape = evaluated().shape
    parting = parting_of(shape)
    assert shape.mouths.lower[-1] < parting.split_height < shape.height
    assert np.all(parting.caught > 0.0)


@settings(max_examples=40, deadline=None)
@given(st.floats(40.0, 800.0), st.floats(0.01, 0.2), st.floats(0.3, 0.95))
def test_segments_moved_as_told_clear_the_ribs_and_one_another(outer, share, slender):
    under, least = share * outer, slender * outer
    made = segments(np.array([outer]), np.array([under]), least)
    if made is None:
        return
    keys = made.count // 2
    disc = Point(0.0, 0.0).buffer(outer, quad_segs=360)
    hole = Point(0.0, 0.0).buffer(made.middle_radius, quad_segs=360)
    reach = 2.0 * outer
    half = 0.5 * made.key_width
    slot = Polygon([(0.0, -half), (reach, -half), (reach, half), (0.0, half)])
    slots = [affinity.rotate(slot, 360.0 * (k + 0.5) / keys, origin=(0.0, 0.0)) for k in range(keys)]
    ring = disc.difference(hole)
    for each in slots:
        ring = ring.difference(each)
    wide = [part for part in ring.geoms if part.area > 1e-6 * disc.area]
    assert len(wide) == keys
    one = max(wide, key=lambda part: part.centroid.x)  # its middle lies on the x axis
    moved = affinity.translate(one, -made.travel, 0.0)
    room = 1e-3 * outer  # a circle of flat sides
    assert all(np.hypot(x, y) <= outer - under + room for x, y in moved.exterior.coords)
    for other in wide:
        if other is not one:
            assert moved.intersection(other).area <= 1e-3 * one.area
    assert moved.bounds[0] >= -made.middle_radius - room  # within the hole, not through the other side
    assert least - made.middle_radius >= made.travel - 1e-9


def test_a_core_too_slender_for_segments_is_a_lost_one():
    assert segments(np.array([30.0]), np.array([12.0]), 8.0) is None


def test_pour_mass_is_the_bowl_and_its_waste_and_says_so_where_none_is_given():
    e = evaluated()
    said = blocks_text(moulder_blocks(e, Moulding(waste_pct=12.0)))
    assert f"{1.12 * e.body.mass_kg:.2f} kg" in said and "12 % of the bowl's mass" in said
    assert "no waste is given" in blocks_text(moulder_blocks(e, Moulding()))


def test_shrinkage_goes_by_direction_and_is_not_invented():
    e = evaluated()
    said = blocks_text(moulder_blocks(e, Moulding(across_pct=1.5, along_pct=0.5)))
    assert f"{1.015 * 2.0 * e.shape.lip_radius:.2f}" in said and f"{1.005 * e.shape.height:.2f}" in said
    plain = blocks_text(moulder_blocks(e, Moulding()))
    assert plain.count("not given") >= 3


@pytest.mark.parametrize("name", examples.names())
def test_no_texts_meet_on_its_pages(name):
    assert not any(clashes(sheet) for sheet in preview("moulder", evaluated(name=name)))

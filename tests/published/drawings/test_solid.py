"""Turned bodies as trimesh reads them back. The reference section's volume was agreed on by a solid modeller, an
independent CAD kernel and Pappus's theorem (see test_drawing_values)."""

import io
import struct
import zipfile

import numpy as np
import pytest
import shapely
import trimesh
from hypothesis import HealthCheck, Phase, assume, given, settings
from msgspec.structs import replace

from profiler.assess import Stages, evaluate
from profiler.assess.shape.bore_rings import Ring, rings_of
from profiler.geometry.chain import figures, sampled
from profiler.output.record.option import Request
from profiler.output.solids.mesh import drilled_body, stl_bytes, threemf_bytes, turned
from profiler.output.solids.section_points import ring_points
from profiler.output.solids.solid_output import CROSSED
from profiler.output.step.solid import solid_of
from profiler.output.writing import export
from profiler.study.files import examples
from tests.laws.bowl.any_design import designs, plans
from tests.output.step.test_bores import holes_volume
from tests.published.drawings.test_drawing_values import GROOVED, chain
from tests.tiers import two_examples

SHARE = 5e-4


def read(data, kind):
    mesh = trimesh.load_mesh(io.BytesIO(data), file_type=kind)
    return mesh if hasattr(mesh, "is_watertight") else next(iter(mesh.geometry.values()))


@pytest.mark.parametrize("kind", ["stl", "3mf"])
def test_the_reference_ring_is_a_closed_solid_of_the_modellers_volume(kind):
    mesh = turned(chain(*GROOVED))
    solid = read(stl_bytes(mesh) if kind == "stl" else threemf_bytes(mesh), kind)
    assert solid.is_watertight and solid.is_winding_consistent and solid.is_volume
    assert solid.euler_number == 0  # a ring has one hole through it
    assert solid.volume == pytest.approx(2_913_778.0376, rel=SHARE)


@pytest.mark.parametrize("name", two_examples())
def test_every_example_is_a_closed_solid_of_its_bodys_volume(name):
    study = examples.read(name)
    e = evaluate(study.design, study.machine, study.duty)
    solid = read(stl_bytes(turned(e.shape.outline)), "stl")
    assert solid.is_watertight and solid.is_winding_consistent
    assert solid.volume == pytest.approx(e.body.volume_mm3, rel=SHARE)
    assert solid.center_mass == pytest.approx((0.0, 0.0, e.body.centre_height_mm), abs=0.05)


@settings(max_examples=15, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck),
          phases=[Phase.generate])  # fmt: skip
@given(designs())
def test_random_bodies_are_closed_solids_of_their_volume(design):
    """Volume here by Pappus's theorem in shapely's terms: the section's area times the way of its centroid."""
    study = examples.read("graded")
    e = evaluate(design, study.machine, study.duty, want=Stages.FINDINGS)
    assume(e.shape is not None and not any(f.kind in CROSSED for f in e.findings))
    solid = read(stl_bytes(turned(e.shape.outline)), "stl")
    section = shapely.Polygon(sampled(e.shape.outline, 1e-4))
    assert solid.is_watertight and solid.is_winding_consistent
    assert solid.volume == pytest.approx(2.0 * np.pi * section.centroid.x * section.area, rel=SHARE)


def test_a_thin_body_keeps_its_volume_too():
    """A cone 2 mm thick under an arc: the section is sampled more finely until it does."""
    thin = chain((500, 0, 0), (502, 0, 0.1), (602, 300, 0), (600, 300, -0.1))
    mesh = turned(thin)
    solid = read(stl_bytes(mesh), "stl")
    assert solid.volume == pytest.approx(figures(thin).volume, rel=SHARE)


def test_the_3mf_says_millimetres_and_the_stl_has_no_degenerate_facet():
    mesh = turned(chain(*GROOVED))
    with zipfile.ZipFile(io.BytesIO(threemf_bytes(mesh, "A & <B>"))) as package:
        model = package.read("3D/3dmodel.model").decode("utf-8")
    assert 'unit="millimeter"' in model and "A &amp; &lt;B>" in model and "holes left out" in model
    data = stl_bytes(mesh)
    count = struct.unpack_from("<I", data, 80)[0]
    assert len(data) == 84 + 50 * count
    facets = np.frombuffer(data, dtype=[("n", "<f4", 3), ("c", "<f4", (3, 3)), ("s", "<u2")], offset=84)
    c = facets["c"].astype(float)
    assert np.linalg.norm(np.cross(c[:, 1] - c[:, 0], c[:, 2] - c[:, 0]), axis=1).min() > 0.0
    assert np.linalg.norm(facets["n"], axis=1) == pytest.approx(np.ones(count), abs=1e-5)


def test_the_files_of_the_default_are_no_larger_than_said_and_a_chosen_fineness_counts(tmp_path):
    """7.5 MB at 0.02 mm along the section and 0.03 round, 4.5 MB at 0.05 for both."""
    study = examples.read("graded")
    e = evaluate(study.design, study.machine, study.duty)
    sizes = {}
    for sag in ({}, {"sag_along": 0.05, "sag_round": 0.05}, {"sag_along": 0.005}):
        export(tmp_path / "s.stl", e, Request(sag))
        sizes[tuple(sag.values())] = (tmp_path / "s.stl").stat().st_size / 1e6
    assert sizes[()] <= 7.5 and sizes[0.05, 0.05] <= 4.5 and sizes[0.005,] > sizes[()]


def test_no_point_of_the_section_lies_farther_from_the_triangles_than_was_chosen():
    """By shapely, over the section sampled a hundred times as finely."""
    study = examples.read("graded")
    outline = evaluate(study.design, study.machine, study.duty).shape.outline
    for sag in (0.01, 0.02, 0.05):
        ring = ring_points(outline, sag).points
        line = shapely.LinearRing(ring)
        fine = sampled(outline, 0.01 * sag)
        assert float(np.max(shapely.distance(shapely.points(fine), line))) <= sag


@pytest.fixture(scope="module")
def watered():
    study = examples.read("watered")
    return evaluate(study.design, study.machine, study.duty)


def assert_drilled(solid, holes):
    """Closed, in one piece, and with as many ways through it as there are holes and the one round the axis."""
    assert solid.is_watertight and solid.is_winding_consistent and solid.is_volume
    assert solid.euler_number == 2 - 2 * (1 + holes)


def test_water_holes_are_in_the_triangles_where_they_are_asked_for(watered):
    """The volume is the exact solid's, which test_bores finds in the STEP file; flat sides lose a few 1e-5 of it."""
    exact = solid_of(watered.shape.outline, (), rings_of(watered.shape.holes))
    mesh, bored, marked = drilled_body(watered.shape.outline, rings_of(watered.shape.holes), 0.008, 0.004)
    solid = trimesh.Trimesh(mesh.corners, mesh.triangles, process=False)
    assert not marked and sum(each.ring.count for each in bored) == exact.holes == 430
    assert solid.is_watertight
    volume = figures(watered.shape.outline).volume - holes_volume(exact, watered.shape.outline)
    assert solid.volume == pytest.approx(volume, rel=1e-4)


@pytest.mark.parametrize("kind", ["stl", "3mf"])
def test_a_file_with_holes_is_closed_too_and_says_how_many(watered, kind, tmp_path):
    made = export(tmp_path / f"b.{kind}", watered, Request({"solid_holes": "cut"}))
    assert "430 water holes cut" in made[0].words
    solid = read(made[0].path.read_bytes(), kind)
    assert_drilled(solid, 430)
    rings = rings_of(watered.shape.holes)
    taken = sum(0.25 * np.pi * ring.diameter**2 * ring.length * ring.count for ring in rings)
    assert solid.volume == pytest.approx(watered.body.volume_mm3 - taken, rel=SHARE)


TUBE = chain((40, 0, 0), (52, 0, 0), (52, 60, 0), (40, 60, 0))


@pytest.mark.parametrize("rings", [
    [Ring(1, 1, 4.0, 30.0, 40.0, 0.0, 52.0, True)],
    [Ring(1, 7, 4.0, 20.0, 40.0, 0.6, 52.0, True), Ring(2, 60, 3.9, 24.0, 40.0, -0.2, 52.0, True)],
    [Ring(1, 250, 0.9, 30.0, 40.0, 0.0, 52.0, True, 0.3)],
])  # fmt: skip
def test_one_hole_skewed_holes_and_hardly_any_land_between_them(rings):
    mesh, bored, marked = drilled_body(TUBE, rings)
    assert not marked and len(bored) == len(rings)
    solid = trimesh.Trimesh(mesh.corners, mesh.triangles, process=False)
    assert_drilled(solid, sum(ring.count for ring in rings))
    assert solid.area_faces.min() > 0.0
    plain = turned(TUBE)
    taken = trimesh.Trimesh(plain.corners, plain.triangles, process=False).volume - solid.volume
    sides = 0.9  # a polygon of twelve sides or more in a circle has 95 % of its area; the tube's own sides are flat too
    assert sides * sum(drilled_volume(ring) for ring in rings) < taken < sum(drilled_volume(ring) for ring in rings)


def drilled_volume(ring):
    """Of a ring's holes through the tube, by the length of each one's axis, and 3 % for its curved ends."""
    return 0.25 * np.pi * ring.diameter**2 * ring.length * ring.count * 1.03


def test_holes_that_cannot_be_cut_are_counted_and_the_body_is_closed():
    rings = [Ring(1, 100, 4.0, 30.0, 40.0, 0.0, 52.0, True)]  # wider than their pitch
    mesh, bored, marked = drilled_body(TUBE, rings)
    assert not bored and marked[0].why == "they meet each other"
    assert trimesh.Trimesh(mesh.corners, mesh.triangles, process=False).is_watertight


@settings(max_examples=6, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck),
          phases=[Phase.generate])  # fmt: skip
@given(designs(), plans())
def test_random_bodies_with_any_holes_are_closed(design, plan):
    assert_random_body(design, plan)


@pytest.mark.long
@settings(max_examples=400, deadline=None, suppress_health_check=list(HealthCheck), phases=[Phase.generate])
@given(designs(), plans())
def test_many_random_bodies_with_any_holes_are_closed(design, plan):
    assert_random_body(design, plan)


def assert_random_body(design, plan):
    study = examples.read("graded")
    e = evaluate(replace(design, holes=plan), study.machine, study.duty, want=Stages.FINDINGS)
    assume(e.shape is not None and not any(f.kind in CROSSED for f in e.findings))
    mesh, bored, _ = drilled_body(e.shape.outline, rings_of(e.shape.holes))
    solid = trimesh.Trimesh(mesh.corners, mesh.triangles, process=False)
    assert_drilled(solid, sum(each.ring.count for each in bored))

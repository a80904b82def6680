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

from profiler.assess import Stages, evaluate
from profiler.geometry.chain import sampled
from profiler.output.solids.mesh import _section_points, stl_bytes, threemf_bytes, turned
from profiler.output.solids.solid_output import CROSSED
from profiler.study.files import examples
from tests.laws.bowl.any_design import designs
from tests.published.drawings.test_drawing_values import GROOVED, chain

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


@pytest.mark.parametrize("name", examples.names())
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
    from profiler.geometry.chain import figures

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
    from profiler.output.record.option import Request
    from profiler.output.writing import export

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
        ring = _section_points(outline, sag)
        line = shapely.LinearRing(ring)
        fine = sampled(outline, 0.01 * sag)
        assert float(np.max(shapely.distance(shapely.points(fine), line))) <= sag

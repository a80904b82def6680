"""Profiles other than the plain bowl, read back by GDAL (pyogrio): area, extents, orientation, closure, format.

The expected areas are worked here from the wall itself, by the trapezium rule on a fine grid, or from the seat's
points; not from the writer.
"""

from collections import Counter

import numpy as np
import pyogrio
import pytest
import shapely
from hypothesis import HealthCheck, Phase, assume, given, settings
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.assess.checks.check_making import draft_findings, drafts_deg, segment_findings, tool_findings
from profiler.geometry.chain import Chain
from profiler.output.drawings.parts import DATUM_WORDS, LAYERS, Datum, Part, ProfileOptions, part_chain
from profiler.output.drawings.profile_dxf import write_profile
from profiler.output.drawings.profile_output import findings_of
from profiler.output.record.option import Request
from profiler.output.solids.solid_output import CROSSED
from profiler.output.writing import export
from profiler.study import GrooveRule, SquareTo
from profiler.study.edits.design_edits import with_grooves
from profiler.study.files import examples
from tests.laws.bowl.any_design import designs

STUDY = examples.read("graded")
BARE = with_grooves(STUDY.design, GrooveRule(count=0))
MACHINE = STUDY.machine


def written(tmp_path, options, design=STUDY.design):
    e = evaluate(design, MACHINE, STUDY.duty)
    path = tmp_path / "part.dxf"
    write_profile(path, e.shape, design=design.name, options=options, machine=MACHINE)
    return path, e


def read(path, layer):
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": "0.05"})
    try:
        meta, _, geometry, columns = pyogrio.raw.read(path, columns=["Layer", "Text"])
    finally:
        pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": None})
    table = dict(zip(meta["fields"], columns, strict=True))
    lines = shapely.set_precision(shapely.from_wkb(geometry)[table["Layer"] == layer], 1e-6)
    polygons = shapely.get_parts(shapely.polygonize(list(lines)))
    assert len(polygons) == 1
    return polygons[0], [str(t) for t in table["Text"] if t]


def area_inside(e, hub):
    """Between wall and hub hole, floor to lip, without grooves."""
    z = np.linspace(0.0, e.shape.height, 40001)
    return float(np.trapezoid(e.shape.wall.radius_at(z) - hub, z))


def test_the_former_is_what_lies_inside_the_wall(tmp_path):
    path, e = written(tmp_path, ProfileOptions(Part.FORMER), BARE)
    polygon, texts = read(path, "FORMER")
    assert polygon.area == pytest.approx(area_inside(e, 38.0), rel=1e-5)
    assert "NO SHRINKAGE ALLOWANCE" in texts and "CHECK DIMENSION: FLOOR TO LIP 330.000 mm" in texts


def test_bowl_and_former_together_fill_the_outer_wall_grooves_and_all(tmp_path):
    """What is cut out of one is a rib on the other."""
    former, _ = read(written(tmp_path, ProfileOptions(Part.FORMER))[0], "FORMER")
    liner, _ = read(written(tmp_path, ProfileOptions())[0], "OUTLINE")
    assert shapely.intersection(former, liner).area < 0.01
    bare, _ = read(written(tmp_path, ProfileOptions(Part.FORMER), BARE)[0], "FORMER")
    bare_liner, _ = read(written(tmp_path, ProfileOptions(), BARE)[0], "OUTLINE")
    assert former.area + liner.area == pytest.approx(bare.area + bare_liner.area, rel=1e-5)


def test_shrinkage_enlarges_the_former_in_both_directions_and_is_printed(tmp_path):
    plain, _ = read(written(tmp_path, ProfileOptions(Part.FORMER))[0], "FORMER")
    larger, texts = read(written(tmp_path, ProfileOptions(Part.FORMER, shrinkage_pct=1.5))[0], "FORMER")
    assert larger.area == pytest.approx(plain.area * 1.015**2, rel=1e-5)
    assert np.array(larger.bounds) == pytest.approx(np.array(plain.bounds) * 1.015, abs=1e-3)
    assert "SHRINKAGE +1.5 % ADDED" in texts and "CHECK DIMENSION: FLOOR TO LIP 334.950 mm" in texts


@pytest.mark.parametrize("part", [Part.LINER, Part.SEAT])
def test_only_the_former_takes_a_shrinkage_allowance(tmp_path, part):
    with pytest.raises(ValueError, match="groove former"):
        written(tmp_path, ProfileOptions(part, shrinkage_pct=1.0))


def test_the_seat_is_the_machines_own_profile_closed_on_the_axis(tmp_path):
    polygon, _ = read(written(tmp_path, ProfileOptions(Part.SEAT))[0], "SEAT")
    z, r = (np.array([getattr(p, n) for p in MACHINE.seat]) for n in ("height_mm", "radius_mm"))
    assert polygon.area == pytest.approx(float(np.trapezoid(r, z)), rel=1e-9)
    assert polygon.bounds == pytest.approx((0.0, -16.0, r.max(), z.max() - 16.0), abs=1e-6)


@pytest.mark.parametrize(("datum", "low"), [(Datum.FLOOR, -16.0), (Datum.UNDERSIDE, 0.0), (Datum.LIP, -346.0)])
def test_the_datum_is_at_height_zero_and_marked(tmp_path, datum, low):
    path, _ = written(tmp_path, ProfileOptions(datum=datum, turning=True))
    polygon, texts = read(path, "OUTLINE")
    assert (polygon.bounds[0], polygon.bounds[2]) == pytest.approx((low, low + 346.0), abs=1e-6)
    assert f"DATUM {datum.value.upper()}" in texts and "Y = RADIUS FROM SPIN AXIS, X = HEIGHT" in texts


def test_turning_swaps_the_axes_and_keeps_every_curve(tmp_path):
    native, _ = read(written(tmp_path, ProfileOptions())[0], "OUTLINE")
    turning, _ = read(written(tmp_path, ProfileOptions(turning=True))[0], "OUTLINE")
    swapped = shapely.transform(native, lambda p: p[:, ::-1])
    assert shapely.symmetric_difference(swapped, turning).area < 1e-3 * 330.0


@pytest.mark.parametrize("part", [Part.LINER, Part.FORMER, Part.SEAT, Part.GAUGE])
def test_every_part_is_closed_without_gaps_and_without_tiny_segments_in_both_versions(tmp_path, part):
    import ezdxf.filemanagement

    for version, code in (("R2000", "AC1015"), ("R12", "AC1009")):
        path, _ = written(tmp_path, ProfileOptions(part, version=version))
        document = ezdxf.filemanagement.readfile(path)
        assert document.dxfversion == code and not document.audit().errors
        layer = part.value.upper() if part is not Part.LINER else "OUTLINE"
        entities = document.modelspace().query(f'*[layer=="{layer}"]')
        assert {entity.dxftype() for entity in entities} <= {"LINE", "ARC"}
        ends = [(e.dxf.start, e.dxf.end) if e.dxftype() == "LINE" else (e.start_point, e.end_point) for e in entities]
        nodes = Counter((round(p.x, 3), round(p.y, 3)) for pair in ends for p in pair)
        assert set(nodes.values()) == {2}
        assert min(a.distance(b) for a, b in ends) >= 0.05


def test_inside_radii_under_the_tool_are_found_on_either_side():
    """The bowl's inside radii are the groove floors' 2 mm; the former's are the groove edges' 0.6 mm."""
    shape = evaluate(STUDY.design, MACHINE, STUDY.duty).shape
    liner, former = (part_chain(p, shape, MACHINE) for p in (Part.LINER, Part.FORMER))
    assert [f.code for f in tool_findings(liner, 1.9)] == ["inside_corner"]  # under the flange, and at the floor
    found = tool_findings(liner, 2.1)[0]
    assert (found.code, found.value) == ("inside_radius", pytest.approx(2.0, abs=1e-9))
    assert tool_findings(former, 0.5) == []
    assert tool_findings(former, 0.7)[0].value == pytest.approx(0.6, abs=1e-9)


def test_a_square_has_no_inside_corner_and_an_l_has_one():
    square = Chain(np.array([[1.0, 0], [2, 0], [2, 1], [1, 1]]), np.zeros(4))
    angle = Chain(np.array([[1.0, 0], [3, 0], [3, 1], [2, 1], [2, 2], [1, 2]]), np.zeros(6))
    assert tool_findings(square, 0.4) == []
    found = tool_findings(angle, 0.4)
    assert [f.code for f in found] == ["inside_corner"] and (found[0].from_mm, found[0].to_mm) == (1.0, 1.0)


@pytest.mark.parametrize("square_to", SquareTo)
def test_the_draft_of_a_flank_is_its_lean_from_the_depth(square_to):
    design = with_grooves(STUDY.design, replace(STUDY.design.grooves, square_to=square_to))
    shape = evaluate(design, MACHINE, STUDY.duty).shape
    for flank in drafts_deg(shape):
        assert flank == pytest.approx(np.full(14, 6.0), abs=1e-9)
    assert draft_findings(shape, 6.0) == []
    found = draft_findings(shape, 7.0)
    assert ["lower" in f.text for f in found] == [True, False]
    assert all(f.grooves == tuple(range(1, 15)) for f in found)


def test_a_former_that_is_enlarged_is_asked_at_the_size_it_is_cut():
    """Edge radii of 0.6 mm are 0.609 mm with 1.5 per cent: a tool of 0.605 mm fits there and not without."""
    e = evaluate(STUDY.design, MACHINE, STUDY.duty)
    for shrinkage, codes in ((0.0, {"inside_radius"}), (1.5, set())):
        request = Request({"part": Part.FORMER, "shrinkage": shrinkage, "tool_radius": 0.605})
        assert {f.code for f in findings_of(e, request)} & {"inside_radius"} == codes


@pytest.mark.parametrize("part", [Part.LINER, Part.FORMER, Part.SEAT, Part.GAUGE])
def test_every_file_names_its_layer_its_tolerance_and_its_datum(tmp_path, part):
    for options in (ProfileOptions(part), ProfileOptions(part, turning=True, datum=Datum.LIP, version="R12")):
        path, _ = written(tmp_path, options)
        layer = LAYERS[part]
        _, texts = read(path, layer)
        assert f"LAYER {layer}; EASED SPANS WITHIN 0.01 mm" in texts
        assert any(t.startswith(f"DATUM {options.datum.value.upper()}") for t in texts)
        assert f"HEIGHTS FROM {DATUM_WORDS[options.datum]}" in texts


@pytest.mark.parametrize("pct", [0.0, 2.0, -1.0])
def test_the_allowance_is_off_unless_asked_for_and_its_sign_is_printed(tmp_path, pct):
    assert ProfileOptions(Part.FORMER).shrinkage_pct == 0.0
    _, texts = read(written(tmp_path, ProfileOptions(Part.FORMER, shrinkage_pct=pct))[0], "FORMER")
    assert (f"SHRINKAGE {pct:+g} % ADDED" if pct else "NO SHRINKAGE ALLOWANCE") in texts


@settings(max_examples=25, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck),
          phases=[Phase.generate])  # fmt: skip
@given(designs())
def test_over_random_designs_a_profile_has_no_gap_and_says_where_a_segment_is_tiny(tmp_path_factory, design):
    """What the file holds, by ezdxf; gaps under a thousandth of a millimetre, segments of 0.05 mm or a finding."""
    import ezdxf.filemanagement

    e = evaluate(design, MACHINE, STUDY.duty)
    assume(e.shape is not None and not any(f.kind in CROSSED for f in e.findings))
    path = tmp_path_factory.mktemp("random") / "part.dxf"
    for part in (Part.LINER, Part.FORMER, Part.GAUGE):
        if part is Part.GAUGE:
            export(path, e, kind="gauge")
            told = {f.code for f in segment_findings(part_chain(part, e.shape, MACHINE))}
        else:
            made = export(path, e, Request({"part": part}))[0]
            assert made.words.endswith("closed") and "NOT" not in made.words
            told = {f.code for f in made.findings}
        entities = ezdxf.filemanagement.readfile(path).modelspace().query(f'*[layer=="{LAYERS[part]}"]')
        ends = [(e.dxf.start, e.dxf.end) if e.dxftype() == "LINE" else (e.start_point, e.end_point) for e in entities]
        points = np.array([[tuple(p)[:2] for p in pair] for pair in ends])
        nearest = np.hypot(*(points.reshape(-1, 1, 2) - points.reshape(1, -1, 2)).transpose(2, 0, 1))
        np.fill_diagonal(nearest, np.inf)
        assert nearest.min(axis=1).max() < 1e-3
        tiny = np.hypot(*(points[:, 1] - points[:, 0]).T).min() < 0.05 - 1e-6
        assert tiny == ("segment_short" in told)


def test_short_segments_are_noticed():
    short = Chain(np.array([[1.0, 0], [2, 0], [2, 0.04], [1, 1]]), np.zeros(4))
    assert segment_findings(short)[0].value == pytest.approx(0.04)
    assert segment_findings(evaluate(STUDY.design, MACHINE, STUDY.duty).shape.outline) == []

"""The profile DXF as GDAL reads it back (pyogrio, an independent reader), and its header as plain group codes.

GDAL turns arcs into chords: with a step of d radians an arc of radius R and angle a loses R^2 a d^2/12 of area and
a share d^2/24 of its length. At 0.05 degrees (d = 8.7e-4) that is at most 0.01 mm2 for the longest span of an example
(R = 763 mm, a = 9 degrees) and a share 3e-8: well inside the 1e-5 asked of area and length.
"""

from collections import Counter

import numpy as np
import pyogrio
import pytest
import shapely

from profiler.assess import evaluate
from profiler.output.drawings.profile_dxf import write_profile
from profiler.study.files import examples
from tests.tiers import of_two_examples

ARC_STEP_DEG = "0.05"
SNAP_MM = 1e-6

CASES = [(name, full) for name in examples.names() for full in (False, True)]


def evaluated(name):
    study = examples.read(name)
    return evaluate(study.design, study.machine, study.duty)


@pytest.fixture(params=of_two_examples(CASES), ids=[f"{name}-{'full' if full else 'half'}" for name, full in CASES])
def drawing(request, tmp_path):
    name, full = request.param
    evaluation = evaluated(name)
    path = tmp_path / f"{name}.dxf"
    written = write_profile(path, evaluation.shape, design=evaluation.design.name, full=full)
    return path, evaluation, full, written


def features(path):
    """Layer, text and geometry of everything GDAL finds."""
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": ARC_STEP_DEG})
    try:
        meta, _, geometry, columns = pyogrio.raw.read(path, columns=["Layer", "Text", "PaperSpace"])
    finally:
        pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": None})
    table = dict(zip(meta["fields"], columns, strict=True))
    return table, shapely.from_wkb(geometry)


def outline_of(path):
    table, geometry = features(path)
    return shapely.set_precision(geometry[table["Layer"] == "OUTLINE"], SNAP_MM)


def header_of(path):
    """Header variables as (group code, value) pairs, read without any drawing library."""
    lines = path.read_text("ascii").splitlines()
    pairs = list(zip(lines[::2], lines[1::2], strict=True))
    found, name = {}, None
    for code, value in ((c.strip(), v) for c, v in pairs):
        if (code, value) == ("0", "ENDSEC") and found:
            break
        if code == "9":
            name = value
            found[name] = []
        elif name is not None:
            found[name].append(float(value) if code in ("10", "20", "30", "40", "70") else value)
    return found


def test_area_and_length_are_those_of_the_outline(drawing):
    path, evaluation, full, _ = drawing
    halves = 2 if full else 1
    lines = outline_of(path)
    polygons = shapely.get_parts(shapely.polygonize(list(lines)))
    assert len(polygons) == halves
    figures = evaluation.shape.figures
    assert shapely.area(polygons).sum() == pytest.approx(halves * figures.area, rel=1e-5)
    assert shapely.length(lines).sum() == pytest.approx(halves * figures.length, rel=1e-5)


def test_every_node_joins_exactly_two_segments(drawing):
    path, _, _, written = drawing
    lines = outline_of(path)
    assert len(lines) == written.lines + written.arcs
    assert written.closed
    ends = np.concatenate([shapely.get_coordinates(shapely.get_point(lines, k)) for k in (0, -1)])
    assert set(Counter(map(tuple, ends)).values()) == {2}


def test_everything_lies_in_model_space_on_two_layers(drawing):
    path, _, _, _ = drawing
    table, geometry = features(path)
    assert set(table["Layer"]) == {"OUTLINE", "TEXT"}
    assert not np.any(table["PaperSpace"] == 1)  # unset in model space
    kinds = {"OUTLINE": "LineString", "TEXT": "Point"}
    assert all(shape.geom_type == kinds[layer] for layer, shape in zip(table["Layer"], geometry, strict=True))


def test_units_are_millimetres_in_both_places(drawing):
    header = header_of(drawing[0])
    assert header["$ACADVER"] == ["AC1015"]  # R2000
    assert header["$INSUNITS"] == [4.0]
    assert header["$MEASUREMENT"] == [1.0]


def test_extents_are_those_of_the_section(drawing):
    path, _, full, _ = drawing
    header = header_of(path)
    low, high = np.array(header["$EXTMIN"][:2]), np.array(header["$EXTMAX"][:2])
    found = shapely.total_bounds(outline_of(path))
    assert found == pytest.approx(np.concatenate((low, high)), abs=1e-3)
    assert low[0] == pytest.approx(-high[0] if full else evaluated("graded").shape.shell.hub_radius, abs=1e-9)
    points = shapely.get_coordinates(features(path)[1])
    assert np.all(points >= low - 1e-3) and np.all(points <= high + 1e-3)


def test_ezdxf_finds_nothing_to_repair(drawing):
    import ezdxf.filemanagement

    document = ezdxf.filemanagement.readfile(drawing[0])
    auditor = document.audit()
    assert not auditor.errors and not auditor.fixes
    assert {entity.dxftype() for entity in document.modelspace()} == {"LINE", "ARC", "TEXT"}
    assert len(document.layouts) == 2  # the model and the empty sheet every file has
    assert not list(document.layouts.get("Layout1"))
    limits = document.modelspace().dxf
    assert limits.extmin.isclose(document.header["$EXTMIN"]) and limits.extmax.isclose(document.header["$EXTMAX"])


def test_arcs_end_where_their_neighbours_begin_to_a_billionth(drawing):
    import ezdxf.filemanagement

    space = ezdxf.filemanagement.readfile(drawing[0]).modelspace()
    ends = [(e.dxf.start, e.dxf.end) for e in space.query("LINE")] + [
        (e.start_point, e.end_point) for e in space.query("ARC")
    ]
    points = np.array([tuple(p)[:2] for pair in ends for p in pair])
    apart = np.hypot(*(points[:, None] - points[None, :]).transpose(2, 0, 1))
    nearest = np.sort(apart, axis=1)[:, 1]  # the first is the point itself
    assert nearest.max() < 1e-9


def test_the_texts_say_unit_datum_and_caution(tmp_path):
    evaluation = evaluated("graded")
    path = tmp_path / "texts.dxf"
    write_profile(path, evaluation.shape, design="Größe 2 %%c \\U+00D8\n0", stops=0)
    table, _ = features(path)
    texts = [text for text in table["Text"] if text]
    whole = "\n".join(texts)
    assert path.read_bytes().isascii()
    assert "ALL DIMENSIONS IN mm" in texts
    assert "HEIGHTS FROM INNER FLOOR" in texts
    assert "OVERALL HEIGHT 346.000 mm" in whole
    assert "SPINNING" in whole
    assert "DESIGN: Grosse 2 %c /U+00D8 0" in texts
    assert "NOT CHECKED" not in whole


@pytest.mark.parametrize(("stops", "line"), [(1, "NOT CHECKED: 1 stop finding"), (3, "NOT CHECKED: 3 stop findings")])
def test_a_section_with_stop_findings_says_that_it_is_not_checked(tmp_path, stops, line):
    path = tmp_path / "stops.dxf"
    write_profile(path, evaluated("graded").shape, stops=stops)
    assert line in list(features(path)[0]["Text"])


def test_default_chords_would_miss_the_area(tmp_path):
    """The comparison can fail: GDAL's own four-degree chords are far outside the tolerance."""
    evaluation = evaluated("graded")
    path = tmp_path / "chords.dxf"
    write_profile(path, evaluation.shape)
    _, _, geometry, (layer,) = pyogrio.raw.read(path, columns=["Layer"])
    lines = shapely.set_precision(shapely.from_wkb(geometry)[layer == "OUTLINE"], SNAP_MM)
    area = shapely.area(shapely.polygonize(list(lines)))
    assert area != pytest.approx(evaluation.shape.figures.area, rel=1e-5)

"""The drawing DXF read back by an independent reader, GDAL through pyogrio, and by ezdxf's own audit.

That the frame stands in model space, hatches come last with a seed point, and the header holds real extents is what
readers were seen to need (experiments with several of them; no published source).
"""

import io

import numpy as np
import pytest

from profiler.assess import evaluate
from profiler.cli.main import main
from profiler.output.record.option import Request
from profiler.output.writing import export
from profiler.pictures.drawing.compose import drawing
from profiler.pictures.sheet.clashes import clashes
from profiler.study.files import examples
from tests.tiers import of_two_examples

CASES = [(name, design.name) for name in examples.names() for design in examples.read(name).designs]


def evaluated(name, wanted):
    study = examples.read(name)
    design = next(d for d in study.designs if d.name == wanted)
    return evaluate(design, study.machine, study.duty)


@pytest.fixture(params=of_two_examples(CASES), ids=[f"{n}: {d}" for n, d in CASES])
def written(request, tmp_path):
    e = evaluated(*request.param)
    path = tmp_path / "drawing.dxf"
    export(path, e, kind="drawing")
    return e, path


def test_gdal_reads_outline_texts_and_the_overall_height(written):
    import pyogrio

    e, path = written
    _, _, _, columns = pyogrio.raw.read(path, columns=["Layer", "Text"])
    layers, texts = ({str(v) for v in column if v is not None} for column in columns)
    assert {"OUTLINE", "CENTRE", "HATCH", "TEXT", "FRAME"} <= layers
    said = " ".join(texts)
    assert "ALL DIMENSIONS IN mm" in said and "CAUTION" in said and "uncalibrated" in said.lower()
    overall = e.shape.height + e.design.body.floor_plate_mm
    assert any(t.strip() == f"{overall:.{len(t.strip().partition('.')[2])}f}" for t in texts), "the check dimension"
    assert ("NOT CHECKED" in said) == any(f.severity == "stop" for f in e.findings)


def test_the_audit_is_clean_and_every_hatch_comes_last_with_a_seed_point(written):
    import ezdxf

    _, path = written
    document = ezdxf.readfile(path)
    audit = document.audit()
    assert not audit.errors and not audit.fixes
    kinds = [entity.dxftype() for entity in document.modelspace()]
    first = kinds.index("HATCH")
    assert set(kinds[first:]) == {"HATCH"}
    assert all(len(h.seeds) > 0 for h in document.modelspace().query("HATCH"))
    assert document.dxfversion == "AC1015" and document.units == 4 and document.header["$MEASUREMENT"] == 1
    assert np.all(np.abs(document.header["$EXTMIN"]) < 1e4) and np.all(np.abs(document.header["$EXTMAX"]) < 1e4)


@pytest.mark.parametrize(("name", "design"), CASES)
def test_no_two_texts_of_a_sheet_meet_and_none_leaves_the_frame(name, design):
    for sheet in drawing(evaluated(name, design)).sheets:
        assert clashes(sheet) == []


def test_a_second_sheet_lies_beside_the_first_and_the_model_stays_true(tmp_path):
    """Four A4 sheets at 1:5: frames of 900 x 1385 model millimetres that do not meet; the outline at its own size."""
    import pyogrio
    import shapely

    e = evaluated("graded", "Graded, first try")
    path = tmp_path / "two.dxf"
    assert "4 sheets A4, scale 1:5" in export(path, e, Request({"paper": "A4"}), "drawing")[0].words
    _, _, geometry, (layer, text) = pyogrio.raw.read(path, columns=["Layer", "Text"])
    shapes = shapely.from_wkb(geometry)
    assert {"1 / 4", "4 / 4"} <= {str(t) for t in text}
    frames = shapely.get_parts(shapely.polygonize(list(shapes[layer == "FRAME"])))
    assert len(frames) == 4 and not frames[0].intersects(frames[1])
    for frame in frames:
        low_x, low_y, high_x, high_y = frame.bounds
        assert (high_x - low_x, high_y - low_y) == pytest.approx((900.0, 1385.0), abs=1e-6)
    low_x, low_y, high_x, high_y = shapely.total_bounds(shapes[layer == "OUTLINE"])
    assert (high_x - low_x, high_y - low_y) == pytest.approx((2.0 * e.shape.shell.flange_radius, 346.0), abs=1e-6)


def test_the_terminal_writes_it_and_says_size_and_scale(tmp_path, capsys):
    study, out = tmp_path / "s.bowl", tmp_path / "s.dxf"
    assert main(["example", "graded", str(study)]) == 0
    assert main(["export", str(study), str(out), "--kind", "drawing"]) == 0
    assert "drawing on 1 sheet A2, scale 1:2" in capsys.readouterr().out
    assert io.BytesIO(out.read_bytes()).readline().strip() == b"0"

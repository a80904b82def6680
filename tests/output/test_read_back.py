"""Sheets, tables and solids from the terminal, each read back by a reader that is not ours."""

import csv
import io

import pytest
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.cli.main import main
from profiler.output import writing
from profiler.study.files import examples

STUDY = examples.read("graded")
EVALUATION = evaluate(STUDY.design, STUDY.machine, STUDY.duty)


def exported(tmp_path, suffix, *more):
    study, out = tmp_path / "s.bowl", tmp_path / f"out{suffix}"
    assert main(["example", "graded", str(study)]) == 0
    assert main(["export", str(study), str(out), *more]) == 0
    return out


def test_a_pdf_sheet_is_a2_with_searchable_text_and_true_lengths(tmp_path):
    import pdfplumber as plumber

    with plumber.open(exported(tmp_path, ".pdf")) as file:
        page = file.pages[0]
        assert page.width / 72 * 25.4 == pytest.approx(594.0, abs=0.01)
        assert page.height / 72 * 25.4 == pytest.approx(420.0, abs=0.01)
        text = page.extract_text()
    assert "Ø435.2" in text and "CAUTION" in text  # the lip: twice 217.6 mm


@pytest.mark.parametrize("suffix", [".stl", ".3mf"])
def test_a_solid_is_watertight_and_holds_the_bodys_volume(tmp_path, suffix):
    import trimesh

    mesh = trimesh.load_mesh(exported(tmp_path, suffix))
    solid = mesh if hasattr(mesh, "is_watertight") else next(iter(mesh.geometry.values()))
    assert solid.is_watertight and solid.is_winding_consistent
    assert solid.volume == pytest.approx(EVALUATION.body.volume_mm3, rel=5e-4)


@pytest.mark.parametrize("table", ["outline", "stations", "grooves", "findings"])
def test_a_table_has_as_many_cells_in_every_row_as_its_head(tmp_path, table):
    text = exported(tmp_path, ".csv", "--table", table).read_text(encoding="utf-8")
    rows = list(csv.reader(line for line in io.StringIO(text) if not line.startswith("#")))
    assert len(rows) > 2 and {len(row) for row in rows} == {len(rows[0])}


def test_an_svg_and_a_png_are_what_their_names_say(tmp_path):
    assert exported(tmp_path, ".svg").read_text(encoding="utf-8").lstrip().startswith(("<?xml", "<svg"))
    assert exported(tmp_path, ".png").read_bytes().startswith(b"\x89PNG")


def test_without_a_shape_there_is_one_sentence(tmp_path):
    with pytest.raises(ValueError, match="no section"):
        writing.export(tmp_path / "none.stl", evaluate_broken())
    assert not list(tmp_path.iterdir())


def evaluate_broken():
    from profiler.study.edits import design_edits as edits

    design = edits.move_knot(STUDY.design, 0, None, -85.5)
    return evaluate(replace(design, body=replace(design.body, hub_hole_mm=5000.0)), STUDY.machine, STUDY.duty)

"""What a drawing and a report say has changed since an earlier revision: what was edited and what came of it."""

import pytest
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.cli.main import main
from profiler.explore.what_changed import changes, changes_since, of_records
from profiler.output.blocks.as_text import blocks_text
from profiler.output.record.option import Request
from profiler.output.report.changed import changed_blocks
from profiler.output.writing import export, preview
from profiler.pictures.drawing.schedules import earlier_revisions
from profiler.pictures.sheet.clashes import clashes, texts_of
from profiler.study import HolePlan, SquareTo, write_study
from profiler.study.edits.design_edits import move_knot
from profiler.study.files import examples


@pytest.fixture(scope="module")
def study():
    return examples.read("graded")


@pytest.fixture(scope="module")
def before(study):
    return evaluate(study.design, study.machine, study.duty)


@pytest.fixture(scope="module")
def now(study):
    design = move_knot(study.design, 1, angle_deg=26.0)
    design = replace(design, grooves=replace(design.grooves, depth_mm=10.0))
    return evaluate(design, study.machine, replace(study.duty, speed_rpm=900.0))


@pytest.fixture
def saved(study, tmp_path):
    path = tmp_path / "rev-A.bowl"
    write_study(study, path)
    return str(path)


def test_the_same_study_differs_in_nothing(before, saved):
    found = changes_since(saved, before)
    assert found.every == () and "Nothing" in blocks_text(changed_blocks(found))


def test_each_edit_is_told_with_both_values_and_what_comes_of_it(before, now):
    found = changes("a.bowl", now, before)
    told = {c.what: (c.before, c.now) for c in found.dimensions}
    assert told["grooves, depth"] == ("9.00 mm", "10.00 mm")
    assert any(what.endswith("knots 2, wall angle") and value == ("21.00 °", "26.00 °") for what, value in told.items())
    assert "Ø at the floor" in told and "Ø at the lip" not in told  # the lip is held
    assert {c.what: c.now for c in found.duties} == {"duty, speed": "900 rpm"}
    assert any(c.what == "strongest groove" or "overturn" in c.what for c in found.figures) or found.figures


def test_choices_ticks_and_lists_are_told_by_their_labels_too(study):
    """Not by the names that stand in the file, and a tick as yes or no."""
    design, wider = study.design, replace(study.design.grooves, square_to=SquareTo.AXIS)
    edited = replace(design, body=replace(design.body, fill_seat=True), grooves=wider, holes=HolePlan(40))
    told = {c.what: (c.before, c.now) for c in of_records("", design, edited)}
    assert told["body, fill the seat, but for the jacket gap"] == ("no", "yes")
    assert told["grooves, square to"] == ("the wall", "the axis")
    assert any(what.startswith("water holes, single rings 1") for what in told)


def test_findings_that_are_new_and_gone_are_told(before, now):
    new = [c.now for c in changes("a", now, before).findings if c.now != "gone"]
    gone = [c.before for c in changes("a", before, now).findings if c.now == "gone"]
    assert any("900 rpm" in text for text in new) and set(new) == set(gone)


def test_changes_run_backward_are_the_same_turned_round(before, now):
    there, back = changes("a", now, before), changes("a", before, now)
    turned = {(c.what, c.now, c.before) for c in (*back.dimensions, *back.duties, *back.figures)}
    assert {(c.what, c.before, c.now) for c in (*there.dimensions, *there.duties, *there.figures)} == turned


def test_drawing_and_report_list_them_and_no_texts_meet(now, saved):
    request = Request({"since": saved, "revision": "B", "earlier": "A 2026-01-31 first issue"}, "rev-B.bowl")
    sheets = preview("drawing", now, request)
    said = " ".join(t.text for sheet in sheets for t in texts_of(sheet.items))
    assert "CHANGES SINCE rev-A.bowl" in said and "grooves, depth" in said and "first issue" in said
    assert not any(clashes(sheet) for sheet in sheets)
    pages = preview("report", now, request)
    told = " ".join(t.text for page in pages for t in texts_of(page.items))
    assert "What changed since rev-A.bowl" in told and "10.00 mm" in told


def test_a_file_without_the_design_is_refused_in_one_sentence(now, study, saved, tmp_path):
    other = evaluate(replace(study.design, name="Another"), study.machine, study.duty)
    with pytest.raises(ValueError, match="holds no design “Another”"):
        changes_since(saved, other)
    with pytest.raises(ValueError):
        export(tmp_path / "r.pdf", now, Request({"since": str(tmp_path / "none.bowl")}), "report")


def test_the_terminal_takes_the_earlier_file(study, saved, tmp_path):
    write_study(study, tmp_path / "s.bowl")
    out = tmp_path / "r.html"
    assert main(["export", str(tmp_path / "s.bowl"), str(out), "--kind", "report", "--since", saved]) == 0
    assert "What changed since rev-A.bowl" in out.read_text("utf-8")


def test_earlier_revisions_are_read_with_and_without_a_date():
    assert earlier_revisions("") == []
    assert earlier_revisions("A 2026-01-31 first issue;B holes added; C") == [
        ("A", "2026-01-31", "first issue"), ("B", "", "holes added"), ("C", "", ""),
    ]  # fmt: skip


def test_the_first_page_s_options_reach_the_terminal(study, tmp_path):
    write_study(study, tmp_path / "s.bowl")
    flags = [
        "--report-number",
        "R-9",
        "--purpose",
        "Proof.",
        "--checked",
        "C. Hecker",
        "--owner",
        "Mill",
        "--approved",
        "A",
    ]
    assert main(["export", str(tmp_path / "s.bowl"), str(tmp_path / "r.html"), *flags]) == 0
    text = (tmp_path / "r.html").read_text("utf-8")
    assert all(word in text for word in ("R-9", "Proof.", "C. Hecker", "Mill"))

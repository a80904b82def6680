"""The export command: several files at once, options, and what happens when one cannot be written."""

import errno
import os
import stat
from datetime import date

import pytest
from msgspec.structs import replace
from pypdf import PdfReader

from profiler.cli.main import main
from profiler.study import write_study
from profiler.study.files import examples


@pytest.fixture
def run(capsys):
    def run(*words):
        code = main([str(w) for w in words])
        out, err = capsys.readouterr()
        return code, out, err

    return run


@pytest.fixture
def study(tmp_path):
    path = tmp_path / "s.bowl"
    write_study(examples.read("graded"), path)
    return path


def test_several_files_are_written_each_by_its_extension(run, study, tmp_path):
    outs = [tmp_path / f"o.{s}" for s in ("dxf", "pdf", "svg", "csv", "stl", "3mf")]
    code, out, err = run("export", study, *outs)
    assert (code, err) == (0, "")
    assert all(o.stat().st_size > 1000 for o in outs)
    words = [line.split(": ")[1] for line in out.splitlines()]
    assert [w.split(",")[0] for w in words] == [
        "125 lines and arcs", "drawing on 1 sheet A2", "drawing on 1 sheet A2", "table of stations", "turned body",
        "turned body",
    ]  # fmt: skip


def test_a_kind_goes_to_the_files_that_can_hold_it(run, study, tmp_path):
    _, out, _ = run("export", study, tmp_path / "g.dxf", tmp_path / "g.pdf", tmp_path / "g.csv", "--kind", "gauge")
    assert out.count("gauge of wall and grooves, 1:1") == 2 and "table of stations" in out
    code, _, err = run("export", study, tmp_path / "g.svg", "--kind", "gauge")
    assert code == 2 and err.count("\n") == 1 and "cannot hold a gauge" in err


def test_title_fields_sheet_and_scale_reach_the_drawing(run, study, tmp_path):
    words = ("--owner", "Works & Sons", "--number", "BP-7", "--date", "2026-10-20", "--sheet", "A3", "--scale", "1:10")
    assert run("export", study, tmp_path / "d.svg", *words)[0] == 0
    text = (tmp_path / "d.svg").read_text("utf-8")
    assert 'width="420mm" height="297mm"' in text
    for said in ("Works &amp; Sons", "BP-7", "2026-10-20", "1:10"):
        assert f">{said}</text>" in text


def test_tables_take_the_marks_asked_for(run, study, tmp_path):
    target = tmp_path / "t.csv"
    assert run("export", study, target, "--table", "grooves", "--separator", "semicolon", "--decimal", "comma")[0] == 0
    assert ";8,000;9,000;" in target.read_text("utf-8-sig")


def test_tool_and_draft_are_answered_beside_the_file(run, study, tmp_path):
    words = ("--part", "former", "--tool-radius", "0.8", "--least-draft", "7")
    code, out, _ = run("export", study, tmp_path / "f.dxf", *words)
    assert code == 0
    assert "check: 28 inside radii, down to R0.6, are under the tool's R0.8." in out
    assert "lower flank has 6.0° of draft" in out and "upper flank has 6.0° of draft" in out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("x.txt",), "ends in none of"), (("a.dxf", "a.dxf"), "same name"), (("a.pdf", "--sheet", "A9"), "no sheet A9"),
        (("a.pdf", "--scale", "1:3"), "not a standard scale"), (("a.dxf", "--shrinkage", "2"), "--part former"),
        (("a.dxf", "--part", "former", "--shrinkage", "90"), "must lie between −10.00 and 20.00 %"),
        (("a.png", "--dpi", "1"), "--dpi"),
        (("a.csv", "--decimal", "comma"), "another than the separator"),
        (("a.pdf", "--sheet", "A3", "--scale", "1:1"), "cannot be drawn legibly on A3 at 1:1"),
    ],
    ids=lambda v: " ".join(v) if isinstance(v, tuple) else "",
)  # fmt: skip
def test_what_cannot_be_done_is_one_sentence_and_no_file(run, study, tmp_path, monkeypatch, words, said):
    monkeypatch.chdir(tmp_path)
    code, out, err = run("export", study, *words)
    assert (code, out) == (2, "")
    assert err.count("\n") == 1 and said in err
    assert [p.name for p in tmp_path.iterdir()] == ["s.bowl"]


def test_a_failed_export_leaves_the_older_file_and_says_why(run, tmp_path):
    """A flange inside the lip: a profile can still be looked at, a solid cannot be made."""
    loaded = examples.read("graded")
    body = replace(replace(loaded.design.body, flange_width_mm=0.0), wall_mm=1.0)
    design = replace(loaded.design, body=body)
    path, target = tmp_path / "thin.bowl", tmp_path / "thin.stl"
    write_study(replace(loaded, designs=(design,)), path)
    target.write_text("older")
    code, _, err = run("export", path, target)
    assert code == 2 and err.count("\n") == 1 and "no solid can be made: The section crosses itself" in err
    assert target.read_text() == "older"


def test_long_sheets_as_svg_come_as_several_files(run, study, tmp_path):
    code, out, _ = run("export", study, tmp_path / "d.svg", "--sheet", "A4")
    assert code == 0 and "d-2.svg" in out
    assert "2 / 4" in (tmp_path / "d-2.svg").read_text("utf-8")


def test_of_several_files_those_that_can_be_are_written_and_the_code_tells_of_the_others(
    run, study, tmp_path, monkeypatch
):
    """A folder that is not there, a disk that is full for one file, and three that are fine."""
    outs = [tmp_path / name for name in ("a.dxf", "nowhere/b.svg", "c.csv", "d.pdf", "e.stl")]
    outs[2].write_text("older")
    flushed = []

    def flush(handle):
        if stat.S_ISREG(os.fstat(handle).st_mode):  # folders are flushed too
            flushed.append(handle)
        if len(flushed) == 2 and handle == flushed[-1]:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", flush)
    code, out, err = run("export", study, *outs)
    assert code == 2 and out.count("written: ") == 3
    assert all(outs[k].stat().st_size > 1000 for k in (0, 3, 4))
    assert outs[2].read_text() == "older"
    said = err.splitlines()
    assert len(said) == 2 and "b.svg cannot be written" in said[0] and "c.csv cannot be written" in said[1]
    assert sorted(p.name for p in tmp_path.iterdir()) == ["a.dxf", "c.csv", "d.pdf", "e.stl", "s.bowl"]


def test_a_solid_that_cannot_be_made_keeps_neither_drawing_nor_table_from_being_written(run, tmp_path):
    loaded = examples.read("graded")
    body = replace(replace(loaded.design.body, flange_width_mm=0.0), wall_mm=1.0)
    path = tmp_path / "thin.bowl"
    write_study(replace(loaded, designs=(replace(loaded.design, body=body),)), path)
    (tmp_path / "o.stl").write_text("older")
    code, out, err = run("export", path, *(tmp_path / f"o.{s}" for s in ("stl", "3mf", "csv", "dxf")))
    assert code == 2 and err.count("\n") == 2 and err.count("no solid can be made") == 2
    assert out.count("written: ") == 2 and "NOT CHECKED" in out
    assert (tmp_path / "o.stl").read_text() == "older" and not (tmp_path / "o.3mf").exists()


def test_a_design_that_cannot_be_drawn_still_has_a_report(run, tmp_path):
    loaded = examples.read("graded")
    design = replace(loaded.design, grooves=replace(loaded.design.grooves, mouth_mm=40.0))
    path = tmp_path / "broken.bowl"
    write_study(replace(loaded, designs=(design,)), path)
    code, out, err = run("export", path, tmp_path / "r.html", tmp_path / "r.dxf")
    assert code == 2 and "calculation report" in out and "r.dxf was not written: there is no section" in err
    assert "NOT CHECKED" in (tmp_path / "r.html").read_text("utf-8") and not (tmp_path / "r.dxf").exists()
    assert run("export", path, tmp_path / "r.dxf")[0] == 1
    assert run("export", path, tmp_path / "r.html")[0] == 1


def test_a_study_with_a_trial_has_it_in_its_report(run, tmp_path):
    path = tmp_path / "t.bowl"
    write_study(examples.read("trial"), path)
    assert run("export", path, tmp_path / "t.html")[0] == 0
    text = (tmp_path / "t.html").read_text("utf-8")
    assert "Trial: Graded against plain cone</h2>" in text and "Gates: was it a fair comparison</h3>" in text


@pytest.mark.long  # the report's own test reads the day on every page once
def test_a_report_bears_the_day_it_was_written_on_every_page_unless_another_is_given(run, study, tmp_path):
    today, given = date.today().isoformat(), "2026-10-20"
    run("export", study, tmp_path / "r.pdf", "--kind", "report")
    run("export", study, tmp_path / "g.pdf", "--kind", "report", "--date", given)
    for name, words in (("r.pdf", (today, date.today().isoformat())), ("g.pdf", (given,))):  # midnight may pass
        for page in PdfReader(tmp_path / name).pages:
            assert any(w in page.extract_text() for w in words)

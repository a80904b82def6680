"""The export command: several files at once, options, and what happens when one cannot be written."""

import pytest

from profiler.cli import main
from profiler.study import examples, write_study
from profiler.study.edits import with_value


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
        "140 lines and arcs", "drawing on 1 sheet A2", "drawing on 1 sheet A2", "table of stations", "turned body",
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
    assert ";13,000;12,000;" in target.read_text("utf-8-sig")


def test_tool_and_draft_are_answered_beside_the_file(run, study, tmp_path):
    words = ("--part", "former", "--tool-radius", "0.8", "--least-draft", "7")
    code, out, _ = run("export", study, tmp_path / "f.dxf", *words)
    assert code == 0
    assert "check: 32 inside radii, down to R0.6, are under the tool's R0.8." in out
    assert "lower flank has 6.0° of draft" in out and "upper flank has 6.0° of draft" in out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("x.txt",), "ends in none of"), (("a.dxf", "a.dxf"), "same name"), (("a.pdf", "--sheet", "A9"), "no sheet A9"),
        (("a.pdf", "--scale", "1:3"), "not a standard scale"), (("a.dxf", "--shrinkage", "2"), "--part former"),
        (("a.dxf", "--part", "former", "--shrinkage", "90"), "outside -10 to 20"), (("a.png", "--dpi", "1"), "--dpi"),
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
    body = with_value(with_value(loaded.design.body, "flange_width_mm", 0.0), "wall_mm", 1.0)
    design = with_value(loaded.design, "body", body)
    path, target = tmp_path / "thin.bowl", tmp_path / "thin.stl"
    write_study(with_value(loaded, "designs", (design,)), path)
    target.write_text("older")
    code, _, err = run("export", path, target)
    assert code == 2 and err.count("\n") == 1 and "no solid can be made: The section crosses itself" in err
    assert target.read_text() == "older"


def test_long_sheets_as_svg_come_as_several_files(run, study, tmp_path):
    code, out, _ = run("export", study, tmp_path / "d.svg", "--sheet", "A4")
    assert code == 0 and "d-2.svg" in out
    assert "2 / 2" in (tmp_path / "d-2.svg").read_text("utf-8")

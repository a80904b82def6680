"""With lengths in inches no output shows a figure in mm that is not marked as such, and each agrees with its mm.

A law over every output of the table and every command: what is new is walked too. Sheets for a shop give both. Files
that machines read (DXF of the profile, STEP, solids, JSON) stay in mm and say so. One inch is 25.4 mm exactly
(ISO 80000-3).
"""

import csv
import io
import re

import pytest

from profiler.assess import evaluate
from profiler.cli.main import main
from profiler.explore.compare import compare
from profiler.explore.what_changed import changes
from profiler.output.blocks.blocks import Figure, Grid, Report
from profiler.output.outputs import OUTPUTS
from profiler.output.record.option import Request
from profiler.output.record.output import TableShown
from profiler.output.report.report_output import report
from profiler.output.tables.comparison_csv import comparison_csv
from profiler.output.tables.table_output import WHICH
from profiler.output.tables.tables_csv import CsvTable
from profiler.output.terminal.comparison_text import comparison_text
from profiler.output.writing import preview
from profiler.pictures.basics.display import Label
from profiler.pictures.basics.lengths import INCHES
from profiler.pictures.sheet.clashes import texts_of
from profiler.study import write_study
from profiler.study.edits import list_edits
from profiler.study.edits.list_edits import Listed
from profiler.study.edits.profile_edits import with_profile
from profiler.study.files.examples import read
from tests.tiers import kept

JOINED = r"(?:\s+(?:to|and|or|instead of|/|±)\s+|–)"  # what joins numbers that share the unit behind the last
BAND = r"(?: \([\d.]+ to [\d.]+\))?"
FIGURE = re.compile(rf"(?<![\w.,])([+\u2212-]?\d+(?:\.\d+)?){BAND}({JOINED}\d[\d.]*{BAND})*\s+(mm|in)\b(?![²³/])")
ONE = re.compile(r"[+\u2212-]?\d+(?:\.\d+)?")
IN_BRACKETS = re.compile(r"\[[^\]]*\]")
MACHINES = ("profile", "solid", "step")  # their files are in mm, and the words on them say so
STANDARDS = ("General tolerances", "DIMENSIONS IN", "of the shorter leg")
STUDY = read("trial")
E = evaluate(STUDY.design, STUDY.machine, STUDY.duty)
LANDS = [0.5 * (a + b) for a, b in zip(E.shape.mouths.upper[:-1], E.shape.mouths.lower[1:], strict=True)]
POINTS = [[float(E.shape.wall.radius_at(z) + 1.0 + 0.004 * z), float(z)] for z in LANDS]


def figures(text: str, unit: str) -> list[str]:
    """Numbers of lengths in a text, in order, as written."""
    return [n for found in FIGURE.finditer(text) if found[3] == unit for n in ONE.findall(found[0])]


def agree(mm: str, inches: str) -> None:
    """Every length of the one stands in the other, within half the last decimal of the millimetres."""
    one, other = figures(mm, "mm"), figures(inches, "in")
    if not one and mm == inches:  # "8030 in data sheets"
        return
    assert len(one) == len(other), (mm, inches)
    for a, b in zip(one, other, strict=True):
        decimals = len(a.partition(".")[2])
        assert 25.4 * number(b) == pytest.approx(number(a), abs=0.51 * 10.0**-decimals), (mm, inches)


def number(text: str) -> float:
    return float(text.replace("−", "-"))


def texts(shown: Report, with_inches: bool) -> list[str]:
    """Everything a report says, cell by cell; labels of pictures are looked through for mm."""
    found: list[str] = []
    for block in (*shown.front, *shown.blocks):
        if isinstance(block, Grid):
            found += [*block.heads, *(cell for row in block.rows for cell in row)]
        elif isinstance(block, Figure):
            labels = [i.text for p in block.pictures for i in p.items if isinstance(i, Label)]
            assert not with_inches or [t for t in labels if figures(t, "mm")] == []
            found.append(block.caption)  # scales have other steps, so labels are not compared one by one
        else:
            found.append(block.text)
    return found


def test_the_walk_finds_what_it_is_after() -> None:
    assert figures("between 190 and 260 mm, 4.0 mm/s, 3 mm²", "mm") == ["190", "260"]
    assert figures("0.35 ± 1.20 mm, 1.0 to 1.7 ± 6.0 mm, 5.3 (4.5 to 6.2) mm", "mm") == [
        "0.35", "1.20", "1.0", "1.7", "6.0", "5.3", "4.5", "6.2",
    ]  # fmt: skip
    agree("at 100.0 mm", "at 3.937 in")
    for wrong in ("at 3.930 in", "at 100.0 mm"):
        with pytest.raises(AssertionError):
            agree("at 100.0 mm", wrong)


@pytest.mark.parametrize("key", [o.key for o in OUTPUTS if o.key not in MACHINES])
def test_no_output_shows_a_figure_in_mm_that_is_not_marked(key: str) -> None:
    shown = preview(key, E, Request(study=STUDY, lengths=INCHES))
    if isinstance(shown, TableShown):
        found = [*shown.heads, *(c for row in shown.rows for c in row), shown.about]
        assert not [t for t in found if INCHES.heads(t)]
    else:
        found = [t.text for sheet in shown for t in texts_of(sheet.items)]
    assert [t for t in found if "in" in t.split() or t.endswith("_in") or "inches" in t.lower()], "nothing in inches"
    bare = [t for t in found if figures(IN_BRACKETS.sub("", t), "mm") and not any(words in t for words in STANDARDS)]
    assert [t for t in bare if INCHES.told(t) not in found] == [], "neither in brackets nor in a table of both"


def test_every_length_of_the_report_agrees_with_its_millimetres() -> None:
    shown = [report(E, Request(study=STUDY, lengths=u)) for u in (Request().lengths, INCHES)]
    both = [texts(shown[0], False), texts(shown[1], True)]
    assert len(both[0]) == len(both[1]) and sum(len(figures(t, "in")) for t in both[1]) > 100
    for mm, inches in zip(*both, strict=True):
        agree(mm, inches)
    grids = [[b for b in one.blocks if isinstance(b, Grid)] for one in shown]
    columns = [
        ([row[k] for row in a.rows], [row[k] for row in b.rows])
        for a, b in zip(*grids, strict=True)
        for k, head in enumerate(a.heads)
        if INCHES.heads(head)
    ]
    assert len(columns) > 5
    for mm_cells, cells in columns:
        agree("; ".join(f"{c} mm" for c in mm_cells if c != "–"), "; ".join(f"{c} in" for c in cells if c != "–"))


def test_a_report_on_changes_and_lineage_turns_too() -> None:
    study = list_edits.duplicate(STUDY, Listed.DESIGN)
    wider = study.having("design", study.design.having("grooves", study.design.grooves.having("mouth_mm", 9.5)))
    e = evaluate(wider.design, wider.machine, wider.duty)
    found = " ".join(texts(report(e, Request(study=wider, lengths=INCHES)), True))
    assert "0.3740 in" in found and "9.50 mm" not in found
    assert changes("before", e, E).every


@pytest.mark.parametrize("table", CsvTable)
def test_the_tables_agree_column_by_column(table: CsvTable) -> None:
    one, other = (
        preview("table", E, Request({WHICH.key: table.value}, study=STUDY, lengths=unit))
        for unit in (Request().lengths, INCHES)
    )
    turned = 0
    for k, (head, head_in) in enumerate(zip(one.heads, other.heads, strict=True)):
        if not INCHES.heads(head):
            continue
        assert head_in == INCHES.head(head)
        for row, row_in in zip(one.rows, other.rows, strict=True):
            assert (row[k] == "") == (row_in[k] == "")
            if row[k]:
                turned += 1
                decimals = len(row[k].partition(".")[2])
                assert 25.4 * float(row_in[k]) == pytest.approx(float(row[k]), abs=max(0.64 * 10.0**-decimals, 1e-12))
    assert turned > 5 and "inches unless stated" in other.about


def test_a_sheet_for_a_shop_gives_both() -> None:
    (first, *_) = preview("drawing", E, Request(lengths=INCHES))
    said = [t.text for t in texts_of(first.items)]
    lip = f"{2.0 * E.shape.lip_radius:.2f}".rstrip("0").rstrip(".")
    both = [t for t in said if t.startswith("Ø") and f"[{lip}" in t]
    assert both and 25.4 * float(both[0][1:].split()[0]) == pytest.approx(2.0 * E.shape.lip_radius, abs=0.005)
    assert any("DIMENSIONS IN INCHES [mm IN BRACKETS]" in t for t in said)
    everything = [t.text for sheet in preview("drawing", E, Request(lengths=INCHES)) for t in texts_of(sheet.items)]
    heads = [t for t in everything if t in ("height", "from height", "mouth", "depth")]
    assert heads.count("height") == 2, "only FITS has its unit beneath"
    for title in ("WALL", "WALL, INCHES", "GROOVES", "GROOVES, INCHES"):
        assert any(t.startswith(title) for t in everything)


@pytest.fixture(scope="module")
def compared():
    return compare(list_edits.duplicate(STUDY, Listed.DESIGN))


def test_a_comparison_agrees_as_text_and_as_csv(compared) -> None:
    agree(comparison_text(compared), comparison_text(compared, INCHES))
    tables = comparison_csv(compared), comparison_csv(compared, INCHES)
    one, other = (list(csv.reader(io.StringIO(t))) for t in tables)
    lengths = [(a, b) for a, b in zip(one, other, strict=True) if a[4] == "mm"]
    assert len(lengths) > 3 and all(b[4] == "in" for _, b in lengths)
    assert all(25.4 * float(b[5]) == pytest.approx(float(a[5])) for a, b in lengths if a[5])


COMMANDS = (
    ("check",), ("compare",), ("compare", "--csv"), ("fit",), ("start", "--one", "15"), ("steps", "--diameter", "1"),
    ("map", "--x", "solids", "--y", "speed", "--count", "2", "--quantity", "deepest_mm"),
    ("castings", "--bowls", "3"), ("matters", "--plus-minus", "solids=2"), ("trial",), ("eddy", "--groove", "3"),
    ("worn", "--rate", "0.3..0.5", "--hours", "3000", "--limit", "4"),
    ("worn", "--profile", "Worn, 900 h", "--hours", "3000", "--limit", "4"),
)  # fmt: skip


@pytest.mark.parametrize(
    ("words",),
    kept([(c,) for c in COMMANDS], [(c,) for c in COMMANDS if c[0] != "eddy"]),
    ids=[" ".join(c[:2]) for c in COMMANDS],
)
def test_the_terminal_tells_inches_where_they_are_asked_for(words, tmp_path, capsys) -> None:
    file = tmp_path / "a.bowl"
    write_study(with_profile(STUDY, STUDY.design, POINTS, "Worn", "2026-03-31", 900.0, "invented"), file)
    said = []
    for more in ((), ("--inches",)):
        assert main([words[0], str(file), *words[1:], *more]) == 0
        said.append(capsys.readouterr().out)
    assert figures(said[1], "mm") == [] and ") mm" not in said[1] and not re.search(r", mm\b(?!²)", said[1])
    if words[-1] != "--csv":
        agree(*(" ".join(t.split()) for t in said))


def test_data_stay_in_mm_and_a_file_keeps_its_name(tmp_path, capsys) -> None:
    file, out = tmp_path / "a 8 mm.bowl", tmp_path / "b 8 mm.bowl"
    write_study(STUDY, file)
    assert main(["check", str(file), "--json", "--inches"]) == 2
    assert "JSON has its lengths in millimetres" in capsys.readouterr().err
    assert main(["fit", str(file), "--inches", "--save", str(out)]) == 0
    assert f"written: {out}" in capsys.readouterr().out
    assert "lip_radius_mm" in out.read_text("utf-8")

"""The calculation report: what it must say, on every page, as PDF (pdfplumber) and as HTML (html.parser)."""

import io
import re
from html.parser import HTMLParser

import pdfplumber
import pytest
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.assess.quantities.left_out import told
from profiler.assess.quantities.table import Scope, of_scope
from profiler.assess.trials.verdicts import evaluate_trial
from profiler.output.blocks.as_document import report_html
from profiler.output.blocks.as_pages import report_sheets
from profiler.output.blocks.blocks import Figure, Grid, Heading, Paragraph, Report
from profiler.output.formats.sheet_page import sheets_pdf
from profiler.output.record.option import Request
from profiler.output.report.content import Job, report_of
from profiler.output.report.front import Signed
from profiler.output.report.report_output import EDDY_PAGE
from profiler.output.report.report_output import report as report_asked
from profiler.output.terminal.check_text import check_text
from profiler.output.trials.trial_blocks import report_blocks
from profiler.output.writing import export
from profiler.pictures.basics.display import Align
from profiler.pictures.sheet.clashes import clashes
from profiler.pictures.sheet.items import Text
from profiler.study import GrooveRule, Knot
from profiler.study.edits.design_edits import with_grooves, with_knots
from profiler.study.files import examples
from tests.tiers import two_examples

JOB = Job("bowls.bowl", "2026-10-20", "9.9.9", "A. Designer")
SECTIONS = ["Job", "Inputs", "Pictures", "Findings, worst first", "Wall", "Grooves", "Body, water and rotor",
            "For the moulder", "Models, equations and what they are valid for", "Symbols",
            "References", "The model's record",
            "What was not checked", "Cautions"]  # fmt: skip


def evaluated(name="graded", edit=lambda d: d):
    study = examples.read(name)
    return evaluate(edit(study.design), study.machine, study.duty)


def report(name="graded", edit=lambda d: d):
    return report_of(evaluated(name, edit), JOB)


@pytest.fixture(scope="module")
def pages():
    with pdfplumber.open(io.BytesIO(sheets_pdf(report_sheets(report()), "Report"))) as file:
        return [page.extract_text() for page in file.pages]


def test_every_page_has_its_number_the_date_the_file_and_the_version(pages):
    for number, text in enumerate(pages, 1):
        assert f"page {number} of {len(pages)}" in text
        assert "2026-10-20" in text and "bowls.bowl" in text and "Bowl Profiler 9.9.9" in text


def test_above_six_pages_the_contents_name_the_page_each_section_begins_on(pages):
    assert len(pages) > 6 and pages[0].splitlines()[2] == "Contents"
    entries = [line.rsplit(" ", 1) for line in pages[0].splitlines()[3 : 3 + len(SECTIONS)]]
    assert [title for title, _ in entries] == SECTIONS
    first = pages[0].splitlines()[3 + len(SECTIONS) :]
    for title, number in entries:
        assert title in (first if number == "1" else pages[int(number) - 1].splitlines())


def test_a_short_report_has_no_contents():
    short = Report("Short", ("today",), (Heading("One"), Paragraph("Words."), Grid(("a", "b"), (("1", "2"),))))
    assert len(report_sheets(short)) == 1


@pytest.mark.parametrize("name", two_examples())
def test_no_texts_meet_on_any_page(name):
    for sheet in report_sheets(report(name)):
        assert clashes(sheet) == []


def test_findings_with_value_limit_and_source_are_all_in_it(pages):
    whole = " ".join(" ".join(pages).split())
    html = " ".join(report_html(report()).split())
    for f in evaluated().findings:
        first = " ".join(f.text.split()[:5])
        assert first in whole
        assert f.source.split(",")[0].split()[0] in whole if f.source else True
        assert f.text.replace("'", "&#x27;").replace(">", "&gt;") in html


def test_a_faulty_bowl_is_marked_not_checked_at_the_head():
    blocks = report("faulty").blocks
    assert blocks[1] == Paragraph("NOT CHECKED: 3 stop findings", strong=True)
    assert not any(isinstance(b, Paragraph) and "NOT CHECKED" in b.text for b in report().blocks)


def test_every_figure_of_the_bowl_and_every_equation_is_told():
    e = evaluated()
    cells = {cell for b in report().blocks if isinstance(b, Grid) for row in b.rows for cell in row}
    for q in of_scope(Scope.BOWL):
        value = q.get(e)[0]
        assert (told(q, e) in cells) or value != value
    for scope in Scope:
        assert {q.equation for q in of_scope(scope) if q.equation} <= cells


def test_inputs_are_there_as_typed_with_their_units():
    text = "|".join(cell for b in report().blocks if isinstance(b, Grid) for row in b.rows for cell in row)
    for said in ("580 rpm", "36.0 % by mass", "110 µm", "1.60 t/h", "217.60 mm", "8.00 mm", "1150 kg/m³"):
        assert said in text


def test_what_was_not_checked_follows_the_study():
    without = "Water holes: no plan is given"
    bare = report(edit=lambda d: replace(d, holes=replace(d.holes, count=0, changes=())))
    assert any(isinstance(b, Paragraph) and without in b.text for b in bare.blocks)
    planned = report()
    assert not any(isinstance(b, Paragraph) and without in b.text for b in planned.blocks)
    heads = [h for b in planned.blocks if isinstance(b, Grid) for h in b.heads]
    assert "Jacket pressure kPa" in heads


def test_the_wall_table_goes_to_the_lip_and_has_corners_twice():
    knots = (Knot(0, 15), Knot(230, 15, 1), Knot(330, 1))
    made = report(edit=lambda d: with_knots(d, knots))
    wall = next(b for b in made.blocks if isinstance(b, Grid) and b.heads[0] == "height mm" and len(b.heads) > 4)
    heights = [row[0] for row in wall.rows]
    assert heights[0] == "0.0" and heights[-1] == "330.0" and heights.count("230.0") == 2


def test_a_bowl_without_grooves_and_one_without_a_shape_still_have_a_report():
    assert report(edit=lambda d: with_grooves(d, GrooveRule(count=0))).blocks
    broken = report(edit=lambda d: with_grooves(d, GrooveRule(mouth_mm=40.0)))
    assert any(isinstance(b, Paragraph) and "NOT CHECKED" in b.text for b in broken.blocks)
    assert report_sheets(broken) and "<h2" in report_html(broken)


class _Reader(HTMLParser):
    def __init__(self):
        super().__init__()
        self.open, self.tags, self.links, self.ids, self.sources = [], [], [], set(), []

    def handle_starttag(self, tag, attrs):
        if tag != "meta":
            self.open.append(tag)
        self.tags.append(tag)
        found = dict(attrs)
        self.links += [found["href"]] if "href" in found else []
        self.ids |= {found["id"]} if "id" in found else set()
        self.sources += [found["src"]] if "src" in found else []

    def handle_endtag(self, tag):
        assert self.open.pop() == tag


def test_the_html_is_well_formed_whole_in_itself_and_has_the_pictures_as_drawings():
    made = report(edit=lambda d: replace(d, name="<b>&"))
    text = report_html(made)
    reader = _Reader()
    reader.feed(text)
    reader.close()
    assert reader.open == [] and reader.sources == []
    assert {link.lstrip("#") for link in reader.links} == reader.ids and len(reader.ids) == len(SECTIONS)
    assert reader.tags.count("svg") == 10 and "img" not in reader.tags
    assert "<b>&</" not in text and "&lt;b&gt;&amp;" in text


@pytest.mark.long
def test_both_are_written_by_their_extension(tmp_path):
    made = export(tmp_path / "r.pdf", evaluated(), Request(study_file="s.bowl"), "report")
    with_first_page = report_of(evaluated(), JOB, signed=Signed())
    assert made[0].words == f"calculation report, {len(report_sheets(with_first_page))} pages"
    export(tmp_path / "r.html", evaluated(), Request(study_file="s.bowl"))
    assert (tmp_path / "r.pdf").read_bytes().startswith(b"%PDF")
    assert "s.bowl" in (tmp_path / "r.html").read_text("utf-8")


def test_numbers_stand_under_one_another_and_words_at_the_left():
    rows = (("1", "12.50", "12 mm", "–"), ("2", "−3.00", "4 mm", "–"), ("10", "–", "x", "–"))
    assert Grid(("a", "b", "c", "d"), rows).numeric == (True, True, False, False)
    grown = (("Ø at the lip", "435.20"), ("Shrinkage added across", "not given"))  # as in the moulder's notes
    assert Grid(("", "former, mm"), grown).numeric == (False, True)
    made = Report("Short", (), (Grid(("a", "b", "c", "d"), rows),))
    texts = {t.text: t for t in report_sheets(made)[0].items if isinstance(t, Text)}
    assert {texts[t].align for t in ("12.50", "−3.00", "b")} == {Align.RIGHT}
    assert texts["12.50"].x == texts["−3.00"].x == texts["b"].x
    assert texts["12 mm"].align is Align.LEFT


def test_no_row_of_a_table_stands_alone_on_a_page():
    """Whatever the length: at least three rows, or the whole table, stand on its last page."""
    for count in range(1, 130):
        rows = tuple((f"row {k}", "words") for k in range(count))
        last = report_sheets(Report("Rows", (), (Grid(("a", "b"), rows),)))[-1]
        assert sum(isinstance(t, Text) and t.text.startswith("row ") for t in last.items) >= min(count, 3)


STUDY_WITH_TRIAL = examples.read("trial")
JUDGED = evaluate_trial(STUDY_WITH_TRIAL.trials[0], STUDY_WITH_TRIAL)


def test_a_trial_has_pages_with_verdict_interval_gates_runs_and_pictures():
    blocks = report_blocks(JUDGED)
    made = Report("Trial", ("today",), tuple(blocks))
    verdict = JUDGED.judgement.verdict
    assert blocks[1].strong and verdict.text[1:] in blocks[1].text and "95 % interval" in blocks[1].text
    cells = [row for b in blocks if isinstance(b, Grid) for row in b.rows]
    for gate in verdict.gates:
        assert any(row[:2] == (gate.state.value, gate.label) for row in cells)
    assert [row[0] for row in cells if len(row) == 7 and row[1] in {r.design for r in JUDGED.trial.runs}] == [
        r.run for r in JUDGED.trial.runs
    ]
    assert sum(len(b.pictures) for b in blocks if isinstance(b, Figure)) == 4
    sheets = report_sheets(made)
    assert all(clashes(sheet) == [] for sheet in sheets)
    with pdfplumber.open(io.BytesIO(sheets_pdf(sheets, "Report"))) as file:
        whole = " ".join(" ".join(page.extract_text() for page in file.pages).split())
    assert "Trial: Graded against plain cone" in whole and "+2.33 to +3.79" in whole


def test_a_trial_without_a_verdict_says_why_and_gives_no_verdict_word():
    trial = replace(STUDY_WITH_TRIAL.trials[0], runs=STUDY_WITH_TRIAL.trials[0].runs[:2])
    found = evaluate_trial(trial, STUDY_WITH_TRIAL)
    assert found.judgement is None
    blocks = report_blocks(found)
    assert blocks[1] == Paragraph(f"No verdict: {found.trouble}", strong=True)
    words = " ".join(b.text for b in blocks if isinstance(b, Paragraph))
    assert "better" not in words and "Gates" not in [b.text for b in blocks if isinstance(b, Heading)]


def test_catch_and_capacity_have_a_table_of_their_own():
    blocks = report().blocks
    table = blocks[blocks.index(Heading("Water, catch and capacity", 2)) + 1]
    labels = {row[0] for row in table.rows}
    assert {"Dry contents of all grooves", "Grooves full after", "Concentrate a day"} <= labels


def test_the_eddy_page_is_there_when_asked_for():
    e = evaluated("graded")
    blocks = report_asked(e, Request({EDDY_PAGE.key: "strongest"})).blocks
    heads = [b.text for b in blocks if isinstance(b, Heading)]
    assert any(h.startswith("The eddy in groove") for h in heads)
    assert heads.index("What is left out") > 0
    words = [b.text for b in blocks if isinstance(b, Paragraph)]
    assert any("Change no depth on this alone" in w for w in words)
    assert not any(
        b.text.startswith("The eddy in groove") for b in report_asked(e, Request()).blocks if isinstance(b, Heading)
    )


class Sheet(HTMLParser):
    """The cells of an HTML page with their classes, its style, and the classes it uses."""

    def __init__(self):
        super().__init__()
        self.style, self.cells, self.classes, self._inside = "", [], set(), []

    def handle_starttag(self, tag, attrs):
        named = dict(attrs).get("class")
        self.classes |= {named} if named else set()
        self._inside.append(tag)
        if tag in ("td", "th"):
            self.cells.append([tag, named, ""])

    def handle_endtag(self, tag):
        while self._inside and self._inside.pop() != tag:
            pass

    def handle_data(self, data):
        if "style" in self._inside:
            self.style += data
        elif self._inside and self._inside[-1] in ("td", "th"):
            self.cells[-1][2] += data


def rules_of(style):
    """{selector: {property: value}}; fails on a brace that is not closed or a line that is no declaration."""
    plain = re.sub(r"@media[^{]*\{((?:[^{}]*\{[^{}]*\})*)[^{}]*\}", "", style)
    assert style.count("{") == style.count("}")
    found = {}
    for selectors, body in re.findall(r"([^{}]+)\{([^{}]*)\}", plain):
        pairs = [p.split(":", 1) for p in body.split(";") if p.strip()]
        assert all(len(p) == 2 for p in pairs), body
        for selector in selectors.split(","):
            found.setdefault(selector.strip(), {}).update({k.strip(): v.strip() for k, v in pairs})
    assert re.sub(r"[^{}]+\{[^{}]*\}", "", plain).strip() == ""
    return found


def test_html_and_pages_stand_alike_words_left_numbers_right_and_every_row_on_a_rule():
    """The two renderings of the same blocks: alignment of every cell, a rule under every row, the style in force."""
    made = report()
    sheet = Sheet()
    sheet.feed(report_html(made))
    rules = rules_of(sheet.style)
    for name in re.findall(r"var\((--[\w-]+)\)", sheet.style):
        assert name in rules[":root"]
    assert {f".{c}" for c in sheet.classes} <= {"." + s.rpartition(".")[2] for s in rules if "." in s}
    for tag in ("td", "th"):
        assert rules[tag]["text-align"] == "left" and "solid" in rules[tag]["border-bottom"]
        assert rules[f"{tag}.n"]["text-align"] == "right"
    assert "text-align" not in rules["body"] and rules["table"]["border-collapse"] == "collapse"
    grids = [b for b in made.blocks if isinstance(b, Grid)]
    wanted = [
        (cell, right)
        for g in grids
        for row in ([g.heads] if any(g.heads) else []) + [g.rows[k] for k in range(len(g.rows))]
        for cell, right in zip(row, g.numeric, strict=True)
    ]
    assert [(text, named == "n") for _, named, text in sheet.cells] == wanted
    assert 0.2 < sum(right for _, right in wanted) / len(wanted) < 0.9
    pages = report_sheets(made)
    for g in grids:
        right = {row[k] for row in g.rows for k in range(len(row)) if g.numeric[k] and len(row[k]) > 3}
        left = {row[k] for row in g.rows for k in range(len(row)) if not g.numeric[k] and len(row[k]) > 3}
        texts = [t for page in pages for t in page.items if isinstance(t, Text)]
        assert all(any(t.align is Align.RIGHT for t in texts if t.text == cell) for cell in right)
        assert all(any(t.align is Align.LEFT for t in texts if cell.startswith(t.text)) for cell in left)


def test_the_datum_is_defined_in_report_and_check():
    e = evaluated()
    words = " ".join(b.text for b in report().blocks if isinstance(b, Paragraph))
    for text in (words, " ".join(check_text(e).split())):
        assert "above the bowl's inner floor" in text and "from that axis" in text

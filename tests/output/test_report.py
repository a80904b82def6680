"""The calculation report: what it must say, on every page, as PDF (pdfplumber) and as HTML (html.parser)."""

import io
from html.parser import HTMLParser

import pytest
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.assess.quantities import Scope, of_scope
from profiler.output.by_extension import ExportOptions, export
from profiler.output.report.blocks import Grid, Heading, Paragraph, Report
from profiler.output.report.content import Job, report_of
from profiler.output.report.html import report_html
from profiler.output.report.pages import report_sheets
from profiler.output.sheet_page import sheets_pdf
from profiler.pictures.sheet.clashes import clashes
from profiler.study import GrooveRule, Knot, examples
from profiler.study.edits import with_grooves, with_knots

pdfplumber = pytest.importorskip("pdfplumber")
JOB = Job("bowls.bowl", "2026-10-20", "9.9.9", "A. Designer")
SECTIONS = ["Job", "Inputs", "Pictures", "Findings, worst first", "Wall", "Grooves", "Body, water and rotor",
            "Models, equations and where they hold", "What was not checked", "Cautions"]  # fmt: skip


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
    assert len(pages) > 6 and pages[0].splitlines()[1] == "Contents"
    entries = [line.rsplit(" ", 1) for line in pages[0].splitlines()[2 : 2 + len(SECTIONS)]]
    assert [title for title, _ in entries] == SECTIONS
    for title, number in entries:
        assert title in pages[int(number) - 1].splitlines()


def test_a_short_report_has_no_contents():
    short = Report("Short", ("today",), (Heading("One"), Paragraph("Words."), Grid(("a", "b"), (("1", "2"),))))
    assert len(report_sheets(short)) == 1


@pytest.mark.parametrize("name", examples.names())
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
        assert (q.text(value) in cells) or value != value
    for scope in Scope:
        assert {q.equation for q in of_scope(scope) if q.equation} <= cells


def test_inputs_are_there_as_typed_with_their_units():
    text = "|".join(cell for b in report().blocks if isinstance(b, Grid) for row in b.rows for cell in row)
    for said in ("640 rpm", "42.0 % by mass", "110 µm", "3.00 t/h", "217.60 mm", "13.00 mm", "1150 kg/m³"):
        assert said in text


def test_what_was_not_checked_follows_the_study():
    without = "Water holes: no plan is given"
    assert any(isinstance(b, Paragraph) and without in b.text for b in report().blocks)
    planned = report(edit=lambda d: replace(d, holes=replace(d.holes, count=24)))
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
    assert reader.tags.count("svg") == 6 and "img" not in reader.tags
    assert "<b>&</" not in text and "&lt;b&gt;&amp;" in text


def test_both_are_written_by_their_extension(tmp_path):
    made = export(tmp_path / "r.pdf", evaluated(), ExportOptions(study_file="s.bowl"), "report")
    assert made[0].words == f"calculation report, {len(report_sheets(report()))} pages"
    export(tmp_path / "r.html", evaluated(), ExportOptions(study_file="s.bowl"))
    assert (tmp_path / "r.pdf").read_bytes().startswith(b"%PDF")
    assert "s.bowl" in (tmp_path / "r.html").read_text("utf-8")

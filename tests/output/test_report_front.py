"""The report's first page, its equations with their numbers, symbols, sources, and what leads from place to place."""

import io
import re

import pypdf
import pytest

from profiler.assess import evaluate
from profiler.assess.quantities.references import CITATIONS
from profiler.assess.quantities.symbols import OWN, symbols_of
from profiler.assess.quantities.table import Scope, of_scope
from profiler.output.blocks.as_document import report_html
from profiler.output.blocks.as_pages import report_sheets
from profiler.output.blocks.as_text import blocks_text
from profiler.output.blocks.blocks import Grid, Heading, Paragraph
from profiler.output.formats.sheet_page import sheets_pdf
from profiler.output.report.content import Job, report_of
from profiler.output.report.front import Signed, conclusion, front_blocks
from profiler.pictures.sheet.clashes import clashes
from profiler.pictures.sheet.items import Text
from profiler.study import GrooveRule, fields_of
from profiler.study.edits.design_edits import with_grooves
from profiler.study.files import examples
from tests.study.test_fields import KINDS
from tests.tiers import two_examples

JOB = Job("bowls.bowl", "2026-10-20", "9.9.9", "A. Designer")


def evaluated(name="graded", edit=lambda d: d):
    study = examples.read(name)
    return evaluate(edit(study.design), study.machine, study.duty)


@pytest.fixture(scope="module")
def e():
    return evaluated()


@pytest.fixture(scope="module")
def whole(e):
    return report_of(e, JOB, signed=SIGNED)


SIGNED = Signed("R-12", "B", "An owner", "Whether it replaces the cone.", "A. Designer", "", "C. Chief", "2026-10-20")


def front_text(e, signed=SIGNED):
    return blocks_text(front_blocks(e, signed))


def test_the_first_page_says_what_for_what_came_out_what_is_open_and_who_answers():
    said = " ".join(front_text(evaluated()).split())
    for words in ("R-12", "An owner", "Whether it replaces the cone.", "Conclusion", "Choices", "Open points",
                  "checked not given", "approved C. Chief", "can kill"):  # fmt: skip
        assert words in said
    assert len(conclusion(evaluated())) == 5
    assert "Purpose not given" in " ".join(front_text(evaluated(), Signed()).split())


@pytest.mark.parametrize("name", two_examples())
def test_the_first_page_is_one_page_whatever_the_bowl(name):
    sheets = report_sheets(report_of(evaluated(name), JOB, signed=SIGNED))
    words = [[t.text for t in sheet.items if isinstance(t, Text)] for sheet in sheets[:2]]
    assert "Signatures" in words[0] and "Contents" in words[1] and clashes(sheets[0]) == []


def test_the_conclusion_of_a_bowl_without_a_flow_says_what_is_not_given():
    broken = evaluated(edit=lambda d: with_grooves(d, GrooveRule(mouth_mm=40.0)))
    lines = conclusion(broken)
    assert len(lines) == 5 and "must not be made" in lines[0] and sum("not given" in line for line in lines) >= 4
    assert not any("nan" in line for line in lines)


def test_each_equation_has_a_number_of_this_study_or_says_that_it_has_none(e, whole):
    tables = [b for b in whole.blocks if isinstance(b, Grid) and "In this study" in b.heads]
    rows = {row[1]: row for table in tables for row in table.rows}
    here = tables[0].heads.index("In this study")
    for scope in Scope:
        for q in of_scope(scope):
            if q.equation and any(v == v for v in q.get(e)):
                assert any(c.isdigit() for c in rows[q.equation][here]), q.key
    k = int(e.flow.groove_ratio[0].argmax())
    assert f"groove {k + 1}: {e.flow.groove_ratio[0, k]:.2f}" in rows["E = σ / (m tan(θ_f − δ))"][here]


def test_every_letter_of_every_equation_is_among_the_symbols(whole):
    tables = [b for b in whole.blocks if isinstance(b, Grid) and "means" in b.heads]
    letters = {cell for row in tables[0].rows for cell in row[::2]}
    told = [q for scope in Scope for q in of_scope(scope)]
    assert {n for q in told for n in symbols_of(q.equation) if n not in OWN.get(q.key, {})} <= letters


def test_every_work_a_source_names_by_author_and_year_is_cited_in_full(whole):
    told = [q for scope in Scope for q in of_scope(scope) if q.equation]
    for q in told:
        for author in re.findall(
            r"([A-Z][a-zé]+)(?:, [A-Z][a-z]+)*(?: &| et)? ?[A-Za-z]* \((?:1[89]|20)\d\d\)", q.source
        ):
            assert any(author in text for text in CITATIONS.values()), (q.key, author)
    text = " ".join(b.text for b in whole.blocks if isinstance(b, Paragraph))
    assert CITATIONS["Takahashi"] in text and "from memory" in text


def test_bookmarks_and_contents_lead_to_the_pages_their_headings_stand_on(whole):
    sheets = report_sheets(whole)
    pdf = pypdf.PdfReader(io.BytesIO(sheets_pdf(sheets, "Report")))
    outline = [item for item in pdf.outline if not isinstance(item, list)]
    heads = [b.text for b in whole.blocks if isinstance(b, Heading) and b.level == 1]
    assert [item.title for item in outline] == heads
    for item in outline:
        assert item.title in pdf.pages[pdf.get_destination_page_number(item)].extract_text()
    links = [a.get_object() for a in pdf.pages[1]["/Annots"]]
    assert len(links) == len(heads)
    ids = [page.indirect_reference for page in pdf.pages]
    ends = [link["/Dest"][0] if "/Dest" in link else link["/A"]["/D"][0] for link in links]
    places = [end if isinstance(end, int) else ids.index(end) for end in ends]
    assert places == [pdf.get_destination_page_number(item) for item in outline]


def test_heads_of_tables_have_a_scope_and_tables_a_caption(whole):
    html = report_html(whole)
    assert "<th>" not in html and html.count("<caption>") == html.count("<table")


def test_what_is_not_known_is_not_given_and_never_a_nought(whole):
    tables = [b for b in whole.blocks if isinstance(b, Grid) and len(b.heads) == 4]
    pairs = {row[k]: row[k + 1] for b in tables for row in b.rows for k in (0, 2)}
    assert pairs["Supply pressure"] == "not given" and pairs["Flange bolt capacity"] == "not given"
    assert not any("0 where" in f.help for kind in KINDS for f in fields_of(kind).values())

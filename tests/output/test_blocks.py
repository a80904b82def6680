"""Blocks as text and as HTML: nothing is wider than it may be, nothing of a table is lost, names are escaped."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from profiler.output.blocks.as_html import html_of
from profiler.output.blocks.as_pages import LEFT, report_sheets
from profiler.output.blocks.as_pages import WIDTH as PAGE_WIDTH
from profiler.output.blocks.as_text import WIDTH, blocks_text
from profiler.output.blocks.blocks import Grid, Heading, Paragraph, Report
from profiler.pictures.sheet.clashes import extents
from profiler.pictures.sheet.items import Text

WORDS = st.lists(st.text("abcdefgh", min_size=1, max_size=12), min_size=1, max_size=12).map(" ".join)
ROWS = st.integers(1, 6).flatmap(
    lambda columns: st.lists(st.lists(WORDS, min_size=columns, max_size=columns).map(tuple), min_size=1, max_size=4)
)


@settings(max_examples=60, deadline=None)
@given(ROWS)
def test_a_table_keeps_its_words_in_order_and_its_width(rows: list[tuple[str, ...]]) -> None:
    grid = Grid(("",) * len(rows[0]), tuple(rows))
    text = blocks_text([grid])
    assert max(map(len, text.splitlines())) <= WIDTH
    assert sorted(text.split()) == sorted(" ".join(cell for row in rows for cell in row).split())


def test_columns_of_numbers_stand_at_the_right() -> None:
    lines = blocks_text([Grid(("name", "points"), (("one", "1.20"), ("another", "12.05")))]).splitlines()
    assert lines == ["  name     points", "  one        1.20", "  another   12.05"]


def test_headings_after_the_first_stand_off() -> None:
    assert blocks_text([Heading("A"), Paragraph("words"), Heading("B", 2)]) == "A\n  words\n\nB\n"


@pytest.mark.parametrize("block", [Heading("<b>"), Paragraph("<b>"), Grid(("<b>",), (("<b>",),))])
def test_what_a_name_holds_is_never_taken_for_html(block: Heading | Paragraph | Grid) -> None:
    html = html_of([block])
    assert "<b>" not in html and "&lt;b&gt;" in html


def test_a_strong_row_is_marked() -> None:
    html = html_of([Grid(("", ""), (("met", "a"), ("failed", "b")), strong=(1,))])
    assert html.count('class="strong"') == 1 and html.index("strong") > html.index("met")


@pytest.mark.parametrize("name", ["Graded, with water holes of another kind", "W" * 80, "Wide MOUTHS AND WORDS " * 6])
def test_no_title_heading_or_strong_line_leaves_its_page_whatever_it_says(name: str) -> None:
    """Bold letters are wider than the others; texts are measured as they are drawn."""
    blocks = (Heading(f"Heading {name}"), Paragraph(f"Strong {name}", strong=True), Paragraph(name))
    for sheet in report_sheets(Report(f"Calculation report: {name}", (name,), blocks)):
        left, _, right, _ = extents([item for item in sheet.items if isinstance(item, Text)])
        assert left >= LEFT - 0.1 and right <= LEFT + PAGE_WIDTH + 0.1

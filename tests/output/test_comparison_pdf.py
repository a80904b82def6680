"""The comparison as PDF, read back with an independent reader."""

import pypdf
import pytest
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.assess.quantities.table import quantity
from profiler.explore.compare import Over, View, compare, conditions_of
from profiler.output.report.comparison_pdf import write_comparison
from profiler.study import BowlFileError
from profiler.study.files.examples import read


def windowed(name="graded"):
    study = read(name)
    return replace(study, duties=tuple(replace(d, in_window=True) for d in study.duties))


@pytest.fixture(scope="module")
def pages(tmp_path_factory):
    path = tmp_path_factory.mktemp("pdf") / "c.pdf"
    count = write_comparison(path, compare(windowed()), View())
    reader = pypdf.PdfReader(path)
    assert len(reader.pages) == count == 6  # charts, a table for the view, three of the window, lineage
    return reader.pages


def test_pages_are_a4_across_and_each_carries_head_caution_and_number(pages):
    for number, page in enumerate(pages, 1):
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx((841.9, 595.3), abs=0.5)
        text = page.extract_text()
        assert "Comparison of designs" in text and "580 rpm" in text and f"{number} of 6" in text
        assert "can kill" in text and "uncalibrated" in text


def test_each_page_names_the_conditions_of_what_it_shows(tmp_path):
    """A page of one duty that one's, a page over the ore window each of its duties', whatever duty is shown first."""
    c = compare(windowed())
    other = View(Over.DUTY, 2)
    write_comparison(tmp_path / "c.pdf", c, other)
    charts, one, *window, lineage = (
        " ".join(p.extract_text().split()) for p in pypdf.PdfReader(tmp_path / "c.pdf").pages
    )
    said = [" ".join(conditions_of(d).split()) for d in c.window]
    for text in (charts, one):
        assert [words in text for words in said] == [False, True, False]
    assert len(window) == 3 and all(words in text for text in window for words in said)
    assert "A copy of" not in lineage and "How it was made is not recorded" in lineage


def test_the_table_holds_the_numbers(pages):
    study = read("graded")
    shown = evaluate(study.design, study.machine, study.duty)
    rows = (quantity(key) for key in ("share_strong_pct", "matched_mm"))
    numbers = [row.text(float(row.get(shown)[0])) for row in rows]
    text = pages[1].extract_text()
    for words in ("Graded, first try (reference)", "Plain cone", "Body mass", *numbers):
        assert words in text


def test_a_faulty_design_is_marked_as_not_checked(tmp_path):
    write_comparison(tmp_path / "f.pdf", compare(windowed("faulty")))
    text = pypdf.PdfReader(tmp_path / "f.pdf").pages[0].extract_text()
    assert "NOT CHECKED" in text and "stop finding" in text


def test_an_unwritable_place_is_one_sentence(tmp_path):
    with pytest.raises(BowlFileError, match="cannot be written"):
        write_comparison(tmp_path / "nowhere" / "c.pdf", compare(windowed()))

"""The PDF as pypdf and pdfplumber read it: page size, lengths, line widths, embedded searchable text.

Lengths in a PDF are points of 1/72 inch (ISO 32000); so one millimetre is 72/25.4 of them.
"""

import io
from importlib.resources import files

import numpy as np
import pdfplumber
import pypdf
import pytest
import shapely
from fontTools.ttLib import TTFont
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.output.drawings.gauge_output import gauge_pages
from profiler.output.drawings.parts import Part, part_chain
from profiler.output.formats.sheet_page import sheets_pdf
from profiler.pictures.drawing.compose import DrawingOptions, drawing
from profiler.pictures.sheet.clashes import clashes, texts_of
from profiler.pictures.sheet.gauge import gauge_sheets
from profiler.study.files import examples

MM = 72.0 / 25.4
STUDY = examples.read("graded")
E = evaluate(STUDY.design, STUDY.machine, STUDY.duty)


def opened(data):
    return pdfplumber.open(io.BytesIO(data))


@pytest.fixture(scope="module")
def sheet():
    made = drawing(E, DrawingOptions(size="A2"))
    return made, sheets_pdf(made.sheets, "Bowl", "A. Designer")


def test_the_page_is_the_trimmed_sheet_to_a_ten_thousandth(sheet):
    box = pypdf.PdfReader(io.BytesIO(sheet[1])).pages[0].mediabox
    assert float(box.width) / MM == pytest.approx(594.0, abs=1e-3)
    assert float(box.height) / MM == pytest.approx(420.0, abs=1e-3)


def test_the_frame_and_the_outline_have_true_lengths_and_widths(sheet):
    made, data = sheet
    page = opened(data).pages[0]
    frame = [r for r in (*page.rects, *page.curves) if r["linewidth"] == pytest.approx(0.7 * MM, abs=1e-3)]
    assert len(frame) == 1
    assert frame[0]["width"] / MM == pytest.approx(564.0, abs=0.01)
    assert frame[0]["height"] / MM == pytest.approx(400.0, abs=0.01)
    halves = [c for c in page.curves if len(c["pts"]) > 60 and c["linewidth"] == pytest.approx(0.5 * MM, abs=1e-3)]
    assert len(halves) == 2
    left, right = min(c["x0"] for c in halves), max(c["x1"] for c in halves)
    assert (right - left) / MM == pytest.approx(2.0 * E.shape.shell.flange_radius * made.scale, abs=0.01)
    assert [c["height"] / MM for c in halves] == pytest.approx([346.0 * made.scale] * 2, abs=0.01)


def test_only_the_widths_of_the_standard_series_occur(sheet):
    """ISO 128-2 (from memory): 0.13, 0.18, 0.25, 0.35, 0.5, 0.7 mm."""
    page = opened(sheet[1]).pages[0]
    widths = {round(i["linewidth"] / MM, 3) for i in (*page.lines, *page.curves, *page.rects) if i["stroke"]}
    assert widths <= {0.13, 0.18, 0.25, 0.35, 0.5, 0.7}
    assert {0.18, 0.25, 0.5, 0.7} <= widths


def test_the_overall_dimension_line_is_as_long_as_its_number_says(sheet):
    made, data = sheet
    page = opened(data).pages[0]
    words = page.extract_text()
    assert "346.00" in words.split()
    lines = [abs(line["bottom"] - line["top"]) / MM for line in page.lines if abs(line["x1"] - line["x0"]) < 1e-6]
    assert min(abs(length - 346.0 * made.scale) for length in lines) < 0.01


def test_text_is_embedded_searchable_and_says_what_a_drawing_must(sheet):
    data = sheet[1]
    text = opened(data).pages[0].extract_text()
    for words in ("ALL DIMENSIONS IN mm", "Ø435.20", "ISO 2768-1 m", "CAUTION", "uncalibrated", "Part drawing"):
        assert words in text
    resources = pypdf.PdfReader(io.BytesIO(data)).pages[0]["/Resources"]["/Font"]
    fonts = [font.get_object() for font in resources.values()]
    assert fonts
    for font in fonts:
        descendant = font["/DescendantFonts"][0].get_object() if "/DescendantFonts" in font else font
        assert "/FontFile2" in descendant["/FontDescriptor"].get_object()


def test_no_upright_letter_of_the_page_has_a_line_through_it(sheet):
    """As the reader sees it: every letter from base line to capital height against every line and outline."""
    page = opened(sheet[1]).pages[0]
    high = page.height
    pieces = [np.array(c["pts"]) for c in (*page.lines, *page.curves) if c["linewidth"] < 0.6 * MM]
    pieces += [_corners(r) for r in page.rects if r["linewidth"] < 0.6 * MM]
    drawn = shapely.STRtree([shapely.LineString(np.column_stack((p[:, 0], high - p[:, 1]))) for p in pieces])
    letters = [c for c in page.chars if c["matrix"][1] == 0.0 and c["text"].strip()]
    assert len(letters) > 1000
    boxes = [shapely.box(c["x0"] + 0.1, base, c["x1"] - 0.1, base + 0.7 * c["size"])
             for c in letters for base in (c["matrix"][5],)]  # fmt: skip
    which, _ = drawn.query(boxes, predicate="intersects")
    margin = [c for c in (letters[k] for k in which) if 20.0 * MM < c["x0"] < 584.0 * MM]
    assert "".join(c["text"] for c in margin) == ""


def _corners(r):
    x, y = (r["x0"], r["x1"]), (r["top"], r["bottom"])
    return np.array([(x[0], y[0]), (x[1], y[0]), (x[1], y[1]), (x[0], y[1]), (x[0], y[0])])


def test_the_file_names_title_and_author(sheet):
    about = pypdf.PdfReader(io.BytesIO(sheet[1])).metadata
    assert (about.title, about.author) == ("Bowl", "A. Designer")


@pytest.fixture(scope="module")
def gauge():
    template = part_chain(Part.GAUGE, E.shape, STUDY.machine)
    return template, opened(sheets_pdf(gauge_sheets(template, "Gauge", ()), "Gauge")).pages


def test_every_gauge_page_is_a4_with_a_line_of_100_mm(gauge):
    _, pages = gauge
    assert len(pages) > 1
    for page in pages:
        assert (page.width / MM, page.height / MM) == pytest.approx((210.0, 297.0), abs=1e-3)
        lines = [i["width"] / MM for i in page.lines if i["linewidth"] == pytest.approx(0.35 * MM, abs=1e-3)]
        assert lines == [pytest.approx(100.0, abs=0.01)]


def test_joined_by_their_crosses_the_pages_give_the_template(gauge):
    """The first page's tile starts at the template's lower left corner, 170 x 230 mm each."""
    template, pages = gauge
    low = template.points.min(axis=0)
    found = []
    for page in pages:
        column, row = ord(page.extract_text().split("TILE ")[1][0]) - ord("A"), int(page.extract_text()[6]) - 1
        for item in (*page.lines, *page.curves):
            if item["linewidth"] == pytest.approx(0.5 * MM, abs=1e-3):
                points = np.array(item["pts"]) / MM
                x = points[:, 0] - 20.0 + 170.0 * column + low[0]
                y = 297.0 - points[:, 1] - 38.0 + 230.0 * row + low[1]
                found.append(np.stack((x, y), axis=1))
    drawn = np.concatenate(found)
    assert drawn.min(axis=0) == pytest.approx(low, abs=0.01)
    assert drawn.max(axis=0) == pytest.approx(template.points.max(axis=0), abs=0.01)
    corners = template.points
    nearest = np.hypot(*(corners[:, None] - drawn[None]).transpose(2, 0, 1)).min(axis=1)
    assert nearest.max() < 0.01


def _times(design, factor):
    """The same bowl, so many times as large in every length."""
    wall = design.wall
    knots = tuple(replace(k, height_mm=k.height_mm * factor) for k in wall.knots)
    lengths = ("from_mm", "to_mm", "mouth_mm", "depth_mm", "floor_radius_mm", "edge_radius_mm")
    rule = replace(design.grooves, **{name: getattr(design.grooves, name) * factor for name in lengths})
    lengths = ("wall_mm", "floor_plate_mm", "hub_hole_mm", "flange_width_mm", "flange_mm")
    body = replace(design.body, **{name: getattr(design.body, name) * factor for name in lengths})
    wall = replace(wall, knots=knots, lip_radius_mm=wall.lip_radius_mm * factor)
    return replace(design, wall=wall, grooves=rule, body=body)


@pytest.mark.parametrize("factor", [0.18, 1.0, 5.0])
def test_no_text_of_a_gauge_meets_another_or_lies_across_its_edge(factor):
    e = evaluate(_times(STUDY.design, factor), STUDY.machine, STUDY.duty)
    pages = gauge_pages(e, "2026-10-20")
    assert all(clashes(page) == [] for page in pages)
    said = [t.text for page in pages for t in texts_of(page.items)]
    assert any(t.startswith("NOT CHECKED") for t in said) == any(f.severity == "stop" for f in e.findings)
    assert sum("tiles" in t.lower() and "page" not in t for t in said) == len(pages)


@pytest.mark.parametrize("name", ["DejaVuSans.ttf", "DejaVuSans-Bold.ttf"])
def test_the_fonts_of_paper_have_the_same_letters_and_widths_and_shape_no_text(name):
    """Table by table, by a general font reader; kerning and ligatures would make texts otherwise wide than reckoned."""
    folder = files("profiler.data") / "fonts"
    with TTFont(str(folder / name), lazy=True) as whole, TTFont(str(folder / "print" / name), lazy=True) as plain:
        for table in ("glyf", "loca", "hmtx", "cmap", "hhea", "maxp"):
            assert plain.getTableData(table) == whole.getTableData(table)
        assert not {"GSUB", "GPOS", "kern"} & set(plain.keys())

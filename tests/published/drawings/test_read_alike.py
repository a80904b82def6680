"""The drawing DXF as any reader must take it: every dimension measured anew from its own points, and the file drawn.

Groups 13, 14 and 50 of a DIMENSION are its points and direction, 11 the middle of its text, 1 the text itself, and
DIMLFAC of its style what a drawn length is multiplied with (DXF reference, ezdxf's documentation of it). The file is
drawn by ezdxf's drawing add-on, the PDF by PDFium: two programs that know nothing of ours.
"""

import io
from dataclasses import replace

import ezdxf
import numpy as np
import pypdfium2
import pytest
from ezdxf.addons.drawing import Frontend, RenderContext
from ezdxf.addons.drawing.config import BackgroundPolicy, ColorPolicy, Configuration
from ezdxf.addons.drawing.matplotlib import MatplotlibBackend
from ezdxf.lldxf.encoding import decode_dxf_unicode
from matplotlib.figure import Figure
from matplotlib.image import imread
from msgspec.structs import replace as with_
from scipy.ndimage import maximum_filter

from profiler.assess import evaluate
from profiler.geometry.chain import Chain, arcs
from profiler.output.formats.dxf_document import cad_text, foreign_letters, plain_letters
from profiler.output.formats.segments import ArcSegment, segments_of
from profiler.output.formats.sheet_dxf import sheets_dxf
from profiler.output.formats.sheet_page import sheets_pdf
from profiler.output.writing import export
from profiler.pictures.drawing.compose import DrawingOptions, drawing
from profiler.pictures.sheet.items import Hatch, Text
from profiler.pictures.sheet.lettering import STROKES, text_width, wider_width, wrapped
from profiler.study.files import examples
from tests.tiers import two_examples

PX_PER_MM = 5
NEAR_MM = 0.4
MM_PER_INCH = 25.4


def drawn(name, size=None):
    study = examples.read(name)
    return drawing(evaluate(study.design, study.machine, study.duty), DrawingOptions(size))


def read(sheets):
    return ezdxf.read(io.StringIO(sheets_dxf(sheets).decode("ascii")))


@pytest.fixture(scope="module", params=examples.names())
def document(request):
    return read(drawn(request.param).sheets)


def test_every_dimension_measured_from_its_own_points_is_what_its_text_says(document):
    dimensions = document.modelspace().query("DIMENSION")
    assert len(dimensions) >= 9
    factors = set()
    for d in (d for d in dimensions if d.dimtype == 5):
        corner = np.array(d.dxf.defpoint4)[:2]
        one, other = (np.arctan2(*(np.array(p)[:2] - corner)[::-1]) for p in (d.dxf.defpoint2, d.dxf.defpoint3))
        angle = np.degrees(other - one) % 360.0
        assert float(d.dxf.text.partition("%%d")[0]) == pytest.approx(angle, abs=0.005)
    for d in (d for d in dimensions if d.dimtype != 5):
        turn = np.radians(d.dxf.angle)
        apart = np.array(d.dxf.defpoint3)[:2] - np.array(d.dxf.defpoint2)[:2]
        factor = document.dimstyles.get(d.dxf.dimstyle).dxf.dimlfac
        factors.add(factor)
        length = abs(float(apart @ (np.cos(turn), np.sin(turn)))) * factor
        assert float(d.dxf.text.removeprefix("%%c").split(" ")[0]) == pytest.approx(length, abs=0.005)
        assert d.dxf.actual_measurement == pytest.approx(length, abs=1e-6)
        assert not d.has_xdata("ACAD"), "a factor of the dimension's own, which some readers pass over"
    assert len(factors) > 1, "the enlarged groove has dimensions too"


def test_the_text_point_of_a_dimension_is_the_middle_of_the_text_that_readers_show(document):
    for d in document.modelspace().query("DIMENSION"):
        text = next(e for e in document.blocks.get(d.dxf.geometry) if e.dxftype() == "TEXT")
        assert text.dxf.text == d.dxf.text
        low, high = np.array(text.dxf.insert)[:2], np.array(text.dxf.align_point)[:2]
        along = (high - low) / np.hypot(*(high - low))
        off = np.array(d.dxf.text_midpoint)[:2] - 0.5 * (low + high)
        assert off @ along == pytest.approx(0.0, abs=1e-6)
        assert off @ (-along[1], along[0]) == pytest.approx(0.5 * text.dxf.height, abs=1e-6)
        assert d.dxf.attachment_point == 5


def test_the_centre_line_has_the_name_that_readers_know(document):
    assert document.layers.get("CENTRE").dxf.linetype == "CENTER"
    assert document.linetypes.has_entry("CENTER")


def test_every_text_is_as_wide_as_reckoned_in_whatever_font(document):
    for text in document.modelspace().query("TEXT"):
        assert text.dxf.halign == 5, "stretched between two points"
        assert (text.dxf.align_point - text.dxf.insert).magnitude > 0.0


def test_an_arc_flatter_than_two_thousandths_is_a_line_and_a_rounder_one_an_arc():
    for sag, kind in ((0.0019, "line"), (0.0021, "arc")):
        chain = Chain(np.array([[0.0, 0.0], [10.0, 0.0]]), np.array([sag / 5.0, 0.0]), closed=False)
        assert isinstance(segments_of(chain)[0], ArcSegment) == (kind == "arc")


@pytest.mark.parametrize("name", two_examples())
def test_no_arc_in_a_profile_is_flatter_and_none_lies_farther_than_the_stated_hundredth(name, tmp_path):
    study = examples.read(name)
    for design in study.designs:
        e = evaluate(design, study.machine, study.duty)
        path = tmp_path / "p.dxf"
        export(path, e, kind="profile")
        for arc in ezdxf.readfile(path).modelspace().query("ARC"):
            swept = np.radians((arc.dxf.end_angle - arc.dxf.start_angle) % 360.0)
            assert arc.dxf.radius * (1.0 - np.cos(0.5 * swept)) > 0.0019
        chain = e.shape.outline
        _, radius, sweep, curved = arcs(chain)
        straight = [not isinstance(s, ArcSegment) for s in segments_of(chain)] & curved
        assert np.all(radius[straight] * (1.0 - np.cos(0.5 * sweep[straight])) <= 0.0021)


def test_notes_fit_their_column_in_the_wider_of_two_fonts():
    assert len(STROKES) == ord("~") - ord(" ") + 1
    text = "The whole of a long note that runs over several lines; 0.5 to 6 ±0.1, 6 to 30 ±0.2 " * 5
    lines = wrapped(text, 2.5, 120.0, in_any_font=True)
    assert max(wider_width(line, 2.5) for line in lines) <= 120.0 < wider_width(text, 2.5)
    narrow = wrapped(text, 2.5, 120.0)
    assert len(narrow) < len(lines) and max(wider_width(line, 2.5) for line in narrow) > 120.0
    assert all(wider_width(line, 2.5) >= text_width(line, 2.5) for line in lines)


def test_letters_go_plain_where_they_can_and_stay_as_unicode_with_a_word_where_they_cannot(tmp_path):
    assert plain_letters("Größe Straße, Łódź œuvre “x”") == 'Grosse Strasse, Lodz oeuvre "x"'
    assert cad_text("1  Ø5 ±0.1°") == "1  %%c5 %%p0.1%%d"
    assert plain_letters("Чаша 鉢") == r"\U+0427\U+0430\U+0448\U+0430 \U+9262"
    assert foreign_letters(["Größe ?", "Чаша"]) == "Чаш"
    study = examples.read("graded")
    e = evaluate(with_(study.design, name="Чаша"), study.machine, study.duty)
    for kind in ("drawing", "profile", "gauge"):
        path = tmp_path / f"{kind}.dxf"
        found = export(path, e, kind=kind)[0].findings
        assert any(f.code == "letters" and "Чаш" in f.text for f in found)
        assert path.read_bytes().isascii()
        texts = [decode_dxf_unicode(t.dxf.text) for t in ezdxf.readfile(path).modelspace().query("TEXT")]
        assert any("Чаша" in text for text in texts)


@pytest.fixture(scope="module")
def pictures():
    """Both files of one sheet as ink; without hatching, whose lines may start anywhere."""
    made = drawn("graded", "A2")
    sheets = tuple(replace(s, items=tuple(i for i in s.items if not isinstance(i, Hatch))) for s in made.sheets)
    return sheets, ink_of_dxf(sheets), ink_of_pdf(sheets)


def ink_of_dxf(sheets):
    sheet, view = sheets[0], sheets[0].view
    document = read(sheets)
    document.styles.get("ISO").dxf.font = "DejaVuSans.ttf"  # that the letters can be compared too
    figure = Figure(figsize=(sheet.width / MM_PER_INCH, sheet.height / MM_PER_INCH), dpi=PX_PER_MM * MM_PER_INCH)
    axes = figure.add_axes((0, 0, 1, 1))
    config = Configuration(lineweight_scaling=72 / MM_PER_INCH, min_lineweight=0.05, color_policy=ColorPolicy.BLACK,
                           background_policy=BackgroundPolicy.WHITE)  # fmt: skip
    backend = MatplotlibBackend(axes, adjust_figure=False)
    Frontend(RenderContext(document), backend, config=config).draw_layout(document.modelspace())
    corners = np.array([[0.0, 0.0], [sheet.width, sheet.height]])
    low, high = (corners - np.array(view.origin)) / view.scale
    axes.set_xlim(low[0], high[0])
    axes.set_ylim(low[1], high[1])
    axes.set_axis_off()
    stream = io.BytesIO()
    figure.savefig(stream, format="png")
    stream.seek(0)
    return imread(stream)[..., :3].mean(axis=-1) < 0.6


def ink_of_pdf(sheets):
    page = pypdfium2.PdfDocument(sheets_pdf(sheets, "sheet"))[0]
    picture = page.render(scale=PX_PER_MM * MM_PER_INCH / 72.0, grayscale=True).to_numpy()
    return picture.reshape(*picture.shape[:2], -1)[..., 0] < 0.6 * 255.0


def apart(one, other):
    """The larger share of either's ink with none of the other's near."""
    height, width = (min(a, b) for a, b in zip(one.shape, other.shape, strict=True))
    edge = 2 * PX_PER_MM  # of the sheet, where half a line falls off
    one, other = (a[edge : height - edge, edge : width - edge] for a in (one, other))
    reach = 2 * round(NEAR_MM * PX_PER_MM) + 1
    return max(np.sum(a & ~maximum_filter(b, reach)) / np.sum(a) for a, b in ((one, other), (other, one)))


def test_drawn_by_another_program_the_dxf_is_the_pdf(pictures):
    """Within 0.4 mm; a two hundredth is left for how two programs round the ends of strokes and fill a letter."""
    _, dxf, pdf = pictures
    assert pdf.sum() > 50_000
    assert apart(dxf, pdf) < 0.005


def test_one_number_out_of_its_place_would_be_seen(pictures):
    sheets, dxf, _ = pictures
    moved = tuple(
        replace(i, x=i.x + 3.0) if isinstance(i, Text) and i.text.startswith("A (") else i for i in sheets[0].items
    )
    assert apart(dxf, ink_of_pdf((replace(sheets[0], items=moved),))) > 0.005

"""How a length is written: the one writer, on every form of sentence the program uses.

An inch is 25.4 mm exactly (International yard and pound agreement of 1959; ISO 80000-3, 2006, annex): what is written
in inches, times 25.4, agrees with the millimetres within half their last decimal.
"""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from profiler.numbers import fixed
from profiler.pictures.basics.display import Align, Label, Picture
from profiler.pictures.basics.frame import framed
from profiler.pictures.basics.lengths import INCHES, MILLIMETRES, pictured

FORMS = {
    "It narrows to 4.0 mm between 190 and 260 mm.": "It narrows to 0.157 in between 7.480 and 10.236 in.",
    "mean mouth 9.00 instead of 8.00 mm": "mean mouth 0.3543 instead of 0.3150 in",
    "floor radius goes from 100.1 to 119.6 mm": "floor radius goes from 3.941 to 4.709 in",
    "no change at −0.12 mm, +0.50 mm": "no change at −0.0047 in, +0.0197 in",
    "reach 5.3 mm (4.1 to 6.3)": "reach 0.209 in (0.161 to 0.248)",
    "knot 2 of 5, 110 mm, 14°": "knot 2 of 5, 4.331 in, 14°",
    "14 × 2.50 mm": "14 × 0.0984 in",
    "– mm": "– in",
    "section 12 345 mm², 5.0 mm/s, 300 g mm, 110 µm, ISO 2768-1 mm": None,
    "All numbers in mm.": "All numbers in inches.",
    "Ø217.6 mm, R12.0 mm, ±0.5 mm": "Ø8.567 in, R0.472 in, ±0.020 in",
    "4.0 / 6 mm": "0.157 / 0.236 in",
    "“Mouth 8 mm” has mouths of 8 mm": "“Mouth 8 mm” has mouths of 0.315 in",
    "it is 4.0\n    mm wide": "it is 0.157\n    in wide",
}


@pytest.mark.parametrize("sentence", FORMS)
def test_a_sentence_is_told_in_inches_and_what_is_no_length_stays(sentence: str) -> None:
    assert INCHES.told(sentence) == (FORMS[sentence] or sentence)
    assert MILLIMETRES.told(sentence) == sentence


@given(st.floats(-5000.0, 5000.0), st.integers(0, 3))
@settings(max_examples=80)
def test_inches_times_25_4_are_the_millimetres_within_their_rounding(value: float, decimals: int) -> None:
    mm = fixed(value, decimals)
    written = INCHES.told(f"{mm} mm").removesuffix(" in")
    back = 25.4 * float(written.replace("−", "-"))
    assert back == pytest.approx(float(mm.replace("−", "-")), abs=0.5 * 10.0**-decimals)


def test_heads_and_cells_of_a_table_are_told_apart_from_sentences() -> None:
    heads = ("height mm", "Ø, mm", "start_z_mm", "mm", "bowl, mm", "reach, mm (middle case)")
    assert [INCHES.head(h) for h in heads] == ["height in", "Ø, in", "start_z_in", "in", "bowl, in",
                                               "reach, in (middle case)"]  # fmt: skip
    for other in ("section_area_mm2", "mouth_mm_s", "unbalance_g_mm2", "mm²", "mm/s", "g mm", "number"):
        assert INCHES.head(other) == other and not INCHES.heads(other)
    assert (
        INCHES.cell("12.0 to 14.0") == "0.472 to 0.551"
        and INCHES.cell("–") == "–"
        and INCHES.cell("14x Ø2.5") == "14x Ø0.098"
    )


def test_a_name_that_looks_like_a_length_stays() -> None:
    assert INCHES.keeping("Cone, 8 mm").told("Design: Cone, 8 mm; mouth 8 mm") == "Design: Cone, 8 mm; mouth 0.315 in"
    assert not INCHES.heads("Cone, 8 mm")


def test_a_picture_tells_its_letterings_and_keeps_its_scales() -> None:
    shown = pictured(Picture(9.0, 9.0, (Label(1.0, 1.0, "drop 2.5 mm"), Label(1.0, 2.0, "50"))), INCHES)
    assert [i.text for i in shown.items if isinstance(i, Label)] == ["drop 0.098 in", "50"]


def test_a_sheet_gives_both() -> None:
    assert INCHES.told_both("overall height 330.0 mm") == "overall height 12.992 in [330.0 mm]"
    assert not re.search("in", MILLIMETRES.told_both("330.0 mm"))


def test_the_scale_of_a_chart_counts_round_inches_where_its_title_says_mm() -> None:
    frame = framed(400.0, 300.0, (0.0, 30.0), (0.0, 330.2), "wall angle, °", "height, mm", INCHES)
    labels = [i for i in frame.scales() if isinstance(i, Label)]
    assert "height, in" in [i.text for i in labels] and "wall angle, °" in [i.text for i in labels]
    heights = {i.text: i.y for i in labels if i.align is Align.RIGHT}
    assert len(heights) > 3 and all(float(text) == round(float(text), 1) for text in heights)
    assert all(frame.y.value(y) == pytest.approx(25.4 * float(text)) for text, y in heights.items())
    plain = framed(400.0, 300.0, (0.0, 30.0), (0.0, 330.2), "wall angle, °", "height, mm")
    assert [i.text for i in plain.scales() if isinstance(i, Label)][-1] == "height, mm"

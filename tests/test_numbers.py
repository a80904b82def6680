"""Numbers read as people write them and written as print has them.

Groups of three digits with a space between, a comma or a point for the decimals: ISO 80000-1:2022, 7.3; four digits
are customarily not parted: SI Brochure, 9th edition, 5.4.4, whose own example 43 279.168 29 is read below (both from
memory). What a value is written as is checked against Python's own formatting.
"""

import ast
import math
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import profiler
from profiler.numbers import (
    MINUS,
    THOUSANDS,
    as_printed,
    counted,
    editable,
    fixed,
    in_plain_signs,
    is_number,
    number_of,
    numbers_of,
    plainly,
    read,
    significant,
)

NARROW, NO_BREAK, THIN = "\u202f", "\u00a0", "\u2009"


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("1 200", 1200.0), (f"1{NARROW}200", 1200.0), (f"1{NO_BREAK}200", 1200.0), (f"1{THIN}200", 1200.0),
        ("43 279.168 29", 43279.16829), ("1,5", 1.5), ("1.5", 1.5), ("−3", -3.0), ("- 3", -3.0), ("+3", 3.0),
        ("12 %", 12.0), ("12%", 12.0), (" .5 ", 0.5), ("5.", 5.0), ("1e3", 1000.0), ("-2,5E-3", -0.0025),
        ("1 450,500", 1450.5), ("0", 0.0),
    ],
)  # fmt: skip
def test_a_number_is_read_alike_whoever_wrote_it(text: str, value: float) -> None:
    assert read(text).value == number_of(text) == value


@pytest.mark.parametrize(
    "text",
    ["abc", "", " ", "%", "-", ".", "1_000", "inf", "-Infinity", "nan", "0x10", "1 2", "12 34", "1234 567", "1 ,5 3",
     "1,234.5", "1.234.567", "1'200", "--1", "1e", "1e+", "٣", "1e308", "9" * 400, "1e999", "1 e3"],
)  # fmt: skip
def test_what_is_no_number_is_refused_in_one_sentence(text: str) -> None:
    with pytest.raises(ValueError, match=r"^“.*” is (not a|too large a) number.*\.$") as said:
        read(text)
    assert len(str(said.value)) < 100


@pytest.mark.parametrize(
    ("text", "otherwise"),
    [("1,450", 1450.0), ("1.450", 1450.0), ("-12,000", -12000.0), ("999.999 %", 999999.0), ("0,450", None),
     ("1450.125", None), ("1 450,125", None), ("1,45", None), ("1,4500", None), ("1.450e3", None), ("1450", None)],
)  # fmt: skip
def test_a_mark_before_three_digits_could_stand_between_thousands_and_is_told_so(text, otherwise) -> None:
    found = read(text)
    assert found.otherwise == otherwise and found.is_ambiguous == (otherwise is not None)


@pytest.mark.parametrize("cell", ["", " ", "-", "–", "n/a", "NaN", "None"])
def test_an_empty_cell_is_no_number_and_no_fault(cell: str) -> None:
    assert number_of(cell) is None


def test_several_assays_in_one_cell_stand_apart_by_slashes() -> None:
    assert numbers_of("2,4 / 2.6/ ") == (2.4, 2.6)


numbers = st.floats(-1e12, 1e12, allow_nan=False)


@settings(max_examples=200, deadline=None)
@given(numbers, st.integers(0, 6))
def test_what_is_written_is_the_rounded_number_and_reads_back(value: float, decimals: int) -> None:
    text = fixed(value, decimals)
    plain = text.replace(THOUSANDS, "").replace(MINUS, "-")
    assert float(plain) == float(f"{value:.{decimals}f}") == read(text).value
    assert "-" not in text and " " not in text and is_number(text)
    assert float(plain) != 0.0 or not plain.startswith("-")
    assert in_plain_signs(text) == plain
    groups = text.lstrip(MINUS).partition(".")[0].split(THOUSANDS)
    assert all(len(g) == 3 for g in groups[1:]) and len(groups[0]) <= (4 if len(groups) == 1 else 3)


@settings(max_examples=200, deadline=None)
@given(st.floats(-1e30, 1e30, allow_nan=False), st.integers(1, 8))
def test_significant_figures_are_pythons_with_the_signs_of_print(value: float, digits: int) -> None:
    text = significant(value, digits)
    assert read(text).value == pytest.approx(float(f"{value:.{digits}g}"), rel=1e-12, abs=1e-300)
    assert "-" not in text and is_number(text)


@given(numbers)
@settings(max_examples=100, deadline=None)
def test_a_machine_reads_the_very_same_number(value: float) -> None:
    assert float(plainly(value)) == read(plainly(value)).value == value


def test_signs_are_given_where_they_are_asked_for_and_never_to_zero() -> None:
    assert [fixed(v, 1, signed=True) for v in (1.25, -1.25, 0.04, -0.04)] == ["+1.2", "−1.2", "0.0", "0.0"]
    assert [significant(v, 3, signed=True) for v in (1.25, -2e-7, 0.0)] == ["+1.25", "−2e−7", "0"]


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_no_number_is_written_as_a_dash(value: float) -> None:
    assert fixed(value, 2) == significant(value) == "–"


@pytest.mark.parametrize(
    ("value", "decimals", "text"),
    [(1.0, 2, "1.00"), (1.2345, 2, "1.2345"), (0.1 + 0.2, 1, "0.3"), (-12345.5, 0, "−12345.5"), (0.05, 0, "0.05"),
     (12.000001, 1, "12.0"), (-0.00001, 2, "0.00")],
)  # fmt: skip
def test_a_box_holds_no_marks_between_thousands_and_shows_what_is_held(value, decimals, text) -> None:
    assert editable(value, decimals) == text


def test_counts_have_their_plurals() -> None:
    words = [counted(0, "stop"), counted(1, "check"), counted(17, "note"), counted(2, "entry", "entries")]
    assert words == ["0 stops", "1 check", "17 notes", "2 entries"]
    assert counted(12500, "row") == f"12{NARROW}500 rows"


@pytest.mark.parametrize(
    ("text", "is_one"),
    [("12", True), ("−1.5", True), ("+3", True), (f"12{NARROW}345.6", True), ("1,5", True), ("1e−7", True),
     ("–", False), ("12 mm", False), ("", False), ("ISO 5457", False), ("2031-03-03", False)],
)  # fmt: skip
def test_a_written_number_is_told_from_words(text: str, is_one: bool) -> None:
    assert is_number(text) == is_one


@pytest.mark.parametrize(
    ("sentence", "printed"),
    [
        ("energy 12345 J, at -5 mm", f"energy 12{NARROW}345 J, at −5 mm"), ("12345.678 kPa", f"12{NARROW}345.678 kPa"),
        ("unbalance 19266 g mm", f"unbalance 19{NARROW}266 g mm"), ("50000 L/min", f"50{NARROW}000 L/min"),
        ("run 12345 is there", "run 12345 is there"), ("1450 rpm of 2031-03-03", "1450 rpm of 2031-03-03"),
        ("ISO 21940-11", "ISO 21940-11"),
    ],
)  # fmt: skip
def test_a_sentence_gets_the_signs_of_print_and_names_stay(sentence: str, printed: str) -> None:
    assert as_printed(sentence) == printed


def test_no_minus_is_made_by_hand() -> None:
    """What turns hyphens into minus signs is the writer alone."""
    house = Path(profiler.__file__).parent
    found = []
    for module in house.rglob("*.py"):
        for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr == "replace":
                signs = [a.value for a in node.args if isinstance(a, ast.Constant)]
                if MINUS in signs and signs[0] == "-":
                    found.append(str(module.relative_to(house)))
    assert found == []

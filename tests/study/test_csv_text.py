"""CSV as RFC 4180 has it, read back with Python's csv module; formulas stay texts (OWASP, "CSV Injection")."""

import csv
import io
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from profiler.explore.compare import compare
from profiler.output.tables.comparison_csv import comparison_csv
from profiler.output.tables.tables_csv import CsvTable, csv_bytes
from profiler.output.tables.trial_csv import ledger_csv
from profiler.study.files import examples
from profiler.study.files.csv_text import Fixed, csv_text, shielded, unshielded
from profiler.study.ledger.reading import preview
from profiler.study.ledger.text_tables import read_table

FORMULAS = ("=1+2", "+SUM(A1)", "-2+3", "@now", "\tx", "\r=x", "'=1", "=", "-")
STARTS = "=+-@\t\r"


def read(text, separator=","):
    return list(csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True))


texts = st.text(st.sampled_from("=+-@\t\r\n'\",; a1.−é\u2028"), max_size=12)


@settings(max_examples=150, deadline=None)
@given(st.lists(st.lists(texts, min_size=2, max_size=4), min_size=1, max_size=4), st.sampled_from(",;\t"))
def test_every_text_comes_back_as_it_was_and_none_is_a_formula(rows, separator):
    written = csv_text(rows, separator)
    found = read(written, separator)
    assert [[unshielded(cell) for cell in row] for row in found] == rows
    for cell in (c for row in found for c in row):
        assert cell[:1] not in STARTS or not cell or float(cell.replace(",", ".")) is not None  # a number may


@pytest.mark.parametrize("text", FORMULAS)
def test_what_a_spreadsheet_would_reckon_with_gets_an_apostrophe(text):
    assert shielded(text) == f"'{text}" and unshielded(shielded(text)) == text


@pytest.mark.parametrize("text", ["-3.5", "+2", "-1e-7", "-3,5", "12", "plain", "'quoted'", "", "2031-03-03"])
def test_numbers_and_plain_texts_are_written_as_they_are(text):
    assert shielded(text) == unshielded(text) == text


def test_lines_end_and_cells_are_quoted_as_the_standard_has_it():
    rows = [("a", 'b"c', "d,e"), ("line\nfeed", "carriage\rreturn", ""), (1, -2.5, None)]
    assert csv_text(rows) == 'a,"b""c","d,e"\r\n"line\nfeed","carriage\rreturn",\r\n1,-2.5,\r\n'


def test_numbers_are_in_full_precision_with_the_mark_asked_for_and_empty_where_there_is_none():
    row = [0.1 + 0.2, Fixed(-0.0004, 2), Fixed(12345.678, 1), math.nan, Fixed(math.inf, 1), 1e21, 3.0]
    assert read(csv_text([row]))[0] == ["0.30000000000000004", "0.00", "12345.7", "", "", "1e+21", "3"]
    assert read(csv_text([row], ";", ","), ";")[0][:3] == ["0,30000000000000004", "0,00", "12345,7"]


WICKED = '=HYPERLINK("http://x";"y")'


def test_no_table_of_the_program_hands_a_spreadsheet_a_formula():
    """A design named like one, in every table that names designs."""
    study = examples.read("graded")
    study = replace(
        study,
        designs=tuple(replace(d, name=WICKED) for d in study.designs[:1]),
        shown=replace(study.shown, design=WICKED),
    )
    trial = examples.read("trial").trials[0]
    runs = tuple(replace(run, remarks=WICKED) for run in trial.runs)
    made = [comparison_csv(compare(study)), ledger_csv(replace(trial, runs=runs))]
    for text in made:
        cells = [cell for row in read(text) for cell in row]
        assert f"'{WICKED}" in cells
        assert not [c for c in cells if c[:1] in STARTS and c and not c.lstrip("+-").replace(".", "").isdigit()]
    assert preview(read_table(made[1])).runs[0].remarks == WICKED


def test_a_name_with_line_ends_begins_no_line_of_its_own():
    from profiler.assess import evaluate

    study = examples.read("graded")
    e = evaluate(replace(study.design, name="A\r=1+2\u2028B\n@x"), study.machine, study.duty)
    lines = csv_bytes(e, CsvTable.GROOVES).decode().split("\r\n")
    assert (
        lines[0].startswith("# grooves of A =1+2 B @x; duty")
        and sum(line.startswith("groove,mouth_mm") for line in lines) == 1
    )
    assert all(line.startswith("#") for line in lines[: next(k for k, x in enumerate(lines) if x[:6] == "groove")])

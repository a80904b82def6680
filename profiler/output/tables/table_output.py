"""The tables as an output: which one, and how its cells are kept apart."""

import csv
import io
from pathlib import Path

from profiler.assess import Evaluation
from profiler.output.record.option import DATE, Choice, Group, Offer, Request
from profiler.output.record.output import Copy, Made, Output, TableShown
from profiler.output.tables.tables_csv import ABOUT_LINES, CsvOptions, CsvTable, csv_bytes
from profiler.study.files.file import write_whole

WHICH = Choice("table", "Table", "What the file lists", (
    Offer(CsvTable.STATIONS, "Stations along the wall"), Offer(CsvTable.GROOVES, "Grooves"),
    Offer(CsvTable.OUTLINE, "Outline, lines and arcs"), Offer(CsvTable.FINDINGS, "Findings"),
))  # fmt: skip
SEPARATOR = Choice(
    "separator",
    "Separator",
    "Between cells",
    (Offer(",", "Comma", "comma"), Offer(";", "Semicolon", "semicolon"), Offer("\t", "Tab", "tab")),
)
DECIMAL = Choice("decimal", "Decimal mark", "In numbers", (Offer(".", "Point", "point"), Offer(",", "Comma", "comma")))


def _make(path: Path, e: Evaluation, request: Request) -> list[Made]:
    write_whole(path, _bytes(e, request))
    return [Made(path, f"table of {request[WHICH].value}")]


def _preview(e: Evaluation, request: Request) -> TableShown:
    """The very cells of the file."""
    *about, rest = _bytes(e, request).decode("utf-8-sig").split("\r\n", ABOUT_LINES)
    heads, *rows = csv.reader(io.StringIO(rest, newline=""), delimiter=request[SEPARATOR])
    return TableShown(tuple(heads), tuple(map(tuple, rows)), "\n".join(line[2:] for line in about))


def _bytes(e: Evaluation, request: Request) -> bytes:
    return csv_bytes(e, request[WHICH], CsvOptions(request[SEPARATOR], request[DECIMAL]), request[DATE],
                     request.lengths)  # fmt: skip


def _is_of_findings(request: Request) -> bool:
    """Which there are of a design that cannot be drawn."""
    return request[WHICH] is CsvTable.FINDINGS


TABLE = Output(
    "table", "Table", "Numbers for a spreadsheet", (".csv",), make=_make, preview=_preview, tabled=True,
    groups=(Group("CSV file", (WHICH, SEPARATOR, DECIMAL, DATE)),), without_shape=_is_of_findings,
    in_folder=tuple(Copy(table.value, ".csv", {WHICH.key: table.value}) for table in CsvTable),
)  # fmt: skip

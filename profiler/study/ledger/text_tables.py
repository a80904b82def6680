"""Tables of text: CSV after RFC 4180, tabs, semicolons; UTF-8, UTF-16 or cp1252; within bounds asked before parsing."""

import csv
import io

from profiler.study.files.csv_text import unshielded
from profiler.study.files.disk import BowlFileError
from profiler.study.ledger.headings import is_known
from profiler.study.ledger.table import LOOKED_AT, MOST_COLUMNS, MOST_ROWS, Table, bounded_row, made, refuse_too_many

MOST_BYTES = 24 * 1024 * 1024
MOST_LINES = 4 * MOST_ROWS  # of text: a cell may hold several
SEPARATORS = ("\t", ";", ",", "|")


def text_of(data: bytes, name: str) -> str:
    """The text of a table's bytes. Raises BowlFileError for what is no text, or more of it than a ledger can be."""
    if len(data) > MOST_BYTES:
        raise BowlFileError(f"{name} is larger than {MOST_BYTES // 1024**2} MB: save the runs alone as a table.")
    if data.count(b"\n") > MOST_LINES:
        raise BowlFileError(
            f"{name} holds {data.count(bytes([10]))} lines; {MOST_ROWS} runs are the most that are read."
        )
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return data.decode("utf-16", errors="replace")
    if b"\0" in data[:4000]:
        unmarked = _utf_16_without_mark(data)
        if unmarked is None:
            raise BowlFileError(f"{name} is neither a study nor a table of text: save it as CSV or .xlsx.")
        return unmarked
    if b"\0" in data:
        raise BowlFileError(f"{name} is neither a study nor a table of text: save it as CSV or .xlsx.")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")  # what spreadsheets write that do not write UTF-8


def read_table(text: str) -> Table:
    """A table of text. Raises ValueError."""
    if len(text) > MOST_BYTES:
        raise ValueError(f"The text has {len(text)} letters; a table of at most {MOST_BYTES} is read.")
    lines = text.splitlines()
    named = _named_separator(lines[0]) if lines else ""
    separator = named or _separator(lines[:LOOKED_AT])
    if named:
        text = text.split("\n", 1)[1] if "\n" in text else ""
    kept: list[tuple[int, tuple[str, ...]]] = []
    try:
        reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator)
        start = 1 + bool(named)
        for row in reader:
            line, start = start, reader.line_num + 1 + bool(named)
            cells = tuple(unshielded(cell.strip()) for cell in row)
            if any(cells):
                kept.append((line, bounded_row(cells)))
                refuse_too_many(len(kept))
    except csv.Error as error:
        raise ValueError(f"The table cannot be read: {error}.") from None
    return made(kept, Table((), (), separator))


def _named_separator(first: str) -> str:
    """The separator a first line such as 'sep=;' names."""
    plain = first.strip().strip('"').lower()
    return plain[4] if len(plain) == 5 and plain.startswith("sep=") else "\t" if plain == "sep=" else ""


def _separator(lines: list[str]) -> str:
    """The sign by which a line falls into most known headings; else that of most lines, tabs and semicolons first."""

    def known(sign: str) -> int:
        narrow = [line for line in lines if line.count(sign) < MOST_COLUMNS]
        return max((sum(is_known(cell.strip(' "')) for cell in line.split(sign)) for line in narrow), default=0)

    def share(sign: str) -> int:
        return sum(sign in line for line in lines)

    full = [line for line in lines if line.strip()]
    used = [sign for sign in SEPARATORS if any(sign in line for line in full)]
    best = max(used, key=known, default=",")
    if known(best) > 1:
        return best
    return next((sign for sign in used if share(sign) * 2 > len(full)), used[0] if used else ",")


def _utf_16_without_mark(data: bytes) -> str | None:
    """Text whose every other byte is nothing: UTF-16 that lost its mark."""
    head = data[:4000]
    for start, code in ((1, "utf-16-le"), (0, "utf-16-be")):
        if head[start::2].count(0) > 0.6 * len(head[start::2]) and 0 not in head[1 - start :: 2]:
            return data.decode(code, errors="replace")
    return None

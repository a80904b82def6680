"""Tables as CSV after RFC 4180: one writer for every table of the program, and the reader's half of its one habit.

A text that a spreadsheet would take for a formula (it begins with = + - @, a tab or a carriage return) is written with
an apostrophe before it, so that it stays a text wherever the file is opened; numbers are not. `unshielded` takes the
apostrophe off again, so a table that is read back holds the very same texts.
"""

import csv
import io
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import isfinite

from profiler.numbers import is_number, plainly

SEPARATORS, DECIMAL_MARKS = (",", ";", "\t"), (".", ",")
_FORMULA = re.compile("'*[=+@\t\r-]")


@dataclass(frozen=True, slots=True)
class Fixed:
    """A number with so many decimals."""

    value: float
    decimals: int


Cell = str | int | float | Fixed | None


def csv_text(rows: Iterable[Sequence[Cell]], separator: str = ",", decimal: str = ".") -> str:
    """Lines ended with carriage return and line feed, cells quoted where they must be; empty where there is no number.

    A float is written in full precision. Whoever writes the text encodes it as UTF-8.
    """
    text = io.StringIO(newline="")
    out = csv.writer(text, delimiter=separator, lineterminator="\r\n")
    out.writerows([_cell(cell, decimal) for cell in row] for row in rows)
    return text.getvalue()


def shielded(text: str) -> str:
    """The text as a cell that no spreadsheet reckons with; a written number as it is."""
    return f"'{text}" if _FORMULA.match(text) and not is_number(text) else text


def unshielded(cell: str) -> str:
    """What was written into the cell."""
    return cell[1:] if cell.startswith("'") and _FORMULA.match(cell) else cell


def _cell(cell: Cell, decimal: str) -> str:
    if isinstance(cell, str):
        return shielded(cell)
    if cell is None or not isfinite(cell.value if isinstance(cell, Fixed) else cell):
        return ""
    if isinstance(cell, Fixed):
        return f"{round(cell.value, cell.decimals) + 0.0:.{cell.decimals}f}".replace(".", decimal)
    return plainly(cell).replace(".", decimal)

"""A table as cells of text with their lines, and how large one may be. How files become one: table_files."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime

MOST_ROWS = 10_000  # runs a trial may hold
MOST_COLUMNS = 500
LOOKED_AT = 30  # lines at the top among which headings are looked for

Typed = float | datetime


@dataclass(frozen=True, slots=True)
class Table:
    """Every row that holds anything, with its line in the source from 1; titles and headings are among them.

    `separator` is empty for a workbook. `typed` holds, by line and column, what a workbook keeps as a number or date:
    nothing is in doubt about those. `sheets` names the others that hold anything.
    """

    rows: tuple[tuple[str, ...], ...]
    lines: tuple[int, ...]
    separator: str = ""
    typed: Mapping[tuple[int, int], Typed] = field(default_factory=dict)
    sheet: str = ""
    sheets: tuple[str, ...] = ()


def made(kept: Sequence[tuple[int, tuple[str, ...]]], base: Table) -> Table:
    """The table of these numbered rows. Raises ValueError where they are no table."""
    if not kept:
        raise ValueError("The table is empty.")
    if len(kept) == 1:
        raise ValueError("The table holds one line only: a line of headings and at least one run are needed.")
    rows, lines = tuple(row for _, row in kept), tuple(line for line, _ in kept)
    return Table(rows, lines, base.separator, base.typed, base.sheet, base.sheets)


def bounded_row(cells: tuple[str, ...]) -> tuple[str, ...]:
    """The row without what is empty at its end. Raises ValueError for one of more columns than a ledger has."""
    filled = len(cells)
    while filled and not cells[filled - 1]:
        filled -= 1
    if filled > MOST_COLUMNS:
        raise ValueError(f"The table holds {len(cells)} columns; {MOST_COLUMNS} is the most that can be worked with.")
    return cells[:filled]


def refuse_too_many(rows: int) -> None:
    if rows > MOST_ROWS + LOOKED_AT:
        raise ValueError(f"The table holds more than {MOST_ROWS} lines, which is the most that can be worked with.")

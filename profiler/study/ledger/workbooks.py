"""Cells of a workbook (.xlsx, ISO/IEC 29500) by openpyxl, loaded when one is read; bounded before it is unpacked.

What the workbook keeps as a number or date is taken so, and leaves no doubt; a per cent format makes per cent of it.
"""

import io
import warnings
import zipfile
from collections.abc import Iterator
from datetime import date, datetime, time
from typing import Protocol

from profiler.numbers import plainly
from profiler.study.ledger.headings import is_known
from profiler.study.ledger.table import LOOKED_AT, MOST_COLUMNS, Table, Typed, bounded_row, made, refuse_too_many

MOST_UNPACKED = 120 * 1024 * 1024  # of one part of the packed file


class _Cell(Protocol):
    @property
    def value(self) -> object: ...
    @property
    def number_format(self) -> str: ...


def workbook_table(data: bytes, sheet: str = "") -> Table:
    """The named sheet, else the first that holds headings of a ledger. Raises ValueError, one sentence."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of styles and checks a workbook holds that are not read
        return _workbook_table(data, sheet)


def _workbook_table(data: bytes, sheet: str) -> Table:
    from openpyxl import load_workbook
    from openpyxl.utils.exceptions import InvalidFileException

    _refuse_unpacked_too_large(data)
    try:
        book = load_workbook(io.BytesIO(data), read_only=True, data_only=True)
    except (InvalidFileException, KeyError, OSError, ValueError, zipfile.BadZipFile, SyntaxError) as error:
        raise ValueError(f"The workbook cannot be read ({type(error).__name__}): save it anew, or as CSV.") from None
    try:
        return _chosen({each.title: each.iter_rows for each in book.worksheets}, sheet)
    except (KeyError, OSError, zipfile.BadZipFile, SyntaxError) as error:
        raise ValueError(f"The workbook is damaged ({type(error).__name__}): save it anew, or as CSV.") from None
    finally:
        book.close()


def _chosen(sheets: "dict[str, _Rows]", name: str) -> Table:
    if name and name not in sheets:
        raise ValueError(f"The workbook has no sheet “{name}”; it has {', '.join(f'“{s}”' for s in sheets)}.")
    full = {title: head for title, rows in sheets.items() if (head := _head(rows))}
    if not full:
        raise ValueError("The table is empty.")
    likely = [title for title, head in full.items() if _looks_like_a_ledger(head)]
    chosen = name or (likely or list(full))[0]
    return _table(sheets[chosen], chosen, tuple(likely if len(likely) > 1 else ()))


class _Rows(Protocol):
    def __call__(self, *, max_row: int | None = None, max_col: int | None = None) -> Iterator[tuple[_Cell, ...]]: ...


def _head(rows: _Rows) -> list[list[str]]:
    found = ([_text(cell)[0] for cell in row] for row in rows(max_row=LOOKED_AT, max_col=MOST_COLUMNS))
    return [cells for cells in found if any(cells)]


def _looks_like_a_ledger(head: list[list[str]]) -> bool:
    return any(sum(is_known(cell) for cell in cells if cell) > 1 for cells in head)


def _table(rows: _Rows, sheet: str, sheets: tuple[str, ...]) -> Table:
    kept: list[tuple[int, tuple[str, ...]]] = []
    typed: dict[tuple[int, int], Typed] = {}
    for line, row in enumerate(rows(max_col=MOST_COLUMNS + 1), 1):
        cells = [_text(cell) for cell in row]
        texts = bounded_row(tuple(text for text, _ in cells))
        if texts:
            kept.append((line, texts))
            refuse_too_many(len(kept))
            typed |= {(line, place): value for place, (_, value) in enumerate(cells) if value is not None}
    return made(kept, Table((), (), "", typed, sheet, sheets))


def _text(cell: _Cell) -> tuple[str, Typed | None]:
    """What a person sees in the cell, nearly, and the number or date it is."""
    value = cell.value
    if value is None:
        return "", None
    if isinstance(value, bool):
        return "yes" if value else "no", None
    if isinstance(value, int | float):
        percent = "%" in cell.number_format
        number = float(f"{value * 100.0:.15g}") if percent else float(value)
        return f"{plainly(number)}{' %' if percent else ''}", number
    if isinstance(value, datetime):
        at_midnight = value.time() == time()
        text = value.date().isoformat() if at_midnight else value.isoformat(sep=" ", timespec="minutes")
        return text, value
    if isinstance(value, date):
        return value.isoformat(), datetime(value.year, value.month, value.day)
    if isinstance(value, time):
        return value.isoformat(timespec="minutes"), None
    return " ".join(str(value).split()), None


def _refuse_unpacked_too_large(data: bytes) -> None:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            largest = max((info.file_size for info in packed.infolist()), default=0)
    except zipfile.BadZipFile:
        raise ValueError("The workbook is damaged: save it anew, or as CSV.") from None
    if largest > MOST_UNPACKED:
        raise ValueError(
            f"The workbook holds {largest / 1e6:.0f} MB in one sheet: save the runs alone as a table of their own."
        )

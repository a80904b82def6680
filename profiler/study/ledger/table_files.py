"""From a file to its table, whatever it is kept as; too large a file is refused before it is read.

What the cells mean: framing, meanings, reading.
"""

from pathlib import Path

from profiler.study.files.disk import BowlFileError, read_whole
from profiler.study.ledger.table import MOST_ROWS, Table
from profiler.study.ledger.text_tables import MOST_BYTES, read_table, text_of

WORKBOOK, OLD_WORKBOOK = b"PK\x03\x04", b"\xd0\xcf\x11\xe0"


def read_table_file(path: Path, sheet: str = "") -> Table:
    """The table of a file. Raises BowlFileError, one sentence with a way on."""
    refuse_too_large(path)
    return table_of(read_whole(path)[0], path.name, sheet)


def refuse_too_large(path: Path) -> None:
    """Raises BowlFileError for a file that no ledger can be, before it is read."""
    size = path.stat().st_size if path.is_file() else 0
    if size > MOST_BYTES:
        raise BowlFileError(
            f"{path.name} is {size / 1e6:.0f} MB; a table of at most {MOST_BYTES // 1024**2} MB is read: "
            f"save the runs alone ({MOST_ROWS} at most) as a table of their own."
        )


def table_of(data: bytes, name: str, sheet: str = "") -> Table:
    """The table of a file's bytes. Raises BowlFileError."""
    if data[:4] == OLD_WORKBOOK:
        raise BowlFileError(f"{name} is an old or a locked workbook: save it as .xlsx without a password, or as CSV.")
    try:
        if data[:4] == WORKBOOK:
            from profiler.study.ledger.workbooks import workbook_table  # openpyxl

            return workbook_table(data, sheet)
        if sheet:
            raise ValueError(f"A table of text has no sheet “{sheet}”.")
        return read_table(text_of(data, name))
    except BowlFileError:
        raise
    except ValueError as reason:
        raise BowlFileError(f"{name}: {reason}") from None

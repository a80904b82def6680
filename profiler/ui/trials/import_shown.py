"""An import as a panel shows it, of runs or of size classes: what was read beside what was typed, all as texts."""

from collections.abc import Callable
from dataclasses import dataclass

from profiler.numbers import counted, plainly
from profiler.study.ledger.columns import COLUMNS
from profiler.study.ledger.problems import ProblemGroup
from profiler.study.ledger.questions import Question
from profiler.study.ledger.reading import Preview, preview
from profiler.study.ledger.size_tables import SIZE_HEADINGS, SIZE_KEYS, SizePreview, runs_told, size_preview
from profiler.study.ledger.table import Table
from profiler.study.records.table_reading import TableReading

MOST_SHOWN = 40  # rows painted; all are read


@dataclass(frozen=True, slots=True)
class ShownColumn:
    """What one column is taken for: its key (empty: passed over), its unit, how many cells were read, a note."""

    heading: str
    key: str
    unit: str
    cells: str
    note: str


@dataclass(frozen=True, slots=True)
class ShownRow:
    """A line of the file as typed, and as read in the ledger's units; `problems` by column say what is wrong."""

    line: int
    typed: tuple[str, ...]
    read: tuple[str, ...]
    problems: dict[int, str]
    taken: bool


@dataclass(frozen=True, slots=True)
class Shown:
    """`meanings`: keys a column may be taken as, with labels; `units` of each; `take` the words of the button."""

    words: str
    columns: tuple[ShownColumn, ...]
    rows: tuple[ShownRow, ...]
    questions: tuple[Question, ...]
    groups: tuple[ProblemGroup, ...]
    meanings: tuple[tuple[str, str], ...]
    units: dict[str, tuple[str, ...]]
    take: str
    can_take: bool
    reading: TableReading


Read = Callable[[Table, TableReading], Preview | SizePreview]
LEDGER_MEANINGS = tuple((column.key, column.heading) for column in COLUMNS.values())
LEDGER_UNITS = {column.key: tuple(column.units) for column in COLUMNS.values()}
SIZE_MEANINGS = tuple((key, key.replace("_", " ")) for key in SIZE_HEADINGS)


def shown(seen: Preview | SizePreview) -> Shown:
    return _of_runs(seen) if isinstance(seen, Preview) else _of_sizes(seen)


def reader_of_runs(taken: tuple[str, ...], words: dict[str, str]) -> Read:
    """Reads a table into runs beside those there are already."""
    return lambda table, reading: preview(table, reading, taken, words)


def reader_of_sizes(table: Table, reading: TableReading) -> SizePreview:
    return size_preview(table, reading)


def _of_runs(seen: Preview) -> Shown:
    known = {column.heading: column for column in seen.columns}
    columns = []
    for match in seen.matches:
        found = known.get(match.heading)
        key = match.column.key if match.column is not None else ""
        note = "" if found is None else found.note
        columns.append(ShownColumn(match.heading, key, match.unit, str(found.cells) if found and key else "", note))
    rows = []
    for line, cells, read, run in list(zip(seen.lines, seen.cells, seen.read, seen.rows, strict=True))[:MOST_SHOWN]:
        wrong = {k: cell.problem.text for k, cell in enumerate(read) if cell.problem is not None}
        texts = tuple(cell.text for cell in read)
        rows.append(ShownRow(line, cells, texts, wrong, run is not None))
    count, left = len(seen.runs), len(seen.rows) - len(seen.runs)
    open_ones = len(seen.open_questions)
    can_take = bool(count) and not seen.missing and not open_ones
    return Shown(
        _said(seen, count, left, open_ones), tuple(columns), tuple(rows), seen.questions, seen.groups,
        LEDGER_MEANINGS, LEDGER_UNITS, f"Import {counted(count, 'run')}", can_take, seen.reading,
    )  # fmt: skip


def _said(seen: Preview, count: int, left: int, open_ones: int) -> str:
    if seen.missing:
        return seen.missing
    rest = f"; {left} with problems are left out" if left else ""
    asked = f" {counted(open_ones, 'question')} first." if open_ones else ""
    passed = [one for one in seen.passed if one.why != "of the headings"]
    over = (
        f" Passed over: {counted(len(passed), 'line')} ({', '.join(dict.fromkeys(p.why for p in passed))})."
        if passed
        else ""
    )
    more = f" Shown are the first {MOST_SHOWN}." if len(seen.rows) > MOST_SHOWN else ""
    return f"{count} of {len(seen.rows)} rows can be taken{rest}.{asked}{over}{more}"


def _of_sizes(seen: SizePreview) -> Shown:
    columns = tuple(ShownColumn(c.heading, c.key, c.unit, "", "" if c.key else "passed over") for c in seen.columns)
    rows = []
    parts = list(zip(seen.lines, seen.cells, seen.classes, seen.runs, strict=True))[:MOST_SHOWN]
    wrong = {problem.line: problem for problem in seen.problems}
    for line, cells, size, run in parts:
        texts = [""] * len(seen.columns)
        for k, column in enumerate(seen.columns):
            if column.key == "run":
                texts[k] = run
            elif column.key in SIZE_KEYS and size is not None:
                texts[k] = plainly(getattr(size, column.key))
        problem = wrong.get(line)
        at = {
            k: problem.text for k, c in enumerate(seen.columns) if problem is not None and c.heading == problem.heading
        }
        rows.append(ShownRow(line, cells, tuple(texts), at, size is not None))
    can_take = not seen.refusal()
    words = (
        f"Size classes: {runs_told(seen)}." if can_take else seen.missing or "Size classes that cannot be taken yet."
    )
    return Shown(
        words, columns, tuple(rows), seen.questions, seen.groups, SIZE_MEANINGS, {}, "Import size classes", can_take,
        TableReading(),
    )  # fmt: skip

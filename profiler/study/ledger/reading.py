"""A ledger from a table: runs, what each column was taken for, what is in doubt, and every problem by its row.

A number is read once, the same way in the whole file, and nothing is guessed silently: what the file leaves in doubt
becomes a question (questions), what cannot be read a problem (problems), what is passed over is named. Not here:
putting the runs into a study (trial_edits).
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from msgspec.structs import replace as having

from profiler.numbers import counted
from profiler.study.ledger.cells import At, Decimal, decimal_of, written
from profiler.study.ledger.columns import COLUMNS, STREAMS
from profiler.study.ledger.dates import ORDER_WORDS, Order, order_of
from profiler.study.ledger.doubts import (
    filled_down,
    of_blanks,
    of_dates,
    of_decimal,
    of_headings,
    of_problems,
    of_sheets,
)
from profiler.study.ledger.far import far_questions
from profiler.study.ledger.framing import Frame, Passed, framed, summary_word
from profiler.study.ledger.headings import Words, is_known, meanings_of
from profiler.study.ledger.meanings import Cells, Match, understood
from profiler.study.ledger.problems import Kind, Problem, ProblemGroup, grouped
from profiler.study.ledger.questions import Question
from profiler.study.ledger.rows import ReadCell, RowReader, runs_of
from profiler.study.ledger.table import Table
from profiler.study.records.table_reading import TableReading
from profiler.study.records.trial import Plan, Run, Trial
from profiler.words import Basis, Structure


@dataclass(frozen=True, slots=True)
class ColumnRead:
    """What a column was taken for: meaning and key empty where it is passed over; how many of its cells were read."""

    heading: str
    meaning: str
    key: str
    unit: str
    cells: int
    note: str = ""

    @property
    def words(self) -> str:
        """'“conc (g)” as concentrate mass, g (12 cells)'."""
        unit = f", {self.unit}" if self.unit else ""
        note = f"; {self.note}" if self.note else ""
        return f"“{self.heading}” as {self.meaning.lower()}{unit} ({counted(self.cells, 'cell')}{note})"


@dataclass(frozen=True, slots=True)
class Preview:
    """What an import would give: a run per row of the table, None where the row has a problem.

    `rows` go with `lines` and `cells` (as typed) and `read` (as read). `reading` holds the answers it was read with.
    """

    table: Table
    frame: Frame
    matches: tuple[Match, ...]
    lines: tuple[int, ...]
    cells: tuple[tuple[str, ...], ...]
    read: tuple[tuple[ReadCell, ...], ...]
    rows: tuple[Run | None, ...]
    problems: tuple[Problem, ...]
    questions: tuple[Question, ...]
    passed: tuple[Passed, ...]
    missing: str  # why the table as a whole makes no ledger; empty if it does
    reading: TableReading
    notes: tuple[str, ...] = ()

    @property
    def runs(self) -> tuple[Run, ...]:
        return tuple(run for run in self.rows if run is not None)

    @property
    def passed_over(self) -> tuple[str, ...]:
        """Headings without a known meaning."""
        return tuple(m.heading for m in self.matches if m.heading and m.column is None and not m.trouble)

    @property
    def open_questions(self) -> tuple[Question, ...]:
        """Those without whose answer nothing is taken."""
        return tuple(question for question in self.questions if question.must)

    @property
    def groups(self) -> tuple[ProblemGroup, ...]:
        return grouped(self.problems)

    @property
    def columns(self) -> tuple[ColumnRead, ...]:
        """Every column with a heading, in the order of the file."""
        found = []
        for k, match in enumerate(self.matches):
            if not match.heading:
                continue
            count = sum(k < len(row) and row[k].is_read for row in self.read)
            if match.column is None:
                found.append(ColumnRead(match.heading, "", "", "", 0, match.trouble or match.note or "passed over"))
                continue
            extra = _extra([row[k] for row in self.read if k < len(row)])
            note = "; ".join(part for part in (match.note.replace("asked", "in doubt"), extra) if part)
            label = "time of day" if match.clock else match.column.label
            found.append(ColumnRead(match.heading, label, match.column.key, match.unit, count, note))
        return tuple(found)

    @property
    def read_as(self) -> tuple[str, ...]:
        """What was taken as what, in which unit, and what was passed over: for a terminal or a log."""
        taken = [column.words for column in self.columns if column.key]
        rows = Counter(one.why for one in self.passed if one.why not in ("of the headings",))
        over = [f"{counted(count, 'row')} {why}" for why, count in rows.items()]
        return (*taken, *self.notes, *((f"passed over: {', '.join(over)}",) if over else ()))


def preview(
    table: Table, reading: TableReading | None = None, taken: Sequence[str] = (), words: Words | None = None
) -> Preview:
    """What an import would give, with the answers of `reading`. `taken` names runs there are already.

    Where something is in doubt the likely answer is tried, so that it can be looked at. Raises ValueError for a table
    without headings or rows.
    """
    reading = reading or TableReading()
    frame = framed(table, reading.heading_line, lambda text: is_known(text, words))
    is_kept = bool(reading.headings)
    said = having(reading, headings=()) if not is_kept or _same(reading.headings, frame.headings) else TableReading()
    lines, rows, passed = _runs_among(table, frame, words)
    decimal = _decimal(table, frame, lines, rows, said, words, is_kept)
    columns = [
        _column(rows, k, decimal.likely if not decimal.sign else decimal.sign) for k in range(len(frame.headings))
    ]
    meant = understood(frame.headings, columns, said, words)
    order = _order(lines, rows, meant.matches, said)
    asked = of_blanks(rows, meant.matches, said)
    rows = filled_down(rows, meant.matches, said)
    reader = RowReader(
        meant.matches, decimal.sign or decimal.likely, order.order or order.likely, said.empty, table.typed
    )
    read = tuple(reader.cells(line, row) for line, row in zip(lines, rows, strict=True))
    runs, problems = runs_of(lines, rows, read, meant.matches, taken)
    questions = (
        *of_sheets(table, said), *of_headings(table, frame, said), *of_decimal(decimal, said), *meant.questions,
        *of_dates(order, said), *asked, *far_questions(lines, read, meant.matches, said),
        *of_problems(problems, meant.matches, said),
    )  # fmt: skip
    troubles = tuple(Problem(frame.heading_line, m.heading, m.trouble, Kind.COLUMN) for m in meant.matches if m.trouble)
    missing = _missing(meant.matches, frame)
    kept = having(said, headings=frame.headings)
    nameless = [k + 1 for k, text in enumerate(frame.headings) if not text and columns[k].texts]
    notes = (*_notes(decimal, order, table), *(f"column {k} has no heading and is passed over" for k in nameless))
    return Preview(
        table,
        frame,
        meant.matches,
        lines,
        rows,
        read,
        runs,
        troubles + problems,
        questions,
        passed,
        missing,
        kept,
        notes,
    )


def trial_of(seen: Preview, name: str) -> Trial:
    """A trial of its own from a table that names no plan: its layout and basis are read off the columns it has."""
    runs = seen.runs
    plan = Plan(structure=structure_of(runs), basis=basis_of(runs))
    return Trial(name, runs, plan, reading=seen.reading.for_next())


def structure_of(runs: Sequence[Run]) -> Structure:
    """Cycles within installations where several runs share one, else pairs where blocks are named, else unpaired."""
    mounted = [run.installation for run in runs]
    if mounted and all(mounted) and len(set(mounted)) < len(mounted):
        return Structure.INSTALLATIONS
    return Structure.PAIRS if any(run.block for run in runs) else Structure.UNPAIRED


def basis_of(runs: Sequence[Run]) -> Basis:
    """Recoveries as entered where there are any, else the best basis that the streams allow."""
    if any(run.recovery_pct is not None for run in runs):
        return Basis.STATED
    weighed = any(s.mass_kg is not None for run in runs for s in (run.concentrate, run.cleaner_concentrate))
    if weighed and not any(run.tail.grades_g_t for run in runs):
        return Basis.OVER_FEED
    return Basis.BUILT_UP if weighed else Basis.TWO_PRODUCT


def has_headings(table: Table) -> bool:
    """Whether the first line reads as headings: one of them the design, and at least three known or all of them."""
    found = [meanings_of(text) for text in table.rows[0] if text]
    known = [meant[0].column.key for meant in found if meant]
    return "design" in known and len(known) >= min(3, len(found))


# what is in the file


def _same(first: Sequence[str], second: Sequence[str]) -> bool:
    return [" ".join(text.lower().split()) for text in first] == [" ".join(text.lower().split()) for text in second]


def _runs_among(
    table: Table, frame: Frame, words: Words | None
) -> tuple[tuple[int, ...], tuple[tuple[str, ...], ...], tuple[Passed, ...]]:
    """Lines and cells of the rows that may be runs, and those passed over: means, totals, single notes."""
    names = [k for k, text in enumerate(frame.headings) if _names_rows(text, words)]
    lines, rows, passed = [], [], list(frame.passed)
    for place in frame.body:
        row, line = table.rows[place], table.lines[place]
        first = next((k for k, cell in enumerate(row) if cell), 0)
        if any(k < len(row) and summary_word(row[k]) for k in {*names, first}):
            passed.append(Passed("of means or totals", line))
        elif sum(map(bool, row)) == 1 and len(frame.headings) > 1 and written(row[first]) is None:
            passed.append(Passed("of a single cell", line))
        else:
            lines.append(line)
            rows.append(row)
    if not rows:
        raise ValueError(f"Nothing stands below the headings in line {frame.heading_line}: at least one run is needed.")
    return tuple(lines), tuple(rows), tuple(passed)


def _names_rows(heading: str, words: Words | None) -> bool:
    meant = meanings_of(heading, words)
    return bool(meant) and meant[0].column.key in ("run", "design", "block")


def _column(rows: Sequence[Sequence[str]], k: int, decimal: str) -> Cells:
    return Cells(tuple(row[k] for row in rows if k < len(row) and row[k]), decimal)


def _decimal(
    table: Table,
    frame: Frame,
    lines: Sequence[int],
    rows: Sequence[Sequence[str]],
    said: TableReading,
    words: Words | None,
    kept: bool,
) -> Decimal:
    """Of the cells under headings that may mean a number, leaving out what a workbook holds as one.

    `kept`: the answers are of another file.
    """
    measured = [k for k, text in enumerate(frame.headings) if text and _may_be_measured(text, said, words)]

    def cells() -> Iterator[At]:
        for line, row in zip(lines, rows, strict=True):
            for k in measured:
                if k < len(row) and row[k] and (line, k) not in table.typed:
                    yield from (At(line, frame.headings[k], part.strip()) for part in row[k].split("/"))

    return decimal_of(cells(), table.separator, said.decimal, kept)


def _may_be_measured(text: str, said: TableReading, words: Words | None) -> bool:
    answer = said.of(text)
    if answer is not None:
        return answer.meaning in COLUMNS and bool(COLUMNS[answer.meaning].units)
    return any(meant.column.units for meant in meanings_of(text, words))


def _order(lines: Sequence[int], rows: Sequence[Sequence[str]], matches: Sequence[Match], said: TableReading) -> Order:
    dated = [k for k, m in enumerate(matches) if m.column is COLUMNS["started"] and not m.clock]
    cells = (
        At(line, matches[k].heading, row[k])
        for line, row in zip(lines, rows, strict=True)
        for k in dated
        if k < len(row) and row[k]
    )
    return order_of(cells, said.dates)


# what is said


def _extra(cells: Sequence[ReadCell]) -> str:
    """How many cells were below the limit of the laboratory, or had a unit of their own."""
    below, own = sum(cell.below for cell in cells), sum(bool(cell.own_unit) for cell in cells)
    words = [f"{below} below the limit, half of it taken"] if below else []
    return "; ".join([*words, *([f"{own} with units of their own"] if own else [])])


def _notes(decimal: Decimal, order: Order, table: Table) -> tuple[str, ...]:
    found = []
    if decimal.point is not None and decimal.comma is not None:
        found.append(f"both decimal signs are in use: {decimal.point.words}; {decimal.comma.words}")
    elif decimal.doubt is not None and decimal.sign:
        proof = decimal.comma if decimal.sign == "." else decimal.point
        found.append(f"decimal sign “{decimal.sign}”" + (f", though {proof.words} shows the other" if proof else ""))
    if order.doubt is not None and order.order:
        found.append(f"dates as {ORDER_WORDS[order.order]}")
    return (*found, *((f"sheet “{table.sheet}”",) if table.sheet else ()))


def _missing(matches: Sequence[Match], frame: Frame) -> str:
    keys = {m.column.key for m in matches if m.column is not None}
    if "design" not in keys:
        names = ", ".join(f"“{text}”" for text in frame.headings if text)
        return (
            f"No column names the design of each run; one must be headed “design”. Line {frame.heading_line} is taken "
            f"for the headings: {names[:160]}. Name another (--heading LINE), or a column (--as “HEADING=design”)."
        )
    products = {f"{stream}_g_t" for stream in STREAMS} - {"feed_g_t"}
    over_feed = {"feed_g_t", "feed_kg", "concentrate_g_t", "concentrate_kg"}
    cleaned = {"cleaner_concentrate_g_t", "cleaner_tail_g_t", "tail_g_t"}
    if "recovery_pct" not in keys and not any(needed <= keys for needed in (products, over_feed, cleaned)):
        return (
            "No column gives a recovery (“rec”), nor are there assays of concentrate and tail to work it out from. "
            "Name a column with --as “HEADING=recovery, %”."
        )
    return ""

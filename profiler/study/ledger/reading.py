"""A ledger from a table of text: a CSV file, or cells copied from a spreadsheet, with every problem by its row.

Nothing is guessed silently: a heading without a known meaning is named, a cell that cannot be read is named with its
line, and a row with such a cell is not taken. Not here: putting the runs into a study (trial_edits).
"""

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass

from profiler.numbers import number_of
from profiler.study.files.csv_text import unshielded
from profiler.study.files.disk import BowlFileError
from profiler.study.ledger.columns import COLUMNS, SIZE_HEADINGS, STREAMS, Column, Heading, column_for, heading_of
from profiler.study.records.trial import Plan, Run, SieveAssay, Trial
from profiler.words import Basis, Structure

MOST_ROWS = 10_000


@dataclass(frozen=True, slots=True)
class Table:
    """Cells as text. `lines` gives the line of each row in its source, from 1."""

    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    lines: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Match:
    """What a heading is taken for; no column: it is passed over. `trouble` says what is wrong with a known one."""

    heading: str
    column: Column | None
    factor: float = 1.0
    trouble: str = ""


@dataclass(frozen=True, slots=True)
class Problem:
    """What keeps a row from being taken, or a column from being understood (line 1)."""

    line: int
    heading: str
    text: str

    @property
    def sentence(self) -> str:
        return f"line {self.line}, {self.heading or 'row'}: {self.text}"


@dataclass(frozen=True, slots=True)
class Preview:
    """What an import would give: a run per row of the table, None where the row has a problem."""

    table: Table
    matches: tuple[Match, ...]
    rows: tuple[Run | None, ...]
    problems: tuple[Problem, ...]
    missing: str  # why the table as a whole makes no ledger; empty if it does

    @property
    def runs(self) -> tuple[Run, ...]:
        return tuple(run for run in self.rows if run is not None)

    @property
    def passed_over(self) -> tuple[str, ...]:
        """Headings without a known meaning."""
        return tuple(m.heading for m in self.matches if m.heading and m.column is None and not m.trouble)


def text_of(data: bytes, name: str) -> str:
    """The text of a table's bytes. Raises BowlFileError for what is no text."""
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return data.decode("utf-16", errors="replace")
    if b"\0" in data:
        raise BowlFileError(f"{name} is neither a study nor a table of text.")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")  # what spreadsheets write that do not write UTF-8


def read_table(text: str) -> Table:
    """Cells kept apart by tabs, else semicolons, else commas; empty rows are passed over. Raises ValueError."""
    head = next((line for line in text.splitlines() if line.strip()), "")
    delimiter = next((sign for sign in "\t;" if sign in head), ",")
    try:
        reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)
        numbered = [(reader.line_num, tuple(unshielded(cell.strip()) for cell in row)) for row in reader]
    except csv.Error as error:
        raise ValueError(f"The table cannot be read: {error}.") from None
    kept = [(line, row) for line, row in numbered if any(row)]
    if not kept:
        raise ValueError("The table is empty.")
    if len(kept) == 1:
        raise ValueError("The table holds one line only: a line of headings and at least one run are needed.")
    if len(kept) > MOST_ROWS:
        raise ValueError(f"The table holds {len(kept)} lines; {MOST_ROWS} is the most that can be worked with.")
    return Table(kept[0][1], tuple(row for _, row in kept[1:]), tuple(line for line, _ in kept[1:]))


def matched(headings: Sequence[str]) -> tuple[Match, ...]:
    """What each heading is taken for."""
    found: list[Match] = []
    for text in headings:
        known = column_for(heading_of(text))
        if known is None:
            found.append(Match(text, None, trouble=_unknown_unit(text)))
        elif any(m.column is known[0] for m in found) and not known[0].adds:
            found.append(Match(text, None, trouble=f"is a second column for {known[0].label.lower()}."))
        else:
            found.append(Match(text, *known))
    return tuple(found)


def preview(table: Table, matches: Sequence[Match] | None = None, taken: Sequence[str] = ()) -> Preview:
    """What an import would give. `taken` names runs there are already."""
    chosen = tuple(matched(table.headings) if matches is None else matches)
    problems = [Problem(1, m.heading, m.trouble) for m in chosen if m.trouble]
    names, rows = set(taken), []
    for line, cells in zip(table.lines, table.rows, strict=True):
        run, wrong = _run(line, cells, chosen, names)
        problems += wrong
        rows.append(None if wrong else run)
        names.add(run.run)
    return Preview(table, chosen, tuple(rows), tuple(problems), _missing(chosen, tuple(r for r in rows if r)))


def trial_of(seen: Preview, name: str) -> Trial:
    """A trial of its own from a table that names no plan: its layout and basis are read off the columns it has."""
    runs = seen.runs
    return Trial(name, runs, Plan(structure=structure_of(runs), basis=basis_of(runs)))


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
    weighed = any(run.concentrate.mass_kg is not None for run in runs)
    return Basis.BUILT_UP if weighed else Basis.TWO_PRODUCT


def is_size_table(table: Table) -> bool:
    """Whether a table holds size classes instead of runs."""
    return {_key(text) for text in table.headings} >= set(SIZE_HEADINGS)


def size_classes(table: Table) -> dict[str, tuple[SieveAssay, ...]]:
    """Size classes by run, in the order of the table. Raises ValueError with the line of the first bad cell."""
    places = [[_key(text) for text in table.headings].index(key) for key in SIZE_HEADINGS]
    found: dict[str, list[SieveAssay]] = {}
    for line, cells in zip(table.lines, table.rows, strict=True):
        try:
            run, *numbers = (cells[place] for place in places)
            values = [number_of(text) for text in numbers]
        except (ValueError, IndexError) as reason:
            raise ValueError(f"line {line}: {reason}") from None
        if None in values:
            raise ValueError(f"line {line}: a size class needs its opening and four numbers.")
        found.setdefault(run, []).append(SieveAssay(*(value for value in values if value is not None)))
    return {run: tuple(classes) for run, classes in found.items()}


def _key(heading: str) -> str:
    return heading.strip().lower().replace(" ", "_")


def _unknown_unit(text: str) -> str:
    """Of a heading that would have a meaning but for its unit; empty for any other."""
    heading = heading_of(text)
    known = column_for(Heading(heading.name, "")) if heading.unit else None
    if known is None or not known[0].units:
        return ""
    return f"“{heading.unit}” is not a unit for {known[0].label.lower()}; it may be {', '.join(known[0].units)}."


def _run(line: int, cells: Sequence[str], matches: Sequence[Match], names: set[str]) -> tuple[Run, list[Problem]]:
    run, wrong = Run(run="", design=""), []
    if len(cells) > len(matches):
        wrong.append(Problem(line, "", f"has {len(cells)} cells under {len(matches)} headings."))
    for match, text in zip(matches, cells, strict=False):
        if match.column is None or not text:
            continue
        try:
            run = _with(run, match.column, text, match.factor)
        except ValueError as reason:
            wrong.append(Problem(line, match.heading, str(reason)))
    if not run.design:
        wrong.append(Problem(line, "design", "names no design."))
    if not run.run:
        run = COLUMNS["run"].take(run, _free(len(names) + 1, names), 1.0)
    elif run.run in names:
        wrong.append(Problem(line, "run", f"the run “{run.run}” is there already; each run needs its own name."))
    return run, wrong


def _with(run: Run, column: Column, text: str, factor: float) -> Run:
    """The run with a cell taken in; a further column of assays adds to those there are."""
    taken = column.take(run, text, factor)
    before = column.show(run) if column.adds else ""
    if not before:
        return taken
    return column.take(run, f"{before} / {column.show(taken)}", 1.0)


def _free(number: int, names: set[str]) -> str:
    while str(number) in names:
        number += 1
    return str(number)


def _missing(matches: Sequence[Match], runs: Sequence[Run]) -> str:
    keys = {m.column.key for m in matches if m.column is not None}
    if "design" not in keys:
        return "No column names the design of each run; one must be headed “design”."
    products = {f"{stream}_g_t" for stream in STREAMS} - {"feed_g_t"}
    if "recovery_pct" not in keys and not products <= keys:
        return "No column gives a recovery (“rec”), nor are there assays of concentrate and tail to work it out from."
    stated = [run.recovery_pct for run in runs if run.recovery_pct is not None]
    unit = any(m.column is COLUMNS["recovery_pct"] and heading_of(m.heading).unit for m in matches)
    if stated and max(stated) <= 1.0 and not unit and "pct" not in "".join(m.heading for m in matches):
        return (
            "All recoveries lie between 0 and 1: head the column “rec (fraction)” if they are fractions, "
            "“rec (%)” if they are per cent."
        )
    return ""

"""Cells into runs: each cell read as its column has it, and what cannot be read named by line and kind.

A value below the laboratory's limit ("<0.05") is taken as half of it and marked in the run's remarks (common practice,
no source); one above its limit is no number.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from msgspec.structs import replace

from profiler.numbers import plainly
from profiler.study.ledger.cells import Written, is_empty, written
from profiler.study.ledger.columns import COLUMNS, Column, sized
from profiler.study.ledger.dates import moment_in, time_in
from profiler.study.ledger.headings import OF_TWO_SIZES, unit_of
from profiler.study.ledger.meanings import Match
from profiler.study.ledger.problems import Kind, Problem
from profiler.study.ledger.table import Typed
from profiler.study.records.trial import Run

BLANK = Run(run="", design="")


@dataclass(frozen=True, slots=True)
class ReadCell:
    """A cell as typed, and as the ledger takes it, in the ledger's unit; neither where it is empty or passed over."""

    typed: str = ""
    text: str = ""
    numbers: tuple[float, ...] = ()
    below: bool = False  # the laboratory's limit; half of it is taken
    own_unit: str = ""
    problem: Problem | None = None

    @property
    def is_read(self) -> bool:
        return bool(self.text) and self.problem is None


class _Refused(Exception):
    def __init__(self, text: str, kind: Kind) -> None:
        super().__init__(text)
        self.text, self.kind = text, kind


class RowReader:
    """Reads the cells of a row with what is settled for the file: decimal sign, order of dates, words for nothing."""

    def __init__(
        self, matches: Sequence[Match], decimal: str, order: str, empty: Sequence[str],
        typed: Mapping[tuple[int, int], Typed],
    ) -> None:  # fmt: skip
        self._matches, self._decimal, self._order = matches, decimal, order
        self._empty, self._typed = tuple(empty), typed

    def cells(self, line: int, row: Sequence[str]) -> tuple[ReadCell, ...]:
        return tuple(self._cell(line, k, text) for k, text in enumerate(row))

    def _cell(self, line: int, k: int, text: str) -> ReadCell:
        match = self._matches[k]
        if match.column is None or not text:
            return ReadCell(text)
        plain = match.column.key in (
            "run",
            "design",
            "block",
            "installation",
            "machine",
            "remarks",
            "exclusion_reason",
            "serial",
            "removed_because",
        )
        if plain:
            return ReadCell(text, text)
        if is_empty(text, self._empty):
            return ReadCell(text)
        try:
            return self._read(line, k, text, match, match.column)
        except _Refused as reason:
            return ReadCell(text, problem=Problem(line, match.heading, reason.text, reason.kind, text))

    def _read(self, line: int, k: int, text: str, match: Match, column: Column) -> ReadCell:
        if column.units or column.key == "order":
            return self._numbers(line, k, text, match, column)
        if column.key == "started":
            try:
                return ReadCell(text, time_in(text) if match.clock else moment_in(text, self._order))
            except ValueError as reason:
                raise _Refused(str(reason), Kind.DATE) from None
        try:
            column.take(BLANK, text, 1.0)
        except ValueError as reason:
            raise _Refused(str(reason), Kind.WORD) from None
        return ReadCell(text, text)

    def _numbers(self, line: int, k: int, text: str, match: Match, column: Column) -> ReadCell:
        values, below, own = [], False, ""
        known = self._typed.get((line, k))
        for part in text.split("/") if not _ends_in_unit(text, column) else [text]:
            if is_empty(part, self._empty):
                continue
            found = _number(part)
            factor, unit = self._factor(found, match, column)
            own = own or unit
            value = known if isinstance(known, float) else self._value(found, part)
            below = below or found.limit == "<"
            values.append(sized(value / 2.0 if found.limit == "<" else value, factor))
        if len(values) > 1 and not column.adds:
            raise _Refused(f"“{text}” holds several numbers.", Kind.NUMBER)
        read = " / ".join(plainly(value) for value in values)
        try:
            column.take(BLANK, read, 1.0)
        except ValueError as reason:
            raise _Refused(str(reason), Kind.BOUNDS) from None
        return ReadCell(text, read, tuple(values), below, own)

    def _value(self, found: Written, part: str) -> float:
        try:
            return found.value(self._decimal)
        except (ValueError, OverflowError):
            raise _Refused(f"“{part.strip()[:30]}” is too large a number.", Kind.BOUNDS) from None

    def _factor(self, found: Written, match: Match, column: Column) -> tuple[float, str]:
        """The size of the number's unit: of the column, or of its own where it has one."""
        unit = unit_of(found.unit)
        if not unit or unit == unit_of(match.unit):
            return match.factor, ""
        if unit in column.units:
            return column.units[unit], unit
        if not column.units:
            raise _Refused(f"“{found.unit}” stands behind the number.", Kind.NUMBER)
        if unit in OF_TWO_SIZES:
            raise _Refused(f"“{found.unit}” is used for {' or '.join(OF_TWO_SIZES[unit])}.", Kind.UNIT)
        raise _Refused(
            f"“{found.unit}” is not a unit for {column.label.lower()}; it may be {', '.join(column.units)}.", Kind.UNIT
        )


def runs_of(
    lines: Sequence[int],
    rows: Sequence[Sequence[str]],
    read: Sequence[Sequence[ReadCell]],
    matches: Sequence[Match],
    taken: Sequence[str],
) -> tuple[tuple[Run | None, ...], tuple[Problem, ...]]:
    """A run per row, None where the row has a problem; `taken` names runs there are already."""
    names, found, problems = set(taken), [], []
    width = max((k + 1 for k, match in enumerate(matches) if match.heading), default=0)
    for line, row, cells in zip(lines, rows, read, strict=True):
        wrong = [cell.problem for cell in cells if cell.problem is not None]
        if len(row) > width:
            text = f"has {len(row)} cells under {width} headings."
            wrong.append(Problem(line, "", text, Kind.WIDTH))
        run = _run(cells, matches)
        if not run.design:
            wrong.append(Problem(line, "design", "names no design.", Kind.DESIGN))
        if not run.run:
            run = replace(run, run=_free(len(names) + 1, names))
        elif run.run in names:
            text = f"the run “{run.run}” is there already; each run needs its own name."
            wrong.append(Problem(line, "run", text, Kind.NAME))
        problems += wrong
        found.append(None if wrong else run)
        names.add(run.run)
    return tuple(found), tuple(problems)


def _run(cells: Sequence[ReadCell], matches: Sequence[Match]) -> Run:
    run, clock, below = BLANK, "", []
    for match, cell in zip(matches, cells, strict=False):
        if match.column is None or not cell.is_read:
            continue
        if match.clock:
            clock = cell.text
            continue
        run = _with(run, match.column, cell.text)
        if cell.below:
            below.append(f"{match.column.label.lower()} {cell.typed}: half the limit taken")
    if clock and run.started and "T" not in run.started and " " not in run.started:
        run = replace(run, started=f"{run.started}T{clock}")
    if below:
        run = _with(run, COLUMNS["remarks"], "; ".join(below))
    return run


def _with(run: Run, column: Column, text: str) -> Run:
    """The run with a cell taken in; a further column of assays or notes adds to those there are."""
    before = column.show(run) if column.adds else ""
    if not before:
        return column.take(run, text, 1.0)
    return column.take(run, f"{before}{' / ' if column.units else '; '}{text}", 1.0)


def _ends_in_unit(text: str, column: Column) -> bool:
    """Whether the slash in a cell belongs to its unit: '3.2 g/t' is one number."""
    found = written(text)
    return found is not None and "/" in found.unit and unit_of(found.unit) in (*column.units, *OF_TWO_SIZES)


def _number(part: str) -> Written:
    found = written(part)
    if found is None:
        raise _Refused(f"“{part.strip()[:30]}” is not a number.", Kind.NUMBER)
    if found.limit == ">":
        raise _Refused(f"“{part.strip()[:30]}” is above a limit: not a number.", Kind.LIMIT)
    return found


def _free(number: int, names: set[str]) -> str:
    while str(number) in names:
        number += 1
    return str(number)

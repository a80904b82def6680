"""Size classes from a table: one line per run and sieve, whatever the sieves and columns are called.

A class goes by the sieve it lies on: '+106', '-212+106' and '106' lie on 106, '-25' and 'pan' on none. Masses are
turned into shares of their run, whose unit therefore plays no part. Not here: putting classes into a trial
(trial_edits), runs (reading).
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from profiler.numbers import counted
from profiler.study.ledger.cells import At, Written, decimal_of, is_empty, written
from profiler.study.ledger.columns import GRADE, LENGTH, sized
from profiler.study.ledger.doubts import of_decimal
from profiler.study.ledger.framing import Frame, framed, summary_word
from profiler.study.ledger.headings import OF_TWO_SIZES, heading_of, unit_of, words_of
from profiler.study.ledger.problems import Kind, Problem, ProblemGroup, grouped
from profiler.study.ledger.questions import Question
from profiler.study.ledger.table import Table
from profiler.study.records.fields import fields_of
from profiler.study.records.table_reading import TableReading
from profiler.study.records.trial import SieveAssay

SIZE_KEYS = tuple(fields_of(SieveAssay))
SIZE_HEADINGS = ("run", *SIZE_KEYS)
RUN, OPENING = "run", "opening_um"
_RUN_WORDS = frozenset(("run", "test", "cycle"))
_SIEVE_WORDS = frozenset(("opening", "sieve", "size", "screen", "fraction", "class", "aperture", "mesh"))
_MASS_WORDS = frozenset(("mass", "retained", "pct", "percent", "share"))
_GRADE_WORDS = frozenset(("grade", "assay", "au", "gold"))
_PASSED_WORDS = frozenset(("distribution", "dist", "recovery", "cum", "cumulative", "passing", "metal", "units"))
_SMALLEST_UM = 20.0  # numbers all below it are no openings in micrometres of a screened product: millimetres, or slips
_PAN = re.compile(r"pan|fines|slimes|undersize|<|[-<] ?[0-9.,]+ ?(?:um|mm|micron|microns)?")
_RANGE = re.compile(r"[-<]? ?(?P<above>[0-9.,]+) ?(?:um|mm)? ?(?:\+|to|/|-|>) ?(?P<on>[0-9.,]+) ?(?P<unit>um|mm)?")


@dataclass(frozen=True, slots=True)
class SizeColumn:
    """What a heading of a size table is taken for: a key of SIZE_HEADINGS; empty: passed over."""

    heading: str
    key: str
    unit: str = ""
    factor: float = 1.0


@dataclass(frozen=True, slots=True)
class SizePreview:
    """What an import of size classes would give; `rows` are the lines as typed, with the class read of each."""

    columns: tuple[SizeColumn, ...]
    lines: tuple[int, ...]
    cells: tuple[tuple[str, ...], ...]
    classes: tuple[SieveAssay | None, ...]
    runs: tuple[str, ...]  # of each row
    problems: tuple[Problem, ...]
    questions: tuple[Question, ...]
    missing: str

    @property
    def by_run(self) -> dict[str, tuple[SieveAssay, ...]]:
        """Classes by run, in the order of the table."""
        found: dict[str, list[SieveAssay]] = {}
        for run, size in zip(self.runs, self.classes, strict=True):
            if size is not None:
                found.setdefault(run, []).append(size)
        return {run: tuple(sizes) for run, sizes in found.items()}

    @property
    def groups(self) -> tuple[ProblemGroup, ...]:
        return grouped(self.problems)

    @property
    def read_as(self) -> tuple[str, ...]:
        taken = [c for c in self.columns if c.key]
        words = [f"“{c.heading}” as {_label(c.key)}{f', {c.unit}' if c.unit else ''}" for c in taken]
        over = [f"“{c.heading}”" for c in self.columns if c.heading and not c.key]
        return (*words, *((f"passed over: {', '.join(over)}",) if over else ()))

    def refusal(self) -> str:
        """Why the table cannot be taken as it is, one sentence; empty where it can."""
        if self.questions:
            return self.questions[0].sentence
        return self.missing or (self.groups[0].sentence if self.problems else "")


def is_size_table(table: Table) -> bool:
    """Whether a table holds size classes instead of runs: a sieve column, and both streams by it."""
    keys = {column.key for column in map(_column, framed(table, None, _is_known).headings)}
    return OPENING in keys and keys >= {"concentrate_pct", "tail_pct"}


def size_preview(table: Table, reading: TableReading | None = None) -> SizePreview:
    """The table read, as far as it can be. Raises ValueError for one without rows."""
    said = reading or TableReading()
    frame = framed(table, said.heading_line, _is_known)
    columns = tuple(_column(text, said) for text in frame.headings)
    places = {column.key: k for k, column in reversed(list(enumerate(columns))) if column.key}
    lines, rows = _rows(table, frame, places)
    cells = [
        At(line, columns[k].heading, row[k])
        for line, row in zip(lines, rows, strict=True)
        for key, k in places.items()
        if key != RUN and k < len(row) and (line, k) not in table.typed
    ]
    decimal = decimal_of(cells, table.separator, said.decimal)
    missing = _missing(places, columns)
    if missing:
        nothing = tuple(None for _ in rows)
        return SizePreview(columns, lines, rows, nothing, tuple("" for _ in rows), (), (), missing)
    sheet = _Sheet(columns, places, decimal.sign or decimal.likely)
    read = [sheet.numbers(line, row) for line, row in zip(lines, rows, strict=True)]
    runs = tuple(row[places[RUN]] if places[RUN] < len(row) else "" for row in rows)
    openings = [numbers[0] for numbers in read if isinstance(numbers, list)]
    missing = _too_small(columns[places[OPENING]], max(openings, default=0.0))
    classes, problems = _classes(lines, runs, read, [columns[places[k]].unit for k in ("concentrate_pct", "tail_pct")])
    return SizePreview(columns, lines, rows, classes, runs, problems, of_decimal(decimal, said), missing)


def _is_known(text: str) -> bool:
    return bool(_column(text).key)


def _column(text: str, said: TableReading | None = None) -> SizeColumn:
    """What a heading is, by its words and unit, or by what was answered."""
    answer = said.of(text) if said is not None else None
    if answer is not None and answer.meaning in SIZE_HEADINGS:
        unit = unit_of(answer.unit)
        return SizeColumn(text, answer.meaning, unit, (LENGTH | GRADE).get(unit, 1.0))
    heading = heading_of(text)
    words, unit = list(words_of(re.sub("[%/]", " ", heading.name))), heading.unit
    units = {unit, *words, *(["g/t"] if {"g", "t"} <= set(words) else []), *(["%"] if "%" in text else [])}
    if any(word in _PASSED_WORDS for word in words):
        return SizeColumn(text, "")
    stream = "concentrate" if "conc" in words else "tail" if "tail" in words else ""
    if stream:
        return _of_stream(text, stream, set(words), units)
    if _SIEVE_WORDS & set(words) or heading.name in ("um", "mm", "microns", "micron"):
        named = next((one for one in ("mm", "um", "micron") if one in {*units, unit_of(heading.name)}), "")
        return SizeColumn(text, OPENING, named, LENGTH.get(named, 1.0))
    return SizeColumn(text, RUN if _RUN_WORDS & set(words) else "")


def _of_stream(text: str, stream: str, words: set[str], units: set[str]) -> SizeColumn:
    graded = next((one for one in sorted(units) if (one in GRADE and one != "%") or one in OF_TWO_SIZES), "")
    if graded or words & _GRADE_WORDS:
        unit = graded or ("%" if "%" in units else "g/t")
        return SizeColumn(text, f"{stream}_g_t", unit, GRADE.get(unit, 0.0))
    share = "%" in units or words & {"pct", "percent"}
    if share or words & _MASS_WORDS or units & {"g", "kg", "mg", "lb"}:
        return SizeColumn(text, f"{stream}_pct", "%" if share else "mass")
    return SizeColumn(text, "")


def _label(key: str) -> str:
    return "run" if key == RUN else fields_of(SieveAssay)[key].label.lower()


def _rows(table: Table, frame: Frame, places: dict[str, int]) -> tuple[tuple[int, ...], tuple[tuple[str, ...], ...]]:
    """Lines and rows that may be classes: without totals, each with the run that stands in or above it."""
    lines, rows, run = [], [], ""
    k = places.get(RUN, -1)
    for place in frame.body:
        row = list(table.rows[place])
        if any(summary_word(cell) for cell in row if cell and written(cell) is None) or sum(map(bool, row)) < 2:
            continue
        if 0 <= k < len(row):
            run = row[k] = row[k] or run
        lines.append(table.lines[place])
        rows.append(tuple(row))
    return tuple(lines), tuple(rows)


def _missing(places: dict[str, int], columns: Sequence[SizeColumn]) -> str:
    lacking = [_label(key) for key in SIZE_HEADINGS if key not in places]
    if lacking:
        return f"No column gives {' or '.join(lacking)}. Name one with --as “HEADING=MEANING, UNIT”."
    for column in (columns[k] for k in places.values()):
        if column.unit in OF_TWO_SIZES:
            meant = " or ".join(OF_TWO_SIZES[column.unit])
            return f"“{column.heading}”: “{column.unit}” is used for {meant}; write which."
    return ""


def _too_small(column: SizeColumn, largest: float) -> str:
    """Openings without a unit that are too small for micrometres."""
    if column.unit or not 0.0 < largest < _SMALLEST_UM:
        return ""
    return f"“{column.heading}” names no unit, and {largest:g} is its largest: --as “{column.heading}=opening um, mm”?"


class _Sheet:
    """Reads the five numbers of a row."""

    def __init__(self, columns: Sequence[SizeColumn], places: dict[str, int], decimal: str) -> None:
        self._columns, self._places, self._decimal = columns, places, decimal

    def numbers(self, line: int, row: Sequence[str]) -> list[float] | Problem:
        found = []
        for key in SIZE_KEYS:
            column = self._columns[self._places[key]]
            text = row[self._places[key]] if self._places[key] < len(row) else ""
            try:
                found.append(self._opening(text, column) if key == OPENING else self._number(text, column))
            except ValueError as reason:
                return Problem(line, column.heading, str(reason), Kind.NUMBER)
        return found

    def _number(self, text: str, column: SizeColumn) -> float:
        found = None if is_empty(text) else written(text)
        if found is None:
            raise ValueError(f"“{text[:30]}” is not a number; a size class needs its opening and four numbers.")
        if found.limit == ">":
            raise ValueError(f"“{text[:30]}” is above a limit: not a number.")
        half = 0.5 if found.limit == "<" else 1.0
        return sized(self._value(found) * half, column.factor if column.key.endswith("g_t") else 1.0)

    def _opening(self, text: str, column: SizeColumn) -> float:
        """Of the sieve a class lies on; 0 for what lies on none."""
        plain = " ".join(text.lower().replace("−", "-").replace("–", "-").replace("µ", "u").replace("μ", "u").split())
        between = _RANGE.fullmatch(plain)
        if between is not None and not plain.startswith("+"):
            pair = [written(between[name]) for name in ("above", "on")]
            sizes = [self._value(one) for one in pair if one is not None]
            if len(sizes) == 2:
                return sized(min(sizes), LENGTH.get(between["unit"] or column.unit, 1.0))
        if _PAN.fullmatch(plain):
            return 0.0
        found = written(plain.lstrip("+>p "))
        unit = unit_of(found.unit) if found is not None else ""
        if found is None or (unit and unit not in LENGTH):
            raise ValueError(f"“{text[:30]}” is not a sieve: write its opening, as 106, +106, -212+106 or pan.")
        return sized(self._value(found), LENGTH.get(unit or column.unit, 1.0))

    def _value(self, found: Written) -> float:
        return found.value(self._decimal)


def _classes(
    lines: Sequence[int], runs: Sequence[str], read: Sequence[list[float] | Problem], units: Sequence[str]
) -> tuple[tuple[SieveAssay | None, ...], tuple[Problem, ...]]:
    """A class per row, masses as shares of their run; a run with a problem is not taken at all."""
    problems = [numbers for numbers in read if isinstance(numbers, Problem)]
    problems += [Problem(n, "run", "names no run.", Kind.NAME) for n, run in zip(lines, runs, strict=True) if not run]
    seen: set[tuple[str, float]] = set()
    for line, run, numbers in zip(lines, runs, read, strict=True):
        if isinstance(numbers, list):
            if (run, numbers[0]) in seen:
                problems.append(Problem(line, "sieve", f"run “{run}” has this sieve twice.", Kind.NAME))
            seen.add((run, numbers[0]))
    bad = {run for line, run in zip(lines, runs, strict=True) if any(p.line == line for p in problems)}
    sums: dict[str, list[float]] = {}
    for run, numbers in zip(runs, read, strict=True):
        if isinstance(numbers, list):
            held = sums.setdefault(run, [0.0, 0.0])
            held[0] += numbers[1]
            held[1] += numbers[3]
    found: list[SieveAssay | None] = []
    for run, numbers in zip(runs, read, strict=True):
        if isinstance(numbers, Problem) or run in bad:
            found.append(None)
            continue
        concentrate, tail = (
            numbers[place] if unit == "%" or not total else sized(numbers[place] / total, 100.0)
            for place, unit, total in zip((1, 3), units, sums[run], strict=True)
        )
        found.append(SieveAssay(numbers[0], concentrate, numbers[2], tail, numbers[4]))
    return tuple(found), tuple(problems)


def runs_told(found: SizePreview) -> str:
    """'12 classes of 2 runs'."""
    taken = found.by_run
    return f"{counted(sum(map(len, taken.values())), 'class', 'classes')} of {counted(len(taken), 'run')}"

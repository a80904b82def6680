"""What the file as a whole leaves in doubt: its sheet, heading row, decimal sign, order of dates, empty cells."""

from collections.abc import Sequence

from msgspec.structs import replace as having

from profiler.numbers import counted
from profiler.study.ledger.cells import Decimal, written
from profiler.study.ledger.dates import ORDER_WORDS, Order, moments_of
from profiler.study.ledger.framing import Frame
from profiler.study.ledger.meanings import Match
from profiler.study.ledger.problems import Kind, Problem
from profiler.study.ledger.questions import Choice, Doubt, Question
from profiler.study.ledger.table import Table
from profiler.study.records.table_reading import TableReading

FILLED_DOWN = ("design", "block", "installation")  # what people write once for several rows


def of_sheets(table: Table, said: TableReading) -> tuple[Question, ...]:
    if len(table.sheets) < 2 or said.sheet:
        return ()
    names = ", ".join(f"“{name}”" for name in table.sheets)
    choices = tuple(Choice(f"“{s}”", "the others are not read", having(said, sheet=s)) for s in table.sheets)
    text = f"The workbook holds headings of a ledger on {counted(len(table.sheets), 'sheet')}: {names}."
    return (Question(Doubt.SHEET, text, choices, f'--sheet "{table.sheet}"', "", table.sheets.index(table.sheet)),)


def of_headings(table: Table, frame: Frame, said: TableReading) -> tuple[Question, ...]:
    if not frame.rivals:
        return ()
    lines = (frame.heading_line, *frame.rivals)

    def words(line: int) -> str:
        cells = [cell for cell in table.rows[table.lines.index(line)] if cell]
        return f"line {line}: {', '.join(cells[:4])}{', …' if len(cells) > 4 else ''}"

    choices = tuple(Choice(words(n), "what stands above is no run", having(said, heading_line=n)) for n in lines)
    text = f"The headings may stand in line {' or '.join(map(str, lines))}."
    return (Question(Doubt.HEADINGS, text, choices, f"--heading {lines[0]}"),)


def of_decimal(decimal: Decimal, said: TableReading) -> tuple[Question, ...]:
    """Asked where a number is two and nothing tells which."""
    doubt = decimal.doubt
    if doubt is None or decimal.sign:
        return ()
    as_point, as_comma = (_as(doubt.text, sign) for sign in (".", ","))
    text = f"{doubt.words} is {as_point} or {as_comma}, according to whether the point or the comma is the decimal sign"
    if decimal.point is not None and decimal.comma is not None:
        text += f" (both are in use: {decimal.point.words}, {decimal.comma.words})"
    choices = (
        Choice("a decimal point", f"“{doubt.text}” is {as_point}", having(said, decimal=".")),
        Choice("a decimal comma", f"“{doubt.text}” is {as_comma}", having(said, decimal=",")),
    )
    likely = 0 if decimal.likely == "." else 1
    return (Question(Doubt.DECIMAL, f"{text}.", choices, "--decimal . or --decimal ,", doubt.heading, likely),)


def _as(text: str, sign: str) -> str:
    found = written(text)
    value = None if found is None else found.value_if_any(sign)
    return text if value is None else f"{value:g}"


def of_dates(order: Order, said: TableReading) -> tuple[Question, ...]:
    if order.order or order.doubt is None:
        return ()
    read = moments_of(order.doubt.text)
    choices = tuple(
        Choice(ORDER_WORDS[key], f"“{order.doubt.text}” is {day}", having(said, dates=key)) for key, day in read
    )
    keys = [key for key, _ in read]
    text = f"{order.doubt.words} is {' or '.join(day for _, day in read)}."
    likely = keys.index(order.likely) if order.likely in keys else 0
    return (Question(Doubt.DATES, text, choices, f"--dates {' or --dates '.join(keys)}", order.doubt.heading, likely),)


def of_blanks(rows: Sequence[Sequence[str]], matches: Sequence[Match], said: TableReading) -> tuple[Question, ...]:
    """Cells written once and left empty below, as merged cells come out of a spreadsheet."""
    gaps = written_once(rows, matches)
    if not gaps or said.blanks:
        return ()
    names = " and ".join(f"“{matches[k].heading}”" for k in gaps)
    count = sum(not _cell(row, k) for row in rows for k in gaps)
    choices = (
        Choice(
            "the same as above", f"{counted(count, 'cell')} filled from the cell above", having(said, blanks="above")
        ),
        Choice("not recorded", "these runs stay without it", having(said, blanks="empty")),
    )
    text = f"{names}: {counted(count, 'empty cell')} below filled ones."
    return (Question(Doubt.BLANKS, text, choices, "--blanks above or --blanks empty", matches[gaps[0]].heading),)


def of_problems(problems: Sequence[Problem], matches: Sequence[Match], said: TableReading) -> tuple[Question, ...]:
    """Offered, not asked: names that are taken, and words where numbers belong, have a common answer each."""
    found = []
    taken = sum(problem.kind is Kind.NAME for problem in problems)
    heading = next((m.heading for m in matches if m.column is not None and m.column.key == "run"), "")
    if taken and heading:
        choices = [Choice("number the runs anew", "the numbers of the file are not kept", said.answering(heading, ""))]
        if all(m.column is None or m.column.key != "block" for m in matches):
            pairs = said.answering(heading, "block")
            choices.append(Choice("they number the pairs", "the runs are numbered anew", pairs))
        text = f"{counted(taken, 'run')} of “{heading}” bear a name that is taken."
        found.append(Question(Doubt.NAMES, text, tuple(choices), f'--as "{heading}=nothing"', heading, must=False))
    cells = [p.cell for p in problems if p.kind in (Kind.NUMBER, Kind.LIMIT) and p.cell]
    words = tuple(dict.fromkeys(cells))
    if words:
        shown = ", ".join(f"“{word[:20]}”" for word in words[:4]) + (", …" if len(words) > 4 else "")
        empty = having(said, empty=(*said.empty, *words))
        choice = Choice("not recorded", f"{counted(len(cells), 'cell')} left empty, the rows are taken", empty)
        text = f"{shown} {'stands' if len(words) == 1 else 'stand'} where numbers belong."
        found.append(Question(Doubt.WORDS, text, (choice,), f'--empty "{words[0]}"', must=False))
    return tuple(found)


def written_once(rows: Sequence[Sequence[str]], matches: Sequence[Match]) -> tuple[int, ...]:
    """Columns that name designs, blocks or mountings, begin filled, and are empty in a third of the rows or more."""
    found = []
    for k, match in enumerate(matches):
        if match.column is not None and match.column.key in FILLED_DOWN and _cell(rows[0], k):
            empty = sum(not _cell(row, k) for row in rows)
            if empty * 3 >= len(rows):
                found.append(k)
    return tuple(found)


def filled_down(
    rows: Sequence[tuple[str, ...]], matches: Sequence[Match], said: TableReading
) -> tuple[tuple[str, ...], ...]:
    """The rows with what was written once put into every row it was meant for, where that was answered."""
    columns = written_once(rows, matches) if said.blanks == "above" else ()
    filled, above = [], dict.fromkeys(columns, "")
    for row in rows:
        cells = list(row)
        for k in columns:
            if k < len(cells):
                above[k] = cells[k] = cells[k] or above[k]
            else:
                cells += [""] * (k - len(cells)) + [above[k]]
        filled.append(tuple(cells))
    return tuple(filled)


def _cell(row: Sequence[str], k: int) -> str:
    return row[k] if k < len(row) else ""

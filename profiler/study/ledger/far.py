"""Values a factor of 30 or more from the median of their column, and apart from the rest: another unit, or a slip.

A question, no number. Where the values spread evenly over such a range (recoveries of 0.06 to 41 %) the outermost is no
slip: it has to stand apart from the nearest of the others too.
"""

from collections.abc import Sequence
from statistics import median

from msgspec.structs import replace

from profiler.numbers import counted
from profiler.study.ledger.meanings import Match
from profiler.study.ledger.questions import Choice, Doubt, Question, shown
from profiler.study.ledger.rows import ReadCell
from profiler.study.records.table_reading import TableReading, plain_heading

FACTOR = 30.0
APART = 10.0  # from the nearest value that is not far; common slips are of 31 (ounces), 100, 1000 or 10 000
FEWEST = 3
_GROWING = ("order", "wear_h", "since_change_h", "bowl_t")  # counts and hours begin at nothing and grow


def far_questions(
    lines: Sequence[int], read: Sequence[Sequence[ReadCell]], matches: Sequence[Match], said: TableReading
) -> tuple[Question, ...]:
    """One for each column that holds such values, unless they were answered to be meant so."""
    meant = {plain_heading(heading) for heading in said.as_typed}
    found = []
    for k, match in enumerate(matches):
        if match.column is None or not match.column.units or match.column.key in _GROWING:
            continue
        if plain_heading(match.heading) in meant:
            continue
        cells = [(line, row[k]) for line, row in zip(lines, read, strict=True) if k < len(row) and row[k].numbers]
        question = _question(match, cells, said)
        found += [question] if question is not None else []
    return tuple(found)


def _question(match: Match, cells: Sequence[tuple[int, ReadCell]], said: TableReading) -> Question | None:
    numbers = [abs(value) for _, cell in cells for value in cell.numbers if value]
    if len(numbers) < FEWEST:
        return None
    middle = median(numbers)
    near = [value for value in numbers if not _is_far(value, middle)]
    low, high = min(near) / APART, max(near) * APART
    far = [
        (line, cell)
        for line, cell in cells
        if not cell.below and any(_is_far(v, middle) and not low < abs(v) < high for v in cell.numbers)
    ]
    if not far or match.column is None:
        return None
    line, first = far[0]
    more = f", and {counted(len(far) - 1, 'more cell')}" if len(far) > 1 else ""
    unit = match.column.unit
    heading = match.heading
    text = (
        f"line {line}, {heading}: “{first.typed}” stands among values near {shown(middle / match.factor)}{more}: "
        "another unit, or a slip?"
    )
    typed = tuple(dict.fromkeys(cell.typed for _, cell in far))
    choices = (
        Choice("not recorded", f"{counted(len(far), 'cell')} left empty", replace(said, empty=(*said.empty, *typed))),
        Choice(
            "as typed",
            f"the first is {shown(first.numbers[0])} {unit}",
            replace(said, as_typed=(*said.as_typed, heading)),
        ),
    )
    option = f'--as-typed "{heading}" or --empty "{first.typed}", or correct the cell'
    return Question(Doubt.FAR, text, choices, option, heading)


def _is_far(value: float, middle: float) -> bool:
    return value != 0.0 and not middle / FACTOR < abs(value) < middle * FACTOR

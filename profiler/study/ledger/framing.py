"""Which rows of a table are what: titles, headings, units, runs, and rows that are no runs.

Headings are the row in which most cells are known; they may stand on two rows (a stream above, its mass and grade
below), and a row of units may follow. Means, totals and repeated headings are passed over and said. Not here: what the
headings mean (meanings).
"""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from profiler.study.ledger.cells import is_empty, written
from profiler.study.ledger.headings import heading_of, is_known, is_unit
from profiler.study.ledger.table import LOOKED_AT, Table

_SUMMARY = re.compile(
    r"(?:the )?(?:grand |sub)?(?:mean|average|avg|averages|means|total|totals|sum|median|std|sd|st ?dev|std ?dev|stdev|"
    r"standard deviation|std error|standard error|min|max|minimum|maximum|range|rsd|cv|count|difference|diff|variance)"
    r"(?:[ .:,(].*)?"
)


@dataclass(frozen=True, slots=True)
class Passed:
    """A row that is no run: why, and its line."""

    why: str
    line: int


@dataclass(frozen=True, slots=True)
class Frame:
    """`headings` with units put to them; `body` places of rows that may be runs; `rivals` lines that could hold the
    headings as well as the one chosen."""

    headings: tuple[str, ...]
    heading_line: int
    body: tuple[int, ...]
    passed: tuple[Passed, ...]
    rivals: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class _Head:
    first: int  # place of the row
    last: int  # of the last that belongs to it
    texts: tuple[str, ...]
    known: int


Known = Callable[[str], bool]  # whether a text is a heading


def framed(table: Table, heading_line: int | None = None, known: Known = is_known) -> Frame:
    """The table told apart; `known` says of a text whether it is a heading of what is read.

    Raises ValueError where no line has the number asked for, or nothing stands below it.
    """
    heads = [head for place in range(min(len(table.rows), LOOKED_AT)) if (head := _head(table, place, known))]
    if heading_line is not None:
        if heading_line not in table.lines:
            raise ValueError(f"Line {heading_line} is empty or not there: it cannot hold the headings.")
        place = table.lines.index(heading_line)
        chosen = next((h for h in heads if h.first == place), None) or _Head(place, place, table.rows[place], 0)
        rivals: tuple[int, ...] = ()
    else:
        chosen = _likeliest(table, heads)
        rivals = tuple(table.lines[h.first] for h in heads if _is_rival(h, chosen))
    passed = [Passed("before the headings", table.lines[k]) for k in range(chosen.first)]
    passed += [Passed("of the headings", table.lines[k]) for k in range(chosen.first + 1, chosen.last + 1)]
    body = []
    first_row = table.rows[chosen.first]
    for place in range(chosen.last + 1, len(table.rows)):
        if _plain(table.rows[place]) == _plain(first_row):
            passed.append(Passed("headings repeated", table.lines[place]))
        else:
            body.append(place)
    if not body:
        raise ValueError(
            f"Nothing stands below the headings in line {table.lines[chosen.first]}: at least one run is needed."
        )
    width = max(len(chosen.texts), *(len(table.rows[k]) for k in body))
    texts = tuple(chosen.texts[k] if k < len(chosen.texts) else "" for k in range(width))
    return Frame(texts, table.lines[chosen.first], tuple(body), tuple(passed), rivals)


def summary_word(text: str) -> bool:
    """Whether a name is that of a mean, total or the like, and not of a run or design."""
    plain = " ".join(text.lower().replace("_", " ").split())
    return _SUMMARY.fullmatch(plain) is not None


def _likeliest(table: Table, heads: Sequence[_Head]) -> _Head:
    """The one that knows most; where none knows anything, the first row of more than one cell."""
    best = max(heads, key=lambda head: head.known, default=None)
    if best is not None and best.known > 0:
        return best
    place = next((k for k, row in enumerate(table.rows) if sum(map(bool, row)) > 1), 0)
    return next((h for h in heads if h.first == place), None) or _Head(place, place, table.rows[place], 0)


def _is_rival(head: _Head, chosen: _Head) -> bool:
    apart = head.first > chosen.last or head.last < chosen.first
    return apart and head.known == chosen.known > 1 and _plain(head.texts) != _plain(chosen.texts)


def _head(table: Table, place: int, known: Known) -> _Head | None:
    """The row as headings, with what stands below as units or second line of headings where that makes more known."""
    row = table.rows[place]
    if _numbers(row) * 5 > sum(map(bool, row)) or not any(row):
        return None
    alone = _Head(place, place, row, _known(row, known))
    below = table.rows[place + 1] if place + 1 < len(table.rows) else ()
    if not any(below) or _numbers(below):
        return alone
    unit_cells = [bool(cell) and not is_empty(cell) for cell in below]
    if all(is_unit(cell) for cell, there in zip(below, unit_cells, strict=True) if there) and any(unit_cells):
        texts = _joined(row, below, "({})")
        return _Head(place, place + 1, texts, max(_known(texts, known), alone.known))
    if _known(below, known) == 0 or sum(map(bool, row)) < sum(map(bool, below)):
        texts = _joined(row, below, "{}")
        both = _known(texts, known)
        if both > max(alone.known, _known(below, known)):
            return _Head(place, place + 1, texts, both)
    return alone


def _joined(above: Sequence[str], below: Sequence[str], form: str) -> tuple[str, ...]:
    """Each column's words from above and below; an empty cell above goes on with what stands left of it."""
    texts, last = [], ""
    for k in range(max(len(above), len(below))):
        top = above[k] if k < len(above) else ""
        low = below[k] if k < len(below) and not is_empty(below[k]) else ""
        low = "" if top and "(" in form and heading_of(top).unit else low
        last = top or last
        texts.append(f"{last} {form.format(low.strip('()[] '))}".strip() if low else top)
    return tuple(texts)


def _known(texts: Sequence[str], known: Known) -> int:
    return sum(known(text) for text in texts if text)


def _numbers(row: Sequence[str]) -> int:
    return sum(written(cell) is not None for cell in row if cell)


def _plain(row: Sequence[str]) -> tuple[str, ...]:
    cells = [" ".join(cell.lower().split()) for cell in row]
    while cells and not cells[-1]:
        cells.pop()
    return tuple(cells)

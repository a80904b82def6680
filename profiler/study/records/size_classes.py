"""The sizes of a feed by sieve: rows of a table, what is wrong with them, and how they come out of a spreadsheet.

What is stored is the per cent retained: what stays on a sieve, having passed the one above. Percentages passing
are turned into it. What classes do in a slurry is not here.
"""

import re
from collections.abc import Sequence
from enum import StrEnum
from itertools import pairwise
from typing import Annotated, ClassVar

from profiler.numbers import number_of
from profiler.study.records.fields import number, required
from profiler.study.records.record import Place, Record, Rows

MOST_ROWS = 20
SUM_WITHIN_PCT = 0.5
PAN_SHARE = 0.2  # of the finest sieve: how fine what passes it is taken to reach; half is then finer than 0.45 of it

_PAN = re.compile(r"(?i)(pan|rest|0|[-\u2212\u2013<]\s*([\d.,]+))\s*(µm|um)?$")  # what passes the finest sieve
_BETWEEN = re.compile(r"[-\u2212\u2013<]?\s*[\d.,]+\s*\+\s*([\d.,]+)$")  # -250+180: stays on 180


class SizeClass(Record, frozen=True):
    """Grains that stay on one sieve, having passed the one above."""

    PLACE: ClassVar[Place] = Place(("duty", Rows("size_classes")), "Change a size class")

    size_um: Annotated[
        float, number("Sieve", "µm", 1, 50000, 5, 1, "Opening of the sieve the grains stay on, having passed the last.")
    ]
    retained_pct: Annotated[
        float, number("Retained", "%", 0, 100, 0.5, 2, "Of the solids' mass, on this sieve alone; all add up to 100.")
    ]


SIEVE = required(SizeClass, "size_um", float)
RETAINED = required(SizeClass, "retained_pct", float)


class Measure(StrEnum):
    """What percentages in a pasted table are."""

    RETAINED = "retained"
    PASSING = "passing"


def rows_objection(rows: Sequence[SizeClass]) -> str | None:
    """Why a table of classes cannot be worked with, as one sentence, or None. Bounds of single numbers are not here."""
    if len(rows) > MOST_ROWS:
        return f"There are {len(rows)} size classes; {MOST_ROWS} is the most that can be worked with."
    for above, below in pairwise(rows):
        if not below.size_um < above.size_um:
            return f"Sieves must become finer from row to row: {below.size_um:g} µm follows {above.size_um:g} µm."
    total = sum(row.retained_pct for row in rows)
    if rows and not abs(total - 100.0) <= SUM_WITHIN_PCT + 1e-9:
        what = "missing" if total < 100.0 else "too much"
        return f"The percentages retained add up to {total:.2f} %, not 100 %: {abs(total - 100.0):.2f} % {what}."
    return None


def made_whole(rows: Sequence[SizeClass]) -> tuple[SizeClass, ...]:
    """The rows in the same proportions, adding up to 100 %; the largest takes what rounding leaves.

    Raises ValueError where nothing is retained at all.
    """
    total = sum(row.retained_pct for row in rows)
    if not total > 0.0:
        raise ValueError("Nothing is retained on any sieve: there are no proportions to keep.")
    per_cents = [round(row.retained_pct * 100.0 / total, 2) for row in rows]
    largest = per_cents.index(max(per_cents))
    per_cents[largest] = round(per_cents[largest] + 100.0 - sum(per_cents), 2)
    return tuple(SizeClass(row.size_um, per_cent) for row, per_cent in zip(rows, per_cents, strict=True))


def pasted(text: str, measure: Measure | None = None) -> tuple[tuple[SizeClass, ...], Measure]:
    """Rows from a spreadsheet: sieve and per cent in the first two columns, in any order of sizes, heads left out.

    Without a `measure` the percentages tell: retained where they add up to 100, else passing. What lies in the pan
    ("pan", "0", "-38", "<38") is taken to reach down to a fifth of the finest sieve, as where the per cent passing
    falls a little slower than the size; our own choice, and the row can be changed. Raises ValueError with a sentence.
    """
    sieves, pans = _table(text)
    if not sieves:
        raise ValueError("No row holds a sieve size and a per cent; nothing was pasted.")
    if len(pans) > 1:
        raise ValueError("More than one row is what passes the finest sieve; nothing was pasted.")
    sizes, values = [size for size, _ in sieves], [per_cent for _, per_cent in sieves]
    if measure is None:
        whole = abs(sum(values) + sum(pans) - 100.0) <= SUM_WITHIN_PCT
        measure = Measure.RETAINED if whole else Measure.PASSING
    pan = pans[0] if pans else 0.0
    if measure is Measure.PASSING:
        steps = [above - below for above, below in pairwise((100.0, *values))]
        if min(steps) < 0.0:
            raise ValueError(
                "The percentages neither sum to 100 (retained) nor fall with the sieve (passing); nothing was pasted."
            )
        values, pan = [round(step, 6) for step in steps], values[-1]
    rows = [SizeClass(size, value) for size, value in zip(sizes, values, strict=True)]
    while len(rows) > 1 and rows[0].retained_pct == rows[1].retained_pct == 0.0:
        rows.pop(0)  # of the sieves that everything passes only the finest says something: the coarsest grains' size
    if pan > 0.0:
        rows.append(SizeClass(round(PAN_SHARE * sizes[-1], 3), pan))
    return tuple(rows), measure


def _table(text: str) -> tuple[list[tuple[float, float]], list[float]]:
    """Sieve and per cent of every row that holds both, coarse first; and the percentages of what is in the pan."""
    sieves: list[tuple[float, float]] = []
    pans: list[tuple[float | None, float]] = []
    for line in text.splitlines():
        cells = [c.strip() for c in (re.split(r"[\t;]", line) if re.search(r"[\t;]", line) else line.split())]
        per_cent = _number(cells[1]) if len(cells) > 1 else None
        if per_cent is None or not cells[0]:
            continue
        pan, between = _PAN.match(cells[0]), _BETWEEN.match(cells[0])
        if pan is not None:
            pans.append((_number(pan[2]) if pan[2] else None, per_cent))
            continue
        size = _number(between[1] if between else cells[0].lstrip("+>").removesuffix("µm").removesuffix("um"))
        if size is None:
            raise ValueError(f"“{cells[0]}” is not a sieve size in µm; nothing was pasted.")
        sieves.append((size, per_cent))
    if len(pans) > 1 and not sieves:  # "-250": finer than 250, in a table of percentages passing
        sieves, pans = [(size, pct) for size, pct in pans if size is not None], [p for p in pans if p[0] is None]
    return sorted(sieves, reverse=True), [per_cent for _, per_cent in pans]


def _number(text: str) -> float | None:
    try:
        return number_of(text)
    except ValueError:
        return None

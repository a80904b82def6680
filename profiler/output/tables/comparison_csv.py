"""A comparison as CSV: a line per design, duty and number, and what the ore window makes of each."""

from profiler.explore.compare import ROWS, Comparison, DesignResult, Row
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit
from profiler.study.files.csv_text import Cell, csv_text

UNIT = 4
HEAD = ("design", "reference", "duty", "quantity", "unit", "value", "difference to reference")


def comparison_csv(c: Comparison, lengths: LengthUnit = MILLIMETRES) -> str:
    """Numbers in full precision; empty where there is none."""
    rows: list[tuple[Cell, ...]] = [HEAD]
    for standing in c.results:
        for i, duty in enumerate(c.duties):
            word = f"{duty.name} (shown)" if i == 0 else duty.name
            for row in ROWS:
                mine, theirs = row.get(standing.under(i)), row.get(c.reference.under(i))
                rows.append(_record(c, standing, word, row, mine, theirs))
        for word, member in (("lowest", "low"), ("highest", "high"), ("weighted", "weighted"), ("worst", "worst")):
            for row in ROWS if c.window else ():
                mine = getattr(standing.spread(row), member)
                theirs = getattr(c.reference.spread(row), member)
                rows.append(_record(c, standing, f"ore window, {word}", row, mine, theirs))
    return csv_text([rows[0], *(_in(row, lengths) for row in rows[1:])])


def _in(row: tuple[Cell, ...], lengths: LengthUnit) -> tuple[Cell, ...]:
    """A record with its value and difference in this unit, where they are lengths."""
    if row[UNIT] != MILLIMETRES.name:
        return row
    numbers = (lengths.shown(v) if isinstance(v, float) else v for v in row[UNIT + 1 :])
    return (*row[:UNIT], lengths.name, *numbers)


def _record(c: Comparison, s: DesignResult, duty: str, row: Row, mine: float, theirs: float) -> tuple[Cell, ...]:
    is_reference = "yes" if s is c.reference else ""
    return (s.design.name, is_reference, duty, row.label, row.unit, mine, mine - theirs)

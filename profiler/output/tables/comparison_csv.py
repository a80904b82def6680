"""A comparison as CSV: a line per design, duty and number, and what the ore window makes of each."""

from profiler.explore.compare import ROWS, Comparison, DesignResult, Row
from profiler.study.files.csv_text import Cell, csv_text

HEAD = ("design", "reference", "duty", "quantity", "unit", "value", "difference to reference")


def comparison_csv(c: Comparison) -> str:
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
    return csv_text(rows)


def _record(c: Comparison, s: DesignResult, duty: str, row: Row, mine: float, theirs: float) -> tuple[Cell, ...]:
    is_reference = "yes" if s is c.reference else ""
    return (s.design.name, is_reference, duty, row.label, row.unit, mine, mine - theirs)

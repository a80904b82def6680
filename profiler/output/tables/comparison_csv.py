"""A comparison as CSV (RFC 4180): a line per design, duty and number, and what the ore window makes of each."""

import csv
import io
from math import isfinite

from profiler.explore.compare import ROWS, Comparison, Row, Standing

HEAD = ("design", "reference", "duty", "quantity", "unit", "value", "difference to reference")


def comparison_csv(c: Comparison) -> str:
    """Numbers in full precision; empty where there is none."""
    text = io.StringIO()
    out = csv.writer(text)
    out.writerow(HEAD)
    for standing in c.standings:
        for i, duty in enumerate(c.duties):
            word = f"{duty.name} (shown)" if i == 0 else duty.name
            for row in ROWS:
                mine, theirs = row.get(standing.under(i)), row.get(c.reference.under(i))
                out.writerow(_record(c, standing, word, row, mine, theirs))
        for word, member in (("lowest", "low"), ("highest", "high"), ("weighted", "weighted"), ("worst", "worst")):
            for row in ROWS if c.window else ():
                mine = getattr(standing.spread(row), member)
                theirs = getattr(c.reference.spread(row), member)
                out.writerow(_record(c, standing, f"ore window, {word}", row, mine, theirs))
    return text.getvalue()


def _record(c: Comparison, s: Standing, duty: str, row: Row, mine: float, theirs: float) -> tuple[str, ...]:
    is_reference = "yes" if s is c.reference else ""
    return (s.design.name, is_reference, duty, row.label, row.unit, _number(mine), _number(mine - theirs))


def _number(value: float) -> str:
    return repr(float(value)) if isfinite(value) else ""

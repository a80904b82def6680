"""A comparison for the terminal: a table of at most 100 columns, and the same as one JSON object."""

import json
from math import isfinite
from textwrap import wrap

from profiler.explore.compare import ROWS, Comparison, DesignResult, View, conditions_of
from profiler.explore.lineages import Told
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit
from profiler.pictures.charts.comparison_table import MARK, MARK_MEANS, TableLine, table, views

WIDTH = 100
HEAD = 34


def comparison_text(c: Comparison, lengths: LengthUnit = MILLIMETRES) -> str:
    """Remarks; for the shown duty and each way to see the ore window what is the same, and a table; lineages."""
    unit = lengths.keeping(c.study.machine.name, *(d.name for d in c.duties), *(s.design.name for s in c.results))
    parts = _wrapped(tuple(map(unit.told, c.remarks)))
    names = [f"{s.design.name} (reference)" if s is c.reference else s.design.name for s in c.results]
    for words, view in _worth_showing(c):
        parts += [*([""] if parts else []), words, *_wrapped(c.conditions(view)), *_lines(names, table(c, view), unit)]
    parts += ["", f"{MARK} {MARK_MEANS}", "", "Lineage"]
    parts += _wrapped(tuple(unit.told(f"{t.design}: {t.sentence}") for t in c.lineages))
    return "\n".join(parts)


def comparison_json(c: Comparison) -> str:
    """One JSON object in ASCII; null where there is no number."""
    answer = {
        "machine": c.study.machine.name,
        "duty": c.duty.name,
        "conditions": {d.name: conditions_of(d) for d in c.duties},
        "reference": c.reference.design.name,
        "remarks": list(c.remarks),
        "units": {row.key: row.unit for row in ROWS},
        "designs": [_design(c, s) for s in c.results],
    }
    return json.dumps(answer, allow_nan=False)


def _worth_showing(c: Comparison) -> tuple[tuple[str, View], ...]:
    known = views(c)
    return known if len(c.window) == 0 else (known[0], *known[-3:])


def _wrapped(lines: tuple[str, ...]) -> list[str]:
    return [part for line in lines for part in wrap(line, WIDTH, subsequent_indent="   ")]


def _lines(names: list[str], lines: tuple[TableLine, ...], unit: LengthUnit) -> list[str]:
    room = max((WIDTH - HEAD) // max(len(names), 1), 12)

    def row(head: str, cells: list[str]) -> str:
        return f"{head[: HEAD - 1]:<{HEAD}}" + "".join(f"{_cut(cell, room - 1):>{room}}" for cell in cells)

    return [row("", names), *(row(line.head, [unit.told(cell.marked) for cell in line.cells]) for line in lines)]


def _cut(text: str, room: int) -> str:
    return text if len(text) <= room else f"{text[: room - 1]}…"


def _design(c: Comparison, s: DesignResult) -> dict[str, object]:
    under = {}
    for i, duty in enumerate(c.duties):
        under["shown" if i == 0 else duty.name] = {row.key: _number(row.get(s.under(i))) for row in ROWS}
    spreads = {row.key: s.spread(row) for row in ROWS} if c.window else {}
    window = {
        key: {name: _number(getattr(spread, name)) for name in ("low", "high", "weighted", "worst")}
        for key, spread in spreads.items()
    }
    of = {"name": s.design.name, "trouble": s.trouble, "under": under, "window": window, "steady_grooves": s.steady}
    return {**of, "lineage": next((lineage_json(t) for t in c.lineages if t.design == s.design.name), None)}


def lineage_json(told: Told) -> dict[str, object]:
    """`changes` is null where there is no origin to compare with."""
    changes = None if told.changes is None else [[c.what, c.before, c.now] for c in told.changes]
    return {"way": told.way.value, "made_from": told.origin, "words": told.made, "changes": changes,
            "why": told.why, "trials": list(told.trials)}  # fmt: skip


def _number(value: float) -> float | None:
    return float(value) if isfinite(value) else None

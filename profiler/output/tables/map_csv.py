"""An ore map as CSV, as one JSON object, and as a coarse table for the terminal."""

import json
from math import isfinite

import numpy as np

from profiler.explore.ore_map import OreMap
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit
from profiler.study.files.csv_text import Cell, csv_text

SHOWN = 9  # columns and rows of the terminal's table
LEAST_WIDTH = 9  # letters of a column


def map_csv(m: OreMap, lengths: LengthUnit = MILLIMETRES) -> str:
    """A line per node, in full precision; empty where there is no number."""
    values = _values(m, lengths)
    rows: list[tuple[Cell, ...]] = [
        (m.asked.x.axis.field.title, m.asked.y.axis.field.title, lengths.head(m.asked.title))
    ]
    for row, y in enumerate(m.y.tolist()):
        rows += [(x, y, float(values[row, column])) for column, x in enumerate(m.x.tolist())]
    return csv_text(rows)


def map_json(m: OreMap) -> str:
    """Rows of values follow y, columns x; null where there is no number."""
    present = m.present_value
    answer = {
        "design": m.evaluation.design.name,
        "duty": m.duty.name,
        "quantity": m.asked.quantity.key,
        "label": m.asked.quantity.label,
        "unit": m.asked.quantity.unit,
        "groove": m.asked.groove,
        "x": {"name": m.asked.x.axis.field.name, "unit": m.asked.x.axis.field.unit, "values": m.x.tolist()},
        "y": {"name": m.asked.y.axis.field.name, "unit": m.asked.y.axis.field.unit, "values": m.y.tolist()},
        "values": [[v if isfinite(v) else None for v in row] for row in m.values.tolist()],
        "present": {"x": m.present[0], "y": m.present[1], "value": present if isfinite(present) else None},
        "window": [
            {"duty": d.name, "x": m.asked.x.axis.value(d), "y": m.asked.y.axis.value(d)} for d in m.window
        ],
    }  # fmt: skip
    return json.dumps(answer, allow_nan=False)


def map_text(m: OreMap, lengths: LengthUnit = MILLIMETRES) -> str:
    """Some lines of the map, the present ones among them, y upward."""
    columns, rows = (_some(lines, at) for lines, at in zip((m.x, m.y), m.present, strict=True))
    q, values = m.asked.quantity, _values(m, lengths)
    decimals = q.decimals + (lengths.more_decimals if q.unit == MILLIMETRES.name else 0)
    heads = ["", *(f"{m.x[c]:.5g}" for c in columns)]
    cells = [
        [f"{m.y[r]:.5g}", *(f"{v:.{decimals}f}" if isfinite(v) else "–" for v in values[r, columns])]
        for r in rows[::-1]
    ]
    width = max(LEAST_WIDTH, 2 + max(len(cell) for row in (heads, *cells) for cell in row))
    *parts, foot = ["".join(f"{cell:>{width}}" for cell in row) for row in (*cells, heads)]
    parts = [f"{m.evaluation.design.name}, {m.duty.name}: {lengths.head(m.asked.title)}",
             f"now {lengths.told(q.text(m.present_value))}", "", *parts]  # fmt: skip
    lost = [f"–: no answer: {'; '.join(m.lost)}"] if m.lost else []
    axes = f"across {m.asked.x.axis.field.title}; upward {m.asked.y.axis.field.title}"
    return "\n".join([*parts, foot, axes, *lost])


def _values(m: OreMap, lengths: LengthUnit) -> "np.ndarray[tuple[int, ...], np.dtype[np.float64]]":
    """Those of the map, in this unit where they are lengths."""
    return np.asarray(m.values / lengths.mm if m.asked.quantity.unit == MILLIMETRES.name else m.values)


def _some(lines: "np.ndarray[tuple[int], np.dtype[np.float64]]", present: float) -> list[int]:
    wanted = np.linspace(0, len(lines) - 1, min(SHOWN, len(lines))).round().astype(int)
    here = np.flatnonzero(lines == present)
    if len(here) and int(here[0]) not in wanted:
        inner = 1 + int(np.argmin(np.abs(wanted[1:-1] - here[0]))) if len(wanted) > 2 else 0
        wanted[inner] = here[0]
    return [int(i) for i in wanted]

"""The comparison as a table of texts: a line per number, a cell per design, the best one marked where there is one."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite

from profiler.explore.compare import ROWS, Comparison, Over, Row, Sense, View, best

STEADY = Row("steady", "Grooves of one state throughout", "", 0, Sense.MORE, lambda e: float("nan"))
MARK = "◂"
MARK_MEANS = "best value, on rows where one direction is better"


@dataclass(frozen=True, slots=True)
class Cell:
    text: str
    better: bool = False

    @property
    def marked(self) -> str:
        return f"{self.text} {MARK}" if self.better else self.text


@dataclass(frozen=True, slots=True)
class TableLine:
    head: str
    cells: tuple[Cell, ...]


def views(c: Comparison) -> tuple[tuple[str, View], ...]:
    """What may be looked at: the shown duty, each duty of the ore window, the window as a whole."""
    found = [(f"{c.duty.name} (shown)", View())]
    found += [(f"{i}  {d.name}", View(Over.DUTY, i)) for i, d in enumerate(c.window, 1)]
    if c.window:
        found += [(over.value.capitalize(), View(over)) for over in (Over.WORST, Over.WEIGHTED, Over.RANGE)]
    return tuple(found)


def table(c: Comparison, view: View, differences: bool = False) -> tuple[TableLine, ...]:
    """All lines in a view; with `differences`, every design but the reference shows its number less the reference's."""
    at = c.results.index(c.reference)
    lines = []
    for row in ROWS:
        if view.over is Over.WORST and row.sense is Sense.NONE:
            continue
        if view.over is Over.RANGE:
            lines.append(TableLine(row.label, tuple(Cell(_range(c, row, i)) for i in range(len(c.results)))))
            continue
        lines.append(_line(row, c.values(row, view), at if differences else None, view))
    if view.over is not Over.DUTY:
        steady = [float(s.steady) if s.shown.flow is not None else float("nan") for s in c.results]
        lines.append(_line(STEADY, steady, at if differences else None, View()))
    return tuple(lines)


def _line(row: Row, values: Sequence[float], reference: int | None, view: View) -> TableLine:
    finer = 1 if view.over is Over.WEIGHTED and row.decimals == 0 and row.unit == "" else 0
    marks = best(row, values)
    cells = []
    for i, value in enumerate(values):
        if reference is None or i == reference:
            cells.append(Cell(row.text(value, finer=finer), i in marks))
        else:
            cells.append(Cell(row.text(value - values[reference], signed=True, finer=finer), i in marks))
    return TableLine(row.label, tuple(cells))


def _range(c: Comparison, row: Row, place: int) -> str:
    spread = c.results[place].spread(row)
    if not isfinite(spread.low) or row.text(spread.low) == row.text(spread.high):
        return row.text(spread.low)
    low = row.text(spread.low).removesuffix(row.unit).strip()
    return f"{low} to {row.text(spread.high)}"

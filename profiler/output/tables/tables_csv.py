"""Tables as CSV: the outline's lines and arcs, stations along the wall, grooves, findings.

Lines that start with # say what the table is; then one line of heads with units, then the rows. The decimal mark and
separator are the reader's choice; a table for spreadsheets that want commas in numbers starts with a byte order mark.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from profiler.assess import Evaluation
from profiler.assess.evidence.words import standing
from profiler.assess.findings.finding import body_caution, stops
from profiler.assess.quantities.table import STATE_KEYS, Scope, of_scope
from profiler.geometry.chain import arcs
from profiler.physics.slurry.overturn import State
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit
from profiler.study.files.csv_text import DECIMAL_MARKS, SEPARATORS, Cell, Fixed, csv_text

ABOUT_LINES = 4
OUTLINE_DECIMALS = 7  # mm: the profile rebuilt from the table is the profile
MORE_DECIMALS = 3  # than the window shows


class CsvTable(StrEnum):
    OUTLINE = "outline"
    STATIONS = "stations"
    GROOVES = "grooves"
    FINDINGS = "findings"


@dataclass(frozen=True, slots=True)
class CsvOptions:
    separator: str = ","
    decimal: str = "."

    def __post_init__(self) -> None:
        if self.separator not in SEPARATORS:
            raise ValueError("The separator is a comma, a semicolon or a tab.")
        if self.decimal not in DECIMAL_MARKS or self.decimal == self.separator:
            raise ValueError("The decimal mark is a point or a comma, and another than the separator.")


Rows = tuple[Sequence[str], list[list[Cell]]]


def csv_bytes(
    e: Evaluation, table: CsvTable, options: CsvOptions | None = None, date: str = "", lengths: LengthUnit = MILLIMETRES
) -> bytes:
    """The file's bytes, UTF-8. Raises ValueError where the evaluation has no shape (findings need none)."""
    options = options or CsvOptions()
    if e.shape is None and table is not CsvTable.FINDINGS:
        raise ValueError("there is no shape to tabulate")
    heads, rows = cells_in(*_TABLES[table](e), lengths)
    lost = f"; no answer: {e.no_answer}" if e.no_answer else ""
    unit = lengths.keeping(e.design.name, e.machine.name, e.duty.name)
    model = unit.told(standing(e.duty))
    about = [f"# {table.value} of {e.design.name}; duty {e.duty.name}; machine {e.machine.name}",
             f"# {lengths.plural} unless stated; heights from the inner floor, angles from the spin axis",
             f"# {'date ' + date + '; ' if date else ''}slurry model {model}; for screening only{lost}",
             f"# {body_caution(stops(e.findings))}"]  # fmt: skip
    above = "".join(" ".join(line.split()) + "\r\n" for line in about)  # a name may hold any sign, but begin no line
    coding = "utf-8-sig" if options.decimal == "," else "utf-8"
    return (above + csv_text([heads, *rows], options.separator, options.decimal)).encode(coding)


def cells_in(heads: Sequence[str], rows: Sequence[Sequence[Cell]], lengths: LengthUnit) -> Rows:
    """A table in this unit: columns whose head says mm, a row whose unit cell does, lengths within texts."""
    in_mm = [lengths.heads(head) for head in heads]
    found = []
    for row in rows:
        whole = MILLIMETRES.name in row  # a value and its limit
        found.append([_cell_in(cell, said or whole, lengths) for cell, said in zip(row, in_mm, strict=True)])
    return [lengths.head(head) for head in heads], found


def _cell_in(cell: Cell, is_length: bool, lengths: LengthUnit) -> Cell:
    if lengths.is_mm or isinstance(cell, int):
        return cell
    if isinstance(cell, str):
        return lengths.name if cell == MILLIMETRES.name else lengths.told(cell)
    if not is_length or cell is None:
        return cell
    if isinstance(cell, Fixed):
        return Fixed(lengths.shown(cell.value), cell.decimals + lengths.more_decimals)
    return lengths.shown(cell)


def _outline(e: Evaluation) -> Rows:
    """A row per segment of the half section, counter-clockwise; its start point and, for an arc, its centre."""
    assert e.shape is not None
    chain = e.shape.outline
    start, end, bulge = chain.ends()
    centre, radius, _, curved = arcs(chain)
    heads = ("number", "type", "start_z_mm", "start_r_mm", "start_diameter_mm", "end_z_mm", "end_r_mm", "centre_z_mm",
             "centre_r_mm", "radius_mm", "turns", "bulge")  # fmt: skip
    rows: list[list[Cell]] = []
    for i in range(chain.segments):
        arc = bool(curved[i])
        numbers = (start[i, 1], start[i, 0], 2.0 * start[i, 0], end[i, 1], end[i, 0])
        row: list[Cell] = [i + 1, "ARC" if arc else "LINE", *(_length(v) for v in numbers)]
        if arc:
            row += [_length(v) for v in (centre[i, 1], centre[i, 0], radius[i])]
            row += ["CCW" if bulge[i] > 0.0 else "CW", Fixed(float(bulge[i]), 12)]
        else:
            row += [None, None, None, None, Fixed(0.0, 12)]
        rows.append(row)
    return heads, rows


def _length(value: float) -> Fixed:
    return Fixed(float(value), OUTLINE_DECIMALS)


def _stations(e: Evaluation) -> Rows:
    heads, rows = _by_scope(e, Scope.WALL)
    states = [] if e.flow is None else [_claimed(s) for s in e.flow.state[0]]
    return _with_states(heads, rows, states)


def _grooves(e: Evaluation) -> Rows:
    assert e.shape is not None
    heads, rows = _by_scope(e, Scope.GROOVE)
    cut = zip(e.shape.cut.mouth, e.shape.cut.depth, strict=True)
    whole: list[list[Cell]] = [
        [k, Fixed(float(mouth), 3), Fixed(float(depth), 3), *row]
        for k, (row, (mouth, depth)) in enumerate(zip(rows, cut, strict=True), 1)
    ]
    states = [] if e.flow is None else [_claimed(s) for s in e.flow.groove_state[0]]
    return _with_states(("groove", "mouth_mm", "depth_mm", *heads), whole, states)


def _claimed(state: int) -> str | None:
    """Nothing where no state is claimed."""
    return None if state == State.NONE else STATE_KEYS[State(state)]


def _with_states(heads: Sequence[str], rows: list[list[Cell]], states: list[str | None]) -> Rows:
    if not states:
        return heads, rows
    return (*heads, "state"), [[*row, state] for row, state in zip(rows, states, strict=True)]


def _by_scope(e: Evaluation, scope: Scope) -> Rows:
    """Every quantity of the scope that has a value at each place."""
    assert e.shape is not None
    count = len(e.shape.stations.height) if scope is Scope.WALL else len(e.shape.mouths)
    columns = [(q, q.get(e)) for q in of_scope(scope)]
    kept = [(q, values) for q, values in columns if len(values) == count]
    rows: list[list[Cell]] = [[Fixed(float(v[i]), q.decimals + MORE_DECIMALS) for q, v in kept] for i in range(count)]
    return [q.key for q, _ in kept], rows


def _findings(e: Evaluation) -> Rows:
    heads = ("code", "severity", "text", "value", "limit", "unit", "source", "from_mm", "to_mm", "grooves")
    rows: list[list[Cell]] = [
        [f.code, f.severity.value, f.text, f.value, f.limit, f.unit, f.source, f.from_mm, f.to_mm,
         " ".join(map(str, f.grooves))]
        for f in e.findings
    ]  # fmt: skip
    return heads, rows


_TABLES: dict[CsvTable, Callable[[Evaluation], Rows]] = {
    CsvTable.OUTLINE: _outline, CsvTable.STATIONS: _stations, CsvTable.GROOVES: _grooves,
    CsvTable.FINDINGS: _findings,
}  # fmt: skip

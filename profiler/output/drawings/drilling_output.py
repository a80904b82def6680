"""The drilling table as an output: every water hole with its place and direction, as a table or as points in space.

X is the datum, Y a quarter turn on, counter-clockwise as seen from the lip, Z the spin axis, zero the inner floor.
"""

from math import cos, degrees, sin
from pathlib import Path

from profiler.assess import Evaluation
from profiler.assess.findings.finding import body_caution, stops
from profiler.assess.shape.bore_rings import Ring, rings_of
from profiler.numbers import counted
from profiler.output.formats.dxf_document import document_bytes, new_document, plain_letters
from profiler.output.record.option import DATE, Group, Request
from profiler.output.record.output import Made, Output, TableShown
from profiler.output.tables.tables_csv import cells_in
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit
from profiler.study.files.csv_text import Fixed, csv_text
from profiler.study.files.file import write_whole

NONE = "the design has no water holes."
HEADS = ("groove", "hole", "diameter_mm", "azimuth_deg", "skew_deg", "floor_x_mm", "floor_y_mm", "z_mm", "outside_x_mm",
         "outside_y_mm", "length_mm")  # fmt: skip
TEXT_MM = 5.0


def drilling_rows(rings: list[Ring]) -> list[list[Fixed]]:
    """A row for each hole, from the floor up and round from the datum."""
    rows: list[list[Fixed]] = []
    for ring in rings:
        for number, azimuth in enumerate(ring.azimuths.tolist(), 1):
            end = azimuth + ring.at_outside
            lengths = (ring.inner * cos(azimuth), ring.inner * sin(azimuth), ring.height, ring.outer * cos(end),
                       ring.outer * sin(end), ring.length)  # fmt: skip
            angles = (degrees(azimuth) % 360.0, degrees(ring.skew))
            rows.append([Fixed(ring.groove, 0), Fixed(number, 0), Fixed(ring.diameter, 3),
                         *(Fixed(x, 4) for x in (*angles, *lengths))])  # fmt: skip
    return rows


def _statements(e: Evaluation, date: str, lengths: LengthUnit = MILLIMETRES) -> list[str]:
    """What stands above the table and in the file."""
    return [
        f"drilling of {e.design.name}; machine {e.machine.name}{'; date ' + date if date else ''}",
        f"{lengths.plural} and degrees; X is the datum, angles counter-clockwise as seen from the lip, z from the "
        "inner floor",
        f"holes square to the spin axis, from the groove's floor outward; rotor turns: {e.machine.turning.value}",
        f"for screening only. {body_caution(stops(e.findings))}",
    ]


def _csv(e: Evaluation, request: Request) -> bytes:
    about = "".join(f"# {' '.join(line.split())}\r\n" for line in _statements(e, request[DATE], request.lengths))
    heads, rows = cells_in(HEADS, drilling_rows(_rings(e)), request.lengths)
    return (about + csv_text([heads, *rows])).encode()


def _dxf(e: Evaluation, request: Request) -> bytes:
    """Points on the groove's floor, a layer for each diameter, and the axes out to the outside."""
    rings = _rings(e)
    reach = max(ring.outer for ring in rings)
    lines = _statements(e, request[DATE])
    document = new_document("R2000", (-reach, -reach - 2.0 * TEXT_MM * (len(lines) + 1)), (reach, reach))
    space = document.modelspace()
    for name in ("AXES", "TEXT"):
        document.layers.add(name)
    for row in drilling_rows(rings):
        diameter, x, y, z, out_x, out_y = (row[k].value for k in (2, 5, 6, 7, 8, 9))
        layer = f"HOLES_D{diameter:g}".replace(".", "_")
        if not document.layers.has_entry(layer):
            document.layers.add(layer)
        space.add_point((x, y, z), dxfattribs={"layer": layer})
        space.add_line((x, y, z), (out_x, out_y, z), dxfattribs={"layer": "AXES"})
    for number, line in enumerate(lines, 1):
        place = {"layer": "TEXT", "style": "ISO", "insert": (-reach, -reach - 2.0 * TEXT_MM * number)}
        space.add_text(plain_letters(line, 200).upper(), height=TEXT_MM, dxfattribs=place)
    return document_bytes(document)


def _rings(e: Evaluation) -> list[Ring]:
    """Raises ValueError where there are none."""
    rings = [] if e.shape is None else rings_of(e.shape.holes)
    if not rings:
        raise ValueError(NONE)
    return rings


def _make(path: Path, e: Evaluation, request: Request) -> list[Made]:
    write_whole(path, (_csv if path.suffix.lower() == ".csv" else _dxf)(e, request))
    rings = _rings(e)
    return [Made(path, f"{counted(sum(ring.count for ring in rings), 'hole')} in {counted(len(rings), 'ring')}")]


def _preview(e: Evaluation, request: Request) -> TableShown:
    """The very numbers of the file, or the word that there are none."""
    if e.shape is None or not rings_of(e.shape.holes):
        return TableShown(HEADS, (), f"{NONE[0].upper()}{NONE[1:]}")
    heads, found = cells_in(HEADS, drilling_rows(_rings(e)), request.lengths)
    rows = tuple(tuple(f"{c.value:.{c.decimals}f}" for c in row if isinstance(c, Fixed)) for row in found)
    return TableShown(tuple(heads), rows, "\n".join(_statements(e, request[DATE], request.lengths)))


DRILLING = Output(
    "drilling", "Drilling", "Every water hole: place, direction, length, as a table or points in space",
    (".dxf", ".csv"), make=_make, preview=_preview, tabled=True, in_folder=(), groups=(Group("Holes", (DATE,)),),
)  # fmt: skip

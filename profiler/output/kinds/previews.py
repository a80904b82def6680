"""What each kind of output looks like before any file is written: sheets to look at or to print, or a table to read."""

import csv
import io
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from profiler.assess import Evaluation
from profiler.output.drawings.gauge_pdf import gauge_pages
from profiler.output.drawings.parts import LAYERS, TITLES, laid, part_chain
from profiler.output.kinds.by_extension import CROSSED, NO_SHAPE, ExportOptions, report, stands_without_shape
from profiler.output.tables.tables_csv import ABOUT_LINES, csv_bytes
from profiler.pictures.sheet.compose import drawing
from profiler.pictures.sheet.items import Item, Path, Pen, Sheet, Text, View, polyline
from profiler.pictures.sheet.lettering import cut
from profiler.pictures.sheet.papers import paper

PROFILE_PAGE = paper("A3")
ROOM = 30.0  # mm round a profile
MM3_PER_LITRE = 1e6


@dataclass(frozen=True, slots=True)
class TableShown:
    """A table as its file will hold it: cell for cell, and in `about` what stands above it."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    about: str = ""


def preview(kind: str, e: Evaluation, options: ExportOptions) -> tuple[Sheet, ...]:
    """The sheets of a drawing, gauge, report or profile. Raises ValueError with a sentence where there are none."""
    if e.shape is None and not stands_without_shape(kind, options):
        raise ValueError(NO_SHAPE)
    return _PREVIEWS[kind](e, options)


def table_shown(e: Evaluation, options: ExportOptions) -> TableShown:
    """The very cells of the CSV file. Raises ValueError where there is no shape."""
    if e.shape is None and not stands_without_shape("table", options):
        raise ValueError(NO_SHAPE)
    text = csv_bytes(e, options.table, options.csv, options.drawing.fields.date).decode("utf-8-sig")
    *about, rest = text.split("\r\n", ABOUT_LINES)
    heads, *rows = csv.reader(io.StringIO(rest, newline=""), delimiter=options.csv.separator)
    return TableShown(tuple(heads), tuple(map(tuple, rows)), "\n".join(line[2:] for line in about))


def solid_shown(e: Evaluation) -> TableShown:
    """Figures of the turned body as triangles, and what is left out of it. Raises ValueError where there is none."""
    from profiler.output.solids.mesh import LEFT_OUT, turned

    if e.shape is None:
        raise ValueError(NO_SHAPE)
    crossing = next((f for f in e.findings if f.code in CROSSED), None)
    if crossing is not None:
        raise ValueError(f"No solid can be made: {crossing.text}")
    mesh = turned(e.shape.outline)
    a, b, c = (mesh.corners[mesh.triangles[:, k]] for k in range(3))
    volume = float(np.einsum("ij,ij->", a, np.cross(b, c))) / 6.0
    size = np.ptp(mesh.corners, axis=0)
    body = e.body
    rows = [("Triangles", f"{len(mesh.triangles)}", ""), ("Corners", f"{len(mesh.corners)}", ""),
            ("Across", f"{size[0]:.2f}", "mm"), ("High", f"{size[2]:.2f}", "mm"),
            ("Volume of the triangles", f"{volume / MM3_PER_LITRE:.4f}", "L")]  # fmt: skip
    if body is not None:
        rows += [("Volume of the true body", f"{body.volume_mm3 / MM3_PER_LITRE:.4f}", "L"),
                 ("Difference", f"{100.0 * (volume / body.volume_mm3 - 1.0):+.3f}".replace("-", "−"), "%"),
                 ("Mass of the true body", f"{body.mass_kg:.2f}", "kg")]  # fmt: skip
    about = f"{e.design.name}, turned about the spin axis; height zero is the inner floor.\n"
    about += f"Grooves are in it, {LEFT_OUT}."
    return TableShown(("Figure", "Value", "Unit"), tuple(rows), about)


def _drawing(e: Evaluation, options: ExportOptions) -> tuple[Sheet, ...]:
    return drawing(e, options.drawing).sheets


def _gauge(e: Evaluation, options: ExportOptions) -> tuple[Sheet, ...]:
    return gauge_pages(e, options.drawing.fields.date)


def _report(e: Evaluation, options: ExportOptions) -> tuple[Sheet, ...]:
    from profiler.output.report.pages import report_sheets

    return report_sheets(report(e, options))


def _profile(e: Evaluation, options: ExportOptions) -> tuple[Sheet, ...]:
    """The chain as it will lie in the file, fitted to a page; its axis dashed, zero where the lines cross."""
    assert e.shape is not None
    chosen = options.profile
    half = part_chain(chosen.part, e.shape, e.machine)
    halves = [half, half.mirrored()] if options.full else [half]
    chains = [laid(chain, e.shape, chosen) for chain in halves]
    low = [min(0.0, *(float(c.points[:, k].min()) for c in chains)) for k in (0, 1)]
    high = [max(0.0, *(float(c.points[:, k].max()) for c in chains)) for k in (0, 1)]
    size = PROFILE_PAGE
    room = (size.width - 2.0 * ROOM, size.height - 2.0 * ROOM)
    scale = min(room[k] / (high[k] - low[k]) for k in (0, 1))
    middle = (0.5 * size.width, 0.5 * size.height)
    view = View((middle[0] - 0.5 * scale * (low[0] + high[0]), middle[1] - 0.5 * scale * (low[1] + high[1])), scale)
    axis = ((low[0], 0.0), (high[0], 0.0)) if chosen.turning else ((0.0, low[1]), (0.0, high[1]))
    words = f"{TITLES[chosen.part]}, layer {LAYERS[chosen.part]}, {chosen.version}; fitted to the page, not to scale"
    items: tuple[Item, ...] = (
        *(Path(view.chain(chain), Pen.OUTLINE) for chain in chains),
        polyline([view.point(*p) for p in axis], Pen.CENTRE),
        *_zero(view.origin),
        Text(ROOM, size.height - 18.0, cut(words, 3.5, room[0]), 3.5),
    )
    return (Sheet(size.width, size.height, items, view, words, (0.0, 0.0, size.width, size.height)),)


def _zero(at: tuple[float, float]) -> tuple[Path, Path]:
    x, y = at
    return polyline([(x - 5.0, y), (x + 5.0, y)], Pen.DIM), polyline([(x, y - 5.0), (x, y + 5.0)], Pen.DIM)


_PREVIEWS: dict[str, Callable[[Evaluation, ExportOptions], tuple[Sheet, ...]]] = {
    "drawing": _drawing, "gauge": _gauge, "report": _report, "profile": _profile,
}  # fmt: skip

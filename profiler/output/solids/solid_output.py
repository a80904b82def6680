"""The turned body as an output: triangles for printing or simulation, and their figures before they are written."""

from collections.abc import Sequence
from pathlib import Path

import numpy as np

from profiler.assess import Evaluation
from profiler.assess.findings.finding import body_caution, stops
from profiler.assess.findings.kinds import Kind
from profiler.assess.shape.bore_rings import rings_of
from profiler.numbers import counted, fixed
from profiler.output.blocks.blocks import Block, Figure, Grid, Paragraph, Report
from profiler.output.record.option import Amount, Choice, Group, Offer, Request
from profiler.output.record.output import Made, Output
from profiler.output.solids.mesh import LEFT_OUT, TURN_SAG_MM, Mesh, drilled_body, stl_bytes, threemf_bytes, turned
from profiler.output.solids.section_points import SECTION_SAG_MM
from profiler.output.step.bores import Bored, Marked
from profiler.pictures.charts.cut_open import PICTURE_PX, cut_open
from profiler.pictures.sheet.items import Sheet
from profiler.study import Field
from profiler.study.files.file import write_whole

ALONG = Amount(
    Field("sag_along", "Along the section", "mm", 0.002, 0.5, 0.01, 3, "How far the triangles may be off its line"),
    SECTION_SAG_MM,
)  # fmt: skip
ROUND = Amount(
    Field("sag_round", "Round the axis", "mm", 0.002, 0.5, 0.01, 3, "How far they may be off the circle, at most"),
    TURN_SAG_MM,
)  # fmt: skip
HOLES = Choice("solid_holes", "Water holes", "In the solid; each adds some hundred triangles", (
    Offer("left_out", "Left out"), Offer("cut", "Cut, with flat sides", "--cut-holes"),
))  # fmt: skip
CROSSED = (Kind.OUTLINE_CROSSES, Kind.FLANGE_INSIDE_LIP)
MM3_PER_LITRE = 1e6


def _make(path: Path, e: Evaluation, request: Request) -> list[Made]:
    mesh, words, _ = _body(e, request)
    if path.suffix.lower() == ".stl":
        data = stl_bytes(mesh, e.design.name, stops(e.findings))
    else:
        data = threemf_bytes(mesh, e.design.name, stops(e.findings), words)
    write_whole(path, data)
    return [Made(path, f"turned body, {fixed(len(mesh.triangles), 0)} triangles, {words}")]


def _body(e: Evaluation, request: Request) -> tuple[Mesh, str, list[Marked]]:
    """The triangles, what is said of the water holes in them, and the rings that could not be cut."""
    assert e.shape is not None
    fineness = request[ROUND], request[ALONG]
    rings = rings_of(e.shape.holes)
    if request[HOLES] != "cut" or not rings:
        return turned(e.shape.outline, *fineness), LEFT_OUT if rings else "no water holes planned", []
    mesh, bored, marked = drilled_body(e.shape.outline, rings, *fineness)
    return mesh, _cut_words(bored, marked), marked


def _cut_words(bored: Sequence[Bored], marked: Sequence[Marked]) -> str:
    cut, left = (sum(each.ring.count for each in every) for every in (bored, marked))
    said = counted(cut, "water hole")
    return f"{said} cut, {left} left out" if left else f"{said} cut"


def _preview(e: Evaluation, request: Request) -> tuple[Sheet, ...]:
    """The body cut open, figures of the triangles beside those of the true body, and what is left out."""
    from profiler.output.blocks.as_pages import report_sheets

    assert e.shape is not None
    mesh, holes, marked = _body(e, request)
    words = f"Turned about the spin axis; height zero is the inner floor. Grooves are in it; {holes}."
    blocks: tuple[Block, ...] = (
        Figure((cut_open(e.shape.outline, *PICTURE_PX),), f"The body cut open, seen from above. {words}"),
        Grid(("Figure", "Value", "Unit"), tuple(_figures(e, mesh)), share=0.6),
        *(Paragraph(f"Left out, {each.ring.words}: {each.why}.") for each in marked),
        Paragraph(f"{body_caution(stops(e.findings))}."),
    )
    return report_sheets(Report(f"Solid: {e.design.name}", (), blocks))


def _figures(e: Evaluation, mesh: Mesh) -> list[tuple[str, str, str]]:
    a, b, c = (mesh.corners[mesh.triangles[:, k]] for k in range(3))
    volume = float(np.einsum("ij,ij->", a, np.cross(b, c))) / 6.0
    size = np.ptp(mesh.corners, axis=0)
    rows = [("Triangles", fixed(len(mesh.triangles), 0), ""), ("Corners", fixed(len(mesh.corners), 0), ""),
            ("Across", fixed(size[0], 2), "mm"), ("High", fixed(size[2], 2), "mm"),
            ("Volume of the triangles", fixed(volume / MM3_PER_LITRE, 4), "L")]  # fmt: skip
    if (body := e.body) is not None:
        rows += [("Volume of the true body, no holes", fixed(body.volume_mm3 / MM3_PER_LITRE, 4), "L"),
                 ("Difference", fixed(100.0 * (volume / body.volume_mm3 - 1.0), 3, signed=True), "%"),
                 ("Mass of the true body, no holes", fixed(body.mass_kg, 2), "kg")]  # fmt: skip
    return rows


SOLID = Output(
    "solid", "Solid", "The turned body as triangles, for printing or simulation", (".stl", ".3mf"),
    make=_make, preview=_preview, leaf="page", barred_by=CROSSED, in_folder=(),
    groups=(Group("Fineness", (ALONG, ROUND)), Group("Holes", (HOLES,))),
)  # fmt: skip

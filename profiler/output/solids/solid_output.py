"""The turned body as an output: triangles for printing or simulation, and their figures before they are written."""

from pathlib import Path

import numpy as np

from profiler.assess import Evaluation
from profiler.assess.findings.finding import body_caution, stops
from profiler.assess.findings.kinds import Kind
from profiler.numbers import fixed
from profiler.output.blocks.blocks import Figure, Grid, Paragraph, Report
from profiler.output.record.option import Amount, Group, Request
from profiler.output.record.output import Made, Output
from profiler.output.solids.mesh import LEFT_OUT, SECTION_SAG_MM, TURN_SAG_MM, stl_bytes, threemf_bytes, turned
from profiler.pictures.charts.cut_open import cut_open
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
CROSSED = (Kind.OUTLINE_CROSSES, Kind.FLANGE_INSIDE_LIP)
MM3_PER_LITRE = 1e6
PICTURE_PX = (640.0, 480.0)


def _make(path: Path, e: Evaluation, request: Request) -> list[Made]:
    assert e.shape is not None
    mesh = turned(e.shape.outline, request[ROUND], request[ALONG])
    writer = stl_bytes if path.suffix.lower() == ".stl" else threemf_bytes
    write_whole(path, writer(mesh, e.design.name, stops(e.findings)))
    return [Made(path, f"turned body, {fixed(len(mesh.triangles), 0)} triangles, {LEFT_OUT}")]


def _preview(e: Evaluation, request: Request) -> tuple[Sheet, ...]:
    """The body cut open, figures of the triangles beside those of the true body, and what is left out."""
    from profiler.output.blocks.as_pages import report_sheets

    assert e.shape is not None
    mesh = turned(e.shape.outline, request[ROUND], request[ALONG])
    a, b, c = (mesh.corners[mesh.triangles[:, k]] for k in range(3))
    volume = float(np.einsum("ij,ij->", a, np.cross(b, c))) / 6.0
    size = np.ptp(mesh.corners, axis=0)
    body = e.body
    rows = [("Triangles", fixed(len(mesh.triangles), 0), ""), ("Corners", fixed(len(mesh.corners), 0), ""),
            ("Across", fixed(size[0], 2), "mm"), ("High", fixed(size[2], 2), "mm"),
            ("Volume of the triangles", fixed(volume / MM3_PER_LITRE, 4), "L")]  # fmt: skip
    if body is not None:
        rows += [("Volume of the true body", fixed(body.volume_mm3 / MM3_PER_LITRE, 4), "L"),
                 ("Difference", fixed(100.0 * (volume / body.volume_mm3 - 1.0), 3, signed=True), "%"),
                 ("Mass of the true body", fixed(body.mass_kg, 2), "kg")]  # fmt: skip
    words = f"Turned about the spin axis; height zero is the inner floor. Grooves are in it, {LEFT_OUT}."
    blocks = (
        Figure((cut_open(e.shape.outline, *PICTURE_PX),), f"The body cut open, seen from above. {words}"),
        Grid(("Figure", "Value", "Unit"), tuple(rows), share=0.6),
        Paragraph(f"{body_caution(stops(e.findings))}."),
    )
    return report_sheets(Report(f"Solid: {e.design.name}", (), blocks))


SOLID = Output(
    "solid", "Solid", "The turned body as triangles, for printing or simulation", (".stl", ".3mf"),
    make=_make, preview=_preview, leaf="page", barred_by=CROSSED, in_folder=(),
    groups=(Group("Fineness", (ALONG, ROUND)),),
)  # fmt: skip

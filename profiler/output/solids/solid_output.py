"""The turned body as an output: triangles for printing or simulation, and their figures before they are written."""

from pathlib import Path

import numpy as np

from profiler.assess import Evaluation
from profiler.assess.findings.finding import body_caution, stops
from profiler.assess.findings.kinds import Kind
from profiler.numbers import fixed
from profiler.output.record.option import Group, Request
from profiler.output.record.output import Made, Output, TableShown
from profiler.output.solids.mesh import LEFT_OUT, stl_bytes, threemf_bytes, turned
from profiler.study.files.file import write_whole

CROSSED = (Kind.OUTLINE_CROSSES, Kind.FLANGE_INSIDE_LIP)
MM3_PER_LITRE = 1e6


def _make(path: Path, e: Evaluation, request: Request) -> list[Made]:
    assert e.shape is not None
    mesh = turned(e.shape.outline)
    writer = stl_bytes if path.suffix.lower() == ".stl" else threemf_bytes
    write_whole(path, writer(mesh, e.design.name, stops(e.findings)))
    return [Made(path, f"turned body, {fixed(len(mesh.triangles), 0)} triangles, {LEFT_OUT}")]


def _preview(e: Evaluation, request: Request) -> TableShown:
    """Figures of the triangles beside those of the true body, and what is left out."""
    assert e.shape is not None
    mesh = turned(e.shape.outline)
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
    about = f"{e.design.name}, turned about the spin axis; height zero is the inner floor.\n"
    about += f"Grooves are in it, {LEFT_OUT}.\n{body_caution(stops(e.findings))}."
    return TableShown(("Figure", "Value", "Unit"), tuple(rows), about)


SOLID = Output(
    "solid", "Solid", "The turned body as triangles, for printing or simulation", (".stl", ".3mf"),
    make=_make, preview=_preview, tabled=True, barred_by=CROSSED, in_folder=(),
    groups=(Group("Body", ()),),
)  # fmt: skip

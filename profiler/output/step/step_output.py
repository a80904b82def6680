"""The exact solid as an output: which part, with or without its water holes, and what will be in it."""

from pathlib import Path

from profiler.assess import Evaluation
from profiler.numbers import fixed
from profiler.output.blocks.blocks import Figure, Grid, Report
from profiler.output.drawings.parts import part_chain
from profiler.output.drawings.profile_output import PART, SHRINKAGE
from profiler.output.record.option import CREATOR, DATE, Choice, Group, Offer, Request
from profiler.output.record.output import Copy, Made, Output
from profiler.output.step.write import StepOptions, step_text, words_of, write_step
from profiler.pictures.charts.cut_open import cut_open
from profiler.pictures.sheet.items import Sheet

PICTURE_PX = (640.0, 480.0)

HOLES = Choice("holes", "Water holes", "In the bowl", (
    Offer("cut", "Cut, as true cylinders", "--holes"), Offer("left_out", "Left out", "--no-holes"),
))  # fmt: skip


def _options(request: Request) -> StepOptions:
    return StepOptions(request[PART], request[HOLES] == "cut", request[SHRINKAGE], request[DATE], request[CREATOR])


def _make(path: Path, e: Evaluation, request: Request) -> list[Made]:
    return [Made(path, words_of(write_step(path, e, _options(request))))]


def contents(e: Evaluation, request: Request) -> tuple[tuple[str, str, str], ...]:
    """Faces and holes, and which rings are only marked, with the reason for each."""
    _, solid = step_text(e, _options(request))
    marked = [(f"Only marked: {each.ring.words}", fixed(each.ring.count, 0), each.why) for each in solid.marked]
    return ("Faces", fixed(solid.faces, 0), ""), ("Water holes cut", fixed(solid.holes, 0), ""), *marked


def _preview(e: Evaluation, request: Request) -> tuple[Sheet, ...]:
    """The part cut open, and what is in the solid."""
    from profiler.output.blocks.as_pages import report_sheets

    assert e.shape is not None
    part = part_chain(request[PART], e.shape, e.machine)
    words = "Exact surfaces in millimetres; height zero is the inner floor. Water holes are counted, not drawn."
    blocks = (
        Figure((cut_open(part, *PICTURE_PX),), f"The part cut open, seen from above. {words}"),
        Grid(("In the solid", "Count", "Why"), contents(e, request)),
    )
    return report_sheets(Report(f"STEP solid: {e.design.name}", (), blocks))


STEP = Output(
    "step", "STEP solid", "A part as an exact solid for other CAD, water holes as true cylinders", (".step", ".stp"),
    make=_make, preview=_preview, leaf="page", in_folder=(Copy("solid", ".step"),),
    groups=(Group("Solid", (PART, HOLES, SHRINKAGE)), Group("Signed", (CREATOR, DATE))),
)  # fmt: skip

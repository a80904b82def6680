"""The exact solid as an output: which part, with or without its water holes, and what will be in it."""

from pathlib import Path

from profiler.assess import Evaluation
from profiler.assess.findings.finding import body_caution, stops
from profiler.numbers import fixed
from profiler.output.blocks.blocks import Figure, Grid, Paragraph, Report
from profiler.output.drawings.profile_output import PART, SHRINKAGE
from profiler.output.record.option import CREATOR, DATE, Choice, Group, Offer, Request
from profiler.output.record.output import Copy, Made, Output
from profiler.output.step.write import WORDS, StepOptions, section_of, step_text, words_of, write_step
from profiler.pictures.charts.cut_open import PICTURE_PX, cut_open
from profiler.pictures.sheet.items import Sheet

HOLES = Choice("holes", "Water holes", "In the bowl", (
    Offer("cut", "Cut, as true cylinders", "--holes"), Offer("left_out", "Left out", "--no-holes"),
))  # fmt: skip


def _options(request: Request) -> StepOptions:
    return StepOptions(request[PART], request[HOLES] == "cut", request[SHRINKAGE], request[DATE], request[CREATOR])


def _make(path: Path, e: Evaluation, request: Request) -> list[Made]:
    return [Made(path, words_of(write_step(path, e, _options(request))))]


def _preview(e: Evaluation, request: Request) -> tuple[Sheet, ...]:
    """The part cut open, faces and holes, and which rings are only marked, with the reason for each."""
    from profiler.output.blocks.as_pages import report_sheets

    options = _options(request)
    section = section_of(e, options)
    _, solid = step_text(e, options)
    rows = [("Faces", fixed(solid.faces, 0), ""), ("Water holes cut", fixed(solid.holes, 0), "")]
    rows += [(f"Only marked: {each.ring.words}", fixed(each.ring.count, 0), each.why) for each in solid.marked]
    caption = (
        f"The {WORDS[options.part]} cut open, seen from above, water holes not drawn. Exact surfaces in millimetres; "
    )
    blocks = (
        Figure((cut_open(section, *PICTURE_PX),), f"{caption}height zero is the inner floor."),
        Grid(("In the solid", "Count", "Why"), tuple(rows)),
        Paragraph(f"{body_caution(stops(e.findings))}."),
    )
    return report_sheets(Report(f"STEP solid: {e.design.name}", (), blocks))


STEP = Output(
    "step", "STEP solid", "A part as an exact solid for other CAD, water holes as true cylinders", (".step", ".stp"),
    make=_make, preview=_preview, leaf="page", in_folder=(Copy("solid", ".step"),),
    groups=(Group("Solid", (PART, HOLES, SHRINKAGE)), Group("Signed", (CREATOR, DATE))),
)  # fmt: skip

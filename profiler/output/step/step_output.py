"""The exact solid as an output: which part, with or without its water holes, and what will be in it."""

from pathlib import Path

from profiler.assess import Evaluation
from profiler.numbers import fixed
from profiler.output.drawings.profile_output import PART, SHRINKAGE
from profiler.output.record.option import CREATOR, DATE, Choice, Group, Offer, Request
from profiler.output.record.output import Copy, Made, Output, TableShown
from profiler.output.step.write import StepOptions, step_text, words_of, write_step

HOLES = Choice("holes", "Water holes", "In the bowl", (
    Offer("cut", "Cut, as true cylinders", "--holes"), Offer("left_out", "Left out", "--no-holes"),
))  # fmt: skip


def _options(request: Request) -> StepOptions:
    return StepOptions(request[PART], request[HOLES] == "cut", request[SHRINKAGE], request[DATE], request[CREATOR])


def _make(path: Path, e: Evaluation, request: Request) -> list[Made]:
    return [Made(path, words_of(write_step(path, e, _options(request))))]


def _preview(e: Evaluation, request: Request) -> TableShown:
    """Faces and holes, and which rings are only marked, with the reason for each."""
    _, solid = step_text(e, _options(request))
    rows = [("Faces", fixed(solid.faces, 0), ""), ("Water holes cut", fixed(solid.holes, 0), "")]
    rows += [(f"Only marked: {each.ring.words}", fixed(each.ring.count, 0), each.why) for each in solid.marked]
    about = f"{e.design.name}, exact surfaces in millimetres; height zero is the inner floor."
    return TableShown(("In the solid", "Count", "Why"), tuple(rows), about)


STEP = Output(
    "step", "STEP solid", "A part as an exact solid for other CAD, water holes as true cylinders", (".step", ".stp"),
    make=_make, preview=_preview, tabled=True, in_folder=(Copy("solid", ".step"),),
    groups=(Group("Solid", (PART, HOLES, SHRINKAGE)), Group("Signed", (CREATOR, DATE))),
)  # fmt: skip

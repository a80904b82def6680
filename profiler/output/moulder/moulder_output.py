"""The moulder's notes as an output: pages as PDF, or one HTML file."""

from pathlib import Path

from profiler import __version__
from profiler.assess import Evaluation
from profiler.output.blocks.blocks import Report
from profiler.output.blocks.in_unit import report_in
from profiler.output.blocks.written import write_document, write_pages
from profiler.output.moulder.moulder_blocks import Moulding, moulder_blocks
from profiler.output.record.option import CREATOR, DATE, Amount, Group, Request
from profiler.output.record.output import Made, Output
from profiler.pictures.sheet.items import Sheet
from profiler.study import NOT_GIVEN, Field

WASTE: Amount[float | None] = Amount(
    Field("pour_waste", "Waste", "%", 0.0, 200.0, 1.0, 1, "What is poured beyond the bowl: feed, vents, the vessel"),
    None, empty=NOT_GIVEN,
)  # fmt: skip
ACROSS: Amount[float | None] = Amount(
    Field("shrink_across", "Shrinkage across", "%", -10.0, 20.0, 0.1, 2, "Added to every diameter of the former"),
    None, empty=NOT_GIVEN,
)  # fmt: skip
ALONG: Amount[float | None] = Amount(
    Field("shrink_along", "Shrinkage along", "%", -10.0, 20.0, 0.1, 2, "Added to every height of the former"),
    None, empty=NOT_GIVEN,
)  # fmt: skip
OPTIONS = (WASTE, ACROSS, ALONG)


def moulding_of(request: Request) -> Moulding:
    return Moulding(request[WASTE], request[ACROSS], request[ALONG])


def moulder_notes(e: Evaluation, request: Request) -> Report:
    by = f"by {request[CREATOR]}" if request[CREATOR] else ""
    marks = (request[DATE], request.study_file, by, f"Bowl Profiler {__version__}")
    title = f"For the moulder: {e.design.name}"
    blocks = tuple(moulder_blocks(e, moulding_of(request)))
    return report_in(Report(title, tuple(m for m in marks if m), blocks), e, request.lengths)


def _make(path: Path, e: Evaluation, request: Request) -> list[Made]:
    report = moulder_notes(e, request)
    if path.suffix.lower() == ".html":
        write_document(path, report)
    else:
        write_pages(path, _preview(e, request), report.title, request)
    return [Made(path, "notes for the moulder")]


def _preview(e: Evaluation, request: Request) -> tuple[Sheet, ...]:
    from profiler.output.blocks.as_pages import report_sheets

    return report_sheets(moulder_notes(e, request))


MOULDER = Output(
    "moulder", "Moulder's notes", "How the groove former parts, what is poured, shrinkage by direction",
    (".pdf", ".html"), make=_make, preview=_preview, leaf="page", groups=(Group("Casting", (*OPTIONS, CREATOR, DATE)),),
)  # fmt: skip

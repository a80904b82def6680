"""The set-up sheet as an output: one page as PDF, or one HTML file."""

from pathlib import Path

from profiler import __version__
from profiler.assess import Evaluation
from profiler.output.blocks.blocks import Report
from profiler.output.blocks.in_unit import report_in
from profiler.output.blocks.written import write_document, write_pages
from profiler.output.record.option import CREATOR, DATE, Group, Request
from profiler.output.record.output import Made, Output
from profiler.pictures.sheet.items import Sheet


def setup_sheet(e: Evaluation, request: Request, with_chart: bool = True) -> Report:
    """What the sheet says, whatever it is written as."""
    from profiler.output.setup.setup_blocks import setup_blocks

    by = f"by {request[CREATOR]}" if request[CREATOR] else ""
    marks = (request[DATE], request.study_file, by, f"Bowl Profiler {__version__}")
    title, blocks = f"Set-up sheet: {e.design.name}", tuple(setup_blocks(e, with_chart))
    return report_in(Report(title, tuple(m for m in marks if m), blocks), e, request.lengths)


def setup_page(e: Evaluation, request: Request) -> tuple[Sheet, ...]:
    """The page; the chart gives way where it would take a second one."""
    from profiler.output.blocks.as_pages import report_sheets

    sheets = report_sheets(setup_sheet(e, request))
    return sheets if len(sheets) == 1 else report_sheets(setup_sheet(e, request, with_chart=False))


def _make(path: Path, e: Evaluation, request: Request) -> list[Made]:
    if path.suffix.lower() == ".html":
        write_document(path, setup_sheet(e, request))
    else:
        sheets = setup_page(e, request)
        write_pages(path, sheets, sheets[0].title, request)
    return [Made(path, "set-up sheet")]


SETUP = Output(
    "setup", "Set-up sheet", "One page for whoever runs the bowl: settings, expected pressure, orders, notes",
    (".pdf", ".html"), make=_make, preview=setup_page, groups=(Group("Set-up sheet", (CREATOR, DATE)),), leaf="page",
)  # fmt: skip

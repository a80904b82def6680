"""The calculation report as an output: its pages as PDF, or one HTML file."""

from pathlib import Path

from profiler import __version__
from profiler.assess import Evaluation
from profiler.numbers import counted
from profiler.output.blocks.blocks import Block, Report
from profiler.output.record.option import CREATOR, DATE, Choice, Group, Offer, Request
from profiler.output.record.output import Made, Output
from profiler.pictures.sheet.items import Sheet
from profiler.progress import Progress
from profiler.study.files.file import write_whole

EDDY_PAGE = Choice(
    "report_eddy",
    "Eddy",
    "A page on the computed flow in the groove that overturns most; it takes some seconds",
    (Offer("none", "leave it out"), Offer("strongest", "of the groove that overturns most")),
)


def report(e: Evaluation, request: Request) -> Report:
    """What the report says, whatever it is written as."""
    from profiler.assess.trials.verdicts import evaluate_trial
    from profiler.output.report.content import Job, report_of

    trials = () if request.study is None else tuple(evaluate_trial(t, request.study) for t in request.study.trials)
    eddy = eddy_page(e, request.progress) if request[EDDY_PAGE] == "strongest" else ()
    return report_of(e, Job(request.study_file, request[DATE], __version__, request[CREATOR]), trials, eddy)


def eddy_page(e: Evaluation, progress: Progress) -> tuple[Block, ...]:
    """Of the groove with the highest overturn ratio; nothing where there is no flow or no groove."""
    if e.shape is None or e.flow is None or e.catch is None or not len(e.shape.mouths):
        return ()
    from profiler.assess.eddy.answers import answer
    from profiler.assess.eddy.grains_moved import lifted, moving
    from profiler.output.eddy.eddy_told import eddy_blocks

    found = answer(e, int(e.flow.groove_ratio[0].argmax()) + 1)
    return tuple(eddy_blocks(e, found, moving(e, found, progress), lifted(e, found)))


def _make(path: Path, e: Evaluation, request: Request) -> list[Made]:
    made = report(e, request)
    if path.suffix.lower() == ".html":
        from profiler.output.report.html import report_html

        write_whole(path, report_html(made).encode("utf-8"))
        return [Made(path, "calculation report")]
    from profiler.output.formats.sheet_page import sheets_pdf
    from profiler.output.report.pages import report_sheets

    sheets = report_sheets(made)
    write_whole(path, sheets_pdf(sheets, made.title, request[CREATOR], progress=request.progress))
    return [Made(path, f"calculation report, {counted(len(sheets), 'page')}")]


def _preview(e: Evaluation, request: Request) -> tuple[Sheet, ...]:
    from profiler.output.report.pages import report_sheets

    return report_sheets(report(e, request))


def _always(request: Request) -> bool:
    """It says what is wrong with a design that cannot be drawn."""
    return True


REPORT = Output(
    "report", "Report", "The calculation report: inputs, findings, tables, models, cautions", (".pdf", ".html"),
    make=_make, preview=_preview, groups=(Group("Report", (CREATOR, DATE, EDDY_PAGE)),), leaf="page",
    without_shape=_always,
)  # fmt: skip

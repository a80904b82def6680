"""The calculation report as an output: its pages as PDF, or one HTML file."""

from pathlib import Path
from typing import TYPE_CHECKING

from profiler import __version__
from profiler.assess import Evaluation
from profiler.numbers import counted
from profiler.output.blocks.blocks import Block, Report
from profiler.output.blocks.in_unit import report_in
from profiler.output.blocks.written import write_document, write_pages
from profiler.output.moulder.moulder_output import OPTIONS, moulding_of
from profiler.output.record.option import APPROVED, CREATOR, DATE, OWNER, SINCE, Choice, Group, Offer, Request, Words
from profiler.output.record.output import Made, Output
from profiler.pictures.sheet.items import Sheet
from profiler.progress import Progress

if TYPE_CHECKING:
    from profiler.output.report.front import Signed

NUMBER = Words("report_number", "Number", "Of the report", own=True)
REVISION = Words("report_revision", "Revision", "Of the report", own=True)
PURPOSE = Words("purpose", "Purpose", "What the report is for, on its first page", own=True)
CHECKED = Words("checked", "Checked by", "Who has gone through the figures")
FIRST_PAGE = (NUMBER, REVISION, PURPOSE, OWNER, CREATOR, CHECKED, APPROVED, DATE)
EDDY_PAGE = Choice(
    "report_eddy",
    "Eddy",
    "A page on the computed flow in the groove that overturns most; it takes some seconds",
    (Offer("none", "leave it out"), Offer("strongest", "of the groove that overturns most")),
)


def report(e: Evaluation, request: Request) -> Report:
    """What the report says, whatever it is written as."""
    from profiler.assess.trials.verdicts import evaluate_trial
    from profiler.explore.lineages import lineage_of
    from profiler.explore.what_changed import changes_since
    from profiler.output.report.content import Job, report_of
    from profiler.output.worn.worn_blocks import study_blocks

    worn = () if request.study is None else study_blocks(request.study, e)
    trials = () if request.study is None else tuple(evaluate_trial(t, request.study) for t in request.study.trials)
    eddy = eddy_page(e, request.progress) if request[EDDY_PAGE] == "strongest" else ()
    changes = changes_since(request[SINCE], e) if request[SINCE] else None
    job = Job(request.study_file, request[DATE], __version__, request[CREATOR])
    study = request.study
    lineage = None if study is None or e.design not in study.designs else lineage_of(e.design, study, trials)
    signed, said = signed_of(request), moulding_of(request)
    told = report_of(e, job, trials, eddy, said, signed, changes, worn, lineage, request.lengths)
    return report_in(told, e, request.lengths)


def signed_of(request: Request) -> "Signed":
    from profiler.output.report.front import Signed

    return Signed(request[NUMBER], request[REVISION], request[OWNER], request[PURPOSE], request[CREATOR],
                  request[CHECKED], request[APPROVED], request[DATE], request.study_file)  # fmt: skip


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
        write_document(path, made)
        return [Made(path, "calculation report")]
    from profiler.output.blocks.as_pages import report_sheets

    sheets = report_sheets(made)
    write_pages(path, sheets, made.title, request)
    return [Made(path, f"calculation report, {counted(len(sheets), 'page')}")]


def _preview(e: Evaluation, request: Request) -> tuple[Sheet, ...]:
    from profiler.output.blocks.as_pages import report_sheets

    return report_sheets(report(e, request))


def _always(request: Request) -> bool:
    """It says what is wrong with a design that cannot be drawn."""
    return True


REPORT = Output(
    "report", "Report", "The calculation report: inputs, findings, tables, models, cautions", (".pdf", ".html"),
    make=_make, preview=_preview, leaf="page", without_shape=_always,
    groups=(Group("First page", FIRST_PAGE), Group("Report", (EDDY_PAGE, SINCE)), Group("Casting", OPTIONS)),
)  # fmt: skip

"""The gauge as an output: wall and grooves at full size, on pages to be cut out or as a profile to be milled."""

from dataclasses import replace
from pathlib import Path

from profiler.assess import Evaluation
from profiler.assess.checks.check_making import letter_findings
from profiler.assess.evidence.words import standing_short
from profiler.assess.findings.finding import body_caution, stops
from profiler.numbers import counted
from profiler.output.drawings.parts import Part, ProfileOptions, part_chain
from profiler.output.drawings.profile_output import RELEASE
from profiler.output.formats.dxf_document import foreign_letters
from profiler.output.record.option import DATE, Group, Only, Request
from profiler.output.record.output import Made, Output, file_type
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit
from profiler.pictures.drawing.notes import not_checked
from profiler.pictures.sheet.gauge import gauge_sheets
from profiler.pictures.sheet.items import Sheet
from profiler.study.files.file import write_whole

SUFFIXES = (".pdf", ".dxf")
DXF_RELEASE = replace(RELEASE, only=Only(file_type("gauge", SUFFIXES), ".dxf"))


def gauge_pages(e: Evaluation, date: str = "", lengths: LengthUnit = MILLIMETRES) -> tuple[Sheet, ...]:
    """The A4 pages. Raises ValueError where there is no shape."""
    if e.shape is None:
        raise ValueError("there is no section as the design stands.")
    statements = (
        "Join pages at the crosses. Heights from the inner floor.",
        "Paper grows and shrinks with humidity: check before use.",
        *((not_checked(e),) if not_checked(e) else ()),
        f"{body_caution(0)}{f'. Date {date}' if date else ''}.",
    )
    return gauge_sheets(part_chain(Part.GAUGE, e.shape, e.machine), _title(e), statements, lengths)


def _title(e: Evaluation) -> str:
    return f"Gauge 1:1, {e.design.name}"


def _make(path: Path, e: Evaluation, request: Request) -> list[Made]:
    return _make_dxf(path, e, request) if path.suffix.lower() == ".dxf" else _make_pdf(path, e, request)


def _make_dxf(path: Path, e: Evaluation, request: Request) -> list[Made]:
    from profiler.output.drawings.profile_dxf import write_profile

    assert e.shape is not None
    options = ProfileOptions(Part.GAUGE, version=request[DXF_RELEASE])
    write_profile(
        path, e.shape, design=e.design.name, stops=stops(e.findings), options=options,
        slurry_model=standing_short(e.duty),
    )  # fmt: skip
    letters = tuple(letter_findings(foreign_letters([e.design.name])))
    return [Made(path, "gauge of wall and grooves, 1:1", letters)]


def _make_pdf(path: Path, e: Evaluation, request: Request) -> list[Made]:
    from profiler.output.formats.sheet_page import sheets_pdf

    pages = gauge_pages(e, request[DATE], request.lengths)
    write_whole(path, sheets_pdf(pages, _title(e), progress=request.progress))
    return [Made(path, f"gauge of wall and grooves, 1:1 on {counted(len(pages), 'A4 page')}")]


def _preview(e: Evaluation, request: Request) -> tuple[Sheet, ...]:
    return gauge_pages(e, request[DATE], request.lengths)


GAUGE = Output(
    "gauge", "Gauge", "Wall and grooves at full size, as a hand template", SUFFIXES, make=_make, preview=_preview,
    groups=(Group("Template", (DXF_RELEASE, DATE)),), leaf="page", full_size_only=True,
)  # fmt: skip

"""What is written is told by the file's extension, and by its kind where an extension can hold several.

A file is written whole or not at all; a file that fails leaves the older one as it was.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from profiler.assess import Evaluation, Finding
from profiler.assess.checks.check_making import draft_findings, segment_findings, tool_findings
from profiler.assess.findings.finding import stops
from profiler.output.drawings.parts import Part, ProfileOptions, as_made, part_chain
from profiler.output.tables.tables_csv import CsvOptions, CsvTable, csv_bytes
from profiler.pictures.sheet.compose import Drawing, DrawingOptions, drawing
from profiler.pictures.sheet.papers import scale_text
from profiler.progress import SILENT, Progress
from profiler.study import Study
from profiler.study.files.file import write_whole

if TYPE_CHECKING:
    from profiler.output.report.blocks import Report

NO_SHAPE = "there is no section as the design stands."


@dataclass(frozen=True, slots=True)
class ExportOptions:
    """Everything that can be said about an export; each kind takes what concerns it.

    `tool_radius_mm` and `least_draft_deg` are asked of a profile where they are given. `progress` hears of each page.
    The trials of `study` go into the report.
    """

    full: bool = False
    profile: ProfileOptions = field(default_factory=ProfileOptions)
    drawing: DrawingOptions = field(default_factory=DrawingOptions)
    table: CsvTable = CsvTable.STATIONS
    csv: CsvOptions = field(default_factory=CsvOptions)
    dots_per_inch: float = 150.0
    tool_radius_mm: float | None = None
    least_draft_deg: float | None = None
    study_file: str = ""
    study: Study | None = None
    progress: Progress = field(default=SILENT, compare=False)


@dataclass(frozen=True, slots=True)
class Made:
    """A file that lies there now: in a few words what it is, and what was found on the way."""

    path: Path
    words: str = ""
    findings: tuple[Finding, ...] = ()


Writer = Callable[[Path, Evaluation, ExportOptions], list[Made]]


def export(path: Path, e: Evaluation, options: ExportOptions | None = None, kind: str = "") -> list[Made]:
    """Write one file, or one per sheet where the format holds a single sheet.

    Raises ValueError with a sentence where it cannot be made, BowlFileError where the path cannot be written.
    """
    suffix = path.suffix.lower()
    if suffix not in SUFFIXES:
        raise ValueError(f"{path.name} ends in none of {' '.join(SUFFIXES)}.")
    kinds = KINDS[suffix]
    if kind and kind not in kinds:
        raise ValueError(f"A {suffix} file cannot hold a {kind}; it holds {' or '.join(kinds)}.")
    options, chosen = options or ExportOptions(), kind or next(iter(kinds))
    if e.shape is None and not stands_without_shape(chosen, options):
        raise ValueError(NO_SHAPE)
    return kinds[chosen](path, e, options)


def stands_without_shape(kind: str, options: ExportOptions) -> bool:
    """Whether this output has something to say of a design that cannot be drawn."""
    return kind == "report" or (kind == "table" and options.table is CsvTable.FINDINGS)


def profile_findings(e: Evaluation, options: ExportOptions) -> tuple[Finding, ...]:
    """What the tool and the draft named in the options make of the profile; () without a section."""
    if e.shape is None:
        return ()
    part = options.profile.part
    chain = as_made(part_chain(part, e.shape, e.machine), options.profile)
    found = segment_findings(chain)
    found += [] if options.tool_radius_mm is None else tool_findings(chain, options.tool_radius_mm)
    if options.least_draft_deg is not None and part is not Part.SEAT:
        found += draft_findings(e.shape, options.least_draft_deg)
    return tuple(found)


def _profile(path: Path, e: Evaluation, options: ExportOptions) -> list[Made]:
    from profiler.output.drawings.profile_dxf import write_profile

    assert e.shape is not None
    chosen = options.profile
    written = write_profile(
        path, e.shape, design=e.design.name, stops=stops(e.findings), full=options.full, options=chosen,
        machine=e.machine,
    )  # fmt: skip
    closed = "closed" if written.closed else "NOT CLOSED"
    return [Made(path, f"{written.lines + written.arcs} lines and arcs, {closed}", profile_findings(e, options))]


def _drawing_dxf(path: Path, e: Evaluation, options: ExportOptions) -> list[Made]:
    from profiler.output.formats.sheet_dxf import sheets_dxf

    made = drawing(e, options.drawing)
    write_whole(path, sheets_dxf(made.sheets))
    return [Made(path, _sheets_words(made))]


def _drawing_pdf(path: Path, e: Evaluation, options: ExportOptions) -> list[Made]:
    from profiler.output.formats.sheet_page import sheets_pdf

    made, author = drawing(e, options.drawing), options.drawing.fields.creator
    write_whole(path, sheets_pdf(made.sheets, made.sheets[0].title, author, progress=options.progress))
    return [Made(path, _sheets_words(made))]


def _drawing_svg(path: Path, e: Evaluation, options: ExportOptions) -> list[Made]:
    from profiler.output.formats.sheet_svg import sheet_svg

    made = drawing(e, options.drawing)
    return _one_each(path, made, [sheet_svg(sheet).encode("utf-8") for sheet in made.sheets])


def _drawing_png(path: Path, e: Evaluation, options: ExportOptions) -> list[Made]:
    from profiler.output.formats.sheet_page import sheet_png

    made = drawing(e, options.drawing)
    return _one_each(path, made, [sheet_png(sheet, options.dots_per_inch) for sheet in made.sheets])


def _one_each(path: Path, made: Drawing, pages: list[bytes]) -> list[Made]:
    """Sheet 1 under the name asked for, further ones beside it as name-2, name-3."""
    found = []
    for number, data in enumerate(pages, 1):
        target = path if number == 1 else path.with_name(f"{path.stem}-{number}{path.suffix}")
        write_whole(target, data)
        words = _sheets_words(made) if number == 1 else f"sheet {number} of {len(pages)}"
        found.append(Made(target, words))
    return found


def _sheets_words(made: Drawing) -> str:
    sheets = "1 sheet" if len(made.sheets) == 1 else f"{len(made.sheets)} sheets"
    return f"drawing on {sheets} {made.size.name}, scale {scale_text(made.scale)}"


def _gauge_dxf(path: Path, e: Evaluation, options: ExportOptions) -> list[Made]:
    from profiler.output.drawings.profile_dxf import write_profile

    assert e.shape is not None
    chosen = ProfileOptions(Part.GAUGE, version=options.profile.version)
    write_profile(path, e.shape, design=e.design.name, stops=stops(e.findings), options=chosen)
    return [Made(path, "gauge of wall and grooves, 1:1")]


def _gauge_pdf(path: Path, e: Evaluation, options: ExportOptions) -> list[Made]:
    from profiler.output.drawings.gauge_pdf import gauge_pdf

    pages, data = gauge_pdf(e, options.drawing.fields.date)
    write_whole(path, data)
    return [Made(path, f"gauge of wall and grooves, 1:1 on {pages} A4 page{'' if pages == 1 else 's'}")]


def _report_pdf(path: Path, e: Evaluation, options: ExportOptions) -> list[Made]:
    from profiler.output.formats.sheet_page import sheets_pdf
    from profiler.output.report.pages import report_sheets

    made = report(e, options)
    sheets = report_sheets(made)
    data = sheets_pdf(sheets, made.title, options.drawing.fields.creator, progress=options.progress)
    write_whole(path, data)
    return [Made(path, f"calculation report, {len(sheets)} pages")]


def _report_html(path: Path, e: Evaluation, options: ExportOptions) -> list[Made]:
    from profiler.output.report.html import report_html

    write_whole(path, report_html(report(e, options)).encode("utf-8"))
    return [Made(path, "calculation report")]


def report(e: Evaluation, options: ExportOptions) -> "Report":
    """What the report says, whatever it is written as."""
    from profiler import __version__
    from profiler.assess.trials.verdicts import evaluate_trial
    from profiler.output.report.content import Job, report_of

    fields, study = options.drawing.fields, options.study
    trials = () if study is None else tuple(evaluate_trial(trial, study) for trial in study.trials)
    return report_of(e, Job(options.study_file, fields.date, __version__, fields.creator), trials)


def _csv(path: Path, e: Evaluation, options: ExportOptions) -> list[Made]:
    write_whole(path, csv_bytes(e, options.table, options.csv, options.drawing.fields.date))
    return [Made(path, f"table of {options.table.value}")]


def _solid(path: Path, e: Evaluation, options: ExportOptions) -> list[Made]:
    from profiler.output.solids.mesh import LEFT_OUT, stl_bytes, threemf_bytes, turned

    assert e.shape is not None
    crossing = next((f for f in e.findings if f.code in CROSSED), None)
    if crossing is not None:
        raise ValueError(f"no solid can be made: {crossing.text}")
    mesh = turned(e.shape.outline)
    writer = stl_bytes if path.suffix.lower() == ".stl" else threemf_bytes
    write_whole(path, writer(mesh, e.design.name))
    return [Made(path, f"turned body, {len(mesh.triangles)} triangles, {LEFT_OUT}")]


CROSSED = ("outline_crosses", "flange_inside_lip")
KINDS: dict[str, dict[str, Writer]] = {
    ".dxf": {"profile": _profile, "drawing": _drawing_dxf, "gauge": _gauge_dxf},
    ".pdf": {"drawing": _drawing_pdf, "gauge": _gauge_pdf, "report": _report_pdf},
    ".html": {"report": _report_html},
    ".svg": {"drawing": _drawing_svg},
    ".png": {"drawing": _drawing_png},
    ".csv": {"table": _csv},
    ".stl": {"solid": _solid},
    ".3mf": {"solid": _solid},
}
SUFFIXES = tuple(KINDS)

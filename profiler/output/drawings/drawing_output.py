"""The dimensioned drawing as an output: its sheets as DXF, PDF, SVG or PNG, with what the title block says."""

from collections.abc import Callable
from pathlib import Path

from profiler.assess import Evaluation
from profiler.assess.checks.check_making import letter_findings
from profiler.explore.what_changed import changes_since
from profiler.numbers import counted
from profiler.output.record.option import (
    APPROVED,
    CREATOR,
    DATE,
    OWNER,
    SINCE,
    Amount,
    Choice,
    Group,
    Offer,
    Only,
    Request,
    Words,
)
from profiler.output.record.output import Made, Output, file_type, sheet_files
from profiler.pictures.drawing.compose import Drawing, DrawingOptions, drawing, said_by_itself
from profiler.pictures.drawing.notes import balance_note
from profiler.pictures.drawing.title_block import TitleFields
from profiler.pictures.drawing.tolerances import GENERAL, HOLES, SHAFTS, Tolerances
from profiler.pictures.sheet.clashes import texts_of
from profiler.pictures.sheet.items import Sheet
from profiler.pictures.sheet.papers import PAPERS, SCALES, paper, scale_named, scale_text
from profiler.study import Field
from profiler.study.files.file import write_whole

SUFFIXES = (".pdf", ".dxf", ".svg", ".png")
FITTING = Offer("", "chosen to fit")

DPI = Amount(Field("dpi", "PNG resolution", "dpi", 20.0, 1200.0, 10.0, 0, "Dots per inch of the picture"), 150.0,
             only=Only(file_type("drawing", SUFFIXES), ".png"))  # fmt: skip
PAPER = Choice("paper", "Paper", "ISO 216 sheet", (FITTING, *(Offer(p.name, p.name) for p in PAPERS)),
               flag="--sheet", metavar="SIZE", reader=lambda text: paper(text).name)  # fmt: skip
SCALE = Choice("scale", "Scale", "ISO 5455 scale", (FITTING, *(Offer(t, t) for t in map(scale_text, SCALES))),
               metavar="1:N", reader=lambda text: scale_text(scale_named(text)))  # fmt: skip
PROJECTION = Choice("projection", "Projection", "Symbol in the title block",
                    (Offer("first", "First angle"), Offer("third", "Third angle", "--third-angle")))  # fmt: skip
GENERAL_TOLERANCE = Choice(
    "general_tolerance", "General", "For every measure without one of its own: turned, or moulded (ISO 3302-1)",
    tuple(Offer(name, name, name.rpartition(" ")[2]) for name in GENERAL),
)  # fmt: skip
NO_CLASS = Offer("", "general")
HUB_CLASS = Choice("hub_class", "Hub hole", "Tolerance class, ISO 286-1 or moulded ISO 3302-1: what centres the bowl",
                   (NO_CLASS, *(Offer(c, c) for c in HOLES)))  # fmt: skip
OUTSIDE_CLASS = Choice("outside_class", "Outside", "Tolerance class of the diameters that enter the rotor",
                       (NO_CLASS, *(Offer(c, c) for c in SHAFTS)))  # fmt: skip
HOLES_CLASS = Choice("holes_class", "Water holes", "Tolerance class of the water holes' diameter",
                     (NO_CLASS, *(Offer(c, c) for c in HOLES)))  # fmt: skip
TITLE_BLOCK = (
    Words("title", "Title", "Of the part", own=True),
    Words("number", "Number", "Identification number", own=True),
    Words("revision", "Revision", "Of the drawing", own=True),
    Words("change", "Change", "What this revision changes", own=True),
    Words("earlier", "Earlier revisions", "As: A 2026-01-31 first issue; B 2026-03-02 holes added", own=True),
    Words("material", "Material", "Where it differs from the design's", own=True),
    Words("status", "Status", "Of the document", own=True),
    OWNER,
    CREATOR,
    APPROVED,
    DATE,
)  # each the field of that name


ASKED = (
    Words("datums", "Datums", "ISO 5459, such as: A is the hub hole, B the underside of the lip flange", own=True),
    Words("run_out", "Run-out", "ISO 1101: what runs true to which datum, and within how much", own=True),
    Words("texture", "Surface texture", "ISO 21920, and finish: which surface, which value", own=True),
    Words("edges", "Edges", "ISO 13715: edges of undefined shape", own=True),
    Words("balancing", "Balancing", "ISO 21940-11: grade, speed, planes", own=True),
    Words("hardness", "Hardness", "Of the body, with its tolerance and scale", own=True),
    Words("bond", "Bond", "What is bonded to what, and how it is proved", own=True),
    Words("allowance", "Shrinkage", "Of the moulding, and whether it is in the figures", own=True),
)  # notes only where something was entered: the program proposes no value
BALANCE_NOTE = Choice(
    "balance_note", "Balance note", "What the study's grade, speed and masses permit (ISO 21940-11), as a note",
    (Offer("", "not on the drawing"), Offer("study", "from the study, as worked out", "--balance-note")),
)  # fmt: skip


def options_of(request: Request, e: Evaluation) -> DrawingOptions:
    fields = TitleFields(**{o.key: request[o] for o in TITLE_BLOCK}, third_angle=request[PROJECTION] == "third")
    tolerances = Tolerances(
        request[GENERAL_TOLERANCE], request[HUB_CLASS], request[OUTSIDE_CLASS], request[HOLES_CLASS]
    )
    changes = changes_since(request[SINCE], e) if request[SINCE] else None
    asked = [f"{o.label}: {request[o].strip()}" for o in ASKED if request[o].strip()]
    asked += [balance_note(e)] if request[BALANCE_NOTE] else []
    return DrawingOptions(request[PAPER] or None, request[SCALE] or None, fields, tolerances, tuple(asked), changes,
                          request.lengths)  # fmt: skip


def _make(path: Path, e: Evaluation, request: Request) -> list[Made]:
    made = drawing(e, options_of(request, e))
    return _WRITERS[path.suffix.lower()](path, made, request)


def _dxf(path: Path, made: Drawing, request: Request) -> list[Made]:
    from profiler.output.formats.dxf_document import foreign_letters
    from profiler.output.formats.sheet_dxf import sheets_dxf

    write_whole(path, sheets_dxf(made.sheets))
    letters = foreign_letters(text.text for sheet in made.sheets for text in texts_of(sheet.items))
    return [Made(path, _words(made), tuple(letter_findings(letters)))]


def _pdf(path: Path, made: Drawing, request: Request) -> list[Made]:
    from profiler.output.formats.sheet_page import sheets_pdf

    write_whole(path, sheets_pdf(made.sheets, made.sheets[0].title, request[CREATOR], progress=request.progress))
    return [Made(path, _words(made))]


def _svg(path: Path, made: Drawing, request: Request) -> list[Made]:
    from profiler.output.formats.sheet_svg import sheet_svg

    return _one_each(path, made, [sheet_svg(sheet).encode("utf-8") for sheet in made.sheets])


def _png(path: Path, made: Drawing, request: Request) -> list[Made]:
    from profiler.output.formats.sheet_page import sheet_png

    return _one_each(path, made, [sheet_png(sheet, request[DPI]) for sheet in made.sheets])


def _one_each(path: Path, made: Drawing, pages: list[bytes]) -> list[Made]:
    """Sheet 1 under the name asked for, further ones beside it."""
    found = []
    for number, (target, data) in enumerate(zip(sheet_files(path, len(pages)), pages, strict=True), 1):
        write_whole(target, data)
        found.append(Made(target, _words(made) if number == 1 else f"sheet {number} of {len(pages)}"))
    return found


def _words(made: Drawing) -> str:
    return f"drawing on {counted(len(made.sheets), 'sheet')} {made.size.name}, scale {scale_text(made.scale)}"


def _preview(e: Evaluation, request: Request) -> tuple[Sheet, ...]:
    return drawing(e, options_of(request, e)).sheets


_WRITERS: dict[str, Callable[[Path, Drawing, Request], list[Made]]] = {
    ".pdf": _pdf, ".dxf": _dxf, ".svg": _svg, ".png": _png,
}  # fmt: skip
DRAWING = Output(
    "drawing", "Drawing", "The dimensioned sheet: section, tables, notes, title block", SUFFIXES,
    make=_make, preview=_preview, hints=said_by_itself, sheet_each=(".svg", ".png"), bare_name=True,
    groups=(Group("Sheet", (DPI, PAPER, SCALE, PROJECTION, SINCE)), Group("Title block", TITLE_BLOCK),
            Group("Tolerances", (GENERAL_TOLERANCE, HUB_CLASS, OUTSIDE_CLASS, HOLES_CLASS)),
            Group("Asked of the shop", (*ASKED, BALANCE_NOTE))),
)  # fmt: skip

"""The `export` command: arguments become options; what is written is decided in `output`."""

import argparse
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from profiler.study.files.file import SUFFIX

if TYPE_CHECKING:
    from profiler.assess import Evaluation
    from profiler.output.kinds.by_extension import ExportOptions, Made
    from profiler.study import Study

SUFFIXES = (".dxf", ".pdf", ".svg", ".png", ".csv", ".stl", ".3mf", ".html")
KINDS = ("profile", "drawing", "gauge", "report")
TABLES = ("outline", "stations", "grooves", "findings")
SEPARATORS = {"comma": ",", "semicolon": ";", "tab": "\t"}
MARKS = {"point": ".", "comma": ","}


def add_options(export: argparse.ArgumentParser) -> None:
    """What the command takes besides the study."""
    export.add_argument("out", metavar="OUT", type=Path, nargs="+", help=f"files to write: {' '.join(SUFFIXES)}")
    kinds = "what a .dxf (default: profile) or .pdf (default: drawing) holds"
    export.add_argument("--kind", choices=KINDS, help=kinds)
    halves = export.add_mutually_exclusive_group()
    halves.add_argument("--half", dest="full", action="store_false", help="profile: the half section (default)")
    halves.add_argument("--full", dest="full", action="store_true", help="profile: both halves")
    export.set_defaults(full=False)
    _profile_options(export.add_argument_group("profile"))
    _sheet_options(export.add_argument_group("drawing"))
    table = export.add_argument_group("table")
    table.add_argument("--table", choices=TABLES, default="stations", help="what a .csv holds (default: stations)")
    table.add_argument("--separator", choices=list(SEPARATORS), default="comma", help="between cells")
    table.add_argument("--decimal", choices=list(MARKS), default="point", help="decimal mark")


def _profile_options(group: "argparse._ArgumentGroup") -> None:
    group.add_argument("--part", choices=["liner", "former", "seat"], default="liner", help="which part")
    group.add_argument("--turning", action="store_true", help="the spin axis along X, as on a lathe")
    group.add_argument("--datum", choices=["floor", "underside", "lip"], default="floor", help="height zero")
    group.add_argument("--release", choices=["R2000", "R12"], default="R2000", help="version of the format")
    group.add_argument("--shrinkage", type=float, default=0.0, metavar="PERCENT", help="added to the former only")
    group.add_argument("--tool-radius", type=float, metavar="MM", help="say which inside radii are smaller")
    group.add_argument("--least-draft", type=float, metavar="DEG", help="say which flanks have less draft")


def _sheet_options(group: "argparse._ArgumentGroup") -> None:
    group.add_argument("--sheet", metavar="SIZE", help="A4, A3, A2, A1 or A0 (default: chosen)")
    group.add_argument("--scale", metavar="1:N", help="a standard scale (default: chosen)")
    for name in ("owner", "number", "title", "creator", "approved", "date", "revision", "material"):
        words = "for title block and report (default: today)" if name == "date" else "for the title block"
        group.add_argument(f"--{name}", default="", metavar="TEXT", help=words)
    group.add_argument("--third-angle", action="store_true", help="projection symbol (default: first angle)")
    group.add_argument("--dpi", type=float, default=150.0, metavar="N", help="dots per inch of a .png")


def targets(outs: Sequence[Path], study: Path) -> None:
    """Refuse names that cannot be written to, all of them before the first file is. Raises ValueError."""
    for out in outs:
        if out.suffix.lower() == SUFFIX or (out.exists() and out.samefile(study)):
            raise ValueError(f"{out} is the name of a study; give the drawing another, such as {out.stem}.dxf.")
        if out.is_dir():
            raise ValueError(f"{out} is a folder; give the drawing's file name too.")
        if out.suffix.lower() not in SUFFIXES:
            raise ValueError(f"{out} ends in none of {' '.join(SUFFIXES)}.")
    if len({out.resolve() for out in outs}) < len(outs):
        raise ValueError("two outputs have the same name.")


def options_of(chosen: argparse.Namespace, study: "Study") -> "ExportOptions":
    """Raises ValueError where two options do not go together."""
    from profiler.output.drawings.parts import Datum, Part, ProfileOptions
    from profiler.output.kinds.by_extension import ExportOptions
    from profiler.output.tables.tables_csv import CsvOptions, CsvTable
    from profiler.pictures.sheet.compose import DrawingOptions
    from profiler.pictures.sheet.papers import paper, scale_named
    from profiler.pictures.sheet.title_block import TitleFields

    if chosen.sheet is not None:
        paper(chosen.sheet)
    if chosen.scale is not None:
        scale_named(chosen.scale)
    part = Part(chosen.part)
    if chosen.shrinkage and part is not Part.FORMER:
        raise ValueError("--shrinkage belongs to --part former.")
    if not -10.0 <= chosen.shrinkage <= 20.0:
        raise ValueError(f"--shrinkage {chosen.shrinkage:g} is outside -10 to 20 per cent.")
    if not 20.0 <= chosen.dpi <= 1200.0:
        raise ValueError(f"--dpi {chosen.dpi:g} is outside 20 to 1200.")
    names = ("owner", "number", "title", "creator", "approved", "date", "revision", "material", "third_angle")
    given = {name: getattr(chosen, name) for name in names}
    fields = TitleFields(**(given | {"date": chosen.date or date.today().isoformat()}))
    profile = ProfileOptions(part, chosen.turning, Datum(chosen.datum), chosen.release, chosen.shrinkage)
    return ExportOptions(
        full=chosen.full, profile=profile, drawing=DrawingOptions(chosen.sheet, chosen.scale, fields),
        table=CsvTable(chosen.table), csv=CsvOptions(SEPARATORS[chosen.separator], MARKS[chosen.decimal]),
        dots_per_inch=chosen.dpi, tool_radius_mm=chosen.tool_radius, least_draft_deg=chosen.least_draft,
        study_file=chosen.file.name, study=study,
    )  # fmt: skip


def kind_for(out: Path, kind: str | None, several: bool) -> str:
    """The kind asked for, where the file can hold it; among several files those that cannot keep their own."""
    from profiler.output.kinds.by_extension import KINDS as HELD

    if kind is None or (several and kind not in HELD[out.suffix.lower()]):
        return ""
    return kind


def any_without_shape(outs: Sequence[Path], kinds: Sequence[str], options: "ExportOptions") -> bool:
    """Whether one of the outputs has something to say of a design that cannot be drawn."""
    from profiler.output.kinds.by_extension import KINDS as HELD
    from profiler.output.kinds.by_extension import stands_without_shape

    chosen = (kind or next(iter(HELD[out.suffix.lower()])) for out, kind in zip(outs, kinds, strict=True))
    return any(stands_without_shape(kind, options) for kind in chosen)


def write(out: Path, e: "Evaluation", options: "ExportOptions", kind: str) -> list[str]:
    """Write one output and say what it is. Raises ValueError, BowlFileError."""
    from profiler.output.kinds.by_extension import export

    return [line for made in export(out, e, options, kind) for line in _lines(made)]


def _lines(made: "Made") -> list[str]:
    found = [f"  {f.severity.value}: {f.text}" for f in made.findings]
    return [f"written: {made.words}: {made.path}" if made.words else f"written: {made.path}", *found]

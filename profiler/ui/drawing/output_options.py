"""What can be written, and what can be said about each: the tables from which forms, memory and options are made."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from profiler.output.drawings.parts import Datum, Part, ProfileOptions
from profiler.output.kinds.by_extension import KINDS, ExportOptions
from profiler.output.tables.tables_csv import CsvOptions, CsvTable
from profiler.pictures.sheet.compose import DrawingOptions
from profiler.pictures.sheet.papers import PAPERS, SCALES, scale_text
from profiler.pictures.sheet.title_block import TitleFields
from profiler.study import Field, Study

Held = str | float | None
CHOSEN = ""  # by the program


@dataclass(frozen=True, slots=True)
class Pick:
    """One of several values, each with its words. `only`: an option and the value of it for which this one counts."""

    key: str
    label: str
    help: str
    offers: tuple[tuple[str, str], ...]
    only: tuple[str, str] | None = None

    @property
    def usual(self) -> Held:
        return self.offers[0][0]


@dataclass(frozen=True, slots=True)
class Words:
    """A text. `own`: it belongs to one design of one study, not to whoever draws."""

    key: str
    label: str
    help: str
    own: bool = False
    only: tuple[str, str] | None = None

    @property
    def usual(self) -> Held:
        return ""


@dataclass(frozen=True, slots=True)
class Amount:
    """A number. `empty` are the words for none, where there may be none."""

    key: str
    field: Field
    usual: Held
    empty: str = ""
    only: tuple[str, str] | None = None

    @property
    def label(self) -> str:
        return self.field.label


Option = Pick | Words | Amount


@dataclass(frozen=True, slots=True)
class Output:
    """One kind of output: its options are shown in groups."""

    key: str
    title: str
    says: str
    groups: tuple[tuple[str, tuple[Option, ...]], ...]
    leaf: str = "sheet"

    @property
    def suffixes(self) -> tuple[str, ...]:
        return tuple(suffix for suffix, kinds in KINDS.items() if self.key in kinds)

    @property
    def options(self) -> tuple[Option, ...]:
        return tuple(option for _, options in self.groups for option in options)

    @property
    def type_key(self) -> str:
        return f"{self.key}_type"


def _types(kind: str) -> Pick:
    """The file types of a kind, PDF first where there is one: it is what most people read."""
    suffixes = sorted((s for s, kinds in KINDS.items() if kind in kinds), key=lambda s: s != ".pdf")
    offers = tuple((s, s[1:].upper()) for s in suffixes)
    return Pick(f"{kind}_type", "File type", "What the button below writes", offers)


RELEASE = Pick("release", "DXF release", "R2000 is read by all; R12 by very old programs, without line widths",
               (("R2000", "R2000"), ("R12", "R12")))  # fmt: skip
GAUGE_RELEASE = replace(RELEASE, only=("gauge_type", ".dxf"))
CREATOR = Words("creator", "Created by", "Who draws and answers for it")
DATE = Words("date", "Date of issue", "As year-month-day; today unless you say otherwise")
PROFILE = (
    Pick("part", "Part", "What is drawn", ((Part.LINER, "Liner (the bowl)"), (Part.FORMER, "Groove former"),
                                           (Part.SEAT, "Seat of the rotor"))),
    Pick("full", "Section", "Half for turning, full for looking at", (("half", "Half"), ("full", "Full"))),
    Pick("turning", "Spin axis", "Upright as on the screen, or along X as on a lathe",
         (("native", "Upright, along Y"), ("turning", "Turning, along X"))),
    Pick("datum", "Height zero", "The datum, marked in the file",
         ((Datum.FLOOR, "Inner floor"), (Datum.UNDERSIDE, "Underside"), (Datum.LIP, "Lip"))),
    RELEASE,
    Amount("shrinkage", Field("shrinkage", "Shrinkage", "%", -10.0, 20.0, 0.1, 2,
                              "Added to every length of the groove former, and written on it; not to other parts"),
           0.0, only=("part", Part.FORMER)),
)  # fmt: skip
MAKING = (
    Amount("tool_radius", Field("tool_radius", "Tool radius", "mm", 0.0, 50.0, 0.1, 2,
                                "Nose radius of the tool: inside radii it cannot reach into are named"),
           None, empty="not asked"),
    Amount("least_draft", Field("least_draft", "Least draft", "°", 0.0, 45.0, 0.5, 1,
                                "Groove flanks that lean less than this are named"), None, empty="not asked"),
)  # fmt: skip
SHEET = (
    _types("drawing"),
    Amount("dpi", Field("dpi", "PNG resolution", "dpi", 20.0, 1200.0, 10.0, 0, "Dots per inch of the picture"), 150.0,
           only=("drawing_type", ".png")),
    Pick("paper", "Paper", "ISO 216 sheet", ((CHOSEN, "chosen to fit"), *((p.name, p.name) for p in PAPERS))),
    Pick("scale", "Scale", "ISO 5455 scale",
         ((CHOSEN, "chosen to fit"), *((scale_text(s), scale_text(s)) for s in SCALES))),
    Pick("projection", "Projection", "Symbol in the title block",
         (("first", "First angle"), ("third", "Third angle"))),
)  # fmt: skip
TITLE = (
    Words("title", "Title", "Of the part", own=True),
    Words("number", "Number", "Identification number", own=True),
    Words("revision", "Revision", "Of the drawing", own=True),
    Words("material", "Material", "Where it differs from the design's", own=True),
    Words("status", "Status", "Of the document", own=True),
    Words("owner", "Legal owner", "Whose drawing it is"),
    CREATOR,
    Words("approved", "Approved by", "Who has checked it"),
    DATE,
)
TABLE = (
    Pick("table", "Table", "What the file lists",
         ((CsvTable.STATIONS, "Stations along the wall"), (CsvTable.GROOVES, "Grooves"),
          (CsvTable.OUTLINE, "Outline, lines and arcs"), (CsvTable.FINDINGS, "Findings"))),
    Pick("separator", "Separator", "Between cells", ((",", "Comma"), (";", "Semicolon"), ("\t", "Tab"))),
    Pick("decimal", "Decimal mark", "In numbers", ((".", "Point"), (",", "Comma"))),
)  # fmt: skip

OUTPUTS = (
    Output("drawing", "Drawing", "The dimensioned sheet: section, tables, notes, title block",
           (("Sheet", SHEET), ("Title block", TITLE))),
    Output("profile", "Profile", "The bare outline as lines and arcs, 1:1, for lathe or pattern maker",
           (("Outline", PROFILE), ("Can it be made?", MAKING))),
    Output("gauge", "Gauge", "Wall and grooves at full size, as a hand template",
           (("Template", (_types("gauge"), GAUGE_RELEASE, DATE)),), "page"),
    Output("report", "Report", "The calculation report: inputs, findings, tables, models, cautions",
           (("Report", (_types("report"), CREATOR, DATE)),), "page"),
    Output("table", "Table", "Numbers for a spreadsheet", (("CSV file", (*TABLE, DATE)),)),
    Output("solid", "Solid", "The turned body as triangles, for printing or simulation",
           (("Body", (_types("solid"),)),)),
)  # fmt: skip
OPTIONS: dict[str, Option] = {option.key: option for output in OUTPUTS for option in output.options}


def output(key: str) -> Output:
    return next(o for o in OUTPUTS if o.key == key)


def suffix_of(kind: Output, values: Mapping[str, Held]) -> str:
    """The file type that is set for a kind."""
    return str(values[kind.type_key]) if kind.type_key in OPTIONS else kind.suffixes[0]


def export_options(values: Mapping[str, Held], study_file: str = "", study: Study | None = None) -> ExportOptions:
    """The trials of `study` go into the report. Raises ValueError where two options do not go together."""
    names = ("owner", "number", "title", "creator", "approved", "date", "revision", "status", "material")
    fields = TitleFields(**{name: str(values[name]) for name in names}, third_angle=values["projection"] == "third")
    part = Part(str(values["part"]))
    shrinkage = _number(values["shrinkage"]) or 0.0
    return ExportOptions(
        full=values["full"] == "full",
        profile=ProfileOptions(part, values["turning"] == "turning", Datum(str(values["datum"])),
                               str(values["release"]), shrinkage if part is Part.FORMER else 0.0),
        drawing=DrawingOptions(str(values["paper"]) or None, str(values["scale"]) or None, fields),
        table=CsvTable(str(values["table"])),
        csv=CsvOptions(str(values["separator"]), str(values["decimal"])),
        dots_per_inch=_number(values["dpi"]) or 150.0,
        tool_radius_mm=_number(values["tool_radius"]),
        least_draft_deg=_number(values["least_draft"]),
        study_file=study_file,
        study=study,
    )  # fmt: skip


def _number(value: Held) -> float | None:
    return value if isinstance(value, float) else None

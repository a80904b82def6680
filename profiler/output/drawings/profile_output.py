"""The profile as an output: the bare outline of a part, as it will lie in the file."""

from pathlib import Path

from profiler.assess import Evaluation, Finding
from profiler.assess.checks.check_making import draft_findings, letter_findings, segment_findings, tool_findings
from profiler.assess.evidence.words import standing_short
from profiler.assess.findings.finding import stops
from profiler.output.drawings.parts import LAYERS, TITLES, Datum, Part, ProfileOptions, as_made, laid, part_chain
from profiler.output.formats.dxf_document import foreign_letters
from profiler.output.record.option import Amount, Choice, Group, Offer, Only, Request
from profiler.output.record.output import Made, Output
from profiler.pictures.sheet.items import Item, Pen, Sheet, Text, View, polyline
from profiler.pictures.sheet.items import Path as Line
from profiler.pictures.sheet.lettering import cut
from profiler.pictures.sheet.papers import paper
from profiler.study import Field

PAGE = paper("A3")
ROOM = 30.0  # mm round a profile

PART = Choice("part", "Part", "What is drawn", (
    Offer(Part.LINER, "Liner (the bowl)"), Offer(Part.FORMER, "Groove former"), Offer(Part.SEAT, "Seat of the rotor"),
))  # fmt: skip
FULL = Choice("full", "Section", "Half for turning, full for looking at",
              (Offer("half", "Half", "--half"), Offer("full", "Full", "--full")))  # fmt: skip
TURNING = Choice("turning", "Spin axis", "Upright as on the screen, or along X as on a lathe",
                 (Offer("native", "Upright, along Y"), Offer("turning", "Turning, along X", "--turning")))  # fmt: skip
DATUM = Choice("datum", "Height zero", "The datum, marked in the file", (
    Offer(Datum.FLOOR, "Inner floor"), Offer(Datum.UNDERSIDE, "Underside"), Offer(Datum.LIP, "Lip"),
))  # fmt: skip
RELEASE = Choice("release", "DXF release", "R2000 is read by all; R12 by very old programs, without line widths",
                 (Offer("R2000", "R2000"), Offer("R12", "R12")))  # fmt: skip
SHRINKAGE = Amount(
    Field("shrinkage", "Shrinkage", "%", -10.0, 20.0, 0.1, 2,
          "Added to every length of the groove former, and written on it; not to other parts"),
    0.0, only=Only(PART, Part.FORMER),
)  # fmt: skip
TOOL_RADIUS: Amount[float | None] = Amount(
    Field("tool_radius", "Tool radius", "mm", 0.0, 50.0, 0.1, 2,
          "Nose radius of the tool: inside radii it cannot reach into are named"),
    None, empty="not asked",
)  # fmt: skip
LEAST_DRAFT: Amount[float | None] = Amount(
    Field("least_draft", "Least draft", "°", 0.0, 45.0, 0.5, 1, "Groove flanks that lean less than this are named"),
    None, empty="not asked",
)  # fmt: skip


def options_of(request: Request) -> ProfileOptions:
    return ProfileOptions(
        request[PART], request[TURNING] == "turning", request[DATUM], request[RELEASE], request[SHRINKAGE]
    )


def findings_of(e: Evaluation, request: Request) -> tuple[Finding, ...]:
    """What can be made of the part, by the tool and the draft asked for; () without a section."""
    if e.shape is None:
        return ()
    options, radius, draft = options_of(request), request[TOOL_RADIUS], request[LEAST_DRAFT]
    chain = as_made(part_chain(options.part, e.shape, e.machine), options)
    found = segment_findings(chain)
    found += [] if radius is None else tool_findings(chain, radius)
    if draft is not None and options.part is not Part.SEAT:
        found += draft_findings(e.shape, draft)
    return tuple(found)


def _make(path: Path, e: Evaluation, request: Request) -> list[Made]:
    from profiler.output.drawings.profile_dxf import write_profile

    assert e.shape is not None
    written = write_profile(
        path, e.shape, design=e.design.name, stops=stops(e.findings), full=request[FULL] == "full",
        options=options_of(request), machine=e.machine, slurry_model=standing_short(e.duty),
    )  # fmt: skip
    closed = "closed" if written.closed else "NOT CLOSED"
    letters = tuple(letter_findings(foreign_letters([e.design.name])))
    return [Made(path, f"{written.lines + written.arcs} lines and arcs, {closed}", letters)]


def _preview(e: Evaluation, request: Request) -> tuple[Sheet, ...]:
    """The chain fitted to a page; its axis dashed, zero where the lines cross."""
    assert e.shape is not None
    options = options_of(request)
    half = part_chain(options.part, e.shape, e.machine)
    halves = [half, half.mirrored()] if request[FULL] == "full" else [half]
    chains = [laid(chain, e.shape, options) for chain in halves]
    low = [min(0.0, *(float(c.points[:, k].min()) for c in chains)) for k in (0, 1)]
    high = [max(0.0, *(float(c.points[:, k].max()) for c in chains)) for k in (0, 1)]
    room = (PAGE.width - 2.0 * ROOM, PAGE.height - 2.0 * ROOM)
    scale = min(room[k] / (high[k] - low[k]) for k in (0, 1))
    middle = (0.5 * PAGE.width, 0.5 * PAGE.height)
    view = View((middle[0] - 0.5 * scale * (low[0] + high[0]), middle[1] - 0.5 * scale * (low[1] + high[1])), scale)
    axis = ((low[0], 0.0), (high[0], 0.0)) if options.turning else ((0.0, low[1]), (0.0, high[1]))
    words = f"{TITLES[options.part]}, layer {LAYERS[options.part]}, {options.version}; fitted to the page, not to scale"
    items: tuple[Item, ...] = (
        *(Line(view.chain(chain), Pen.OUTLINE) for chain in chains),
        polyline([view.point(*p) for p in axis], Pen.CENTRE),
        *_zero(view.origin),
        Text(ROOM, PAGE.height - 18.0, cut(words, 3.5, room[0]), 3.5),
    )
    return (Sheet(PAGE.width, PAGE.height, items, view, words, (0.0, 0.0, PAGE.width, PAGE.height)),)


def _zero(at: tuple[float, float]) -> tuple[Line, Line]:
    x, y = at
    return polyline([(x - 5.0, y), (x + 5.0, y)], Pen.DIM), polyline([(x, y - 5.0), (x, y + 5.0)], Pen.DIM)


PROFILE = Output(
    "profile", "Profile", "The bare outline as lines and arcs, 1:1, for lathe or pattern maker", (".dxf",),
    make=_make, preview=_preview, findings=findings_of, at_once=(FULL,),
    as_usual="In millimetres; X is the radius, Y the height above the inner floor.",
    groups=(Group("Outline", (PART, FULL, TURNING, DATUM, RELEASE, SHRINKAGE)),
            Group("Can it be made?", (TOOL_RADIUS, LEAST_DRAFT))),
)  # fmt: skip

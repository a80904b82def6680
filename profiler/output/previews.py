"""What each kind of output looks like, as sheets to look at or to print, before any file is written."""

from collections.abc import Callable

from .. import __version__
from ..assess import Evaluation
from ..pictures.sheet.compose import drawing
from ..pictures.sheet.gauge import gauge_sheets
from ..pictures.sheet.items import Item, Path, Pen, Sheet, Text, View, polyline
from ..pictures.sheet.lettering import cut
from ..pictures.sheet.papers import paper
from .by_extension import NO_SHAPE, ExportOptions
from .parts import LAYERS, TITLES, Part, laid, part_chain

PROFILE_PAGE = paper("A3")
ROOM = 30.0  # mm round a profile


def preview(kind: str, e: Evaluation, options: ExportOptions) -> tuple[Sheet, ...]:
    """The sheets of a drawing, gauge, report or profile. Raises ValueError with a sentence where there are none."""
    if e.shape is None and kind != "report":
        raise ValueError(NO_SHAPE)
    return _PREVIEWS[kind](e, options)


def _drawing(e: Evaluation, options: ExportOptions) -> tuple[Sheet, ...]:
    return drawing(e, options.drawing).sheets


def _gauge(e: Evaluation, options: ExportOptions) -> tuple[Sheet, ...]:
    assert e.shape is not None
    template = part_chain(Part.GAUGE, e.shape, e.machine)
    return gauge_sheets(template, f"Gauge 1:1, {e.design.name}", ("Join pages at the crosses.",))


def _report(e: Evaluation, options: ExportOptions) -> tuple[Sheet, ...]:
    from .report.content import Job, report_of
    from .report.pages import report_sheets

    fields = options.drawing.fields
    return report_sheets(report_of(e, Job(options.study_file, fields.date, __version__, fields.creator)))


def _profile(e: Evaluation, options: ExportOptions) -> tuple[Sheet, ...]:
    """The chain as it will lie in the file, fitted to a page; its axis dashed, zero where the lines cross."""
    assert e.shape is not None
    chosen = options.profile
    half = part_chain(chosen.part, e.shape, e.machine)
    halves = [half, half.mirrored()] if options.full else [half]
    chains = [laid(chain, e.shape, chosen) for chain in halves]
    low = [min(0.0, *(float(c.points[:, k].min()) for c in chains)) for k in (0, 1)]
    high = [max(0.0, *(float(c.points[:, k].max()) for c in chains)) for k in (0, 1)]
    size = PROFILE_PAGE
    room = (size.width - 2.0 * ROOM, size.height - 2.0 * ROOM)
    scale = min(room[k] / (high[k] - low[k]) for k in (0, 1))
    middle = (0.5 * size.width, 0.5 * size.height)
    view = View((middle[0] - 0.5 * scale * (low[0] + high[0]), middle[1] - 0.5 * scale * (low[1] + high[1])), scale)
    axis = ((low[0], 0.0), (high[0], 0.0)) if chosen.turning else ((0.0, low[1]), (0.0, high[1]))
    words = f"{TITLES[chosen.part]}, layer {LAYERS[chosen.part]}, {chosen.version}; fitted to the page, not to scale"
    items: tuple[Item, ...] = (
        *(Path(view.chain(chain), Pen.OUTLINE) for chain in chains),
        polyline([view.point(*p) for p in axis], Pen.CENTRE),
        *_zero(view.origin),
        Text(ROOM, size.height - 18.0, cut(words, 3.5, room[0]), 3.5),
    )
    return (Sheet(size.width, size.height, items, view, words, (0.0, 0.0, size.width, size.height)),)


def _zero(at: tuple[float, float]) -> tuple[Path, Path]:
    x, y = at
    return polyline([(x - 5.0, y), (x + 5.0, y)], Pen.DIM), polyline([(x, y - 5.0), (x, y + 5.0)], Pen.DIM)


_PREVIEWS: dict[str, Callable[[Evaluation, ExportOptions], tuple[Sheet, ...]]] = {
    "drawing": _drawing, "gauge": _gauge, "report": _report, "profile": _profile,
}  # fmt: skip

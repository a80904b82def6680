"""A comparison as PDF, A4 across: what is the same for all, the pictures, then the table; cautions once."""

import io
from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path
from textwrap import wrap

from profiler.assess.checks.check_fit import SPINNING_CAUTION
from profiler.assess.evidence.words import standing_short
from profiler.assess.findings.finding import not_checked_words, stops
from profiler.explore.compare import Comparison, Over, View
from profiler.output.formats.picture_page import SCREEN_MM, page
from profiler.pictures.basics.display import Align, Area, Item, Label, Picture, Role, boxed
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit, pictured
from profiler.pictures.charts import comparison as pictures
from profiler.pictures.charts.comparison_table import MARK, MARK_MEANS, table, views
from profiler.pictures.sheet.items import Placed
from profiler.study.files.file import write_whole

WIDTH, HEIGHT = 1122.5, 793.7  # A4 across, px at 96 to the inch
MARGIN = 45.0
ROW, CONDITION = 16.5, 13.0  # steps of the table, of the lines above it
FOOT = 50.0
LETTERS, LINES = 170, 42  # of a page of text
FIRST = View()


def write_comparison(path: Path, c: Comparison, view: View = FIRST, lengths: LengthUnit = MILLIMETRES) -> int:
    """Write the PDF whole or not at all and return its number of pages. Raises BowlFileError."""
    from matplotlib.backends.backend_pdf import PdfPages

    data = io.BytesIO()
    unit = lengths.keeping(c.study.machine.name, *(d.name for d in c.duties), *(s.design.name for s in c.results))
    sheets = [_pictures(c, view, lengths), *_tables(c, view), *_lineages(c)]
    with PdfPages(
        data, metadata={"Title": "Comparison of designs", "Creator": "Bowl Profiler", "Producer": None}
    ) as pdf:
        for number, sheet in enumerate(sheets, 1):
            foot = _at(0.0, 0.0, _foot(c, number, len(sheets)))
            told = tuple(replace(p, picture=pictured(p.picture, unit)) for p in (*sheet, foot))
            pdf.savefig(page(told, WIDTH * SCREEN_MM, HEIGHT * SCREEN_MM))
    write_whole(path, data.getvalue())
    return len(sheets)


def _pictures(c: Comparison, view: View, lengths: LengthUnit) -> tuple[Placed, ...]:
    duty = view.duty if view.over is Over.DUTY else 0
    shown = tuple(pictures.Shown(s.design.name, s.under(duty), i) for i, s in enumerate(c.results))
    half = 0.5 * (WIDTH - 2.0 * MARGIN - 20.0)
    top = MARGIN + 58.0
    bars = 46.0 + 38.0 * len(shown)
    tall = HEIGHT - top - min(bars, 260.0) - MARGIN - 50.0
    return (
        _at(0.0, 0.0, _head(c, f"Charts for duty: {c.duties[duty].name}", View(duty=duty))),
        _at(MARGIN, top, pictures.wall_overlay(shown, half, tall, lengths)),
        _at(MARGIN + half + 20.0, top, pictures.power_curves(shown, half, tall, lengths)),
        _at(MARGIN, top + tall + 14.0, pictures.share_bars(shown, False, WIDTH - 2.0 * MARGIN, min(bars, 260.0))),
    )


def _tables(c: Comparison, view: View) -> list[tuple[Placed, ...]]:
    """A page for the view, and one for each way to see the ore window."""
    wanted = [(words, v) for words, v in views(c) if v == view or v.over is not Over.DUTY]
    return [(_at(0.0, 0.0, _head(c, words, v)), _at(0.0, 0.0, _table(c, v))) for words, v in wanted]


def _lineages(c: Comparison) -> list[tuple[Placed, ...]]:
    """Where each design comes from, as many pages as that takes."""
    lines = [part for told in c.lineages for part in (*wrap(f"{told.design}: {told.sentence}", LETTERS), "")]
    pages = [lines[k : k + LINES] for k in range(0, len(lines), LINES)]
    return [(_at(0.0, 0.0, _head(c, "Lineage", FIRST)), _at(0.0, 0.0, _words(page))) for page in pages]


def _words(lines: Sequence[str]) -> Picture:
    top = MARGIN + 70.0  # under the head
    items = (Label(MARGIN, top + CONDITION * k, t, Role.TEXT, Align.LEFT, 8.5) for k, t in enumerate(lines))
    return Picture(WIDTH, HEIGHT, tuple(items))


def _at(left: float, top: float, picture: Picture) -> Placed:
    """Placed by its upper left corner, px from the upper left of the page."""
    return Placed(picture, left * SCREEN_MM, (HEIGHT - top) * SCREEN_MM, SCREEN_MM)


def _head(c: Comparison, words: str, view: View) -> Picture:
    """Title, what is the same for all in this view, and what keeps it from saying more."""
    items: list[Item] = [
        Label(MARGIN, MARGIN, "Comparison of designs", Role.TEXT, Align.LEFT, 13.0, True),
        Label(WIDTH - MARGIN, MARGIN, words, Role.TEXT, Align.RIGHT, 10.0),
    ]
    conditions = c.conditions(view)
    for k, line in enumerate(conditions):
        items.append(Label(MARGIN, MARGIN + 21.0 + CONDITION * k, line, Role.TEXT, Align.LEFT, 8.5))
    below = MARGIN + 21.0 + CONDITION * len(conditions) + 2.0
    if c.remarks:
        items.append(Label(MARGIN, below, "  ".join(c.remarks)[:170], Role.FAINT, Align.LEFT, 8.0))
    return Picture(WIDTH, HEIGHT, tuple(items))


def _table(c: Comparison, view: View) -> Picture:
    lines = table(c, view)
    top, first = MARGIN + 53.0 + CONDITION * len(c.conditions(view)), MARGIN + 250.0
    step = min(ROW, (HEIGHT - MARGIN - FOOT - top) / (len(lines) + 2.8))
    room = (WIDTH - MARGIN - first) / max(len(c.results), 1)
    items: list[Item] = []
    for k, s in enumerate(c.results):
        name = f"{s.design.name} (reference)" if s is c.reference else s.design.name
        cut = name if len(name) * 6.2 < room else f"{name[: max(int(room / 6.2) - 1, 1)]}…"
        items.append(Label(first + (k + 1) * room, top, cut, Role.TEXT, Align.RIGHT, 8.5, True))
    for i, line in enumerate(lines):
        y = top + step * (i + 1.3)
        if i % 2 == 0:
            items.append(
                Area(boxed(MARGIN - 4.0, y - 0.5 * step, WIDTH - MARGIN + 4.0, y + 0.5 * step), Role.GRID, 0.5)
            )
        items.append(Label(MARGIN, y, line.head, Role.TEXT, Align.LEFT, 8.5))
        for k, cell in enumerate(line.cells, 1):
            items.append(Label(first + k * room, y, cell.marked, Role.TEXT, Align.RIGHT, 8.5, cell.better))
    note = f"{MARK} {MARK_MEANS}: a state of the slurry is neither good nor bad."
    items.append(Label(MARGIN, top + step * (len(lines) + 2.3), note, Role.FAINT, Align.LEFT, 8.0))
    return Picture(WIDTH, HEIGHT, tuple(items))


def _model(c: Comparison) -> str:
    """How the model stands to measurements under the duties compared: as under the least sure of them."""
    guessed = next((d for d in c.duties if d.calibrated is None), None)
    if guessed is None:
        return f"Slurry model: {standing_short(c.duties[0])}."
    return f"Slurry model {standing_short(guessed)}; friction is a guess within its band, at least ±2°."


def _foot(c: Comparison, number: int, count: int) -> Picture:
    stopped = [(s.design.name, stops(s.shown.findings)) for s in c.results]
    warning = "; ".join(f"{name}: {not_checked_words(n)}" for name, n in stopped if n)
    y = HEIGHT - MARGIN
    items: list[Item] = [
        Label(MARGIN, y - 26.0, f"{SPINNING_CAUTION.text}", Role.TEXT, Align.LEFT, 7.5),
        Label(MARGIN, y - 13.0, f"{_model(c)} Figures for screening only.", Role.TEXT, Align.LEFT, 7.5),
        Label(MARGIN, y, f"{c.study.title}, {date.today().isoformat()}", Role.FAINT, Align.LEFT, 7.5),
        Label(WIDTH - MARGIN, y, f"{number} of {count}", Role.FAINT, Align.RIGHT, 7.5),
    ]
    if warning:
        items.append(Label(MARGIN, y - 40.0, warning, Role.STOP, Align.LEFT, 8.5, True))
    return Picture(WIDTH, HEIGHT, tuple(items))

"""A report on A4 pages, as sheets: head and foot on every page, contents before the first section where there are many.

Tables run on with their heads repeated; a heading never stands alone at the foot of a page.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

from profiler.output.blocks.blocks import Block, Figure, Grid, Heading, Paragraph, Report
from profiler.pictures.basics.display import Align
from profiler.pictures.sheet.items import Item, Link, Mark, Pen, Placed, Sheet, Text, View, polyline
from profiler.pictures.sheet.lettering import cut, fitting, text_width, wrapped
from profiler.pictures.sheet.papers import paper

PAGE = paper("A4")
LEFT, RIGHT, TOP, BOTTOM = 20.0, 190.0, 272.0, 20.0
TITLE = 11.0  # the report's own, on the first page
WIDTH = RIGHT - LEFT
BODY, SMALL = 2.1, 1.8  # capital heights
LINE = 1.75  # of the capital height
CONTENTS_ABOVE = 6  # pages
CONTENTS_STEP = 5.0
LAST_ROWS = 3  # of a table stay together
CELL_PAD = 0.8
HAND_ROW = 6.0  # of a table to be filled in
NUMBER_PAD = 4.0  # at the right of a column of numbers
SIZES = {1: 3.5, 2: 2.5}


@dataclass(slots=True)
class _Flow:
    """Pages being filled from the top."""

    pages: list[list[Item]] = field(default_factory=lambda: [[]])
    y: float = TOP
    headings: list[tuple[Mark, int]] = field(default_factory=list)  # and on which page, from 0
    contents: tuple[int, float] = (0, TOP)  # the page they stand on, from 0, and where they begin

    @property
    def sections(self) -> list[tuple[Mark, int]]:
        return [(mark, page) for mark, page in self.headings if mark.level == 1]

    def turn(self) -> None:
        self.pages.append([])
        self.y = TOP

    @property
    def items(self) -> list[Item]:
        return self.pages[-1]

    def need(self, height: float) -> None:
        """Turn the page where so much does not fit."""
        if self.y - height < BOTTOM and self.y < TOP:
            self.turn()


def report_sheets(report: Report) -> tuple[Sheet, ...]:
    flow = _flowed(report, 0)
    links: list[Link] = []
    if len(flow.pages) > CONTENTS_ABOVE:
        flow = _flowed(report, len(flow.sections))
        page, y = flow.contents
        items, links = _contents(flow.sections, y)
        flow.pages[page] += items
    count = len(flow.pages)
    return tuple(
        _sheet(report, items, k, count, [mark for mark, at in flow.headings if at == k - 1],
               links if k - 1 == flow.contents[0] else [])
        for k, items in enumerate(flow.pages, 1)
    )  # fmt: skip


def _flowed(report: Report, listed: int) -> _Flow:
    """All blocks on pages; room for so many lines of contents under the title, or where the first page's own end."""
    flow = _Flow()
    title, size = fitting(report.title, WIDTH, (5.0, 3.5), bold=True)
    flow.items.append(Text(LEFT, flow.y - 5.0, title, size, bold=True))
    flow.y -= TITLE
    if report.front:
        _add_all(flow, report.front)
        flow.headings.clear()
        flow.turn()
    flow.contents = len(flow.pages) - 1, flow.y
    flow.y -= CONTENTS_STEP * (listed + 2) if listed else 0.0
    _add_all(flow, report.blocks)
    return flow


def _add_all(flow: _Flow, blocks: Sequence[Block]) -> None:
    for block, following in zip(blocks, [*blocks[1:], None], strict=True):
        _add(flow, block, following)


def _add(flow: _Flow, block: Block, following: Block | None) -> None:
    if isinstance(block, Heading):
        _add_heading(flow, block, following)
    elif isinstance(block, Paragraph):
        _add_paragraph(flow, block)
    elif isinstance(block, Figure):
        _add_figure(flow, block)
    else:
        _add_grid(flow, block)


def _add_heading(flow: _Flow, heading: Heading, following: Block | None) -> None:
    size = SIZES[heading.level]
    lines = wrapped(heading.text, size, WIDTH, bold=True)
    flow.need(2.2 * size * len(lines) + size + _least(following))
    if flow.y < TOP - 12.0:
        flow.y -= size
    flow.headings.append((Mark(heading.text, heading.level, flow.y), len(flow.pages) - 1))
    for line in lines:
        flow.items.append(Text(LEFT, flow.y - 1.2 * size, line, size, bold=True))
        flow.y -= 1.9 * size
    flow.y -= 0.5


def _least(block: Block | None) -> float:
    """How much of a block must stand under its heading."""
    if isinstance(block, Figure):
        return _figure_height(block)
    if isinstance(block, Heading):
        return 16.0
    return 0.0 if block is None else 18.0


def _add_paragraph(flow: _Flow, paragraph: Paragraph) -> None:
    size = 2.5 if paragraph.strong else BODY
    step = LINE * size
    for line in wrapped(paragraph.text, size, WIDTH, bold=paragraph.strong):
        flow.need(step)
        flow.items.append(Text(LEFT, flow.y - 1.2 * size, line, size, bold=paragraph.strong))
        flow.y -= step
    flow.y -= 1.5


def _mm_per_px(figure: Figure) -> float:
    return WIDTH / sum(p.width for p in figure.pictures)


def _figure_height(figure: Figure) -> float:
    lines = wrapped(figure.caption, SMALL, WIDTH)
    return max(p.height for p in figure.pictures) * _mm_per_px(figure) + LINE * SMALL * len(lines) + 4.0


def _add_figure(flow: _Flow, figure: Figure) -> None:
    scale = _mm_per_px(figure)
    flow.need(_figure_height(figure))
    x = LEFT
    for picture in figure.pictures:
        flow.items.append(Placed(picture, x, flow.y, scale))
        x += picture.width * scale
    flow.y -= max(p.height for p in figure.pictures) * scale + 1.0
    for line in wrapped(figure.caption, SMALL, WIDTH):
        flow.items.append(Text(LEFT, flow.y - 1.2 * SMALL, line, SMALL))
        flow.y -= LINE * SMALL
    flow.y -= 3.0


def _add_grid(flow: _Flow, grid: Grid) -> None:
    widths, numeric = _widths(grid), grid.numeric
    heads = _cells(grid.heads, widths, numeric) if any(grid.heads) else []
    whole = [_cells(row, widths, numeric) for row in grid.rows]
    heights = [max(_height(cells), HAND_ROW if grid.by_hand else 0.0) for cells in whole]
    last = max(len(whole) - LAST_ROWS, 0)
    for k, cells in enumerate(whole):
        together = sum(heights[k:]) if k == last else heights[k]
        if k == 0 or flow.y - together < BOTTOM:
            flow.need(together + (_height(heads) if heads else 0.0))
            if heads:
                _draw_row(flow, heads, widths, numeric, bold=True, pen=Pen.RULE)
        if grid.by_hand:
            flow.y -= heights[k] - _height(cells)
        _draw_row(flow, cells, widths, numeric, bold=k in grid.strong)
    flow.y -= 3.0


def _draw_row(
    flow: _Flow,
    cells: list[list[str]],
    widths: Sequence[float],
    numeric: Sequence[bool],
    bold: bool,
    pen: Pen = Pen.TRIM,
) -> None:
    height = _height(cells)
    x = LEFT
    for lines, width, right in zip(cells, widths, numeric, strict=True):
        at, side = (x + width - _pad_right(width), Align.RIGHT) if right else (x + CELL_PAD, Align.LEFT)
        for k, line in enumerate(lines):
            flow.items.append(Text(at, flow.y - SMALL * (1.55 + LINE * k), line, SMALL, side, bold=bold))
        x += width
    flow.y -= height
    flow.items.append(polyline([(LEFT, flow.y), (LEFT + sum(widths), flow.y)], pen))


def _height(cells: list[list[str]]) -> float:
    return SMALL * (LINE * max(1, *(len(lines) for lines in cells)) + 0.5)


def _cells(row: Sequence[str], widths: Sequence[float], numeric: Sequence[bool]) -> list[list[str]]:
    rooms = [w - CELL_PAD - (_pad_right(w) if right else CELL_PAD) for w, right in zip(widths, numeric, strict=True)]
    return [wrapped(cell, SMALL * 1.1, room) for cell, room in zip(row, rooms, strict=True)]


def _pad_right(width: float) -> float:
    return min(NUMBER_PAD, 0.2 * width)


def _widths(grid: Grid) -> list[float]:
    """Shared out by the weights, or by the longest word and cell of each column."""
    whole = WIDTH * grid.share
    if grid.weights is not None:
        return [whole * w / sum(grid.weights) for w in grid.weights]
    columns = list(zip(*grid.rows, strict=True)) if grid.rows else [()] * len(grid.heads)
    wanted = []
    for head, cells in zip(grid.heads, columns, strict=True):
        words = [*head.split(), *cells]
        wanted.append(max((text_width(w, SMALL * 1.15) for w in words), default=1.0) + 2.0 * CELL_PAD + 2.0)
    return [whole * w / sum(wanted) for w in wanted]


def _contents(sections: list[tuple[Mark, int]], top: float) -> tuple[list[Item], list[Link]]:
    """Section titles with their page numbers, each leading to its section."""
    y = top - CONTENTS_STEP
    items: list[Item] = [Text(LEFT, y, "Contents", 2.5, bold=True)]
    links = []
    for mark, page in sections:
        y -= CONTENTS_STEP
        items += [Text(LEFT, y, cut(mark.text, BODY, WIDTH - 20.0), BODY),
                  Text(RIGHT, y, str(page + 1), BODY, Align.RIGHT),
                  polyline([(LEFT, y - 1.4), (RIGHT, y - 1.4)], Pen.TRIM)]  # fmt: skip
        links.append(Link((LEFT, y - 1.4, RIGHT, y - 1.4 + CONTENTS_STEP), page, mark.y))
    return items, links


def _sheet(
    report: Report, items: list[Item], number: int, of: int, marks: Sequence[Mark], links: Sequence[Link]
) -> Sheet:
    foot = "   ".join(report.marks)
    room = WIDTH - 35.0
    furniture: list[Item] = [
        Text(LEFT, 281.0, cut(report.title, SMALL, WIDTH), SMALL),
        polyline([(LEFT, 279.0), (RIGHT, 279.0)], Pen.RULE),
        polyline([(LEFT, 15.0), (RIGHT, 15.0)], Pen.RULE),
        Text(LEFT, 11.0, cut(foot, SMALL, room), SMALL),
        Text(RIGHT, 11.0, f"page {number} of {of}", SMALL, Align.RIGHT),
    ]
    return Sheet(PAGE.width, PAGE.height, (*items, *furniture), View((0.0, 0.0), 1.0), report.title,
                 (5.0, 5.0, PAGE.width - 5.0, PAGE.height - 5.0), tuple(marks), tuple(links))  # fmt: skip

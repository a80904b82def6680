"""The gauge sheet: wall and grooves at full size on A4 pages, to be joined by register marks and cut out.

Pages cover a grid of tiles; a cross stands at every corner of the grid, so neighbours share theirs. Every page has a
line of 100 mm to measure after printing.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import ceil

import numpy as np

from profiler.geometry.chain import Chain, FloatArray, sampled
from profiler.pictures.basics.display import Align
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit
from profiler.pictures.sheet.clashes import box, crossed, strokes_of
from profiler.pictures.sheet.items import Item, Pen, Sheet, Text, View, circle, polyline
from profiler.pictures.sheet.lettering import cut, wrapped
from profiler.pictures.sheet.papers import paper

PAGE = paper("A4")
TILE_X, TILE_Y = 170.0, 230.0
LEFT, BOTTOM = 20.0, 38.0  # of the tile on its page
CHECK_MM = 100.0
SAG = 0.002
MARK = 5.0
WORDS_TOP, MOST_LINES = 30.0, 8  # of the statements beside the line to be measured
AIR = 0.3  # mm round a height's text
MOST_NAMED = 8  # tiles
HEIGHT_STEP = 50.0  # mm between the height marks on the template's back


@dataclass(frozen=True, slots=True)
class _Tile:
    column: int
    row: int
    left: float  # of its lower left corner, mm true
    bottom: float

    @property
    def name(self) -> str:
        return f"{chr(ord('A') + self.column)}{self.row + 1}"


def gauge_sheets(
    template: Chain, title: str, statements: tuple[str, ...], lengths: LengthUnit = MILLIMETRES
) -> tuple[Sheet, ...]:
    """Pages from a closed template (radius, height); the first tile's lower left corner is the template's.

    In another unit than mm what is lettered has both.
    """
    outline = sampled(template, SAG)
    outline = np.concatenate((outline, outline[:1]))
    low, high = outline.min(axis=0), outline.max(axis=0)
    marks = list(_height_marks(float(low[0]), float(low[1]), float(high[1])))
    tiles = [t for t in _tiles(low, high) if len(_clipped(outline, t))]
    told = (*statements, _listed(tiles))
    pages = (_page(tile, outline, marks, f"{title}; page {k} of {len(tiles)}", told) for k, tile in enumerate(tiles, 1))
    return tuple(replace(page, items=tuple(_in_both(i, lengths) for i in page.items)) for page in pages)


def _in_both(item: Item, lengths: LengthUnit) -> Item:
    return replace(item, text=lengths.told_both(item.text)) if isinstance(item, Text) else item


def _listed(tiles: list[_Tile]) -> str:
    """Which pages belong together, in words that stay short however many there are."""
    if len(tiles) <= MOST_NAMED:
        return f"Tiles: {', '.join(t.name for t in tiles)}."
    columns, rows = sorted({t.name[0] for t in tiles}), max(t.row for t in tiles) + 1
    return f"{len(tiles)} tiles, columns {columns[0]} to {columns[-1]}, rows 1 to {rows}."


def _tiles(low: FloatArray, high: FloatArray) -> Iterator[_Tile]:
    across, up = (max(1, ceil(float(d) / t)) for d, t in zip(high - low, (TILE_X, TILE_Y), strict=True))
    for row in range(up):
        for column in range(across):
            yield _Tile(column, row, float(low[0]) + column * TILE_X, float(low[1]) + row * TILE_Y)


def _page(
    tile: _Tile, outline: FloatArray, marks: list[tuple[FloatArray, Text]], title: str, statements: tuple[str, ...]
) -> Sheet:
    view = View((LEFT - tile.left, BOTTOM - tile.bottom), 1.0)
    shift = np.array(view.origin)
    items: list[Item] = [polyline(part + shift, Pen.OUTLINE) for part in _clipped(outline, tile)]
    strokes = strokes_of(items)
    for line, text in marks:
        items += [polyline(part + shift, Pen.DIM) for part in _clipped(line, tile)]
        placed = replace(text, x=text.x + float(shift[0]), y=text.y + float(shift[1]))
        inside = LEFT < placed.x < LEFT + TILE_X - 20.0 and BOTTOM < placed.y < BOTTOM + TILE_Y - 4.0
        if inside and not crossed(box(placed, AIR), strokes):
            items.append(placed)
    for x in (LEFT, LEFT + TILE_X):
        for y in (BOTTOM, BOTTOM + TILE_Y):
            items += _register(x, y)
    items.append(
        Text(LEFT, BOTTOM + TILE_Y + 9.0, cut(f"TILE {tile.name}  {title}", 3.5, TILE_X, bold=True), 3.5, bold=True)
    )
    items += _check_line()
    lines = [line for statement in statements for line in wrapped(statement, 1.8, 62.0)]
    items += [
        Text(LEFT + CHECK_MM + 8.0, WORDS_TOP - 3.0 * k, line, 1.8, bold=line.startswith("NOT CHECKED"))
        for k, line in enumerate(lines[:MOST_LINES])
    ]
    return Sheet(PAGE.width, PAGE.height, tuple(items), view, title, (5.0, 5.0, PAGE.width - 5.0, PAGE.height - 5.0))


def _height_marks(left: float, low: float, high: float) -> Iterator[tuple[FloatArray, Text]]:
    """Short lines with heights on the back of the template."""
    for z in np.arange(ceil(low / HEIGHT_STEP), high / HEIGHT_STEP + 1e-9) * HEIGHT_STEP:
        yield np.array([[left, z], [left + 8.0, z]]), Text(left + 9.5, float(z) + 0.8, f"{z:g} mm", 2.5)


def _register(x: float, y: float) -> list[Item]:
    cross = [polyline([(x - MARK, y), (x + MARK, y)], Pen.MARK), polyline([(x, y - MARK), (x, y + MARK)], Pen.MARK)]
    return [*cross, circle(x, y, 0.5 * MARK, Pen.MARK)]


def _check_line() -> list[Item]:
    y = 20.0
    ends = [polyline([(x, y - 2.0), (x, y + 2.0)], Pen.DIM) for x in (LEFT, LEFT + CHECK_MM)]
    line = polyline([(LEFT, y), (LEFT + CHECK_MM, y)], Pen.CHECK)
    text = f"{CHECK_MM:g} mm: measure it. Print at 100 %, not fitted to the page."
    return [line, *ends, Text(LEFT + 0.5 * CHECK_MM, y - 6.0, text, 2.5, Align.CENTRE)]


def _clipped(points: FloatArray, tile: _Tile) -> list[FloatArray]:
    """The parts of a polyline that lie in a tile (each segment cut after Liang and Barsky)."""
    low = np.array([tile.left, tile.bottom])
    high = low + np.array([TILE_X, TILE_Y])
    a, step = points[:-1], np.diff(points, axis=0)
    with np.errstate(divide="ignore", invalid="ignore"):
        one, two = (low - a) / step, (high - a) / step
    level = step == 0.0
    inside = (a >= low) & (a <= high)
    first = np.where(level, np.where(inside, 0.0, 2.0), np.minimum(one, two)).max(axis=1)
    last = np.where(level, 1.0, np.maximum(one, two)).min(axis=1)
    first, last = np.maximum(first, 0.0), np.minimum(last, 1.0)
    parts: list[list[FloatArray]] = []
    for i in np.flatnonzero(first < last):
        start, end = a[i] + first[i] * step[i], a[i] + last[i] * step[i]
        if parts and np.allclose(parts[-1][-1], start, atol=1e-9):
            parts[-1].append(end)
        else:
            parts.append([start, end])
    return [np.array(part) for part in parts]

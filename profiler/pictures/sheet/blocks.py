"""Blocks: parts of a sheet with a size, drawn at any place; tables that can be cut where a column ends."""

import itertools
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from profiler.pictures.basics.display import Align
from profiler.pictures.basics.lengths import LengthUnit
from profiler.pictures.sheet.clashes import extents
from profiler.pictures.sheet.items import Item, Pen, Text, moved, polyline, rectangle
from profiler.pictures.sheet.lettering import cut, wrapped

ROW, HEAD_ROW, TITLE_ROW = 4.4, 8.4, 6.5
LETTER = 2.5
TITLE, LINE = 12.0, 4.0  # mm over what a heading with one line of words stands on, and more for each further line
CONTINUED = "(continued)"


@dataclass(frozen=True, slots=True)
class Block:
    """`draw` takes the upper left corner."""

    width: float
    height: float
    draw: Callable[[float, float], list[Item]]


@dataclass(frozen=True, slots=True)
class Table:
    """A table: widths in mm, one head and unit and one cell per row for each."""

    title: str
    widths: tuple[float, ...]
    heads: tuple[str, ...]
    units: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]

    @property
    def width(self) -> float:
        return sum(self.widths)

    def height_of(self, rows: int) -> float:
        return TITLE_ROW + HEAD_ROW + ROW * rows

    def rows_in(self, height: float) -> int:
        """How many rows a column of this height holds."""
        return max(0, int((height - TITLE_ROW - HEAD_ROW + 1e-6) / ROW))

    def first(self, count: int) -> Block:
        """The first rows as a block."""
        rows = self.rows[:count]
        return Block(self.width, self.height_of(len(rows)), lambda x, y: _draw(self, rows, x, y))

    def beyond(self, count: int) -> "Table":
        """The rows after those, as a table that says it goes on."""
        title = self.title if self.title.endswith(CONTINUED) else f"{self.title} {CONTINUED}"
        return replace(self, title=title, rows=self.rows[count:])


def table_in(table: Table, lengths: LengthUnit) -> Table:
    """A table of millimetres in another unit, which its title names; for a table that says no length the same."""
    said = [lengths.heads(head) or lengths.heads(unit) for head, unit in zip(table.heads, table.units, strict=True)]
    rows = tuple(
        tuple(
            lengths.cell(c) if in_mm and "mm" not in c else lengths.told(c) for c, in_mm in zip(row, said, strict=True)
        )
        for row in table.rows
    )
    heads, units = tuple(map(lengths.head, table.heads)), tuple(map(lengths.head, table.units))
    named = replace(table, title=f"{table.title}, {lengths.plural.upper()}", heads=heads, units=units, rows=rows)
    return table if (heads, units, rows) == (table.heads, table.units, table.rows) else named


def lines_block(lines: Sequence[str], title: str, width: float, letter: float = LETTER) -> Block:
    """A heading and lines of text."""
    step = 1.65 * letter

    def draw(x: float, y: float) -> list[Item]:
        items: list[Item] = [Text(x, y - 4.0, title, 3.5, bold=True)] if title else []
        top = y - (TITLE_ROW if title else 0.0)
        return items + [Text(x, top - step * (k + 0.75), line, letter) for k, line in enumerate(lines)]

    return Block(width, (TITLE_ROW if title else 0.0) + step * len(lines) + 0.4 * letter, draw)


def headed(items: Sequence[Item], title: str, words: str, least_width: float) -> Block:
    """Items drawn anywhere, a title over the middle of all that is drawn and written, words under the title.

    The words are wrapped to the width of the items, or to the least width where they are narrower.
    """
    left, bottom, right, top = extents(items)
    lines = wrapped(words, LETTER, max(right - left, least_width)) if words else []
    head = [Text(0.0, -5.5, title, 5.0, Align.CENTRE)]
    head += [Text(0.0, -10.0 - LINE * k, line, LETTER, Align.CENTRE) for k, line in enumerate(lines)]
    reach = 0.5 * max(right - left, *(text.width for text in head))
    under = TITLE + LINE * max(0, len(lines) - 1)
    placed = [*head, *moved(items, -0.5 * (left + right), -under - top)]
    return Block(2.0 * reach, under + top - bottom, lambda x, y: moved(placed, x + reach, y))


def _draw(table: Table, rows: Sequence[Sequence[str]], x: float, y: float) -> list[Item]:
    items: list[Item] = [Text(x, y - 4.2, table.title, 3.5, bold=True)]
    top = y - TITLE_ROW
    bottom = top - HEAD_ROW - ROW * len(rows)
    items.append(rectangle(x, bottom, x + table.width, top, Pen.RULE))
    edges = [x + sum(table.widths[:k]) for k in range(len(table.widths) + 1)]
    items += [polyline([(e, bottom), (e, top)], Pen.RULE) for e in edges[1:-1]]
    items.append(polyline([(x, top - HEAD_ROW), (x + table.width, top - HEAD_ROW)], Pen.RULE))
    for k, (left, right) in enumerate(itertools.pairwise(edges)):
        middle, room = 0.5 * (left + right), right - left - 1.6
        items.append(Text(middle, top - 3.5, cut(table.heads[k], LETTER, room), LETTER, Align.CENTRE))
        items.append(Text(middle, top - 7.2, cut(table.units[k], LETTER, room), LETTER, Align.CENTRE))
        for n, row in enumerate(rows):
            base = top - HEAD_ROW - ROW * (n + 1) + 1.0
            items.append(Text(middle, base, cut(row[k], LETTER, room), LETTER, Align.CENTRE))
    return [i for i in items if not (isinstance(i, Text) and not i.text)]

"""Where the parts of a drawing stand: views in rows under the main one, tables and notes in a column, then the rest."""

from collections.abc import Sequence
from dataclasses import dataclass

from profiler.pictures.drawing.title_block import HEIGHT, WIDTH
from profiler.pictures.sheet.blocks import Block, Table
from profiler.pictures.sheet.items import Item
from profiler.pictures.sheet.papers import Paper

AIR = 6.0
COLUMN = WIDTH
LEAST_ROWS = 4
INSET = 2.0  # of tables and notes from the edge of their column


class DoesNotFit(ValueError):
    """No standard scale brings this bowl on to the sheet asked for."""


@dataclass(slots=True)
class Column:
    """A strip of paper that is filled from its top."""

    left: float
    top: float
    bottom: float

    @property
    def left_over(self) -> float:
        return self.top - self.bottom


@dataclass(frozen=True, slots=True)
class Area:
    """Paper for views."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def height(self) -> float:
        return self.top - self.bottom


def has_column(size: Paper) -> bool:
    """Whether tables and notes stand beside the views, not under them."""
    return size.right - size.left > 2.0 * COLUMN


def in_rows(blocks: Sequence[Block], area: Area, taken: float) -> tuple[list[list[Block]], list[Block]]:
    """Blocks in rows under something `taken` high, and those for which there is no room."""
    rows: list[list[Block]] = []
    rest: list[Block] = []
    for block in blocks:
        if (
            rows
            and _width([*rows[-1], block]) <= area.width
            and _height([*rows[:-1], [*rows[-1], block]], taken) <= (area.height)
        ):
            rows[-1].append(block)
        elif block.width + 2.0 * AIR <= area.width and _height([*rows, [block]], taken) <= area.height:
            rows.append([block])
        else:
            rest.append(block)
    return rows, rest


def spread(rows: Sequence[Sequence[Block]], area: Area, taken: float) -> tuple[list[Item], float]:
    """Rows drawn from the bottom up with even gaps, and the bottom of what stands `taken` high over them."""
    gap = (area.height - _height(rows, taken)) / (len(rows) + 2) + AIR
    items: list[Item] = []
    y = area.bottom + gap
    for row in reversed(rows):
        tall = max(block.height for block in row)
        between = (area.width - sum(block.width for block in row)) / (len(row) + 1)
        x = area.left + between
        for block in row:
            items += block.draw(x, y + tall)
            x += block.width + between
        y += tall + gap
    return items, y


def filled(column: Column, blocks: Sequence[Block | Table], items: list[Item]) -> list[Block | Table]:
    """Draw blocks from the column's top down; returns what is left, tables cut where they must be."""
    rest = list(blocks)
    while rest:
        head = rest[0]
        if isinstance(head, Table):
            rows = head.rows_in(column.left_over)
            if rows < min(LEAST_ROWS, len(head.rows)):
                return rest
            block = head.first(rows)
            rest[0:1] = [head.beyond(rows)] if rows < len(head.rows) else []
        else:
            block = head
            if block.height > column.left_over:
                return rest
            rest.pop(0)
        middle = 0.0 if isinstance(head, Table) else max(0.0, 0.5 * (COLUMN - block.width) - INSET)
        items += block.draw(column.left + INSET + middle, column.top)
        column.top -= block.height + AIR
    return []


def further(rest: Sequence[Block | Table], size: Paper) -> list[list[Item]]:
    """The items of further sheets, in columns; the last column ends over the title block."""
    pages: list[list[Item]] = []
    left_over = list(rest)
    while left_over:
        items: list[Item] = []
        before = len(left_over), _rows(left_over)
        count = max(1, int((size.right - size.left) // (COLUMN + 2.0)))
        gap = (size.right - size.left - count * COLUMN) / count
        for k in range(count):
            left = size.left + 0.5 * gap + k * (COLUMN + gap) if count > 1 else size.right - COLUMN
            bottom = size.bottom + AIR + (HEIGHT if left + COLUMN > size.right - COLUMN else 0.0)
            left_over = filled(Column(left, size.top - AIR, bottom), left_over, items)
        if (len(left_over), _rows(left_over)) == before:
            raise DoesNotFit("A part of the drawing is larger than the sheet.")
        pages.append(items)
    return pages


def _width(row: Sequence[Block]) -> float:
    return sum(block.width for block in row) + AIR * (len(row) + 1)


def _height(rows: Sequence[Sequence[Block]], taken: float) -> float:
    return taken + sum(max(block.height for block in row) for row in rows) + AIR * (len(rows) + 2)


def _rows(rest: Sequence[Block | Table]) -> int:
    return sum(len(b.rows) for b in rest if isinstance(b, Table))

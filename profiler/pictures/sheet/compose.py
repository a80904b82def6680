"""The drawing put together: which sheet and scale, where each part stands, what runs on to further sheets.

Every candidate is drawn and looked at: one whose texts meet, or leave the frame, is passed over for the next scale and
then the next larger sheet.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from profiler.assess import Evaluation
from profiler.assess.shape.shape_stage import Shape
from profiler.pictures.sheet.blocks import Block, Table, lines_block
from profiler.pictures.sheet.clashes import clashes
from profiler.pictures.sheet.groove_detail import detail_scales, groove_detail
from profiler.pictures.sheet.items import Item, Pen, Sheet, Text, View, rectangle
from profiler.pictures.sheet.notes import not_checked, notes_of
from profiler.pictures.sheet.papers import PAPERS, SCALES, Paper, frame_items, paper, scale_named, scale_text
from profiler.pictures.sheet.schedules import groove_table, wall_table
from profiler.pictures.sheet.section_view import ROOM_BOTTOM, ROOM_LEFT, extent, section_view
from profiler.pictures.sheet.title_block import HEIGHT, WIDTH, SheetFacts, TitleFields, title_block
from profiler.study import Design

AIR = 6.0
COLUMN = WIDTH
LEAST_VIEW = 150.0  # mm on paper, below which the next larger sheet is tried
LEAST_ROWS = 4
ROOMY = 30.0  # mm that view and detail share between them and the frame
INSET = 2.0  # of tables and notes from the edge of their column


@dataclass(frozen=True, slots=True)
class DrawingOptions:
    """Sheet size and scale by hand (None: chosen), and the title block's fields."""

    size: str | None = None
    scale: str | None = None
    fields: TitleFields = field(default_factory=TitleFields)


class DoesNotFit(ValueError):
    """No standard scale brings this bowl on to the sheet asked for."""


@dataclass(frozen=True, slots=True)
class Drawing:
    """One or more sheets; the first has the main view."""

    sheets: tuple[Sheet, ...]
    size: Paper
    scale: float


def drawing(e: Evaluation, options: DrawingOptions = DrawingOptions()) -> Drawing:
    """The drawing of an evaluated design. Raises DoesNotFit, or ValueError where there is no shape."""
    if e.shape is None:
        raise ValueError("there is no shape to draw")
    for size, scale in _candidates(e.shape, options):
        found = _composed(e, e.shape, options, size, scale)
        if found is not None:
            return found
    asked = " at ".join(t for t in (options.size, options.scale) if t) or "any standard sheet"
    raise DoesNotFit(f"This bowl cannot be drawn legibly on {asked}.")


def said_by_itself(design: Design) -> dict[str, str]:
    """What the title block says in fields that were left empty."""
    material = design.body.material
    return {
        "title": f"Bowl: {design.name}",
        "status": "for review",
        "material": "" if material is None else material.name,
    }


def _candidates(shape: Shape, options: DrawingOptions) -> list[tuple[Paper, float]]:
    """Smaller sheets and larger scales first; where both are free, views under LEAST_VIEW after all others."""
    sizes = (paper(options.size),) if options.size else PAPERS[1:]
    scales = (scale_named(options.scale),) if options.scale else SCALES
    found = [(size, scale) for size in sizes for scale in scales if _has_room(shape, size, scale)]
    if options.size or options.scale:
        return found
    return sorted(found, key=lambda candidate: not _is_large_enough(shape, candidate[1]))


def _has_room(shape: Shape, size: Paper, scale: float) -> bool:
    room_x, room_y = _view_room(size)
    width, height = extent(shape).paper(scale)
    return width <= room_x and height <= room_y


def _is_large_enough(shape: Shape, scale: float) -> bool:
    reach = extent(shape)
    return max(2.0 * reach.radius, reach.high - reach.low) * scale >= LEAST_VIEW


def _has_column(size: Paper) -> bool:
    """Whether tables and notes stand beside the view, not under it."""
    return size.right - size.left > 2.0 * COLUMN


def _view_room(size: Paper) -> tuple[float, float]:
    if _has_column(size):
        return size.right - size.left - COLUMN - 2.0 * AIR, size.top - size.bottom - 2.0 * AIR
    return size.right - size.left - 2.0 * AIR, size.top - size.bottom - HEIGHT - 70.0


@dataclass(slots=True)
class _Column:
    """A strip of paper that is filled from its top."""

    left: float
    top: float
    bottom: float

    @property
    def left_over(self) -> float:
        return self.top - self.bottom


def _composed(e: Evaluation, shape: Shape, options: DrawingOptions, size: Paper, scale: float) -> Drawing | None:
    """The drawing at a scale on a size, its detail as large as one sheet allows; None where texts would meet."""
    best: Drawing | None = None
    for detail in _details(shape, size, scale):
        found = _laid(e, shape, options, size, scale, detail)
        if found is None or any(clashes(sheet) for sheet in found.sheets):
            continue
        if len(found.sheets) == 1:
            return found
        if best is None or len(found.sheets) < len(best.sheets):
            best = found
    return best


@dataclass(frozen=True, slots=True)
class _Detail:
    """The enlarged groove and where it goes: into the tables' column, else under the view; or on a later sheet."""

    block: Block
    in_column: bool
    may_run_on: bool


def _details(shape: Shape, size: Paper, scale: float) -> Iterator[_Detail | None]:
    """The detail at its scales, the largest first."""
    if not len(shape.mouths):
        yield None
        return
    beside = _has_column(size)
    scales = detail_scales(shape, len(shape.mouths) // 2, scale)
    for enlarged in scales:
        block = groove_detail(shape, len(shape.mouths) // 2, enlarged)
        if beside:
            yield _Detail(block, True, False)
        yield _Detail(block, False, not beside or enlarged == scales[-1])


def _laid(
    e: Evaluation, shape: Shape, options: DrawingOptions, size: Paper, scale: float, detail: _Detail | None
) -> Drawing | None:
    items, floor = _notes(e, shape, size)
    beside = _has_column(size)
    view_floor = size.bottom if beside else floor
    under = detail.block if detail is not None and not detail.in_column else None
    view, pending = _place_view(shape, size, scale, view_floor, under, items)
    if view is None or (pending and detail is not None and not detail.may_run_on):
        return None
    tables: list[Block | Table] = [wall_table(shape)]
    tables += [groove_table(e, shape)] if len(shape.mouths) else []
    rest = [*pending, *tables]
    if beside:
        column = _Column(size.right - COLUMN, size.top - AIR, floor + AIR)
        rest = _fill(column, rest, items)
        if detail is not None and detail.in_column:
            block = detail.block
            spare = column.left_over - block.height
            if rest or spare < AIR or block.width > COLUMN:
                return None
            items += block.draw(column.left + 0.5 * (COLUMN - block.width), column.top - 0.5 * spare)
    items += section_view(shape, view, len(shape.mouths) // 2 if len(shape.mouths) else None)
    pages = [items, *_further(rest, size)]
    sheets = tuple(_sheet(e, options, size, scale, view, page, k, len(pages)) for k, page in enumerate(pages, 1))
    return Drawing(sheets, size, scale)


def _notes(e: Evaluation, shape: Shape, size: Paper) -> tuple[list[Item], float]:
    """Notes and statement over the title block, and where they end."""
    left = size.right - COLUMN
    lines = notes_of(e, shape, COLUMN - 2.0 * INSET)
    notes = lines_block(lines, "NOTES", COLUMN - 2.0 * INSET)
    floor = size.bottom + HEIGHT + AIR + notes.height
    items = notes.draw(left + INSET, floor)
    statement = not_checked(e)
    if statement:
        items += _statement(statement, left, floor + AIR)
        floor += AIR + 9.0
    return items, floor


def _place_view(
    shape: Shape, size: Paper, scale: float, floor: float, detail: Block | None, items: list[Item]
) -> tuple[View | None, list[Block | Table]]:
    """Where the main view lies; the detail is drawn under it where there is room, else handed on."""
    right = size.right - COLUMN if _has_column(size) else size.right
    width, height = extent(shape).paper(scale)
    spare_x, spare_y = right - size.left - width, size.top - floor - height
    if spare_x < 0.0 or spare_y < 0.0:
        return None, []
    pending: list[Block | Table] = []
    room_below = 0.5 * spare_y
    if detail is not None:
        if detail.height + ROOMY <= spare_y and detail.width <= right - size.left - 2.0 * AIR:
            spare_y -= detail.height
            middle = 0.5 * (size.left + right)
            items += detail.draw(middle - 0.5 * detail.width, floor + detail.height + 0.4 * spare_y)
            room_below = detail.height + 0.7 * spare_y
        else:
            pending.append(detail)
    x = size.left + 0.5 * spare_x + ROOM_LEFT + extent(shape).radius * scale
    y = floor + room_below + ROOM_BOTTOM - extent(shape).low * scale
    return View((x, y), scale), pending


def _statement(text: str, left: float, bottom: float) -> list[Item]:
    return [rectangle(left + 2.0, bottom, left + COLUMN - 2.0, bottom + 8.0, Pen.BOX),
            Text(left + 5.0, bottom + 2.2, text, 3.5, bold=True)]  # fmt: skip


def _fill(column: _Column, blocks: list[Block | Table], items: list[Item]) -> list[Block | Table]:
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
        items += block.draw(column.left + INSET, column.top)
        column.top -= block.height + AIR
    return []


def _further(rest: list[Block | Table], size: Paper) -> list[list[Item]]:
    """The items of further sheets, in columns; the last column ends over the title block."""
    pages: list[list[Item]] = []
    while rest:
        items: list[Item] = []
        before = len(rest), _rows(rest)
        count = max(1, int((size.right - size.left) // (COLUMN + 2.0)))
        gap = (size.right - size.left - count * COLUMN) / count
        for k in range(count):
            left = size.left + 0.5 * gap + k * (COLUMN + gap) if count > 1 else size.right - COLUMN
            bottom = size.bottom + AIR + (HEIGHT if left + COLUMN > size.right - COLUMN else 0.0)
            rest = _fill(_Column(left, size.top - AIR, bottom), rest, items)
        if (len(rest), _rows(rest)) == before:
            raise DoesNotFit("A part of the drawing is larger than the sheet.")
        pages.append(items)
    return pages


def _rows(rest: list[Block | Table]) -> int:
    return sum(len(b.rows) for b in rest if isinstance(b, Table))


def _sheet(
    e: Evaluation, options: DrawingOptions, size: Paper, scale: float, view: View, items: list[Item], k: int, of: int
) -> Sheet:
    fields = _filled(e, options.fields)
    mass = "-" if e.body is None else f"{e.body.mass_kg:.2f} kg"
    facts = SheetFacts("Part drawing", mass, scale_text(scale) if k == 1 else "-", size.name, k, of)
    block = title_block(fields, facts, size.right, size.bottom)
    return Sheet(size.width, size.height, (*frame_items(size), *items, *block), view, fields.title, size.frame)


def _filled(e: Evaluation, fields: TitleFields) -> TitleFields:
    """The fields with what the study itself says put into those left empty."""
    said = said_by_itself(e.design)
    return replace(
        fields,
        title=fields.title or said["title"],
        supplement=fields.supplement or f"for {e.machine.name}",
        material=fields.material or said["material"],
        status=fields.status or said["status"],
    )

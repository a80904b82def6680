"""The drawing put together: which sheet and scale, and what is drawn on it.

Every candidate is drawn and looked at: one whose texts meet, or leave the frame, is passed over for the next scale and
then the next larger sheet.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

import numpy as np

from profiler.assess import Evaluation
from profiler.assess.shape.bore_rings import Ring, rings_of
from profiler.assess.shape.shape_stage import Shape
from profiler.explore.what_changed import Changes
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit
from profiler.pictures.drawing.digits import Digits, digits_of
from profiler.pictures.drawing.fits import Fit, fits_of, fits_table
from profiler.pictures.drawing.groove_detail import Kind, detail_scales, groove_detail, kinds_of
from profiler.pictures.drawing.labels import LETTERS, NUMBER_PITCH
from profiler.pictures.drawing.layout import (
    AIR,
    COLUMN,
    INSET,
    Area,
    Column,
    DoesNotFit,
    filled,
    further,
    has_column,
    in_rows,
    spread,
)
from profiler.pictures.drawing.notes import not_checked, notes_of, units_words
from profiler.pictures.drawing.schedules import changes_table, groove_table, outside_table, revision_table, wall_table
from profiler.pictures.drawing.section_view import ROOM_BOTTOM, ROOM_LEFT, Said, extent, section_view
from profiler.pictures.drawing.title_block import HEIGHT, SheetFacts, TitleFields, title_block
from profiler.pictures.drawing.tolerances import Tolerances
from profiler.pictures.drawing.water_holes import developed_block, plan_block, staggered
from profiler.pictures.sheet.blocks import Block, Table, lines_block, table_in
from profiler.pictures.sheet.clashes import clashes
from profiler.pictures.sheet.items import Item, Pen, Sheet, Text, View, rectangle
from profiler.pictures.sheet.papers import PAPERS, SCALES, Paper, frame_items, paper, scale_named, scale_text
from profiler.study import Design

LEAST_VIEW = 150.0  # mm on paper, below which the next larger sheet is tried, but for
LEAST_NUMBERED = 100.0  # a view in which every groove has room for its number
MOST_DETAILS = 6
NOTES_FOLLOW = "all notes, the CAUTION first of all, are on sheet 2."


@dataclass(frozen=True, slots=True)
class DrawingOptions:
    """Sheet size and scale by hand (None: chosen), the title block's fields, the tolerances chosen."""

    size: str | None = None
    scale: str | None = None
    fields: TitleFields = field(default_factory=TitleFields)
    tolerances: Tolerances = field(default_factory=Tolerances)
    asked: tuple[str, ...] = ()  # notes of the designer's own, as entered
    changes: Changes | None = None  # against an earlier revision
    lengths: LengthUnit = MILLIMETRES  # else every measure and table is in both


@dataclass(frozen=True, slots=True)
class Drawing:
    """One or more sheets; the first has the main view."""

    sheets: tuple[Sheet, ...]
    size: Paper
    scale: float


@dataclass(frozen=True, slots=True)
class _Candidate:
    """A sheet size and scale to be tried; `alone`: taken only where everything stands on one sheet."""

    size: Paper
    scale: float
    alone: bool = False


@dataclass(frozen=True, slots=True)
class _Content:
    """What is drawn whatever the sheet."""

    e: Evaluation
    shape: Shape
    options: DrawingOptions
    digits: Digits
    fits: tuple[Fit, ...]
    kinds: tuple[Kind, ...]
    rings: tuple[Ring, ...]  # of water holes
    tables: tuple[Table, ...]
    notes: Block


def drawing(e: Evaluation, options: DrawingOptions = DrawingOptions()) -> Drawing:
    """The drawing of an evaluated design. Raises DoesNotFit, or ValueError where there is no shape."""
    if e.shape is None:
        raise ValueError("there is no shape to draw")
    content = _content(e, e.shape, options)
    for candidate in _candidates(e.shape, options):
        found = _composed(content, candidate)
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


def _candidates(shape: Shape, options: DrawingOptions) -> list[_Candidate]:
    """Smaller sheets and larger scales first; where both are free, views too small to be read after all others.

    A4 is drawn where it is asked for: it has no room for the tables beside a view that can be read.
    """
    sizes = (paper(options.size),) if options.size else PAPERS[1:]
    scales = (scale_named(options.scale),) if options.scale else SCALES
    found = [(size, scale) for size in sizes for scale in scales if _has_room(shape, size, scale)]
    if options.size or options.scale:
        return [_Candidate(size, scale) for size, scale in found]
    read = [_Candidate(size, scale, not _is_large(shape, scale)) for size, scale in found if _is_read(shape, scale)]
    return read + [_Candidate(size, scale) for size, scale in found if not _is_read(shape, scale)]


def _has_room(shape: Shape, size: Paper, scale: float) -> bool:
    room_x, room_y = _view_room(size)
    width, height = extent(shape).paper(scale)
    return width <= room_x and height <= room_y


def _is_large(shape: Shape, scale: float) -> bool:
    return _view_size(shape, scale) >= LEAST_VIEW


def _is_read(shape: Shape, scale: float) -> bool:
    """Whether a view is large, or in a smaller one every groove has room for its number."""
    apart = np.diff(shape.mouths.middle) * scale
    return _is_large(shape, scale) or (
        _view_size(shape, scale) >= LEAST_NUMBERED and float(np.min(apart, initial=NUMBER_PITCH)) >= NUMBER_PITCH
    )


def _view_size(shape: Shape, scale: float) -> float:
    reach = extent(shape)
    return max(2.0 * reach.radius, reach.high - reach.low) * scale


def _view_room(size: Paper) -> tuple[float, float]:
    if has_column(size):
        return size.right - size.left - COLUMN - 2.0 * AIR, size.top - size.bottom - 2.0 * AIR
    return size.right - size.left - 2.0 * AIR, size.top - size.bottom - HEIGHT - 25.0


def _content(e: Evaluation, shape: Shape, options: DrawingOptions) -> _Content:
    digits, fits = digits_of(shape, options.lengths), fits_of(shape, e.machine, options.tolerances)
    tables = [wall_table(shape, digits), outside_table(shape, digits), fits_table(fits, digits)]
    rings = rings_of(shape.holes)
    tables += [groove_table(shape, digits, rings)] if len(shape.mouths) else []
    tables += [revision_table(options.fields)] if options.fields.revision or options.fields.earlier else []
    tables += [changes_table(options.changes)] if options.changes is not None else []
    tables += [other for t in tables if (other := table_in(t, options.lengths)) is not t and not options.lengths.is_mm]
    width = COLUMN - 2.0 * INSET
    said = notes_of(e, shape, options.tolerances, options.asked, width, lengths=options.lengths)
    notes = lines_block(said, "NOTES", width)
    kinds = kinds_of(shape)
    beside = sorted(number for kind in kinds[MOST_DETAILS:] for number in kind.numbers)
    shown = tuple(replace(kind, beside=() if k else tuple(beside)) for k, kind in enumerate(kinds[:MOST_DETAILS]))
    return _Content(e, shape, options, digits, tuple(fits), shown, tuple(rings), tuple(tables), notes)


def _composed(content: _Content, candidate: _Candidate) -> Drawing | None:
    """The drawing at a scale on a size, its details as large as one sheet allows; None where texts would meet."""
    if candidate.alone and not _holds_all(content, candidate.size):
        return None
    best: Drawing | None = None
    for details in _details(content, candidate.scale):
        try:
            found = _laid(content, candidate, details)
        except DoesNotFit:
            continue  # a table or a detail is larger than this sheet
        if found is None or any(clashes(sheet) for sheet in found.sheets):
            continue
        if len(found.sheets) == 1:
            return found
        if best is None or len(found.sheets) < len(best.sheets):
            best = found
    return best


def _holds_all(content: _Content, size: Paper) -> bool:
    """Whether the column over the title block has room for notes and tables."""
    tables = sum(table.height_of(len(table.rows)) + AIR for table in content.tables)
    return size.bottom + HEIGHT + AIR + content.notes.height + tables <= size.top


def _details(content: _Content, scale: float) -> Iterator[list[Block]]:
    """The enlarged grooves, a block for each kind: all as large as is handy first, then smaller."""
    shape, kinds = content.shape, content.kinds
    scales = [detail_scales(shape, kind.index, scale) for kind in kinds]
    of_holes = _hole_views(content)
    holed = [next((r for r in content.rings if r.groove == kind.index + 1), None) for kind in kinds]
    for rank in range(max(map(len, scales), default=1)):
        grooves = [
            groove_detail(shape, kind, each[min(rank, len(each) - 1)], letter, content.digits, hole)
            for letter, kind, each, hole in zip(LETTERS, kinds, scales, holed, strict=False)
        ]
        yield [*grooves, *of_holes]


def _hole_views(content: _Content) -> list[Block]:
    """The commonest kind of hole seen from the lip, and all rolled out where rings differ."""
    if not content.rings:
        return []
    plan, rolled = (LETTERS[len(content.kinds) + k] for k in (0, 1))
    kinds = [(ring.count, ring.diameter, ring.skew) for ring in content.rings]
    shown = content.rings[kinds.index(max(kinds, key=kinds.count))]
    views = [plan_block(shown, content.e.machine.turning, plan)]
    return [*views, developed_block(content.rings, rolled)] if staggered(content.rings) else views


def _laid(content: _Content, candidate: _Candidate, details: list[Block]) -> Drawing | None:
    size, scale = candidate.size, candidate.scale
    beside = has_column(size)
    reach = extent(content.shape)
    width, height = reach.paper(scale)
    items, floor = _notes(content, size, content.notes)
    moved = not beside and height > size.top - floor  # the notes then lead the second sheet
    if moved:
        items, floor = _notes(
            content,
            size,
            lines_block((f"{units_words(content.options.lengths)}; {NOTES_FOLLOW}",), "NOTES", COLUMN - 2.0 * INSET),
        )
    right = size.right - COLUMN if beside else size.right
    area = Area(size.left, size.bottom if beside else floor, right, size.top)
    if width > area.width or height > area.height:
        return None
    rows, pending = in_rows(details, area, height)
    drawn, foot = spread(rows, area, height)
    items += drawn
    x = area.left + 0.5 * (area.width - width) + ROOM_LEFT + reach.radius * scale
    view = View((x, foot + ROOM_BOTTOM - reach.low * scale), scale)
    rest: list[Block | Table] = [*((content.notes,) if moved else ()), *content.tables, *pending]
    if beside:
        rest = filled(Column(size.right - COLUMN, size.top - AIR, floor + AIR), rest, items)
    if candidate.alone and rest:
        return None
    shown = tuple(kind.index for kind in content.kinds)
    said = Said(content.digits, content.fits, shown, area.left + AIR, content.rings)
    items += section_view(content.shape, view, said)
    pages = [items, *further(rest, size)]
    sheets = tuple(_sheet(content, size, scale, view, page, k, len(pages)) for k, page in enumerate(pages, 1))
    return Drawing(sheets, size, scale)


def _notes(content: _Content, size: Paper, notes: Block) -> tuple[list[Item], float]:
    """Notes and statement over the title block, and where they end."""
    left = size.right - COLUMN
    floor = size.bottom + HEIGHT + AIR + notes.height
    items = notes.draw(left + INSET, floor)
    statement = not_checked(content.e)
    if statement:
        items += _statement(statement, left, floor + AIR)
        floor += AIR + 9.0
    return items, floor


def _statement(text: str, left: float, bottom: float) -> list[Item]:
    return [rectangle(left + 2.0, bottom, left + COLUMN - 2.0, bottom + 8.0, Pen.BOX),
            Text(left + 5.0, bottom + 2.2, text, 3.5, bold=True)]  # fmt: skip


def _sheet(content: _Content, size: Paper, scale: float, view: View, items: list[Item], k: int, of: int) -> Sheet:
    e = content.e
    fields = _filled(e, content.options.fields)
    mass = "-" if e.body is None else _mass_words(e.body.mass_kg)
    general = f"{content.options.tolerances.general} unless stated"
    facts = SheetFacts("Part drawing", general, mass, scale_text(scale) if k == 1 else "-", size.name, k, of)
    block = title_block(fields, facts, size.right, size.bottom)
    return Sheet(size.width, size.height, (*frame_items(size), *items, *block), view, fields.title, size.frame)


def _mass_words(kilograms: float) -> str:
    """In grams where hundredths of a kilogram would say too little."""
    return f"{kilograms:.2f} kg" if kilograms >= 1.0 else f"{1000.0 * kilograms:.3g} g"


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

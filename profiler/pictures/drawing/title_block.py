"""The title block: fields after ISO 7200:2004, 180 mm wide, in the lower right corner; and the projection symbol.

Field names and lengths are the standard's; their arrangement is this program's. Empty fields show a dash.
"""

from dataclasses import dataclass

from profiler.pictures.sheet.items import Item, Pen, Text, circle, polyline, rectangle
from profiler.pictures.sheet.lettering import fitting

WIDTH, HEIGHT = 180.0, 46.0


@dataclass(frozen=True, slots=True)
class TitleFields:
    """What the person who draws says; the rest comes from the design."""

    owner: str = ""  # legal owner
    number: str = ""  # identification number
    title: str = ""
    supplement: str = ""
    creator: str = ""
    approved: str = ""
    date: str = ""  # of issue, ISO 8601
    revision: str = ""
    change: str = ""  # what this revision changes
    earlier: str = ""  # revisions before it, parted by semicolons
    status: str = ""
    material: str = ""
    language: str = "en"
    third_angle: bool = False


@dataclass(frozen=True, slots=True)
class SheetFacts:
    document_type: str
    tolerances: str
    mass: str
    scale: str
    size: str
    sheet: int
    sheets: int


@dataclass(frozen=True, slots=True)
class _Cell:
    left: float
    bottom: float
    width: float
    height: float
    label: str
    value: str
    sizes: tuple[float, ...] = (3.5, 2.5, 1.8)


def title_block(fields: TitleFields, facts: SheetFacts, right: float, bottom: float) -> list[Item]:
    """The block whose lower right corner is given."""
    left = right - WIDTH
    items: list[Item] = [rectangle(left, bottom, right, bottom + HEIGHT, Pen.BOX)]
    for cell in _cells(fields, facts):
        items += _draw(cell, left, bottom)
    items += projection_symbol(left + 28.0, bottom + 4.7, fields.third_angle)
    return items


def _cells(f: TitleFields, s: SheetFacts) -> tuple[_Cell, ...]:
    small = (2.5, 1.8)
    return (
        _Cell(0.0, 37.0, 58.0, 9.0, "Material", f.material, small),
        _Cell(58.0, 37.0, 40.0, 9.0, "Created by", f.creator, small),
        _Cell(98.0, 37.0, 40.0, 9.0, "Approved by", f.approved, small),
        _Cell(138.0, 37.0, 42.0, 9.0, "Document status", f.status, small),
        _Cell(0.0, 28.0, 58.0, 9.0, "General tolerances", s.tolerances, small),
        _Cell(58.0, 28.0, 58.0, 9.0, "Document type", s.document_type, small),
        _Cell(116.0, 28.0, 32.0, 9.0, "Mass", s.mass, small),
        _Cell(148.0, 28.0, 32.0, 9.0, "Scale", s.scale),
        _Cell(0.0, 10.0, 58.0, 18.0, "Legal owner", f.owner, (5.0, 3.5, 2.5, 1.8)),
        _Cell(58.0, 18.0, 74.0, 10.0, "Title", f.title, (3.5, 2.5, 1.8)),
        _Cell(58.0, 10.0, 74.0, 8.0, "", f.supplement, small),
        _Cell(132.0, 10.0, 48.0, 18.0, "Identification number", f.number, (5.0, 3.5, 2.5, 1.8)),
        _Cell(0.0, 0.0, 58.0, 10.0, "Projection", ""),
        _Cell(58.0, 0.0, 16.0, 10.0, "Rev.", f.revision),
        _Cell(74.0, 0.0, 42.0, 10.0, "Date of issue", f.date),
        _Cell(116.0, 0.0, 16.0, 10.0, "Lang.", f.language),
        _Cell(132.0, 0.0, 18.0, 10.0, "Size", s.size),
        _Cell(150.0, 0.0, 30.0, 10.0, "Sheet", f"{s.sheet} / {s.sheets}"),
    )


def _draw(cell: _Cell, left: float, bottom: float) -> list[Item]:
    x, y = left + cell.left, bottom + cell.bottom
    items: list[Item] = []
    if cell.label or cell.left != 58.0:
        items.append(rectangle(x, y, x + cell.width, y + cell.height, Pen.RULE))
    if cell.label:
        items.append(Text(x + 1.0, y + cell.height - 2.7, cell.label, 1.8))
    if cell.label == "Projection":
        return items
    value, size = fitting(cell.value or ("-" if cell.label else ""), cell.width - 3.0, cell.sizes)
    room = cell.height - (3.4 if cell.label else 0.0)
    if value:
        items.append(Text(x + 1.5, y + max(0.5 * (room - size), 0.38 * size), value, size))
    return items


def projection_symbol(x: float, y: float, third_angle: bool, height: float = 2.5) -> list[Item]:
    """ISO 5456-2: a truncated cone and its two circles; in first angle the cone stands at the left.

    (x, y) is the middle. Circles h and 2h across, cone 2h long; the proportions are not yet checked against
    the standard, and mean nothing.
    """
    h = height
    cone, rings = (x - 2.0 * h, x + 2.0 * h) if not third_angle else (x + 2.0 * h, x - 2.0 * h)
    # the circles are the cone seen from the left, where its narrow end must be, since both of them are visible
    outline = [(cone - h, y - 0.5 * h), (cone + h, y - h), (cone + h, y + h), (cone - h, y + 0.5 * h)]
    items: list[Item] = [polyline(outline, Pen.TEXT, closed=True)]
    items += [circle(rings, y, r, Pen.TEXT) for r in (0.5 * h, h)]
    marks = [[(cone - 1.6 * h, y), (cone + 1.6 * h, y)], [(rings - 1.5 * h, y), (rings + 1.5 * h, y)],
             [(rings, y - 1.5 * h), (rings, y + 1.5 * h)]]  # fmt: skip
    return items + [polyline(pair, Pen.MARK) for pair in marks]

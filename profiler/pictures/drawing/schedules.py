"""The tables of a drawing: the pieces of wall and outside with their angles and radii, and the grooves."""

from collections.abc import Sequence
from itertools import zip_longest

import numpy as np

from profiler.assess.shape.bore_rings import Ring
from profiler.assess.shape.shape_stage import Shape
from profiler.explore.what_changed import Changes
from profiler.geometry.wall import Wall
from profiler.pictures.drawing.digits import Digits, alike, fixed, radii_of, told_pieces
from profiler.pictures.drawing.title_block import TitleFields
from profiler.pictures.drawing.water_holes import hole_columns
from profiler.pictures.sheet.blocks import LETTER, Table
from profiler.pictures.sheet.lettering import cut, wrapped


def wall_table(shape: Shape, digits: Digits) -> Table:
    """A row per arc or straight line of the wall, from the floor up."""
    return _pieces("WALL", shape.wall, digits)


def outside_table(shape: Shape, digits: Digits) -> Table:
    """The same of the outside, from the underside of the floor plate to that of the lip flange."""
    return _pieces("OUTSIDE", shape.shell.outer, digits)


def _pieces(title: str, wall: Wall, digits: Digits) -> Table:
    told = told_pieces(wall)
    radii = radii_of(wall)[told]
    ends = np.append(told[1:], len(wall.height) - 1)  # each goes on to where the next begins
    starts = np.insert(told[1:], 0, 0)
    columns = (
        alike(wall.height[starts], digits.height), alike(wall.height[ends], digits.height),
        alike(2.0 * wall.radius[starts], digits.diameter), alike(2.0 * wall.radius[ends], digits.diameter),
        alike(np.degrees(wall.lower)[told], digits.angle), alike(np.degrees(wall.upper)[told], digits.angle),
    )  # fmt: skip
    named = ["straight" if r == 0.0 else f"R{fixed(r, digits.of_radius(r))}" for r in np.abs(radii).tolist()]
    sides = ["-" if r == 0.0 else "outer side" if r > 0.0 else "axis side" for r in radii]
    numbers = [str(i) for i in range(1, len(radii) + 1)]
    rows = tuple(zip(numbers, *columns, named, sides, strict=True))
    heads = ("Piece", "from height", "to height", "Ø from", "Ø to", "angle at", "angle at", "radius", "centre on")
    units = ("", "mm", "mm", "mm", "mm", "foot, °", "top, °", "mm", "")
    widths = (12.0, 24.0, 20.0, 20.0, 20.0, 18.0, 18.0, 24.0, 20.0)
    return Table(title, widths, heads, units, rows)


def groove_table(shape: Shape, digits: Digits, rings: Sequence[Ring]) -> Table:
    """A row per groove, from the floor up, with its ring of water holes where any are planned."""
    mouths, cut = shape.mouths, shape.cut
    middle = mouths.middle
    columns = (
        alike(middle, digits.height), alike(2.0 * shape.wall.radius_at(middle), digits.diameter),
        alike(cut.mouth, digits.mouth), alike(cut.depth, digits.depth),
        alike(np.degrees(shape.wall.angle_at(middle)), digits.angle),
        *(hole_columns(rings, len(mouths), digits) if rings else ()),
    )  # fmt: skip
    numbers = [str(k) for k in range(1, len(mouths) + 1)]
    rows = tuple(zip(numbers, *columns, strict=True))
    heads = ("No.", "height, mm", "Ø, mm", "mouth", "depth", "wall, °", "holes", "axis at", "first hole", "skew")
    units = ("", "mid-mouth", "mid-mouth", "mm", "mm", "to axis", "mm", "mm", "° off datum", "°")
    widths = (9.0, 21.5, 21.5, 13.0, 13.0, 15.0, 24.0, 17.0, 24.0, 18.0)
    count = 1 + len(columns)
    return Table("GROOVES", widths[:count], heads[:count], units[:count], rows)


def revision_table(fields: TitleFields) -> Table:
    """The revision this drawing is of, above it those before, the oldest at the top."""
    row = (fields.revision, fields.date or "-", fields.change or "-", fields.creator or "-", fields.approved or "-")
    before = tuple((rev, date or "-", words or "-", "-", "-") for rev, date, words in earlier_revisions(fields.earlier))
    heads = ("Rev.", "date", "change", "by", "approved")
    return Table("REVISIONS", (14.0, 24.0, 84.0, 27.0, 27.0), heads, ("",) * 5, (*before, row))


def earlier_revisions(text: str) -> list[tuple[str, str, str]]:
    """Revision, date and change of each that was entered, parted by semicolons: 'A 2026-01-31 first issue; B holes'.

    >>> earlier_revisions("A 2026-01-31 first issue; B holes added")
    [('A', '2026-01-31', 'first issue'), ('B', '', 'holes added')]
    """
    found = []
    for part in filter(None, map(str.strip, text.split(";"))):
        revision, _, rest = part.partition(" ")
        date, _, change = rest.strip().partition(" ")
        dated = len(date) == 10 and date[4] == date[7] == "-"
        found.append((revision, date, change.strip()) if dated else (revision, "", rest.strip()))
    return found


def changes_table(changes: Changes) -> Table:
    """What differs from an earlier revision."""
    widths = (64.0, 56.0, 56.0)
    rows: list[tuple[str, ...]] = []
    for c in changes.every:
        cells = [
            wrapped(text, LETTER, width - 2.0) for text, width in zip((c.what, c.before, c.now), widths, strict=True)
        ]
        rows += zip_longest(*cells, fillvalue="")
    title = f"CHANGES SINCE {cut(changes.file, 3.5, 110.0, bold=True)}"
    return Table(title, widths, ("what", "before", "now"), ("",) * 3, tuple(rows) or (("nothing differs", "-", "-"),))

"""The tables of a drawing: the wall's pieces with their angles and radii, and the grooves."""

from math import degrees

import numpy as np

from ...assess import Evaluation
from ...assess.shape import Shape
from .blocks import Table
from .dimensions import number

STRAIGHT = 1e-9


def wall_table(shape: Shape) -> Table:
    """A row per arc or straight line of the wall, from the floor up."""
    wall = shape.wall
    rows = []
    for i, k in enumerate(wall.curvature()):
        straight = abs(float(k)) < STRAIGHT
        radius = "straight" if straight else f"R{number(1.0 / abs(float(k)))}"
        side = "-" if straight else "body side" if k > 0.0 else "axis side"
        ends = (wall.height[i], wall.height[i + 1])
        wide = (2.0 * wall.radius[i], 2.0 * wall.radius[i + 1])
        turns = (degrees(wall.lower[i]), degrees(wall.upper[i]))
        cells = (*(number(float(z), 3) for z in ends), *(number(float(d), 3) for d in wide))
        rows.append((str(i + 1), *cells, *(number(t, 3) for t in turns), radius, side))
    heads = ("Piece", "from height", "to height", "Ø from", "Ø to", "angle at", "angle at", "radius", "centre on")
    units = ("", "mm", "mm", "mm", "mm", "foot, °", "top, °", "mm", "")
    widths = (12.0, 24.0, 20.0, 20.0, 20.0, 18.0, 18.0, 24.0, 20.0)
    return Table("WALL", widths, heads, units, tuple(rows))


def groove_table(e: Evaluation, shape: Shape) -> Table:
    """A row per groove, from the floor up."""
    mouths, cut = shape.mouths, shape.cut
    middle = mouths.middle
    columns = (
        np.arange(1, len(mouths) + 1), middle, 2.0 * shape.wall.radius_at(middle), cut.mouth, cut.depth,
        np.degrees(shape.wall.angle_at(middle)),
    )  # fmt: skip
    holes = holes_texts(e, shape)
    rows = tuple((*(number(float(v), 3) for v in line), text) for *line, text in zip(*columns, holes, strict=True))
    heads = ("No.", "height", "Ø", "mouth", "depth", "wall angle", "water holes")
    units = ("", "mid-mouth", "mid-mouth", "mm", "mm", "° to axis", "")
    return Table("GROOVES", (12.0, 28.0, 28.0, 22.0, 22.0, 24.0, 40.0), heads, units, rows)


def holes_texts(e: Evaluation, shape: Shape) -> tuple[str, ...]:
    """Number, diameter and skew of each groove's ring of water holes."""
    plan = e.design.holes
    if not plan.is_given:
        return ("-",) * len(shape.mouths)
    rings = (plan.ring(int(place)) for place in shape.place)
    return tuple(_ring_text(*ring) for ring in rings)


def _ring_text(count: int, diameter: float, skew: float) -> str:
    if not count:
        return "none"
    return f"{count}x Ø{number(diameter)}{f' at {number(skew)}°' if skew else ''}"

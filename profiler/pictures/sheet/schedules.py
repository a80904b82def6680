"""The tables of a drawing: the wall's pieces with their angles and radii, and the grooves."""

import numpy as np

from profiler.assess import Evaluation
from profiler.assess.shape.shape_stage import Shape
from profiler.geometry.chain import FloatArray
from profiler.pictures.sheet.blocks import Table
from profiler.pictures.sheet.dimensions import number

STRAIGHT = 1e-9


def wall_table(shape: Shape) -> Table:
    """A row per arc or straight line of the wall, from the floor up."""
    wall = shape.wall
    columns = (
        wall.height[:-1], wall.height[1:], 2.0 * wall.radius[:-1], 2.0 * wall.radius[1:], np.degrees(wall.lower),
        np.degrees(wall.upper),
    )  # fmt: skip
    radii = [0.0 if abs(float(k)) < STRAIGHT else 1.0 / float(k) for k in wall.curvature()]
    shown = (f"R{r}" for r in alike(np.abs(radii)))
    named = ["straight" if r == 0.0 else text for r, text in zip(radii, shown, strict=True)]
    sides = ["-" if r == 0.0 else "body side" if r > 0.0 else "axis side" for r in radii]
    numbers = [str(i) for i in range(1, len(radii) + 1)]
    rows = tuple(zip(numbers, *(alike(column) for column in columns), named, sides, strict=True))
    heads = ("Piece", "from height", "to height", "Ø from", "Ø to", "angle at", "angle at", "radius", "centre on")
    units = ("", "mm", "mm", "mm", "mm", "foot, °", "top, °", "mm", "")
    widths = (12.0, 24.0, 20.0, 20.0, 20.0, 18.0, 18.0, 24.0, 20.0)
    return Table("WALL", widths, heads, units, rows)


def groove_table(e: Evaluation, shape: Shape) -> Table:
    """A row per groove, from the floor up."""
    mouths, cut = shape.mouths, shape.cut
    middle = mouths.middle
    columns = (
        middle, 2.0 * shape.wall.radius_at(middle), cut.mouth, cut.depth, np.degrees(shape.wall.angle_at(middle)),
    )  # fmt: skip
    numbers = [str(k) for k in range(1, len(mouths) + 1)]
    rows = tuple(zip(numbers, *(alike(column) for column in columns), holes_texts(e, shape), strict=True))
    heads = ("No.", "height, mm", "Ø, mm", "mouth", "depth", "wall angle", "water holes")
    units = ("", "mid-mouth", "mid-mouth", "mm", "mm", "° to axis", "")
    return Table("GROOVES", (12.0, 28.0, 28.0, 22.0, 22.0, 24.0, 40.0), heads, units, rows)


def alike(values: FloatArray) -> list[str]:
    """Numbers of a column, all with as many decimals as the one that needs most; two at most, so points line up."""
    needed = max((len(text.partition(".")[2]) for text in map(number, values.tolist())), default=0)
    return [f"{value + 0.0:.{needed}f}" for value in values.tolist()]


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

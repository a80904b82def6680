"""The main view: the full section through the axis, with its overall measures in fixed rows and columns round it.

What is written beside wall, outside and grooves is in `labels`.
"""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from profiler.assess.shape.bore_rings import Ring
from profiler.assess.shape.shape_stage import Shape
from profiler.pictures.drawing.digits import Digits
from profiler.pictures.drawing.fits import Fit
from profiler.pictures.drawing.labels import Labels
from profiler.pictures.drawing.water_holes import in_section
from profiler.pictures.sheet.items import Dimension, Hatch, Item, Path, Pen, Point, View, polyline
from profiler.pictures.sheet.lettering import text_width

FIRST, NEXT = 11.0, 9.0  # mm from the outline to the first dimension line, and on to the next
ROOM_TOP = FIRST + NEXT + 8.0
ROOM_BOTTOM = FIRST + 2.0 * NEXT + 6.0
ROOM_RIGHT = FIRST + 2.0 * NEXT + 6.0
ROOM_LEFT = 12.0
HEIGHT = 3.5  # of a measure's text
BESIDE = 1.0  # mm between a text and an extension line
LEAST_SHARP = 1e-3  # rad of turning that makes a visible edge


@dataclass(frozen=True, slots=True)
class Extent:
    """How far a section reaches, mm true."""

    radius: float
    low: float
    high: float

    def paper(self, scale: float) -> tuple[float, float]:
        """Width and height on paper, with the rows of measures."""
        width = 2.0 * self.radius * scale + ROOM_LEFT + ROOM_RIGHT
        return width, (self.high - self.low) * scale + ROOM_TOP + ROOM_BOTTOM


def extent(shape: Shape) -> Extent:
    points = shape.outline.points
    radius = max(float(points[:, 0].max()), float(shape.shell.flange_radius))
    return Extent(radius, float(points[:, 1].min()), float(points[:, 1].max()))


@dataclass(frozen=True, slots=True)
class Said:
    """What the view has to say besides its lines: decimals, classes of diameters, the letters of enlarged grooves."""

    digits: Digits
    fits: tuple[Fit, ...]
    details: tuple[int, ...]  # index of each groove that is drawn enlarged elsewhere, A first
    left: float  # mm on paper, beyond which nothing is said
    rings: tuple[Ring, ...] = ()  # of water holes


def section_view(shape: Shape, view: View, said: Said) -> list[Item]:
    """The view's items."""
    halves = [view.chain(half) for half in (shape.outline, shape.outline.mirrored())]
    items: list[Item] = [Path(half, Pen.OUTLINE) for half in halves]
    items += _edges_behind(shape, view)
    reach = extent(shape)
    ends = [view.point(0.0, z) for z in (reach.low, reach.high)]
    items.append(polyline([(ends[0][0], ends[0][1] - 5.0), (ends[1][0], ends[1][1] + 5.0)], Pen.CENTRE))
    items += in_section(said.rings, view)
    items += _measures(shape, view, reach, said)
    labels = Labels(shape, view, items, said.digits, said.details, said.left)
    return [*items, *labels.all(), Hatch(tuple(halves))]


def _edges_behind(shape: Shape, view: View) -> list[Item]:
    """Circles seen edge-on behind the section: lip, corners of the wall, hub hole. Groove edges are left out."""
    wall = shape.wall
    corners = np.flatnonzero(np.abs(wall.lower[1:] - wall.upper[:-1]) > LEAST_SHARP) + 1
    lower, upper = shape.contours.points[:, 0, 1], shape.contours.points[:, 7, 1]
    circles = [(float(wall.radius[i]), float(wall.height[i])) for i in corners
               if not np.any((lower < wall.height[i]) & (wall.height[i] < upper))]  # fmt: skip
    circles.append((shape.lip_radius, shape.height))
    circles += [(shape.shell.hub_radius, z) for z in (0.0, shape.shell.underside)]
    return [polyline([view.point(-r, z), view.point(r, z)], Pen.EDGE) for r, z in circles]


def _measures(shape: Shape, view: View, reach: Extent, said: Said) -> list[Item]:
    """Diameters above and below, heights at the right, from the outline outward."""
    shell, lip, digits = shape.shell, shape.height, said.digits
    top, bottom = view.point(0.0, reach.high)[1], view.point(0.0, reach.low)[1]
    right = view.point(reach.radius, 0.0)[0]
    grades = {(round(f.diameter, 6), f.height): f.class_words for f in said.fits}
    items: list[Item] = []

    def across(radius: float, z: float, y: float, outer: Sequence[float] = (), at: float | None = None) -> None:
        ends = view.point(-radius, z), view.point(radius, z)
        grade = grades.get((round(2.0 * radius, 6), z if at is None else at), "")
        text = f"Ø{digits.length(2.0 * radius, digits.diameter)} {grade}".rstrip()
        clear = _clear([(r - radius) * view.scale for r in outer], text_width(text, HEIGHT))
        items.append(Dimension(*ends, 0.0, (0.0, y), text, 1.0 / view.scale, height=HEIGHT, clear=clear))

    def upright(low: Point, high: Point, column: int) -> None:
        x = right + FIRST + NEXT * column
        text = digits.length(high[1] - low[1], digits.height)
        items.append(Dimension(view.point(*low), view.point(*high), 90.0, (x, 0.0), text, 1.0 / view.scale))

    foot, under = float(shell.outer.radius[0]), float(shell.outer.radius[-1])
    near, far = sorted((shape.lip_radius, float(shell.flange_radius)))
    across(near, lip, top + FIRST, (far,), shell.flange_underside)
    across(far, lip, top + FIRST + NEXT, at=shell.flange_underside)
    below = sorted({(shell.hub_radius, shell.underside), (foot, shell.underside)})
    if under > foot + 1e-6 and under >= float(shell.outer.radius.max()) - 1e-6:
        below.append((under, shell.flange_underside))  # else its extension lines would cross the body
    for row, (radius, z) in enumerate(below):
        across(radius, z, bottom - FIRST - NEXT * row, [further for further, _ in below[row + 1 :]])
    upright((shell.flange_radius, shell.flange_underside), (shell.flange_radius, lip), 0)
    upright((float(shape.wall.radius[0]), 0.0), (shell.flange_radius, lip), 1)
    upright((foot, shell.underside), (shell.flange_radius, lip), 2)
    return items


def _clear(lines: list[float], width: float) -> float:
    """Where a text beside its measure begins: after the first of the further rows' extension lines with room behind."""
    room = width + 2.0 * BESIDE
    for line, following in itertools.pairwise(lines):
        if following - line >= room:
            return line + BESIDE
    return lines[-1] + BESIDE if lines else 0.0

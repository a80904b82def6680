"""The main view: the full section through the axis, with its overall measures, wall radii and groove numbers.

Measures have fixed rows and columns round the view. Labels in the hollow (arc radii, groove numbers, the detail's
letter) stand only where they are free of each other and of every line; what finds no place is in the tables anyway.
"""

from dataclasses import dataclass

import numpy as np

from profiler.assess.shape.shape_stage import Shape
from profiler.pictures.basics.display import Align
from profiler.pictures.sheet.clashes import box, boxes_of, crossed, meets, strokes_of, texts_of
from profiler.pictures.sheet.dimensions import leader, number
from profiler.pictures.sheet.items import Dimension, Hatch, Item, Path, Pen, Point, Text, View, circle, polyline

FIRST, NEXT = 11.0, 9.0  # mm from the outline to the first dimension line, and on to the next
ROOM_TOP = FIRST + NEXT + 8.0
ROOM_BOTTOM = FIRST + NEXT + 6.0
ROOM_RIGHT = FIRST + 2.0 * NEXT + 6.0
ROOM_LEFT = 12.0
LEAST_SHARP = 1e-3  # rad of turning that makes a visible edge
MOST_RADII = 12
AIR = 0.3  # mm round a label
MARK = 5.0  # letter height of the detail's name
NUMBER_PITCH = 4.0  # mm, so that two numbers of 2.5 mm keep apart
STRAIGHT = 1e-9


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


def section_view(shape: Shape, view: View, detail: int | None) -> list[Item]:
    """The view's items; `detail` is the index of the groove that is drawn enlarged elsewhere."""
    halves = [view.chain(half) for half in (shape.outline, shape.outline.mirrored())]
    items: list[Item] = [Path(half, Pen.OUTLINE) for half in halves]
    items += _edges_behind(shape, view)
    reach = extent(shape)
    ends = [view.point(0.0, z) for z in (reach.low, reach.high)]
    items.append(polyline([(ends[0][0], ends[0][1] - 5.0), (ends[1][0], ends[1][1] + 5.0)], Pen.CENTRE))
    items += _measures(shape, view, reach)
    hollow = _Hollow(shape, view, items, detail)
    items += hollow.detail_mark()
    items += hollow.wall_radii()
    items += hollow.groove_numbers()
    return [*items, Hatch(tuple(halves))]


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


def _measures(shape: Shape, view: View, reach: Extent) -> list[Item]:
    """Diameters above and below, heights at the right, from the outline outward."""
    shell, lip = shape.shell, shape.height
    top, bottom = view.point(0.0, reach.high)[1], view.point(0.0, reach.low)[1]
    right = view.point(reach.radius, 0.0)[0]
    items: list[Item] = []

    def across(radius: float, z: float, y: float, outer: float = 0.0) -> None:
        ends = view.point(-radius, z), view.point(radius, z)
        clear = (outer - radius) * view.scale + 1.0  # of the next row's extension line
        items.append(Dimension(*ends, 0.0, (0.0, y), f"Ø{number(2.0 * radius)}", 1.0 / view.scale, clear=clear))

    def upright(low: Point, high: Point, column: int) -> None:
        x = right + FIRST + NEXT * column
        text = number(high[1] - low[1])
        items.append(Dimension(view.point(*low), view.point(*high), 90.0, (x, 0.0), text, 1.0 / view.scale))

    foot = float(shell.outer.radius[0])
    near, far = sorted((shape.lip_radius, float(shell.flange_radius)))
    across(near, lip, top + FIRST, far)
    across(far, lip, top + FIRST + NEXT)
    near, far = sorted((shell.hub_radius, foot))
    across(near, shell.underside, bottom - FIRST, far)
    across(far, shell.underside, bottom - FIRST - NEXT)
    upright((shell.flange_radius, shell.flange_underside), (shell.flange_radius, lip), 0)
    upright((float(shape.wall.radius[0]), 0.0), (shell.flange_radius, lip), 1)
    upright((foot, shell.underside), (shell.flange_radius, lip), 2)
    return items


class _Hollow:
    """Places labels in the empty middle of the section, keeping clear of what stands there already."""

    def __init__(self, shape: Shape, view: View, drawn: list[Item], detail: int | None) -> None:
        self._shape = shape
        self._view = view
        self._detail = detail
        self._boxes = boxes_of(texts_of(drawn), AIR)
        self._strokes = strokes_of(drawn)

    def detail_mark(self) -> list[Item]:
        """A circle round the groove that is drawn enlarged, and its letter on the side of the axis."""
        if self._detail is None:
            return []
        corners = self._shape.contours.corners[self._detail]
        x, y = self._view.point(*(float(v) for v in corners.mean(axis=0)))
        radius = 0.62 * self._view.scale * float(np.hypot(*(corners[2] - corners[0])))
        ring = circle(x, y, radius, Pen.DIM)
        self._strokes = np.concatenate((self._strokes, strokes_of([ring])))
        for off in (1.5, 4.0, 8.0):
            for rise in (-0.5 * MARK, -MARK - 0.4 * radius, 0.4 * radius, -MARK - radius, radius):
                text = Text(x - radius - off, y + rise, "A", MARK, Align.RIGHT)
                if self._free(text):
                    return self._taken([ring, text])
        return [ring]

    def wall_radii(self) -> list[Item]:
        """The radius of each arc of the wall, or the word for a straight piece, at its middle on the right half."""
        wall = self._shape.wall
        if len(wall.lower) > MOST_RADII:
            return []
        items: list[Item] = []
        for i, curvature in enumerate(wall.curvature()):
            z = self._on_land(0.5 * float(wall.height[i] + wall.height[i + 1]), i)
            radius = float(wall.radius_at(z))
            straight = abs(float(curvature)) < STRAIGHT
            text = f"{number(float(np.degrees(wall.lower[i])))}°" if straight else f"R{number(1.0 / abs(curvature))}"
            items += self._pointer(self._view.point(radius, z), text)
        return items

    def groove_numbers(self) -> list[Item]:
        """Numbers beside the mouths on the left half; every second, fifth, tenth ... where they would meet."""
        mouths = self._shape.mouths
        if not len(mouths):
            return []
        pitch = self._view.scale * float(np.min(np.diff(mouths.middle))) if len(mouths) > 1 else 10.0
        every = next((k for k in (1, 2, 5, 10, 20, 50, 100) if pitch * k >= NUMBER_PITCH), 200)
        items: list[Item] = []
        for i, z in enumerate(mouths.middle):
            if i and (i + 1) % every:
                continue
            x, y = self._view.point(-float(self._shape.wall.radius_at(z)), float(z))
            for off in (2.0, 2.6, 3.4, 4.4, 5.6, 7.0):
                text = Text(x + off, y - 1.25, str(i + 1), 2.5)
                if self._free(text):
                    items += self._taken([text])
                    break
        return items

    def _pointer(self, tip: Point, text: str) -> list[Item]:
        """A leader from the wall into the hollow, at the first of a few slopes that is free."""
        axis = self._view.origin[0]
        for rise in (4.0, 7.0, 1.5, 10.0, -3.0, 13.0, -6.0):
            for run in (9.0, 14.0, 20.0):
                elbow = (tip[0] - run, tip[1] + rise)
                found = leader(tip, elbow, text)
                label = next(t for t in found if isinstance(t, Text))
                low = float(box(label)[:, 0].min())
                if low > axis + 2.0 and self._inside(label) and self._free(label) and self._passes(found):
                    return self._taken(found)
        return []

    def _on_land(self, height: float, piece: int) -> float:
        """The height on a land nearest to the middle of a piece, so that a leader ends on the wall itself."""
        mouths, wall = self._shape.mouths, self._shape.wall
        if not len(mouths):
            return height
        edges = np.concatenate((wall.height[[0]], mouths.upper)), np.concatenate((mouths.lower, wall.height[[-1]]))
        lands = 0.5 * (edges[0] + edges[1])
        if self._detail is not None:  # those beside the enlarged groove lie in its circle
            lands = np.delete(lands, [self._detail, self._detail + 1])
        lands = lands[(lands > wall.height[piece]) & (lands < wall.height[piece + 1])]
        return float(lands[np.argmin(np.abs(lands - height))]) if len(lands) else height

    def _inside(self, text: Text) -> bool:
        """Whether a text lies in the hollow of the right half, between floor and lip."""
        corners = (box(text) - np.array(self._view.origin)) / self._view.scale
        z = corners[:, 1]
        if z.min() < 0.0 or z.max() > self._shape.height:
            return False
        return bool(np.all(corners[:, 0] < self._shape.wall.radius_at(z)))

    def _free(self, text: Text) -> bool:
        around = box(text, AIR)
        return not meets(around, self._boxes) and not crossed(around, self._strokes)

    def _passes(self, items: list[Item]) -> bool:
        """Whether lines keep off the texts that stand there."""
        strokes = strokes_of(items)
        return not any(crossed(taken, strokes) for taken in self._boxes)

    def _taken(self, items: list[Item]) -> list[Item]:
        self._boxes = np.concatenate((self._boxes, boxes_of(texts_of(items), AIR)))
        self._strokes = np.concatenate((self._strokes, strokes_of(items)))
        return items

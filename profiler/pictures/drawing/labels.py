"""What is written beside wall, outside and grooves of the main view: radii, groove numbers, letters of the details.

A label stands only where it is free of every line and of the others; what finds no place is in the tables anyway.
"""

from collections.abc import Callable

import numpy as np

from profiler.assess.shape.shape_stage import Shape
from profiler.geometry.wall import Wall
from profiler.pictures.basics.display import Align
from profiler.pictures.drawing.digits import Digits, fixed, radii_of, told_pieces
from profiler.pictures.sheet.clashes import box, boxes_of, crossed, meets, strokes_of, texts_of
from profiler.pictures.sheet.dimensions import leader
from profiler.pictures.sheet.items import Item, Pen, Point, Text, View, circle

MOST_RADII = 12
AIR = 0.3  # mm round a label
MARK = 5.0  # letter height of the detail's name
NUMBER_PITCH = 4.0  # mm, so that two numbers of 2.5 mm keep apart
LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"  # of details: without I and O


class Labels:
    """Places labels one after the other, keeping clear of what stands there already."""

    def __init__(
        self, shape: Shape, view: View, drawn: list[Item], digits: Digits, details: tuple[int, ...], left: float
    ) -> None:
        self._shape = shape
        self._view = view
        self._digits = digits
        self._details = details
        self._left = left  # mm on paper, beyond which no label goes
        self._boxes = boxes_of(texts_of(drawn), AIR)
        self._strokes = strokes_of(drawn)

    def all(self) -> list[Item]:
        items: list[Item] = []
        for letter, index in zip(LETTERS, self._details, strict=False):
            items += self._detail_mark(letter, index)
        items += [*self._wall_radii(), *self._groove_numbers()]
        return [*items, *self._outside_radii()]  # last: the table of the outside has them too

    def _detail_mark(self, letter: str, index: int) -> list[Item]:
        """A circle round a groove that is drawn enlarged, and its letter on the side of the axis."""
        corners = self._shape.contours.corners[index]
        x, y = self._view.point(*(float(v) for v in corners.mean(axis=0)))
        radius = 0.62 * self._view.scale * float(np.hypot(*(corners[2] - corners[0])))
        ring = circle(x, y, radius, Pen.DIM)
        self._strokes = np.concatenate((self._strokes, strokes_of([ring])))
        for off in (1.5, 4.0, 8.0):
            for rise in (-0.5 * MARK, -MARK - 0.4 * radius, 0.4 * radius, -MARK - radius, radius):
                text = Text(x - radius - off, y + rise, letter, MARK, Align.RIGHT)
                if self._free(text):
                    return self._taken([ring, text])
        return [ring]

    def _wall_radii(self) -> list[Item]:
        """The radius of each arc of the wall, or the angle of a straight piece, at its middle on the right half."""
        wall = self._shape.wall
        items: list[Item] = []
        for i, text in self._pieces(wall):
            z = self._on_land(0.5 * float(wall.height[i] + wall.height[i + 1]), i)
            items += self._pointer(self._view.point(float(wall.radius_at(z)), z), text, self._in_hollow)
        return items

    def _outside_radii(self) -> list[Item]:
        """The same of the outside, on the left half."""
        outer = self._shape.shell.outer
        items: list[Item] = []
        for i, text in self._pieces(outer):
            z = 0.5 * float(outer.height[i] + outer.height[i + 1])
            items += self._pointer(self._view.point(-float(outer.radius_at(z)), z), text, self._beside)
        return items

    def _pieces(self, wall: Wall) -> list[tuple[int, str]]:
        """Number of each piece that is told of, and a text for it; none where there are too many."""
        told = told_pieces(wall).tolist()
        if len(told) > MOST_RADII:
            return []
        angles, radii = np.degrees(wall.lower).tolist(), radii_of(wall).tolist()
        digits = self._digits
        return [
            (
                i,
                f"R{digits.length(abs(radii[i]), digits.of_radius(abs(radii[i])))}"
                if radii[i]
                else f"{fixed(angles[i], digits.angle)}°",
            )
            for i in told
        ]

    def _groove_numbers(self) -> list[Item]:
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

    def _pointer(self, tip: Point, text: str, allowed: Callable[[Text], bool]) -> list[Item]:
        """A leader to the left of its tip, at the first of a few slopes that is free."""
        for rise in (4.0, 7.0, 1.5, 10.0, -3.0, 13.0, -6.0):
            for run in (9.0, 14.0, 20.0):
                found = leader(tip, (tip[0] - run, tip[1] + rise), text)
                label = next(t for t in found if isinstance(t, Text))
                if allowed(label) and self._free(label) and self._passes(found):
                    return self._taken(found)
        return []

    def _on_land(self, height: float, piece: int) -> float:
        """The height on a land nearest to the middle of a piece, so that a leader ends on the wall itself."""
        mouths, wall = self._shape.mouths, self._shape.wall
        if not len(mouths):
            return height
        edges = np.concatenate((wall.height[[0]], mouths.upper)), np.concatenate((mouths.lower, wall.height[[-1]]))
        lands = 0.5 * (edges[0] + edges[1])
        if self._details:  # those beside an enlarged groove lie in its circle
            lands = np.delete(lands, sorted({k for index in self._details for k in (index, index + 1)}))
        lands = lands[(lands > wall.height[piece]) & (lands < wall.height[piece + 1])]
        return float(lands[np.argmin(np.abs(lands - height))]) if len(lands) else height

    def _in_hollow(self, text: Text) -> bool:
        """Whether a text lies in the hollow of the right half, between floor and lip."""
        corners = (box(text) - np.array(self._view.origin)) / self._view.scale
        x, z = corners.T
        if x.min() < 2.0 / self._view.scale or z.min() < 0.0 or z.max() > self._shape.height:
            return False
        return bool(np.all(x < self._shape.wall.radius_at(z)))

    def _beside(self, text: Text) -> bool:
        """Whether a text lies at the left of the body, between underside and flange."""
        corners = box(text)
        x, z = ((corners - np.array(self._view.origin)) / self._view.scale).T
        shell = self._shape.shell
        if z.min() < shell.underside or z.max() > shell.flange_underside - AIR or corners[:, 0].min() < self._left:
            return False
        return bool(np.all(-x > shell.outer.radius_at(z)))

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

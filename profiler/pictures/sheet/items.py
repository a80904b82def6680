"""What a sheet consists of: a few items in millimetres on paper, x to the right and y up from the lower left corner.

Writers turn them into a file each in its own way (a Path may hold true arcs, a Dimension may become a dimension of a
CAD file); nothing here knows one. Colours do not occur: a drawing is black.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from enum import Enum, auto
from math import cos, radians, sin

import numpy as np

from profiler.geometry.chain import Chain, FloatArray
from profiler.pictures.basics.display import Align, Picture
from profiler.pictures.sheet.lettering import text_width

Point = tuple[float, float]
_SHARES = {Align.LEFT: 0.0, Align.CENTRE: 0.5, Align.RIGHT: 1.0}


@dataclass(frozen=True, slots=True)
class PenStyle:
    """Line width in mm, layer and line type of a CAD file, and dashes in mm (dash, gap, dash, gap ...)."""

    width: float
    layer: str
    dashes: tuple[float, ...] = ()
    line_type: str = "CONTINUOUS"  # by the name CAD programs know: some have a pattern of their own for it


class Pen(Enum):
    """Line kinds after ISO 128-2, in the group 0.5 / 0.25 mm.

    Widths and dashes are not yet checked against the standard; they change how a line looks, not where it lies.
    """

    OUTLINE = PenStyle(0.5, "OUTLINE")  # of the section: one closed chain for each half
    EDGE = PenStyle(0.5, "EDGES")  # visible edges behind the section
    DETAIL = PenStyle(0.5, "DETAIL")
    BREAK = PenStyle(0.25, "BREAK")
    CENTRE = PenStyle(0.25, "CENTRE", (6.0, 0.75, 0.125, 0.75), "CENTER")  # type 04: 24 d, 3 d, 0.5 d, 3 d
    DIM = PenStyle(0.25, "DIM")
    HATCH = PenStyle(0.18, "HATCH")
    FRAME = PenStyle(0.7, "FRAME")
    RULE = PenStyle(0.25, "TABLE")  # lines of tables and of the title block
    BOX = PenStyle(0.5, "TABLE")
    MARK = PenStyle(0.18, "TABLE")
    CHECK = PenStyle(0.35, "TABLE")  # a line to be measured
    HOLE = PenStyle(0.25, "HOLES")  # water holes, turned into the section
    TEXT = PenStyle(0.35, "TEXT")
    TRIM = PenStyle(0.13, "TRIM")  # the edge of the trimmed sheet

    @property
    def style(self) -> PenStyle:
        return self.value


@dataclass(frozen=True, slots=True)
class Path:
    """A chain of lines and arcs, on paper."""

    chain: Chain
    pen: Pen


@dataclass(frozen=True, slots=True)
class Arrow:
    """A filled head, `size` long and a third as wide; `angle` in radians is where it points."""

    tip: Point
    angle: float
    size: float = 3.0

    @property
    def corners(self) -> FloatArray:
        along = np.array([cos(self.angle), sin(self.angle)])
        side = np.array([-along[1], along[0]]) * self.size / 6.0
        foot = np.array(self.tip) - self.size * along
        return np.stack((np.array(self.tip), foot + side, foot - side))


@dataclass(frozen=True, slots=True)
class Text:
    """One line; (x, y) lies on the base line, `height` is that of a capital letter, `angle_deg` counter-clockwise."""

    x: float
    y: float
    text: str
    height: float = 2.5
    align: Align = Align.LEFT
    angle_deg: float = 0.0
    bold: bool = False
    in_margin: bool = False  # belongs outside the frame

    @property
    def width(self) -> float:
        return text_width(self.text, self.height, self.bold)

    @property
    def left(self) -> float:
        """How far left of (x, y), along the base line, it begins."""
        return _SHARES[self.align] * self.width

    @property
    def base_line(self) -> tuple[Point, Point]:
        """Its two ends."""
        c, s = cos(radians(self.angle_deg)), sin(radians(self.angle_deg))
        first, last = -self.left, self.width - self.left
        return (self.x + first * c, self.y + first * s), (self.x + last * c, self.y + last * s)

    @property
    def middle(self) -> Point:
        """Half way along it and half way up a capital letter."""
        (x0, y0), (x1, y1) = self.base_line
        up = 0.5 * self.height
        turn = radians(self.angle_deg)
        return 0.5 * (x0 + x1) - up * sin(turn), 0.5 * (y0 + y1) + up * cos(turn)


@dataclass(frozen=True, slots=True)
class Hatch:
    """The inside of closed chains, hatched at 45 degrees; `spacing` in mm between lines."""

    rings: tuple[Chain, ...]
    spacing: float = 3.0


@dataclass(frozen=True, slots=True)
class Dimension:
    """A length between two points, measured along `angle_deg`; the dimension line passes through `at`.

    `per_mm` is how many true millimetres one millimetre of paper stands for; `shift` moves the text along the line,
    in shares of its length, away from the middle. A text that does not fit between the heads begins at least `clear`
    beyond the end.
    """

    start: Point
    end: Point
    angle_deg: float
    at: Point
    text: str
    per_mm: float
    shift: float = 0.0
    height: float = 3.5
    clear: float = 0.0


class AngleText(Enum):
    """Where the text of an angle stands: outside the middle of its arc, or beyond one of its ends."""

    OUTSIDE = auto()
    BEFORE = auto()
    BEYOND = auto()


@dataclass(frozen=True, slots=True)
class Angle:
    """An angle at a corner, counter-clockwise from one direction to another (degrees from the x axis).

    The arc has the radius given; a line runs out to it from `foot` mm off the corner, along either direction that has
    no line there yet (`bare`: the first, the second). The text stands level.
    """

    corner: Point
    start_deg: float
    end_deg: float
    radius: float
    text: str
    height: float = 3.5
    foot: float = 0.0
    bare: tuple[bool, bool] = (True, True)
    where: AngleText = AngleText.OUTSIDE

    def at(self, angle_deg: float, radius: float | None = None) -> Point:
        reach = self.radius if radius is None else radius
        turn = radians(angle_deg)
        return self.corner[0] + reach * cos(turn), self.corner[1] + reach * sin(turn)


@dataclass(frozen=True, slots=True)
class Placed:
    """A picture of the program on the sheet: its upper left corner and how many mm one pixel takes."""

    picture: Picture
    x: float
    y: float
    mm_per_px: float


Item = Path | Arrow | Text | Hatch | Dimension | Angle | Placed


def moved(items: Iterable[Item], across: float, up: float) -> list[Item]:
    """The same items elsewhere on the paper."""
    return [_moved(item, across, up) for item in items]


def _moved(item: Item, across: float, up: float) -> Item:
    match item:
        case Path():
            return replace(item, chain=_moved_chain(item.chain, across, up))
        case Hatch():
            return replace(item, rings=tuple(_moved_chain(ring, across, up) for ring in item.rings))
        case Arrow():
            return replace(item, tip=_moved_point(item.tip, across, up))
        case Angle():
            return replace(item, corner=_moved_point(item.corner, across, up))
        case Dimension():
            start, end, at = (_moved_point(p, across, up) for p in (item.start, item.end, item.at))
            return replace(item, start=start, end=end, at=at)
        case Text() | Placed():
            return replace(item, x=item.x + across, y=item.y + up)


def _moved_point(point: Point, across: float, up: float) -> Point:
    return point[0] + across, point[1] + up


def _moved_chain(chain: Chain, across: float, up: float) -> Chain:
    return Chain(chain.points + np.array([across, up]), chain.bulges, chain.closed)


@dataclass(frozen=True, slots=True)
class View:
    """How the model lies on the paper: paper = origin + scale * model."""

    origin: Point
    scale: float

    def point(self, x: float, y: float) -> Point:
        return self.origin[0] + self.scale * x, self.origin[1] + self.scale * y

    def chain(self, chain: Chain) -> Chain:
        return Chain(chain.points * self.scale + np.array(self.origin), chain.bulges, chain.closed)


@dataclass(frozen=True, slots=True)
class Mark:
    """A heading that a reader of many pages can go to, and how deep it lies, from 1."""

    text: str
    level: int
    y: float


@dataclass(frozen=True, slots=True)
class Link:
    """A place that leads to another: left, bottom, right, top; which sheet (from 0) and how high on it."""

    box: tuple[float, float, float, float]
    sheet: int
    y: float


@dataclass(frozen=True, slots=True)
class Sheet:
    """One page. `view` is that of the main view: a CAD file is written so that its model comes out 1:1."""

    width: float
    height: float
    items: tuple[Item, ...]
    view: View
    title: str = ""
    frame: tuple[float, float, float, float] = field(default=(0.0, 0.0, 0.0, 0.0))  # left, bottom, right, top
    marks: tuple[Mark, ...] = ()
    links: tuple[Link, ...] = ()


def polyline(points: object, pen: Pen, closed: bool = False) -> Path:
    """Straight lines through points (n, 2)."""
    table = np.asarray(points, dtype=float)
    return Path(Chain(table, np.zeros(len(table)), closed), pen)


def rectangle(left: float, bottom: float, right: float, top: float, pen: Pen) -> Path:
    return polyline([(left, bottom), (right, bottom), (right, top), (left, top)], pen, closed=True)


def circle(x: float, y: float, radius: float, pen: Pen) -> Path:
    points = np.array([(x + radius, y), (x - radius, y)])
    return Path(Chain(points, np.ones(2), closed=True), pen)

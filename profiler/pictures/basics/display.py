"""What is drawn, as numbers: a picture is a list of a few primitives in pixels, each with the role its colour follows.

The same lists go to the screen, to SVG and PDF and to the tests. No Qt here, no matplotlib, no colours.
"""

from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]


class Role(StrEnum):
    """What a thing is; the theme says how that looks."""

    PAPER = "paper"
    GRID = "grid"
    FAINT = "faint"  # text of scales
    TEXT = "text"
    WALL = "wall"  # the wall line, the wall curve
    BODY = "body"  # cut material
    HATCH = "hatch"
    SEAT = "seat"
    GHOST = "ghost"
    REPOSE = "repose"  # the middle repose angle, the slurry surface
    BAND = "band"  # its uncertainty
    BED = "bed"  # settled solids
    FLOW = "flow"  # moving water: the film, streamlines, what is told of them
    EDDY = "eddy"  # marks of what turns in a groove: seen on bed and water
    OPENS = "opens"  # tint where the wall opens more than repose
    STANDS = "stands"  # tint where it stands steeper
    STRONG = "strong"
    WEAK = "weak"
    MATCHED = "matched"
    SHELTERED = "sheltered"
    INK = "ink"  # pattern lines upon a state's colour
    KNOT = "knot"
    CHOSEN = "chosen"  # what is selected
    CURSOR = "cursor"  # the shared crosshair
    STOP = "stop"
    BAR = "bar"


class Align(StrEnum):
    LEFT = "left"
    CENTRE = "centre"
    RIGHT = "right"


@dataclass(frozen=True, slots=True)
class Line:
    points: FloatArray  # (n, 2)
    role: Role
    width: float = 1.0
    dashes: tuple[float, ...] = ()
    steep: bool = False  # runs up or down rather than across: may be drawn as two thin lines, which is quicker


@dataclass(frozen=True, slots=True)
class Strokes:
    """Many separate straight lines."""

    ends: FloatArray  # (n, 2, 2)
    role: Role
    width: float = 1.0


@dataclass(frozen=True, slots=True)
class Area:
    points: FloatArray  # (n, 2), closed by itself
    role: Role
    opacity: float = 1.0
    bare: bool = False  # nothing but paper lies below: may be filled with the mixed colour, which is quicker


@dataclass(frozen=True, slots=True)
class Label:
    """Text whose middle line lies at y."""

    x: float
    y: float
    text: str
    role: Role = Role.TEXT
    align: Align = Align.LEFT
    size: float = 9.0
    bold: bool = False
    paper: bool = False  # on a patch of paper, to stay legible


@dataclass(frozen=True, slots=True)
class Dot:
    x: float
    y: float
    radius: float
    role: Role
    filled: bool = True
    square: bool = False


Item = Line | Strokes | Area | Label | Dot


@dataclass(frozen=True, slots=True)
class Picture:
    width: float
    height: float
    items: tuple[Item, ...]


def shifted(item: Item, right: float, down: float) -> Item:
    """The same item elsewhere."""
    if isinstance(item, Label | Dot):
        return replace(item, x=item.x + right, y=item.y + down)
    by = np.array([right, down])
    return replace(item, ends=item.ends + by) if isinstance(item, Strokes) else replace(item, points=item.points + by)


def boxed(left: float, top: float, right: float, bottom: float) -> FloatArray:
    """Corners of a rectangle."""
    return np.array([[left, top], [right, top], [right, bottom], [left, bottom]])


def hatch(points: FloatArray, spacing: float, slope: float = 1.0) -> FloatArray:
    """(n, 2, 2) lines at 45 degrees inside a polygon (n, 2), by an even-odd scan; `slope` -1 leans the other way."""
    along = points[:, 1] - slope * points[:, 0]
    level = np.ceil(along / spacing)  # of the lowest line not below the point: an edge crosses those in between
    ahead = np.arange(1, len(points) + 1)
    ahead[-1] = 0
    first, last = np.minimum(level, level[ahead]), np.maximum(level, level[ahead])
    counts = (last - first).astype(np.intp)
    edge = np.arange(len(points)).repeat(counts)
    row = first[edge] + (np.arange(len(edge)) - (np.cumsum(counts) - counts)[edge])
    start, end = along[edge], along[ahead[edge]]
    hits = points[edge] + ((row * spacing - start) / (end - start))[:, None] * (points[ahead[edge]] - points[edge])
    hits = hits[np.lexsort((hits[:, 0], row))]
    return hits[: len(hits) // 2 * 2].reshape(-1, 2, 2)

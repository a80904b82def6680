"""How many decimals each kind of measure has on a sheet: the same in every view and table (ISO 129-1, common practice).

As many as the value that needs most, two at most; so a diameter that a table gives as 435.20 is not 435.2 beside it.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from profiler.assess.shape.shape_stage import Shape
from profiler.geometry.wall import FloatArray, Wall
from profiler.numbers import with_minus
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit
from profiler.pictures.sheet.dimensions import number

LEAST_PIECE_MM = 0.02
STRAIGHT_TURN, STRAIGHT_SAG_MM = np.radians(0.005), 0.01  # what the last digits of a sheet hardly tell
WHOLE_FROM_MM = 1e5  # a radius so large is told in whole millimetres


@dataclass(frozen=True, slots=True)
class Digits:
    """Decimals of diameters, heights, radii of pieces, angles, mouths and depths."""

    diameter: int
    height: int
    radius: int
    angle: int
    mouth: int
    depth: int
    lengths: LengthUnit = MILLIMETRES

    def length(self, mm: float, decimals: int) -> str:
        """A measure; in another unit than mm with the millimetres in brackets (common practice, no source)."""
        in_mm = fixed(mm, decimals)
        return in_mm if self.lengths.is_mm else f"{self.lengths.cell(in_mm)} [{in_mm}]"

    def of_radius(self, mm: float) -> int:
        """Decimals of an arc's radius; none where they are farther from sight than the arc from its chord."""
        return self.radius if mm < WHOLE_FROM_MM else 0


def digits_of(shape: Shape, lengths: LengthUnit = MILLIMETRES) -> Digits:
    walls, shell, cut = (shape.wall, shape.shell.outer), shape.shell, shape.cut
    middle = shape.mouths.middle
    across = [2.0 * w.radius for w in walls] + [2.0 * shape.wall.radius_at(middle)]
    across.append(2.0 * np.array([shell.flange_radius, shell.hub_radius]))
    ends = [w.height for w in walls]
    tall = np.concatenate([middle, *ends, ends[0][-1] - np.concatenate(ends)])
    angles = [np.degrees(a) for w in walls for a in (w.lower, w.upper)] + [np.degrees(shape.wall.angle_at(middle))]
    radii = np.concatenate([radii_of(w) for w in walls])
    return Digits(
        needed(np.concatenate(across)), needed(tall), needed(radii[radii != 0.0]), needed(np.concatenate(angles)),
        needed(cut.mouth), needed(cut.depth), lengths,
    )  # fmt: skip


def radii_of(wall: Wall) -> FloatArray:
    """(n,) radius of each piece, positive where its centre lies away from the axis; 0 for a line.

    A piece is a line where neither its rise over the chord nor its turning would show in the digits of a sheet: a
    radius of kilometres fits no table, and no shop.
    """
    curvature = wall.curvature()
    chord = np.hypot(np.diff(wall.radius), np.diff(wall.height))
    turn = np.abs(curvature) * chord
    bent = (turn >= STRAIGHT_TURN) | (turn * chord / 8.0 >= STRAIGHT_SAG_MM)
    return np.asarray(np.where(bent, 1.0 / np.where(bent, curvature, 1.0), 0.0))


def told_pieces(wall: Wall) -> NDArray[np.int64]:
    """The pieces a sheet tells of; one shorter than LEAST_PIECE_MM would read as from a height to the same."""
    chords = np.hypot(np.diff(wall.radius), np.diff(wall.height))
    found = np.flatnonzero(chords >= LEAST_PIECE_MM)
    return found if len(found) else np.array([int(np.argmax(chords))])


def needed(values: ArrayLike) -> int:
    """Decimals of the value that needs most."""
    listed = np.asarray(values, dtype=float).tolist()
    return max((len(text.partition(".")[2]) for text in map(number, listed)), default=0)


def fixed(value: float, decimals: int) -> str:
    return with_minus(f"{round(value, decimals) + 0.0:.{decimals}f}")


def alike(values: ArrayLike, decimals: int | None = None) -> list[str]:
    """Numbers of a column, all with as many decimals as the one that needs most, or as many as said."""
    count = needed(values) if decimals is None else decimals
    return [fixed(value, count) for value in np.asarray(values, dtype=float).tolist()]

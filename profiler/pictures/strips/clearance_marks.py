"""Clearances in the section as dimensions: the narrowest jacket and the thinnest wall, with their numbers."""

from collections.abc import Callable

import numpy as np

from profiler.assess import Evaluation
from profiler.assess.findings.kinds import Kind
from profiler.assess.shape.clearances import narrowest_jacket, thinnest_wall
from profiler.assess.shape.shape_stage import Shape
from profiler.pictures.basics.display import Align, FloatArray, Item, Label, Role, Strokes
from profiler.pictures.basics.lengths import LengthUnit

TICK_PX = 3.5
LEAST_PX = 3.0  # shorter ones would be a blot; the number still stands
OFF_PX = 9.0
ROOM_PX, LETTER_PX = 78.0, 6.4  # of a number with its word, so that it stays in the picture; and where it is long
MARKED = (Kind.SEAT_CLASH, Kind.JACKET_NARROW)  # drawn bold where they are, with their number


def clearance_marks(
    e: Evaluation, shape: Shape, to_px: Callable[[FloatArray], FloatArray], lengths: LengthUnit, width: float
) -> list[Item]:
    """The jacket's number stands above its line, the wall's below its own: they are often at one height."""
    items: list[Item] = []
    jacket = None if any(f.kind in MARKED for f in e.findings) else narrowest_jacket(shape, e.machine)
    for clearance, word, off in ((jacket, "jacket", -OFF_PX), (thinnest_wall(shape), "wall", OFF_PX)):
        if clearance is not None:
            ends = to_px(np.array([clearance.start, clearance.end]))
            text = f"{word} {lengths.text(clearance.length, 1)}"
            x = min(float(ends[1, 0]) + 8.0, width - max(ROOM_PX, LETTER_PX * len(text)))
            items += _dimension(ends)
            items.append(Label(x, float(ends[1, 1]) + off, text, Role.TEXT, Align.LEFT, 8.5, paper=True))
    return items


def _dimension(ends: FloatArray) -> list[Item]:
    """A line with a tick at either end; nothing where it would be a blot."""
    along = ends[1] - ends[0]
    reach = float(np.hypot(*along))
    if reach < LEAST_PX:
        return []
    side = TICK_PX * np.array([-along[1], along[0]]) / reach
    strokes = np.array([ends, [ends[0] - side, ends[0] + side], [ends[1] - side, ends[1] + side]])
    return [Strokes(strokes, Role.TEXT, 1.2)]

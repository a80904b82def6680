"""Clearances in the section as dimensions: the narrowest jacket and the thinnest wall, with their numbers."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from profiler.assess import Evaluation
from profiler.assess.findings.kinds import Kind
from profiler.assess.shape.clearances import narrowest_jacket, thinnest_wall
from profiler.assess.shape.shape_stage import Shape
from profiler.pictures.basics.display import Align, FloatArray, Item, Label, Role, Strokes
from profiler.pictures.basics.lengths import LengthUnit
from profiler.pictures.strips.crosshair import across

TICK_PX = 3.5
LEAST_PX = 3.0  # shorter ones would be a blot; the number still stands
OFF_PX = 9.0
ASIDE_PX, EDGE_PX = 22.0, 4.0  # of a number from the wall, and from the picture's edge
ROOM_PX, LETTER_PX = 78.0, 6.4  # of a number with its word, so that it stays in the picture; and where it is long
MARKED = (Kind.SEAT_CLASH, Kind.JACKET_NARROW)  # drawn bold where they are, with their number


def clearance_marks(
    e: Evaluation, shape: Shape, to_px: Callable[[FloatArray], FloatArray], lengths: LengthUnit, width: float
) -> list[Item]:
    """Each number stands inside the bowl, where there is room, with a line to what it measures; else beside that.

    The jacket's stands above, the wall's below: they are often at one height.
    """
    items: list[Item] = []
    jacket = None if any(f.kind in MARKED for f in e.findings) else narrowest_jacket(shape, e.machine)
    for clearance, word, off in ((jacket, "jacket", -OFF_PX), (thinnest_wall(shape), "wall", OFF_PX)):
        if clearance is not None:
            ends = to_px(np.array([clearance.start, clearance.end]))
            text = f"{word} {lengths.text(clearance.length, 1)}"
            items += _dimension(ends)
            height = min(max(float(clearance.start[1]), 0.0), shape.height)
            wall = to_px(np.array([[float(shape.wall.radius_at(height)), height]]))
            items += _number(ends, float(wall[0, 0]), float(ends[1, 1]) + off, text, width)
    return items


def _number(ends: FloatArray, wall_x: float, y: float, text: str, width: float) -> list[Item]:
    label = Label(wall_x - ASIDE_PX, y, text, Role.TEXT, Align.RIGHT, 8.5, paper=True)
    left, right = across(label)
    if left < EDGE_PX:
        x = min(float(ends[1, 0]) + 8.0, width - max(ROOM_PX, LETTER_PX * len(text)))
        return [replace(label, x=x, align=Align.LEFT)]
    leader = np.array([[[right + 3.0, y], ends.mean(axis=0)]])
    return [Strokes(leader, Role.TEXT, 0.7), label]


def _dimension(ends: FloatArray) -> list[Item]:
    """A line with a tick at either end; nothing where it would be a blot."""
    along = ends[1] - ends[0]
    reach = float(np.hypot(*along))
    if reach < LEAST_PX:
        return []
    side = TICK_PX * np.array([-along[1], along[0]]) / reach
    strokes = np.array([ends, [ends[0] - side, ends[0] + side], [ends[1] - side, ends[1] + side]])
    return [Strokes(strokes, Role.TEXT, 1.2)]

"""Clearances in the section as dimensions: the narrowest jacket and the thinnest wall, with their numbers."""

from collections.abc import Callable

import numpy as np

from profiler.assess import Evaluation
from profiler.assess.findings.kinds import Kind
from profiler.assess.shape.clearances import Clearance, narrowest_jacket, thinnest_wall
from profiler.assess.shape.shape_stage import Shape
from profiler.pictures.basics.display import Align, FloatArray, Item, Label, Role, Strokes
from profiler.pictures.basics.lengths import LengthUnit

TICK_PX = 3.5
LEAST_PX = 3.0  # shorter ones would be a blot; the number still stands
MARKED = (Kind.SEAT_CLASH, Kind.JACKET_NARROW)  # drawn bold where they are, with their number


def clearance_marks(
    e: Evaluation, shape: Shape, to_px: Callable[[FloatArray], FloatArray], lengths: LengthUnit
) -> list[Item]:
    """The jacket's number stands outside of the bowl, the wall's above its line."""
    items: list[Item] = []
    jacket = None if any(f.kind in MARKED for f in e.findings) else narrowest_jacket(shape, e.machine)
    for clearance, word in ((jacket, "jacket"), (thinnest_wall(shape), "wall")):
        if clearance is not None:
            items += _dimension(clearance, word, to_px, lengths)
    return items


def _dimension(
    clearance: Clearance, word: str, to_px: Callable[[FloatArray], FloatArray], lengths: LengthUnit
) -> list[Item]:
    ends = to_px(np.array([clearance.start, clearance.end]))
    along = ends[1] - ends[0]
    reach = float(np.hypot(*along))
    text = f"{word} {lengths.text(clearance.length, 1)}"
    label = Label(float(ends[1, 0]) + 8.0, float(ends[1, 1]), text, Role.TEXT, Align.LEFT, 8.5, paper=True)
    if reach < LEAST_PX:
        return [label]
    side = TICK_PX * np.array([-along[1], along[0]]) / reach
    strokes = np.array([ends, [ends[0] - side, ends[0] + side], [ends[1] - side, ends[1] + side]])
    return [Strokes(strokes, Role.TEXT, 1.2), label]

"""How far one groove may be moved along the wall: until its neighbours' least land, or the end of the wall."""

from math import ceil, floor

import numpy as np

from profiler.assess.shape.shape_stage import Shape
from profiler.study import Design
from profiler.study.records.design import GROOVE_SHIFT

ROUNDING = 1e-6  # of a step


def room_of_groove(design: Design, shape: Shape, place: int) -> tuple[float, float] | None:
    """Least and greatest shift (mm along the wall) of the groove at this place of the rule; None where it is left out.

    On the field's steps, inside the room. A groove that stands nearer already may stay where it is, and come no nearer.
    """
    places = shape.place.tolist()
    if place not in places:
        return None
    i, rule, now = places.index(place), design.grooves, GROOVE_SHIFT.at(place).get(design)
    lower, upper = shape.mouths.lower_length, shape.mouths.upper_length
    land, end = rule.least_land_mm, 0.5 * rule.least_land_mm  # as the findings ask: half a land at the wall's ends
    below = float(upper[i - 1]) + land if i else end
    above = float(lower[i + 1]) - land if i + 1 < len(places) else float(shape.wall.length[-1]) - end
    down, up = max(float(lower[i]) - below, 0.0), max(above - float(upper[i]), 0.0)
    step = GROOVE_SHIFT.step
    low = round(ceil((now - down) / step - ROUNDING) * step, GROOVE_SHIFT.decimals)
    high = round(floor((now + up) / step + ROUNDING) * step, GROOVE_SHIFT.decimals)
    return min(low, now), max(high, now)


def nearest_groove(shape: Shape, height_mm: float) -> int | None:
    """Number, from 1, of the groove whose mouth lies nearest to this height; None without grooves."""
    away = np.abs(shape.mouths.middle - height_mm)
    return int(np.argmin(away)) + 1 if len(away) else None

"""Pressure at the jacket's inlet against water, a line for each moment, the duty's own water marked."""

import numpy as np

from profiler.explore.water_curve import SHOWN, WaterCurve
from profiler.pictures.basics.display import Align, Dot, Item, Label, Line, Picture, Role
from profiler.pictures.basics.frame import framed

LOOKS = ((Role.REPOSE, (7.0, 3.0)), (Role.WALL, ()), (Role.STRONG, (2.0, 2.5)))  # of the moments
NAMES_PX = 128.0  # right of the lines, for their names
LEAST_GAP_PX = 12.0
X_TITLE, Y_TITLE = "water, L/min", "pressure at the jacket inlet, kPa"


def water_chart(curve: WaterCurve, width: float, height: float) -> Picture:
    """Below zero the jacket runs part full: the line ends on zero, since a gauge there shows nothing."""
    shown = np.maximum(curve.inlet_kpa, 0.0)
    most = float(np.nanmax(shown)) if np.isfinite(shown).any() else 1.0
    asked = curve.asked_l_min
    frame = framed(width - NAMES_PX, height, (0.0, float(asked[-1])), (0.0, 1.08 * max(most, 1.0)), X_TITLE, Y_TITLE)
    x = frame.x.px(float(asked[curve.duty_at]))
    _, top, right, bottom = frame.box
    items: list[Item] = [*frame.grid(), Line(np.array([[x, top], [x, bottom]]), Role.CHOSEN, 1.0, (3.0, 3.0)),
                         Label(x + 4.0, top + 8.0, "this duty", Role.CHOSEN, Align.LEFT, 8.0)]  # fmt: skip
    ends = []
    for k, ((role, dashes), word) in enumerate(zip(LOOKS, SHOWN, strict=True)):
        told = np.isfinite(shown[:, k])
        points = frame.points(asked[told], shown[told, k])
        if not len(points):
            continue
        items.append(Line(points, role, 1.8, dashes))
        items += [Dot(float(px), float(py), 2.2, role) for px, py in points]
        ends.append((float(points[-1, 1]), word, role))
    for y, (_, word, role) in zip(_apart([end[0] for end in sorted(ends)], bottom), sorted(ends), strict=True):
        items.append(Label(right + 6.0, y, word, role, Align.LEFT, 8.5))
    return Picture(width, height, (*items, *frame.scales()))


def _apart(levels: list[float], lowest: float) -> list[float]:
    """The levels, from the top, moved so that their names do not meet; the last no lower than the frame."""
    placed: list[float] = []
    for level in levels:
        placed.append(level if not placed else max(level, placed[-1] + LEAST_GAP_PX))
    for k in range(len(placed) - 1, -1, -1):
        ceiling = lowest - 4.0 if k == len(placed) - 1 else placed[k + 1] - LEAST_GAP_PX
        placed[k] = min(placed[k], ceiling)
    return placed

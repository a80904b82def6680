"""The eddy along one number: ratio, power, reach and circulation, with the present value marked. No line over a gap."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from profiler.explore.eddy_what_if import Swept
from profiler.pictures.basics.display import Align, Dot, FloatArray, Item, Label, Line, Picture, Role
from profiler.pictures.basics.frame import Frame, framed
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit

UNCLAIMED = "hollow: film not yet up to speed"


@dataclass(frozen=True, slots=True)
class EddyChart:
    """One figure along what was varied."""

    title: str
    role: Role
    get: Callable[[Swept], FloatArray]
    floor: bool = False  # with the groove's floor as a line


EDDY_CHARTS = (
    EddyChart("overturn ratio", Role.WALL, lambda s: s.ratio),
    EddyChart("overturn power, W", Role.WALL, lambda s: s.power_w),
    EddyChart("reach, mm (middle case)", Role.FLOW, lambda s: s.reach_mm, floor=True),
    EddyChart("circulation, cm²/s (middle case)", Role.FLOW, lambda s: s.circulation_cm2_s),
)


def eddy_chart(s: Swept, chart: EddyChart, width: float, height: float, lengths: LengthUnit = MILLIMETRES) -> Picture:
    values = chart.get(s)
    known = np.concatenate((values, s.floor_mm if chart.floor else values))
    known = known[np.isfinite(known)]
    low, high = (min(0.0, float(known.min())), float(known.max())) if len(known) else (0.0, 1.0)
    room = 0.08 * max(high - low, 1e-6)
    ends = (float(s.x[0]), float(s.x[-1]))
    span = low - (room if low < 0.0 else 0.0), high + room
    frame = framed(width, height, ends, span, s.along.title, chart.title, lengths)
    items: list[Item] = [*frame.grid()]
    x = frame.x.px(float(s.x[s.present]))
    _, top, right, bottom = frame.box
    items.append(Line(np.array([[x, top], [x, bottom]]), Role.CHOSEN, 1.0, (3.0, 3.0)))
    if chart.floor:
        items += [Line(run, Role.FAINT, 1.0, (6.0, 4.0)) for run in _runs(frame, s.x, s.floor_mm)]
        items.append(Label(right - 5.0, frame.y.px(float(s.floor_mm[-1])) + 9.0, "groove floor", Role.FAINT,
                           Align.RIGHT, 8.0))  # fmt: skip
    items += [Line(run, chart.role, 1.8) for run in _runs(frame, s.x, values)]
    points = zip(frame.points(s.x, values).tolist(), s.claimed.tolist(), strict=True)
    items += [Dot(px, py, 2.4, chart.role, claimed) for (px, py), claimed in points if np.isfinite(py)]
    if not s.claimed[np.isfinite(values)].all():
        items.append(Label(right - 5.0, bottom - 9.0, UNCLAIMED, Role.FAINT, Align.RIGHT, 7.0, paper=True))
    if np.isfinite(values[s.present]):
        items.append(Dot(x, frame.y.px(float(values[s.present])), 5.0, Role.CHOSEN))
    if not np.isfinite(values).any():
        middle = 0.5 * (top + bottom)
        items.append(Label(0.5 * (frame.x.start + right), middle, "no driven eddy here", Role.TEXT, Align.CENTRE, 8.5))
    return Picture(width, height, (*items, *frame.scales()))


def _runs(frame: Frame, x: FloatArray, values: FloatArray) -> list[FloatArray]:
    """Stretches without a gap, px."""
    points = frame.points(x, values)
    cuts = np.flatnonzero(~np.isfinite(values))
    return [run for part in np.split(points, cuts) if len(run := part[np.isfinite(part[:, 1])]) > 1]

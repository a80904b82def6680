"""A measured profile laid over its drawing: deviation across, height up, the tolerance as two lines, grooves tinted.

Deviations are square to the drawing and outward positive; the largest is marked. An earlier profile stands behind it.
"""

import numpy as np

from profiler.assess.worn.laid_over import LaidOver
from profiler.explore.worn_look import WornLook
from profiler.numbers import fixed
from profiler.pictures.basics.display import Align, Area, Dot, Item, Label, Line, Picture, Role, boxed
from profiler.pictures.basics.frame import Frame, framed
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit

MARK_PX, LARGEST_PX = 2.2, 5.0
LEAST_MM = 0.1  # shown either way, so that noise does not look like wear
NAME_PX = 14.0  # from one name to the next


def worn_picture(
    look: WornLook, tolerance_mm: float, width: float, height: float, lengths: LengthUnit = MILLIMETRES
) -> Picture:
    over = look.over
    if over is None:
        return Picture(width, height, ())
    shown = [o for o in (look.against, over) if o is not None]
    reach = max(LEAST_MM, tolerance_mm, *(float(np.max(np.abs(o.deviation))) for o in shown)) * 1.1
    title = "deviation square to the drawing, mm; outward (worn) positive"
    frame = framed(width, height, (-reach, reach), (0.0, over.shape.height), title, "height, mm", lengths)
    items: list[Item] = [*_grooves(over, frame), *frame.grid(), *_limits(frame, tolerance_mm)]
    for o, role in zip(reversed(shown), (Role.WALL, Role.GHOST), strict=False):
        items += _points(o, frame, role)
    items += _largest(over, frame)
    for k, (o, role) in enumerate(zip(reversed(shown), (Role.WALL, Role.GHOST), strict=False)):
        items.append(_name(o, frame, role, k))
    return Picture(width, height, (*items, *frame.scales()))


def _grooves(over: LaidOver, frame: Frame) -> list[Item]:
    left, _, right, _ = frame.box
    edges = zip(over.shape.mouths.lower.tolist(), over.shape.mouths.upper.tolist(), strict=True)
    return [Area(boxed(left, frame.y.px(high), right, frame.y.px(low)), Role.BAND) for low, high in edges]


def _limits(frame: Frame, tolerance_mm: float) -> list[Item]:
    _, top, _, bottom = frame.box
    lines: list[Item] = [Line(np.array([[frame.x.px(0.0), top], [frame.x.px(0.0), bottom]]), Role.REPOSE, 1.2)]
    for x in (-tolerance_mm, tolerance_mm):
        lines.append(Line(np.array([[frame.x.px(x), top], [frame.x.px(x), bottom]]), Role.STOP, 1.0, (5.0, 4.0)))
    return lines


def _points(over: LaidOver, frame: Frame, role: Role) -> list[Item]:
    places = frame.points(over.deviation, over.place[:, 1])
    land = over.on_land
    line = [Line(places[land], role, 1.2)] if int(np.sum(land)) > 1 else []
    return [
        *line,
        *(Dot(x, y, MARK_PX, role, filled=bool(on)) for (x, y), on in zip(places.tolist(), land, strict=True)),
    ]


def _largest(over: LaidOver, frame: Frame) -> list[Item]:
    i = over.worst
    x, y = frame.x.px(float(over.deviation[i])), frame.y.px(float(over.place[i, 1]))
    inward = over.deviation[i] < 0.0
    words = f"{fixed(float(over.deviation[i]), 2)} mm"
    at = x + (8.0 if inward else -8.0)
    return [
        Dot(x, y, LARGEST_PX, Role.CHOSEN, filled=False),
        Label(at, y, words, Role.TEXT, Align.LEFT if inward else Align.RIGHT, 8.5, True, True),
    ]


def _name(over: LaidOver, frame: Frame, role: Role, k: int) -> Label:
    at = frame.x.start + 6.0, frame.y.end + NAME_PX * (k + 0.8)
    return Label(*at, over.profile.name, role, Align.LEFT, 8.5, k == 0, True)

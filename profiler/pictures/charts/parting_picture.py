"""The groove former as the moulder parts it: half section with what is caught, and the segments seen from above."""

from math import cos, pi, sin

import numpy as np

from profiler.assess.shape.former_parting import Parting
from profiler.assess.shape.shape_stage import Shape
from profiler.geometry.chain import FloatArray, sampled
from profiler.geometry.parting import Segments
from profiler.numbers import fixed
from profiler.pictures.basics.display import Align, Area, Item, Label, Line, Picture, Role

PAD, SAG_PX = 22.0, 0.2
NAMES_PX = 96.0
ROUND = 73  # points of a circle


def former_picture(shape: Shape, parting: Parting, width: float, height: float) -> Picture:
    """The former's half section, axis at the left; ribs that are caught filled, the split line dashed."""
    edge = shape.edge
    most, top, hub = float(edge.points[:, 0].max()), shape.height, shape.shell.hub_radius
    scale = min((width - 2.0 * PAD - NAMES_PX) / most, (height - 2.0 * PAD) / top)
    x0, y0 = PAD, height - PAD

    def px(points: FloatArray) -> FloatArray:
        return np.column_stack((x0 + scale * points[:, 0], y0 - scale * points[:, 1]))

    inside = np.vstack((sampled(edge, SAG_PX / scale), [[hub, top], [hub, 0.0]]))
    items: list[Item] = [Area(px(inside), Role.BODY)]
    for k in np.flatnonzero(parting.caught > 0.0):
        items.append(Area(px(shape.contours.points[k]), Role.STRONG, 0.8))
    outline = px(inside)
    items.append(Line(np.vstack((outline, outline[:1])), Role.WALL, 1.4))
    items.append(Line(np.array([[x0, y0 + 8.0], [x0, y0 - scale * top - 8.0]]), Role.FAINT, 1.0, (9.0, 3.0, 2.0, 3.0)))
    if parting.split_height is not None:
        y = y0 - scale * parting.split_height
        end = x0 + scale * most + 6.0
        items += [Line(np.array([[x0, y], [end, y]]), Role.CHOSEN, 1.4, (7.0, 3.0)),
                  Label(end + 4.0, y, f"split at {fixed(parting.split_height, 1)} mm", Role.CHOSEN, Align.LEFT, 8.5),
                  Label(end + 4.0, y - 13.0, "above: drawn whole", Role.TEXT, Align.LEFT, 8.0),
                  Label(end + 4.0, y + 13.0, "below: collapses", Role.TEXT, Align.LEFT, 8.0)]  # fmt: skip
    if parting.segments is not None:
        x = x0 + scale * parting.segments.middle_radius
        items.append(Line(np.array([[x, y0], [x, y0 - scale * top]]), Role.CHOSEN, 1.4, (2.0, 2.5)))
    return Picture(width, height, tuple(items))


def segments_picture(segments: Segments, radius: float, width: float, height: float) -> Picture:
    """Seen from the lip: the middle's hole, wide segments, and the keys between them, drawn wider than the least."""
    scale = (0.5 * min(width, height) - PAD) / radius
    x0, y0 = 0.5 * width, 0.5 * height
    hole, half_key = segments.middle_radius * scale, max(0.5 * segments.key_width * scale, 2.5)
    items: list[Item] = [_circle(x0, y0, radius * scale, Role.WALL, 1.4), _circle(x0, y0, hole, Role.CHOSEN, 1.4)]
    keys = segments.count // 2
    for k in range(keys):
        turn = 2.0 * pi * (k + 0.5) / keys - 0.5 * pi
        along, side = np.array([cos(turn), sin(turn)]), np.array([-sin(turn), cos(turn)])
        inner, outer = np.sqrt(max(hole**2 - half_key**2, 0.0)), np.sqrt((radius * scale) ** 2 - half_key**2)
        corners = np.array([x0, y0]) + np.array([
            inner * along - half_key * side, outer * along - half_key * side,
            outer * along + half_key * side, inner * along + half_key * side,
        ])  # fmt: skip
        items += [Area(corners, Role.BAND), Line(corners[:2], Role.WALL, 1.2), Line(corners[2:], Role.WALL, 1.2)]
    items += [Label(x0, y0, "1", Role.CHOSEN, Align.CENTRE, 9.0, bold=True)]
    reach = 0.62 * radius * scale
    for number, offset in (("2", 0.5), ("3", 0.0)):
        turn = 2.0 * pi * offset / keys - 0.5 * pi
        items.append(Label(x0 + reach * cos(turn), y0 + reach * sin(turn), number, Role.TEXT, Align.CENTRE, 9.0,
                           bold=True, paper=True))  # fmt: skip
    return Picture(width, height, tuple(items))


def _circle(x: float, y: float, radius: float, role: Role, line: float) -> Line:
    turn = np.linspace(0.0, 2.0 * pi, ROUND)
    return Line(np.column_stack((x + radius * np.cos(turn), y + radius * np.sin(turn))), role, line)

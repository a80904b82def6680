"""The ore map as a picture: shades and labelled level lines, the present point, the duties of the ore window."""

from math import ceil

import numpy as np

from profiler.assess import Evaluation
from profiler.assess.quantities.table import STATE_KEYS, quantity
from profiler.explore.ore_map import OreMap
from profiler.numbers import fixed, significant
from profiler.physics.slurry.overturn import State
from profiler.pictures.basics.contours import contour, levels, longest
from profiler.pictures.basics.display import Align, Dot, FloatArray, Item, Label, Line, Picture, Role, Strokes
from profiler.pictures.basics.frame import Frame, framed
from profiler.pictures.basics.shading import shades
from profiler.pictures.basics.state_marks import SHORT_WORDS

STATE_ROLES = {
    "strong": Role.STRONG, "weak": Role.WEAK, "matched": Role.MATCHED, "sheltered": Role.SHELTERED,
}  # fmt: skip
_SUMS = ("exposed_count", "matched_mm", "deepest_mm", "power_w", "residence_s")


def ore_map_picture(m: OreMap, width: float, height: float, cursor: tuple[int, int] | None = None) -> Picture:
    """`cursor` is the row and column pointed at."""
    frame = frame_of(m, width, height)
    items: list[Item] = [
        *_shades(m, frame), *frame.grid(), *_unanswered(m, frame), *_levels(m, frame), *_window(m, frame),
        *_present(m, frame), *_legend(m, frame),
    ]  # fmt: skip
    if cursor is not None:
        x, y = frame.x.px(float(m.x[cursor[1]])), frame.y.px(float(m.y[cursor[0]]))
        left, top, right, bottom = frame.box
        items.append(Line(np.array([[x, top], [x, bottom]]), Role.CURSOR, 0.8))
        items.append(Line(np.array([[left, y], [right, y]]), Role.CURSOR, 0.8))
    if not np.isfinite(m.values).any():
        items.append(
            Label(0.5 * width, 0.5 * height, "no number anywhere on this map", Role.TEXT, Align.CENTRE, paper=True)
        )
    return Picture(width, height, (*items, *frame.scales()))


def frame_of(m: OreMap, width: float, height: float) -> Frame:
    x, y = m.asked.x, m.asked.y
    return framed(width, height, (x.low, x.high), (y.low, y.high), x.axis.field.title, y.axis.field.title)


def _counted(m: OreMap) -> bool:
    return m.asked.quantity.decimals == 0 and not m.asked.quantity.unit


def _shades(m: OreMap, frame: Frame) -> list[Item]:
    role = next((r for word, r in STATE_ROLES.items() if f"_{word}" in f"_{m.asked.quantity.key}"), Role.REPOSE)
    return shades(m.x, m.y, m.values, frame, role, _counted(m))


def _unanswered(m: OreMap, frame: Frame) -> list[Item]:
    """A leaning stroke through every node without a number; the legend says why there is none."""
    rows, columns = np.nonzero(~np.isfinite(m.values))
    if not len(rows):
        return []
    left, right = _cells(np.array([frame.x.px(float(v)) for v in m.x]))
    low, high = _cells(np.array([frame.y.px(float(v)) for v in m.y]))
    ends = np.stack((left[columns], low[rows], right[columns], high[rows]), axis=1).reshape(-1, 2, 2)
    return [Strokes(ends, Role.FAINT, 1.0)]


def _legend(m: OreMap, frame: Frame) -> list[Item]:
    if np.isfinite(m.values).all():
        return []
    words = f"hatched: no answer: {'; '.join(m.lost)}" if m.lost else "hatched: no number there"
    left, top, _, _ = frame.box
    return [Label(left + 8.0, top + 12.0, words, Role.TEXT, Align.LEFT, 8.5, paper=True)]


def _cells(px: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Both ends of what lies nearest to each node."""
    half = 0.5 * (px[1:] + px[:-1])
    return np.concatenate((px[:1], half)), np.concatenate((half, px[-1:]))


def _levels(m: OreMap, frame: Frame) -> list[Item]:
    """Numbers that are counted change between two whole ones: the line lies half-way and is labelled 'from n'."""
    items: list[Item] = []
    found = levels(m.values)
    if _counted(m):
        found = np.unique(np.ceil(found)) - 0.5
    labels: list[Item] = []
    for level in found.tolist():
        lines = [frame.points(line[:, 0], line[:, 1]) for line in contour(m.x, m.y, m.values, level)]
        items += [Line(points, Role.TEXT, 1.0) for points in lines]
        most = longest(lines)
        if most is not None and len(most) > 3:
            x, y = most[len(most) // 2]
            text = f"from {ceil(level)}" if _counted(m) else significant(level)
            labels.append(Label(float(x), float(y), text, Role.TEXT, Align.CENTRE, 8.0, paper=True))
    return [*items, *labels]


def _window(m: OreMap, frame: Frame) -> list[Item]:
    """The duties of the ore window by their numbers, and the outline round them."""
    a, b = m.asked.x.axis, m.asked.y.axis
    points = np.array([[frame.x.px(a.value(d)), frame.y.px(b.value(d))] for d in m.window]).reshape(-1, 2)
    items: list[Item] = []
    if len(points) > 1:
        ring = _hull(points)
        items.append(Line(np.vstack((ring, ring[:1])), Role.CHOSEN, 1.4, (5.0, 3.0)))
    for i, (x, y) in enumerate(points.tolist(), 1):
        if frame.holds(x, y):
            items.append(Dot(x, y, 3.0, Role.CHOSEN))
            items.append(Label(x + 7.0, y - 8.0, str(i), Role.CHOSEN, Align.LEFT, 8.5, True, paper=True))
    return items


def _present(m: OreMap, frame: Frame) -> list[Item]:
    x, y = (scale.px(v) for scale, v in zip((frame.x, frame.y), m.present, strict=True))
    if not frame.holds(x, y):
        return []
    value = m.asked.quantity.text(m.present_value)
    return [
        Dot(x, y, 6.0, Role.TEXT, filled=False),
        Dot(x, y, 2.0, Role.TEXT),
        Label(x + 10.0, y + 11.0, f"now {value}", Role.TEXT, Align.LEFT, 8.5, True, paper=True),
    ]


def _hull(points: FloatArray) -> FloatArray:
    """The corners of the smallest convex outline, in order."""
    order = points[np.lexsort((points[:, 1], points[:, 0]))].tolist()

    def half(run: list[list[float]]) -> list[list[float]]:
        kept: list[list[float]] = []
        for p in run:
            while len(kept) > 1 and _turn(kept[-2], kept[-1], p) <= 0.0:
                kept.pop()
            kept.append(p)
        return kept[:-1]

    return np.array(half(order) + half(order[::-1]))


def _turn(a: list[float], b: list[float], c: list[float]) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def duty_reading(e: Evaluation) -> str:
    """What a duty does to the shown design, in one line: grooves per state and the sums of the bowl under the first."""
    counts = []
    for state in sorted(State, reverse=True):
        values = quantity(f"count_{STATE_KEYS[state]}").get(e)
        counts.append(f"{fixed(values[0], 0)} {SHORT_WORDS[state]}" if len(values) else f"– {SHORT_WORDS[state]}")
    sums = []
    for key in _SUMS:
        q = quantity(key)
        values = q.get(e)
        sums.append(f"{q.label.lower()} {q.text(float(values[0])) if len(values) else '–'}")
    return f"{', '.join(counts)} · {' · '.join(sums)}"

"""The passing curve of a feed: per cent finer against size, with what counts as liquid and the sizes it is known by."""

from dataclasses import dataclass

import numpy as np

from profiler.assess.flow.sizes import Passing
from profiler.pictures.basics.display import Align, Area, Dot, Item, Label, Line, Picture, Role, boxed

LEFT_PX, RIGHT_PX, TOP_PX, BOTTOM_PX = 30.0, 12.0, 20.0, 32.0
DECADE = (1.0, 2.0, 5.0)
LEAST_TICK_PX = 26.0


@dataclass(frozen=True, slots=True)
class SizeCurve:
    """What is drawn; `liquid_um` is None where nothing counts as liquid."""

    passing: Passing
    d50_um: float
    d80_um: float
    liquid_um: float | None = None


def size_curve(curve: SizeCurve, width: float, height: float) -> Picture:
    """Size on a logarithmic scale that holds the whole curve, and the liquid's limit where there is one."""
    place = _Place(curve, width, height)
    items: list[Item] = []
    if curve.liquid_um is not None:
        edge = min(max(place.x(curve.liquid_um), place.left), place.right)
        items.append(Area(boxed(place.left, place.top, edge, place.bottom), Role.BAND, 0.6, bare=True))
    for level in (0, 20, 50, 80, 100):
        y = place.y(level)
        items += [
            Line(np.array([[place.left, y], [place.right, y]]), Role.GRID),
            Label(place.left - 4.0, y, f"{level}", Role.FAINT, Align.RIGHT, 8.0),
        ]
    for size in _ticks(place):
        x = place.x(size)
        items += [
            Line(np.array([[x, place.top], [x, place.bottom]]), Role.GRID),
            Label(x, place.bottom + 9.0, f"{size:g}", Role.FAINT, Align.CENTRE, 8.0),
        ]
    points = np.array([
        [place.x(s), place.y(p)] for s, p in zip(curve.passing.size_um, curve.passing.passing_pct, strict=True)
    ])  # fmt: skip
    items.append(Line(points, Role.WALL, 1.8))
    items += [Dot(x, y, 2.4, Role.WALL) for x, y in points.tolist()]
    for known, per_cent, word in ((curve.d50_um, 50.0, "d50"), (curve.d80_um, 80.0, "d80")):
        items += _mark(place, known, per_cent, word)
    if curve.liquid_um is not None and place.x(curve.liquid_um) > place.left:
        items.append(Label(place.left + 3.0, place.top + 9.0, "liquid", Role.REPOSE, Align.LEFT, 8.0))
    border = boxed(place.left, place.top, place.right, place.bottom)
    items += [
        Line(np.vstack((border, border[:1])), Role.FAINT),
        Label(place.left, 8.0, "% passing", Role.TEXT, Align.LEFT, 8.0),
        Label(place.right, height - 8.0, "size, µm", Role.TEXT, Align.RIGHT, 8.0),
    ]
    return Picture(width, height, tuple(items))


class _Place:
    """Where a size and a per cent lie."""

    def __init__(self, curve: SizeCurve, width: float, height: float) -> None:
        self.left, self.top = LEFT_PX, TOP_PX
        self.right, self.bottom = max(width - RIGHT_PX, LEFT_PX + 20.0), max(height - BOTTOM_PX, TOP_PX + 20.0)
        ends = [*curve.passing.size_um, *([] if curve.liquid_um is None else [curve.liquid_um])]
        low, high = min(ends) / 1.15, max(ends) * 1.15
        if high < 3.0 * low:  # a lone class
            low, high = low / 2.0, high * 2.0
        self.low, self.high = low, high

    def x(self, size: float) -> float:
        share = np.log(size / self.low) / np.log(self.high / self.low)
        return float(self.left + share * (self.right - self.left))

    def y(self, per_cent: float) -> float:
        return self.bottom - per_cent / 100.0 * (self.bottom - self.top)


def _ticks(place: _Place) -> list[float]:
    """Round sizes that keep their distance: decades first, then halves and fifths of them."""
    decades = range(int(np.floor(np.log10(place.low))), int(np.ceil(np.log10(place.high))) + 1)
    found: list[float] = []
    for step in (DECADE[0], DECADE[2], DECADE[1]):
        for decade in decades:
            size = step * 10.0**decade
            far = all(abs(place.x(size) - place.x(other)) >= LEAST_TICK_PX for other in found)
            if place.low <= size <= place.high and far:
                found.append(size)
    return sorted(found)


def _mark(place: _Place, size: float, per_cent: float, word: str) -> list[Item]:
    """A size the feed is known by: down to its scale, and named beside the curve."""
    x, y = place.x(size), place.y(per_cent)
    to_left = x - place.left > 34.0
    return [
        Line(np.array([[x, y], [x, place.bottom]]), Role.CHOSEN, 1.0, (3.0, 3.0)),
        Dot(x, y, 3.2, Role.CHOSEN),
        Label(x - 6.0 if to_left else x + 6.0, y - 7.0, word, Role.CHOSEN, Align.RIGHT if to_left else Align.LEFT, 8.0),
    ]

"""A frame for plots: two linear scales, grid, round numbers and titles with units. Data are drawn by the pictures."""

from dataclasses import dataclass
from math import ceil, floor

import numpy as np

from profiler.numbers import significant
from profiler.pictures.basics.axis import round_step
from profiler.pictures.basics.display import Align, FloatArray, Item, Label, Line, Role, boxed
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit

LEFT_PX, RIGHT_PX, TOP_PX, BOTTOM_PX = 52.0, 14.0, 24.0, 38.0


@dataclass(frozen=True, slots=True)
class Scale:
    """Values from `low` to `high` against pixels from `start` to `end`."""

    low: float
    high: float
    start: float
    end: float

    def px(self, value: float) -> float:
        return self.start + (value - self.low) / (self.high - self.low) * (self.end - self.start)

    def pxs(self, values: FloatArray) -> FloatArray:
        return np.asarray(self.start + (values - self.low) / (self.high - self.low) * (self.end - self.start))

    def value(self, px: float) -> float:
        return self.low + (px - self.start) / (self.end - self.start) * (self.high - self.low)

    def ticks(self, least_gap: float, unit: float = 1.0) -> FloatArray:
        """Values that are round in a unit, at least so many pixels apart."""
        step = unit * round_step(least_gap * abs((self.high - self.low) / (self.end - self.start)) / unit)
        first, last = ceil(self.low / step - 1e-9), floor(self.high / step + 1e-9)
        return np.asarray(np.arange(first, last + 1) * step)


@dataclass(frozen=True, slots=True)
class Frame:
    x: Scale
    y: Scale
    x_title: str
    y_title: str
    lengths: LengthUnit = MILLIMETRES  # of the numbers on a scale whose title says mm

    def unit(self, title: str) -> float:
        """What a scale of this title counts in: 25.4 where its millimetres are shown as inches."""
        return self.lengths.mm if self.lengths.heads(title) else 1.0

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, top, right, bottom."""
        return self.x.start, self.y.end, self.x.end, self.y.start

    def points(self, x: FloatArray, y: FloatArray) -> FloatArray:
        """(n, 2) pixels."""
        return np.column_stack((self.x.pxs(x), self.y.pxs(y)))

    def holds(self, px: float, py: float) -> bool:
        left, top, right, bottom = self.box
        return left <= px <= right and top <= py <= bottom

    def grid(self) -> list[Item]:
        """Lines below the data."""
        left, top, right, bottom = self.box
        across, up = self.unit(self.x_title), self.unit(self.y_title)
        items: list[Item] = [
            Line(np.array([[x, top], [x, bottom]]), Role.GRID) for x in self.x.pxs(self.x.ticks(56, across))
        ]
        items += [Line(np.array([[left, y], [right, y]]), Role.GRID) for y in self.y.pxs(self.y.ticks(30, up))]
        return items

    def scales(self) -> list[Item]:
        """Border, numbers and titles above the data."""
        left, top, right, bottom = self.box
        corners = boxed(left, top, right, bottom)
        items: list[Item] = [Line(np.vstack((corners, corners[:1])), Role.FAINT)]
        across, up = self.unit(self.x_title), self.unit(self.y_title)
        x_title, y_title = self.lengths.head(self.x_title), self.lengths.head(self.y_title)
        for v in self.x.ticks(56, across):
            items.append(Label(self.x.px(v), bottom + 10, _plain(v / across), Role.FAINT, Align.CENTRE, 8.5))
        for v in self.y.ticks(30, up):
            items.append(Label(left - 5, self.y.px(v), _plain(v / up), Role.FAINT, Align.RIGHT, 8.5))
        items.append(Label(0.5 * (left + right), bottom + 26, x_title, Role.TEXT, Align.CENTRE, 8.5))
        items.append(Label(left - LEFT_PX + 8.0, top - 12, y_title, Role.TEXT, Align.LEFT, 8.5))
        return items


def framed(
    width: float,
    height: float,
    x: tuple[float, float],
    y: tuple[float, float],
    x_title: str,
    y_title: str,
    lengths: LengthUnit = MILLIMETRES,
) -> Frame:
    """A frame that fills a picture of this size; a range of no width is widened."""
    (x0, x1), (y0, y1) = _widened(*x), _widened(*y)
    across = Scale(x0, x1, LEFT_PX, max(width - RIGHT_PX, LEFT_PX + 20.0))
    up = Scale(y0, y1, max(height - BOTTOM_PX, TOP_PX + 20.0), TOP_PX)
    return Frame(across, up, x_title, y_title, lengths)


def _widened(low: float, high: float) -> tuple[float, float]:
    return (low, high) if high > low else (low - 0.5, low + 0.5)


def _plain(value: float) -> str:
    return significant(value)

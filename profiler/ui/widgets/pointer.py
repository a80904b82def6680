"""What the designer points at and how far they have zoomed: shared by all strips, no part of the study."""

from dataclasses import dataclass, replace

from PySide6.QtCore import QObject, Signal

from profiler.pictures.basics.axis import HeightAxis
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit

TOP_PX = 12.0
BOTTOM_PX = 24.0  # room for the strips' own scales


@dataclass(frozen=True, slots=True)
class Pointing:
    """Frozen, sent whole to whoever draws."""

    axis: HeightAxis
    fitted: bool = True
    cursor_mm: float | None = None
    knot: int | None = None
    leaving: bool = False
    groove: int | None = None
    quantity: str = "groove_ratio"
    lengths: LengthUnit = MILLIMETRES


class Pointer(QObject):
    """Holds the Pointing; every change is announced with the whole value."""

    changed = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self._now = Pointing(HeightAxis(-20.0, 340.0, TOP_PX, 500.0))

    @property
    def now(self) -> Pointing:
        return self._now

    def point(self, **members: object) -> None:
        """Change some members."""
        new = replace(self._now, **members)  # type: ignore[arg-type]
        if new != self._now:
            self._now = new
            self.changed.emit(new)

    def fit(self, low_mm: float, high_mm: float, height_px: float) -> None:
        """The axis that shows these heights in a strip so many pixels high; a zoomed one keeps its span."""
        axis = self._now.axis
        if self._now.fitted:
            axis = HeightAxis(low_mm, high_mm, TOP_PX, max(height_px - BOTTOM_PX, TOP_PX + 50.0))
        else:
            axis = HeightAxis(axis.low, axis.high, TOP_PX, max(height_px - BOTTOM_PX, TOP_PX + 50.0))
        self.point(axis=axis)

    def zoom(self, factor: float, at_y: float) -> None:
        axis = self._now.axis.zoomed(factor, at_y)
        if 2.0 < axis.high - axis.low < 20000.0:
            self.point(axis=axis, fitted=False)

    def show_height(self, height_mm: float) -> None:
        """Move a zoomed axis as far as it takes to see this height."""
        axis = self._now.axis
        below, above = axis.top - axis.y(height_mm), axis.y(height_mm) - axis.bottom
        if not self._now.fitted and max(below, above) > 0.0:
            self.move(below if below > 0.0 else -above)

    def move(self, pixels: float) -> None:
        self.point(axis=self._now.axis.moved(pixels), fitted=False)

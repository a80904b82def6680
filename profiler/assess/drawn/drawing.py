"""A drawing as it was read: strokes and circles in millimetres, centre lines apart, and what there is to say of it."""

from dataclasses import dataclass, field, replace

import numpy as np

from profiler.geometry.chain import Chain

GAP_MM = 0.1  # between ends that are taken as one; what is closed is said
CURVE_MM = 0.01  # between an ellipse or a spline and the arcs that stand for it


@dataclass(frozen=True, slots=True)
class Circle:
    x: float
    y: float
    radius: float


@dataclass(frozen=True, slots=True, eq=False)
class Drawing:
    """Lengths in mm once `unit_mm` is known; until then in the drawing's own unit.

    `unit_mm` is None where the file does not say its unit: then somebody has to.
    """

    name: str
    strokes: tuple[Chain, ...]
    circles: tuple[Circle, ...] = ()
    centre_lines: tuple[Chain, ...] = ()
    unit_mm: float | None = 1.0
    notes: tuple[str, ...] = field(default=())

    def scaled(self, factor: float) -> "Drawing":
        """Everything so many times as large."""
        if factor == 1.0:
            return self
        return replace(
            self,
            strokes=tuple(_scaled(s, factor) for s in self.strokes),
            circles=tuple(Circle(c.x * factor, c.y * factor, c.radius * factor) for c in self.circles),
            centre_lines=tuple(_scaled(s, factor) for s in self.centre_lines),
        )


class UnreadableDrawing(ValueError):
    """Why nothing can be read from it, as one sentence."""


def extents(drawing: Drawing) -> tuple[float, float, float, float]:
    """Left, bottom, right, top of all strokes."""
    points = np.concatenate([s.points for s in drawing.strokes])
    low, high = points.min(axis=0), points.max(axis=0)
    return float(low[0]), float(low[1]), float(high[0]), float(high[1])


def _scaled(chain: Chain, factor: float) -> Chain:
    return Chain(chain.points * factor, chain.bulges, chain.closed)

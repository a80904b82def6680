"""One groove magnified at true proportion: from radii and heights in mm to pixels, and what of a line is seen."""

from dataclasses import dataclass

import numpy as np

from profiler.assess.shape.shape_stage import Shape
from profiler.pictures.basics.display import FloatArray

ABOVE, BELOW = 0.72, 0.88  # mouths of wall seen beyond the mouth
INTO_BODY, INTO_BOWL = 0.3, 0.9  # mouths seen beyond the groove floor, and before the mouth


@dataclass(frozen=True, slots=True)
class GrooveView:
    """The part of a section that is seen; heights go up, radii to the right."""

    radius: float  # mm, of the middle of what is seen
    height: float
    scale: float  # px per mm
    width: float  # px
    tall: float
    left: float = 0.0  # px, where it begins

    def px(self, points: FloatArray) -> FloatArray:
        """(n, 2) of radii and heights (n, 2) in mm."""
        x = self.left + 0.5 * self.width + (points[:, 0] - self.radius) * self.scale
        y = 0.5 * self.tall - (points[:, 1] - self.height) * self.scale
        return np.stack((x, y), axis=1)

    def mm(self, x: float, y: float) -> tuple[float, float]:
        """Radius and height under a pixel."""
        return (
            self.radius + (x - self.left - 0.5 * self.width) / self.scale,
            self.height + (0.5 * self.tall - y) / self.scale,
        )

    @property
    def heights(self) -> tuple[float, float]:
        half = 0.5 * self.tall / self.scale
        return self.height - half, self.height + half

    def seen(self, shape: Shape) -> tuple[float, float]:
        """Heights of the wall that are seen."""
        low, high = self.heights
        return max(low, 0.0), min(high, shape.height)

    @property
    def corners(self) -> tuple[float, float, float, float]:
        """Least and greatest radius, least and greatest height seen."""
        half = 0.5 * self.width / self.scale
        return (self.radius - half, self.radius + half, *self.heights)


def view_of(shape: Shape, k: int, width: float, height: float, at: float = 0.0) -> GrooveView:
    """Groove k (from 0), with the lands about it, as large as the picture holds."""
    corners = shape.contours.corners[k]
    low, high = corners.min(axis=0), corners.max(axis=0)
    mouth = float(np.hypot(*(corners[3] - corners[0])))
    left, right = low[0] - INTO_BOWL * mouth, high[0] + INTO_BODY * mouth
    foot = min(low[1], corners[0, 1] - BELOW * mouth)
    top = max(high[1], corners[3, 1] + ABOVE * mouth)
    scale = min(width / (right - left), height / (top - foot))
    return GrooveView(0.5 * float(left + right), 0.5 * float(foot + top), float(scale), width, height, at)


def frame_of(shape: Shape, k: int) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Lower edge, and the mouth's vectors along it and toward the axis, one mouth long; radii and heights in mm."""
    corners = shape.contours.corners[k]
    along = corners[3] - corners[0]
    return corners[0], along, np.array([-along[1], along[0]])


def placed(frame: tuple[FloatArray, FloatArray, FloatArray], points: FloatArray) -> FloatArray:
    """(n, 2) radii and heights in mm of points (n, 2) in mouths."""
    start, along, inward = frame
    return np.asarray(start + points[:, :1] * along + points[:, 1:] * inward)


def clipped(points: FloatArray, box: tuple[float, float, float, float]) -> FloatArray:
    """A polygon (n, 2) within left, right, low, high: Sutherland I.E. & Hodgman G.W. (1974) Commun. ACM 17, 32."""
    for axis, limit, sign in ((0, box[0], 1.0), (0, box[1], -1.0), (1, box[2], 1.0), (1, box[3], -1.0)):
        if not len(points):
            break
        room = sign * (points[:, axis] - limit)
        before, was = np.roll(points, 1, axis=0), np.roll(room, 1)
        kept: list[FloatArray] = []
        for p, q, inside, outside in zip(points, before, room, was, strict=True):
            if (inside >= 0.0) != (outside >= 0.0):
                kept.append(q + (p - q) * (outside / (outside - inside)))
            if inside >= 0.0:
                kept.append(p)
        points = np.array(kept).reshape(-1, 2)
    return points


def between(points: FloatArray, low: float, high: float) -> FloatArray:
    """The part of a line (n, 2) from where it first enters the heights seen to where it last leaves them."""
    inside = np.flatnonzero((points[:, 1] >= low) & (points[:, 1] <= high))
    if not len(inside):
        return np.zeros((0, 2))
    first, last = int(inside[0]), int(inside[-1])
    parts = [_cut(points, first - 1, first, low), points[first : last + 1], _cut(points, last + 1, last, high)]
    return np.concatenate(parts)


def _cut(points: FloatArray, outside: int, inside: int, height: float) -> FloatArray:
    if not 0 <= outside < len(points):
        return np.zeros((0, 2))
    a, b = points[outside], points[inside]
    share = (height - a[1]) / (b[1] - a[1]) if b[1] != a[1] else 1.0
    return np.asarray((a + share * (b - a))[None, :])

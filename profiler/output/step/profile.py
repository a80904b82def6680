"""The pieces a turned body's faces come from: a section's lines and arcs, cleaned, material always on their left.

A straight piece turns into a plane, a cylinder or a cone; an arc into a torus where its whole circle keeps clear of
the axis, and otherwise into a surface of revolution: a torus that cuts itself has two sheets, and readers differ over
which of them a face lies on. Lengths in mm; a point is (radius, height).
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import pairwise
from math import atan2, pi

import numpy as np

from profiler.geometry.chain import Chain, FloatArray, arcs, sampled

SAME_MM = 1e-6  # what the file states as its uncertainty: nothing in it is off by more, and shorter pieces are left out
FLATTEST_SAG_MM = SAME_MM  # a flatter arc is a line: its centre would lie where the last digits fall away

Point = tuple[float, float]


class Kind(StrEnum):
    PLANE = "plane"
    CYLINDER = "cylinder"
    CONE = "cone"
    TORUS = "torus"
    REVOLVED = "surface of revolution"


@dataclass(frozen=True, slots=True)
class Piece:
    """One face's generator. `centre` is None for a line; `left`: the arc turns left, so its face is convex."""

    start: Point
    end: Point
    name: str = ""
    centre: Point | None = None
    radius: float = 0.0
    left: bool = False

    @property
    def kind(self) -> Kind:
        if self.centre is not None:
            return Kind.TORUS if self.centre[0] > self.radius + SAME_MM else Kind.REVOLVED
        if abs(self.end[1] - self.start[1]) <= SAME_MM:
            return Kind.PLANE
        return Kind.CYLINDER if abs(self.end[0] - self.start[0]) <= SAME_MM else Kind.CONE

    @property
    def low(self) -> float:
        return min(self.start[1], self.end[1])

    @property
    def high(self) -> float:
        return max(self.start[1], self.end[1])

    @property
    def rises(self) -> bool:
        return self.end[1] > self.start[1]

    @property
    def is_graph(self) -> bool:
        """Whether it has one radius at each of its heights."""
        if self.centre is None:
            return self.kind is not Kind.PLANE
        aside = [point[0] - self.centre[0] for point in (self.start, self.end)]
        turns_back = (aside[0] > 0.0) == (self.rises != self.left)
        return aside[0] * aside[1] > 0.0 and not turns_back

    @property
    def turning(self) -> tuple[float, float]:
        """Of an arc: the angle of its start as seen from its centre, and the signed angle to its end."""
        assert self.centre is not None
        first, last = (atan2(z - self.centre[1], r - self.centre[0]) for r, z in (self.start, self.end))
        return first, (last - first) % (2.0 * pi) if self.left else -((first - last) % (2.0 * pi))

    def radius_at(self, height: FloatArray) -> FloatArray:
        """Radius at heights of a piece that is a graph."""
        (r, z), (r_end, z_end) = self.start, self.end
        if self.centre is None:
            return np.asarray(r + (height - z) * ((r_end - r) / (z_end - z)))
        # the rise of the circle between two heights, without the difference of two large numbers
        out = r - self.centre[0]
        aside = np.copysign(np.sqrt(np.maximum(self.radius**2 - (height - self.centre[1]) ** 2, 0.0)), out)
        return np.asarray(r + (z - height) * (z + height - 2.0 * self.centre[1]) / (out + aside))

    def split(self, heights: Sequence[float]) -> list["Piece"]:
        """The piece, a graph, cut at heights inside it, in its own order."""
        inside = sorted(heights, reverse=not self.rises)
        cuts = [(float(self.radius_at(np.array(z))), z) for z in inside]
        return [replace(self, start=a, end=b) for a, b in pairwise([self.start, *cuts, self.end])]


def pieces_of(chain: Chain, names: Sequence[str] = ()) -> list[Piece]:
    """The faces' generators of a closed section; what lies on the axis itself gives no face.

    Raises ValueError with a sentence where turning the section gives no solid.
    """
    chain, labels = _cleaned(chain, list(names) or [""] * len(chain.points))
    centre, radius, _, _ = arcs(chain)
    start, end, bulge = chain.ends()
    curved = 0.5 * np.abs(bulge) * np.hypot(*(end - start).T) > FLATTEST_SAG_MM
    found = []
    for i in range(chain.segments):
        a, b = _point(start[i]), _point(end[i])
        if a[0] == b[0] == 0.0:
            continue
        bent = (_point(centre[i]), float(radius[i]), bool(bulge[i] > 0.0)) if curved[i] else (None, 0.0, False)
        found.append(Piece(a, b, labels[i], *bent))
    _refuse_what_meets_the_axis(chain, found)
    return found


def _cleaned(chain: Chain, names: list[str]) -> tuple[Chain, list[str]]:
    """Counter-clockwise, without segments of no length, points on the axis exactly there."""
    if not chain.closed or len(chain.points) < 2 or not np.all(np.isfinite(chain.points)):
        raise ValueError("no solid can be made: the section is not a closed line.")
    x, y = sampled(chain, 0.01).T
    area = 0.5 * float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y))
    if area < 0.0:
        chain, names = chain.reversed(), [*names[-2::-1], names[-1]]
    keep = np.hypot(*(np.roll(chain.points, -1, axis=0) - chain.points).T) > SAME_MM
    points, bulges = chain.points[keep].copy(), chain.bulges[keep]
    if len(points) < 2 or abs(area) <= SAME_MM * float(max(np.ptp(x), np.ptp(y))):
        raise ValueError("no solid can be made: the section has no area.")
    points[np.abs(points[:, 0]) <= SAME_MM, 0] = 0.0
    return Chain(points, bulges), [name for name, kept in zip(names, keep, strict=True) if kept]


def _refuse_what_meets_the_axis(chain: Chain, pieces: list[Piece]) -> None:
    radii = chain.points[:, 0]
    if float(np.min(sampled(chain, 1e-3)[:, 0])) < -SAME_MM:
        raise ValueError("no solid can be made: the section crosses the spin axis.")
    gaps = len(radii) - len(pieces)
    touching = int(np.count_nonzero(radii == 0.0))
    if gaps > 1 or touching != 2 * gaps:
        raise ValueError("no solid can be made: the section touches the spin axis in a point.")
    if any(piece.centre is not None and _least_radius(piece) <= SAME_MM for piece in pieces):
        raise ValueError("no solid can be made: an arc of the section touches the spin axis.")


def _least_radius(piece: Piece) -> float:
    """Of an arc: its circle's point nearest to the axis where the arc passes it, or the nearer end."""
    assert piece.centre is not None
    first, sweep = piece.turning
    start = first if piece.left else first + sweep
    passes = (pi - start) % (2.0 * pi) < abs(sweep)
    return piece.centre[0] - piece.radius if passes else min(piece.start[0], piece.end[0])


def _point(pair: FloatArray) -> Point:
    return float(pair[0]), float(pair[1])

"""The wall moved outward by a thickness: again a chain of arcs and lines, so that wall thickness is exact.

Every piece becomes a concentric arc. Where the wall turns towards the axis at a corner, the gap is filled by an arc
about the corner; where it turns outward, the two neighbours are cut where they cross. Pieces too sharply curved for
the thickness vanish. The result is the outer limit of all points closer to the wall than the thickness.
"""

from dataclasses import dataclass
from math import asin, cos, sin, tan

import numpy as np

from profiler.geometry.wall import FloatArray, Wall, build_wall


class NoOffset(ValueError):
    """The thickness cannot be laid around this wall."""


@dataclass(frozen=True, slots=True)
class _Piece:
    z0: float
    z1: float
    t0: float
    t1: float
    r0: float

    def sine(self, z: float) -> float:
        share = (z - self.z0) / (self.z1 - self.z0)
        return sin(self.t0) + share * (sin(self.t1) - sin(self.t0))

    def angle(self, z: float) -> float:
        return asin(min(1.0, max(-1.0, self.sine(z))))

    def radius(self, z: float) -> float:
        return self.r0 + (z - self.z0) * tan(0.5 * (self.angle(z) + self.t0))

    def below(self, z: float) -> "_Piece":
        return _Piece(self.z0, z, self.t0, self.angle(z), self.r0)

    def above(self, z: float) -> "_Piece":
        return _Piece(z, self.z1, self.angle(z), self.t1, self.radius(z))


def outward(wall: Wall, thickness: float, lowest: float, highest: float) -> Wall:
    """The outer wall between two heights, as if the wall went on straight beyond both its ends.

    Raises NoOffset where the wall turns outward too sharply for the thickness, or the heights leave nothing between.
    """
    if not lowest < highest:
        raise NoOffset("no height is left for it")
    below, above = _straight_ends(wall, thickness, lowest, highest)
    pieces: list[_Piece] = []
    for piece in (below, *_moved(wall, thickness), above):
        _append(pieces, piece)
    return _clipped(pieces, lowest, highest)


def _straight_ends(wall: Wall, thickness: float, lowest: float, highest: float) -> tuple[_Piece, _Piece]:
    """The wall's straight continuations, moved; they reach beyond both heights."""
    first, last = float(wall.lower[0]), float(wall.upper[-1])
    z0 = float(wall.height[0] - thickness * sin(first))
    z1 = float(wall.height[-1] - thickness * sin(last))
    r0 = float(wall.radius[0] + thickness * cos(first))
    r1 = float(wall.radius[-1] + thickness * cos(last))
    low, high = min(lowest, z0) - thickness, max(highest, z1) + thickness
    below = _Piece(low, z0, first, first, r0 - (z0 - low) * tan(first))
    return below, _Piece(z1, high, last, last, r1)


def inward(wall: Wall, thickness: float, lowest: float, highest: float) -> Wall:
    """The wall moved towards the axis: the mirror image of a wall moved outward."""
    far = 2.0 * float(np.max(wall.radius)) + 2.0 * thickness
    mirrored = Wall(wall.height, -wall.lower, -wall.upper, far - wall.radius, wall.length)
    moved = outward(mirrored, thickness, lowest, highest)
    return Wall(moved.height, -moved.lower, -moved.upper, far - moved.radius, moved.length)


def _moved(wall: Wall, thickness: float) -> list[_Piece]:
    found: list[_Piece] = []
    curvature = wall.curvature()
    for i in range(len(wall.lower)):
        t0, t1 = float(wall.lower[i]), float(wall.upper[i])
        if i and t0 < wall.upper[i - 1] - 1e-12:
            found.append(_arc_about(wall, i, float(wall.upper[i - 1]), t0, thickness))
        if 1.0 - curvature[i] * thickness > 1e-9:
            z0, z1 = (float(wall.height[i + k] - thickness * sin(t)) for k, t in ((0, t0), (1, t1)))
            found.append(_Piece(z0, z1, t0, t1, float(wall.radius[i] + thickness * cos(t0))))
    return found


def _arc_about(wall: Wall, i: int, before: float, after: float, thickness: float) -> _Piece:
    z = float(wall.height[i])
    z0, z1 = z - thickness * sin(before), z - thickness * sin(after)
    return _Piece(z0, z1, before, after, float(wall.radius[i] + thickness * cos(before)))


def _append(pieces: list[_Piece], new: _Piece) -> None:
    """Add a piece on top, cutting it and what is there where they cross."""
    while pieces and new.z0 < pieces[-1].z1 - 1e-12:
        top = pieces.pop()
        low, high = max(top.z0, new.z0), min(top.z1, new.z1)
        gains = [new.radius(z) - top.radius(z) for z in (low, high)]
        if gains[0] <= 0.0 < gains[1]:
            cross = _crossing(top, new, low, high)
            if cross > top.z0 + 1e-9:
                pieces.append(top.below(cross))
            if cross < new.z1 - 1e-9:
                pieces.append(new.above(cross))
            return
        if max(gains) <= 0.0:  # the new piece stays inside the old one as far as both reach
            pieces.append(top)
            if new.z1 <= top.z1:
                return
            raise NoOffset("the wall turns outward too sharply for its thickness")
        if new.z0 > top.z0 + 1e-9:
            raise NoOffset("the wall turns outward too sharply for its thickness")
    if pieces and new.z0 > pieces[-1].z1 + 1e-6:
        raise NoOffset("the wall curves more sharply than its thickness allows")
    pieces.append(new)


def _crossing(one: _Piece, other: _Piece, low: float, high: float) -> float:
    for _ in range(80):
        middle = 0.5 * (low + high)
        if other.radius(middle) > one.radius(middle):
            high = middle
        else:
            low = middle
    return 0.5 * (low + high)


def _clipped(pieces: list[_Piece], lowest: float, highest: float) -> Wall:
    kept = [p for p in pieces if p.z1 > lowest + 1e-9 and p.z0 < highest - 1e-9]
    if kept[0].z0 < lowest:
        kept[0] = kept[0].above(lowest)
    if kept[-1].z1 > highest:
        kept[-1] = kept[-1].below(highest)
    heights: FloatArray = np.array([p.z0 for p in kept] + [kept[-1].z1])
    return build_wall(heights, [p.t0 for p in kept], [p.t1 for p in kept], kept[0].r0, hold_lip=False)

"""Where the faces of a turned body have their seams: at one azimuth that no hole comes near to, if there is one.

Where the rings of a body leave none, a face has the seam of the one before if that will do, or its own; and where the
rings of a single face leave none, the face is parted between them: between the holes of one ring there always is one.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import inf, pi

import numpy as np

from profiler.assess.shape.bore_rings import Ring
from profiler.output.step.bores import LEAST_LAND_MM, Bored, End
from profiler.output.step.profile import Piece

Opening = tuple[Ring, End]


@dataclass(frozen=True, slots=True)
class Face:
    """A piece turned once round, from a seam; the rings of bores that begin or end in it."""

    piece: Piece
    seam: float = 0.0  # rad
    inner: tuple[Bored, ...] = ()
    outer: tuple[Bored, ...] = ()

    @property
    def openings(self) -> list[Opening]:
        return [(b.ring, b.inner) for b in self.inner] + [(b.ring, b.outer) for b in self.outer]


def faces_of(pieces: Sequence[Piece], bored: Sequence[Bored]) -> list[Face]:
    faces = [
        Face(
            piece,
            inner=tuple(b for b in bored if b.inner.piece == i),
            outer=tuple(b for b in bored if b.outer.piece == i),
        )
        for i, piece in enumerate(pieces)
    ]
    seam, found = free_azimuth([opening for face in faces for opening in face.openings])
    if found:
        return [replace(face, seam=seam) for face in faces]
    chosen: list[Face] = []
    for face in faces:
        for part in [face] if free_azimuth(face.openings)[1] else _parted(face):
            if not is_free(seam, part.openings):
                seam = free_azimuth(part.openings)[0]
            chosen.append(replace(part, seam=seam))  # the one before as long as it will do: two near ones make slivers
    return chosen


def is_free(azimuth: float, openings: Sequence[Opening]) -> bool:
    """Whether half a least land is left between an azimuth and every hole."""
    for ring, end in openings:
        pitch = 2.0 * pi / ring.count
        aside = (azimuth - ring.first - ring.skew - 0.5 * (end.first + end.last) + 0.5 * pitch) % pitch - 0.5 * pitch
        if (abs(aside) - 0.5 * (end.last - end.first)) * end.radius < 0.5 * LEAST_LAND_MM:
            return False
    return True


def free_azimuth(openings: Sequence[Opening]) -> tuple[float, bool]:
    """The middle of the widest gap between the holes as seen along the axis, and whether it is wide enough."""
    if not openings:
        return 0.0, True
    start = np.concatenate([ring.ways + end.first for ring, end in openings]) % (2.0 * pi)
    width = np.concatenate([np.full(ring.count, end.last - end.first) for ring, end in openings])
    order = np.argsort(start)
    start, width = start[order], width[order]
    reached = np.maximum.accumulate(np.concatenate((start + width - 2.0 * pi, start + width)))
    before = reached[len(start) - 1 : -1]  # how far round holes reach before each one begins
    gap = start - before
    widest = int(np.argmax(gap))
    radius = min((end.radius for _, end in openings), default=inf)
    return float(start[widest] - 0.5 * gap[widest]) % (2.0 * pi), bool(gap[widest] * radius >= LEAST_LAND_MM)


def _parted(face: Face) -> list[Face]:
    """The face cut level between its rings, so that each part has one."""
    rings = sorted((ring for ring, _ in face.openings), key=lambda ring: ring.height)
    parts = []
    for piece in face.piece.split([0.5 * (below.high + above.low) for below, above in pairwise(rings)]):
        inner, outer = (
            tuple(b for b in every if piece.low < b.ring.height < piece.high) for every in (face.inner, face.outer)
        )
        parts.append(Face(piece, 0.0, inner, outer))
    return parts

"""The points of a section from which a body of triangles is turned: as few as keep it within a sag.

Where water holes open, it has a point just under and one just over them and none between: the strip round the axis
between the two is triangulated with the holes in it.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import groupby
from math import tan

import numpy as np

from profiler.geometry.chain import Chain, FloatArray, distances, figures, sampled
from profiler.output.step.bores import Bored, End
from profiler.output.step.profile import Piece, Point

SECTION_SAG_MM = 0.02  # finer where the section's own volume would not be near enough
DENSE = 0.1  # of it: how far the points lie from the section of which the fewest are taken
VOLUME_SHARE = 2.9e-4  # of the section; with what the flat sides lose the body is within 5e-4
LEAST_SAG_MM = 1e-4
MARGIN, ROOM = 0.25, 1.0 / 3.0  # how far a strip reaches beyond its holes: of a diameter, and at most of the land there


@dataclass(frozen=True, slots=True)
class Strip:
    """The part of a face in which a ring of holes begins or ends, between two heights."""

    bored: Bored
    end: End
    piece: Piece
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class RingPoints:
    """(n, 2) points round a section, material on their left; strips begin at the points whose index they have here."""

    points: FloatArray
    strips: dict[int, Strip]


@dataclass(frozen=True, slots=True)
class _Segment:
    start: Point
    end: Point
    bulge: float
    strip: Strip | None


def ring_points(section: Chain, sag: float) -> RingPoints:
    """Of a closed section without holes, whichever way it runs.

    The points lie closer where turning their polygon would miss the volume by more than VOLUME_SHARE.
    """
    x, y = sampled(section, SECTION_SAG_MM).T
    if float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)) < 0.0:
        section = section.reversed()  # so that every triangle is seen counter-clockwise from outside

    def within(finer: float) -> RingPoints:
        dense = sampled(section, DENSE * finer)
        return RingPoints(_fewest(np.vstack((dense, dense[:1])), (1.0 - DENSE) * finer), {})

    return _near_enough(section, sag, within)


def bored_ring_points(section: Chain, pieces: Sequence[Piece], bored: Sequence[Bored], sag: float) -> RingPoints:
    """Of a section with holes that open in its `pieces`; there is one hole at least."""
    segments = _parted(pieces, strips_of(pieces, bored))
    first = next(k for k, each in enumerate(segments) if each.strip is not None)
    segments = segments[first:] + segments[:first]
    runs = [list(run) for _, run in groupby(segments, key=lambda each: each.strip)]

    def within(finer: float) -> RingPoints:
        points: list[FloatArray] = []
        strips: dict[int, Strip] = {}
        for run in runs:
            if run[0].strip is not None:
                strips[sum(map(len, points))] = run[0].strip
                points.append(np.array([run[0].start]))
            else:
                points.append(_fewest(sampled(_chain(run), DENSE * finer), (1.0 - DENSE) * finer))
        return RingPoints(np.concatenate(points), strips)

    return _near_enough(section, sag, within)


def strips_of(pieces: Sequence[Piece], bored: Sequence[Bored]) -> list[Strip]:
    """Two for each ring, none of which meets another."""
    found: list[Strip] = []
    for side in ("inner", "outer"):
        for each in bored:  # from the floor up
            end: End = getattr(each, side)
            piece = pieces[end.piece]
            below = [b.ring.high for b in bored if b.ring.high < each.ring.low]
            above = [b.ring.low for b in bored if b.ring.low > each.ring.high]
            under = each.ring.low - max([piece.low, *below])
            over = min([piece.high, *above]) - each.ring.high
            wanted = MARGIN * each.ring.diameter
            low, high = each.ring.low - min(wanted, ROOM * under), each.ring.high + min(wanted, ROOM * over)
            found.append(Strip(each, end, piece, low, high))
    return found


def _parted(pieces: Sequence[Piece], strips: Sequence[Strip]) -> list[_Segment]:
    """The section's segments, cut where strips begin and end, and what joins them along the axis."""
    found: list[_Segment] = []
    for i, piece in enumerate(pieces):
        within = {strip.low: strip for strip in strips if strip.end.piece == i}
        heights = [z for strip in within.values() for z in (strip.low, strip.high)]
        for part in piece.split(heights) if heights else [piece]:
            bulge = tan(0.25 * part.turning[1]) if part.centre is not None else 0.0
            found.append(_Segment(part.start, part.end, bulge, within.get(part.low)))
        following = pieces[(i + 1) % len(pieces)].start
        if following != piece.end:
            found.append(_Segment(piece.end, following, 0.0, None))
    return found


def _chain(run: Sequence[_Segment]) -> Chain:
    points = np.array([*(each.start for each in run), run[-1].end])
    return Chain(points, np.array([*(each.bulge for each in run), 0.0]), closed=False)


def _near_enough(section: Chain, sag: float, within: Callable[[float], RingPoints]) -> RingPoints:
    wanted = figures(section).volume
    share = VOLUME_SHARE * max(1.0, sag / SECTION_SAG_MM)  # whoever chooses a coarser line has chosen a coarser volume
    while True:
        ring = within(sag)
        found = figures(Chain(ring.points, np.zeros(len(ring.points)))).volume
        if abs(found - wanted) <= share * wanted or sag <= LEAST_SAG_MM:
            return ring
        sag *= 0.85


def _fewest(line: FloatArray, sag: float) -> FloatArray:
    """Of points along a line those from each of which the next lies as far on as the sag lets it, without the last."""
    last = len(line) - 1
    kept, at = [0], 0
    while at < last:
        step, reach = 1, 1
        while at + 2 * reach <= last and _sags(line[at : at + 2 * reach + 1]) <= sag:
            reach *= 2
        step = reach
        while reach > 1:
            reach //= 2
            if at + step + reach <= last and _sags(line[at : at + step + reach + 1]) <= sag:
                step += reach
        at += step
        kept.append(at)
    return line[kept[:-1]]


def _sags(points: FloatArray) -> float:
    """The farthest that points between the first and the last lie from the straight line that joins these."""
    return float(distances(points[1:-1], points[[0, -1]]).max()) if len(points) > 2 else 0.0

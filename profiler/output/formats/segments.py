"""Chains as the lines and arcs of a drawing file: arcs by centre, radius and two angles, always counter-clockwise."""

from dataclasses import dataclass
from math import atan2, cos, degrees, hypot, radians, sin

import numpy as np

from profiler.geometry.chain import Chain, FloatArray, arcs

FLATTEST_SAG = 2e-3  # mm; a flatter arc is a line, which no shop can tell: its centre lies where readers lose digits
SAME_PLACE = 1e-6  # mm

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class LineSegment:
    start: Point
    end: Point


@dataclass(frozen=True, slots=True)
class ArcSegment:
    """Counter-clockwise from the start angle to the end angle; degrees from the x axis."""

    centre: Point
    radius: float
    start_deg: float
    end_deg: float

    @property
    def start(self) -> Point:
        return self._at(self.start_deg)

    @property
    def end(self) -> Point:
        return self._at(self.end_deg)

    def _at(self, angle_deg: float) -> Point:
        angle = radians(angle_deg)
        return self.centre[0] + self.radius * cos(angle), self.centre[1] + self.radius * sin(angle)


Segment = LineSegment | ArcSegment


def segments_of(chain: Chain) -> list[Segment]:
    """The chain's segments in its own order; lengths in mm."""
    start, end, bulge = chain.ends()
    centre, radius, _, curved = arcs(chain)
    sag = 0.5 * np.abs(bulge) * np.hypot(*(end - start).T)
    curved = curved & (sag > FLATTEST_SAG)
    found: list[Segment] = []
    for i in range(chain.segments):
        a, b = _point(start[i]), _point(end[i])
        if curved[i]:
            first, last = (a, b) if bulge[i] > 0.0 else (b, a)
            middle = _point(centre[i])
            found.append(ArcSegment(middle, float(radius[i]), _angle_deg(middle, first), _angle_deg(middle, last)))
        else:
            found.append(LineSegment(a, b))
    return found


def is_closed(segments: list[Segment]) -> bool:
    """Whether the segments, as written and in their order, lead from a point back to it."""
    if len(segments) < 2:
        return False
    first = segments[0]
    for start, here in ((first.start, first.end), (first.end, first.start)):
        for segment in segments[1:]:
            onward = _other_end(segment, here)
            if onward is None:
                break
            here = onward
        else:
            return _apart(here, start) < SAME_PLACE
    return False


def _other_end(segment: Segment, here: Point) -> Point | None:
    """Where the segment leads from a point, or None if it does not touch it."""
    if _apart(segment.start, here) < SAME_PLACE:
        return segment.end
    return segment.start if _apart(segment.end, here) < SAME_PLACE else None


def _apart(one: Point, other: Point) -> float:
    return hypot(one[0] - other[0], one[1] - other[1])


def _point(pair: FloatArray) -> Point:
    return float(pair[0]), float(pair[1])


def _angle_deg(centre: Point, point: Point) -> float:
    return degrees(atan2(point[1] - centre[1], point[0] - centre[0])) % 360.0

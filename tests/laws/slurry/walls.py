"""Walls for the laws: built from a few spans, with mouths at given heights, and the bed at one repose angle all along.

Lengths in mm and angles in degrees here; what `physics` gives back is in metres.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import radians, tan

import numpy as np
from hypothesis import settings

from profiler.assess.shape.stations import Stations, place_stations
from profiler.geometry.grooves import Mouths
from profiler.geometry.wall import FloatArray, Wall, build_wall
from profiler.physics.slurry.surface import Bed, bed_surface

FEW = settings(max_examples=50, deadline=None, derandomize=True, database=None)  # the same walls in every run


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of wall from the last one's end upward; straight unless `to_deg` is given."""

    height_mm: float
    from_deg: float
    to_deg: float | None = None


def spanned(*spans: Span, lip_radius_mm: float = 200.0) -> Wall:
    """The wall of these spans, the lowest first, ending at the given lip."""
    ends = np.concatenate(([0.0], np.cumsum([s.height_mm for s in spans])))
    lower = np.radians([s.from_deg for s in spans])
    upper = np.radians([s.from_deg if s.to_deg is None else s.to_deg for s in spans])
    return build_wall(ends, lower, upper, lip_radius_mm)


def mouths(wall: Wall, edges_mm: Sequence[tuple[float, float]] = ()) -> Mouths:
    """Mouths whose lower and upper edges stand at these heights."""
    lower, upper = np.array(edges_mm, dtype=float).reshape(-1, 2).T
    return Mouths(
        wall.length_at(lower), wall.length_at(upper), lower, upper, wall.radius_at(lower), wall.radius_at(upper)
    )


def stations(wall: Wall, edges_mm: Sequence[tuple[float, float]] = ()) -> Stations:
    return place_stations(wall, mouths(wall, edges_mm), None)


def bed_at(at: Stations, repose_deg: float) -> Bed:
    """The bed at one repose angle all along."""
    return bed_surface(at.line, np.full(len(at.height), tan(radians(repose_deg))))


def band_at(at: Stations, low_deg: float, middle_deg: float, high_deg: float) -> Bed:
    """The beds at three repose angles, (1, 3, n), as an evaluation holds them."""
    tangents = np.tan(np.radians([low_deg, middle_deg, high_deg]))
    return bed_surface(at.line, np.ones((1, 3, len(at.height))) * tangents[:, None])


def buried_mm(at: Stations, bed: Bed) -> FloatArray:
    """Depth of the bed over the wall line at every station."""
    return bed.buried(at.line) * 1e3


def at_height(at: Stations, height_mm: float) -> int:
    """Index of the station at a height; the lower one at a corner."""
    index = int(np.argmin(np.abs(at.height - height_mm)))
    assert abs(at.height[index] - height_mm) < 1e-9, f"no station stands at {height_mm} mm"
    return index

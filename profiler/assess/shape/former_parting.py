"""How the groove former comes out of a bowl cast on it: which ribs are undercut, and where it may be parted.

A proposal by plane geometry alone: the moulder knows his material, how far it stretches warm, and his tools.
"""

from dataclasses import dataclass

import numpy as np

from profiler.assess.shape.shape_stage import Shape
from profiler.geometry.chain import Chain
from profiler.geometry.parting import Segments, caught, clear_above, dense, segments
from profiler.geometry.wall import FloatArray

FREE_MM = 0.01  # less is no undercut: the tolerance of eased spans


@dataclass(frozen=True, slots=True)
class Parting:
    """g grooves, from the floor up; mm. The former is drawn upward along the axis."""

    rib_radius: FloatArray  # (g,) greatest of each rib
    caught: FloatArray  # (g,) how far it stands out behind what lies above; 0: free
    wall_caught: float  # the same of the wall itself, where it leans in
    split_height: float | None  # above it nothing is caught and the former is drawn whole; None: nowhere is anything
    segments: Segments | None  # of what lies below; None where none is needed, or none helps

    @property
    def stretch(self) -> FloatArray:
        """(g,) by which share the casting would have to widen for the rib to slip past."""
        return np.asarray(self.caught / np.maximum(self.rib_radius - self.caught, 1e-9))

    @property
    def is_whole(self) -> bool:
        return self.split_height is None


def parting_of(shape: Shape) -> Parting:
    clear = clear_above(shape.edge)
    ribs = [
        dense(Chain(points, bulges, closed=False))
        for points, bulges in zip(shape.contours.points, shape.contours.bulges, strict=True)
    ]
    radius = np.array([float(rib[:, 0].max()) for rib in ribs])
    found = np.array([float(caught(rib, clear).max()) for rib in ribs])
    found[found < FREE_MM] = 0.0
    line = dense(shape.edge)
    behind = caught(line, clear)
    wall = line[:, 0] <= shape.wall.radius_at(np.clip(line[:, 1], 0.0, shape.height)) + FREE_MM
    leaning = float(np.max(behind[wall], initial=0.0))
    split = float(line[behind >= FREE_MM, 1].max()) if np.any(behind >= FREE_MM) else None
    if split is None:
        return Parting(radius, found, 0.0, None, None)
    least = float(line[:, 0].min())
    held = behind >= FREE_MM
    return Parting(radius, found, leaning if leaning >= FREE_MM else 0.0, split,
                   segments(line[held, 0], behind[held], least))  # fmt: skip

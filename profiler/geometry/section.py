"""The body's half section: one closed outline of lines and arcs, put together from wall, grooves and outer wall."""

from dataclasses import dataclass

import numpy as np

from profiler.geometry.chain import Chain, without_repeats
from profiler.geometry.grooves import Contours, Mouths
from profiler.geometry.wall import FloatArray, Wall, pairs


@dataclass(frozen=True, slots=True)
class Shell:
    """What surrounds the wall, in the wall's unit; heights from the inner floor."""

    outer: Wall  # from the underside of the floor plate to the underside of the flange
    hub_radius: float
    flange_radius: float

    @property
    def underside(self) -> float:
        return float(self.outer.height[0])

    @property
    def flange_underside(self) -> float:
        return float(self.outer.height[-1])


def inner_edge(wall: Wall, mouths: Mouths, contours: Contours | None, least: float = 0.0) -> Chain:
    """The wall with its grooves cut, from floor to lip, as an open chain.

    Joints of the wall closer than `least` to a groove's rounding are left out, so that no segment is shorter.
    """
    joints = wall.height
    if contours is None or len(mouths) == 0:
        points = pairs(wall.radius, joints)
        return Chain(points, np.append(wall.bulge(joints[:-1], joints[1:]), 0.0), closed=False)
    first, feet = contours.points[:, 0], contours.points[:, 7]
    inside = np.any((joints[:, None] > first[:, 1] - least) & (joints[:, None] < feet[:, 1] + least), axis=1)
    inside[[0, -1]] = False
    kept = joints[~inside]
    heights = np.concatenate((kept, feet[:, 1]))
    starts = np.concatenate((pairs(wall.radius_at(kept), kept), feet))
    lower_feet = np.sort(np.concatenate((kept, first[:, 1])))
    following = lower_feet[np.minimum(np.searchsorted(lower_feet, heights, side="right"), len(lower_feet) - 1)]
    rising = following > heights
    bulges = np.where(rising, wall.bulge(heights, np.where(rising, following, heights)), 0.0)

    grooves = len(mouths)
    order = np.concatenate((heights, np.repeat(mouths.middle, 7)))
    minor = np.concatenate((np.zeros(len(heights)), np.tile(np.arange(-7.0, 0.0), grooves)))
    order[len(kept) : len(heights)] = mouths.middle
    points = np.concatenate((starts, contours.points[:, :7].reshape(-1, 2)))
    curls = np.concatenate((bulges, contours.bulges[:, :7].reshape(-1)))
    rank = np.lexsort((minor, order))
    return without_repeats(points[rank], curls[rank], closed=False)


def outline(edge: Chain, shell: Shell) -> Chain:
    """The closed outline, counter-clockwise: up the outside, over the lip, down the wall, along the floor."""
    outer = shell.outer
    up = pairs(outer.radius, outer.height)
    up_bulges = np.append(outer.bulge(outer.height[:-1], outer.height[1:]), 0.0)
    lip = edge.points[-1]
    down = edge.reversed()
    rim: FloatArray = np.array([[shell.flange_radius, shell.flange_underside], [shell.flange_radius, lip[1]]])
    hub: FloatArray = np.array([[shell.hub_radius, edge.points[0, 1]], [shell.hub_radius, shell.underside]])
    points = np.concatenate((up, rim, down.points, hub))
    bulges = np.concatenate((up_bulges, np.zeros(2), down.bulges, np.zeros(2)))
    return without_repeats(points, bulges, closed=True)

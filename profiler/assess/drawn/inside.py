"""The inner line of a drawn section, from its floor up to its rim: a bowl's wall with its grooves, or a rotor's seat.

A closed chain is the material (a bowl, a rotor's shell) or the hollow inside it, which reaches down the axis or a
straight back; an open chain is the line itself. Floor and rim, drawn level, are left out.
"""

from dataclasses import dataclass

import numpy as np

from profiler.geometry.chain import Chain, FloatArray, sampled

LEVEL = 1e-6  # mm a level line may rise
LEAST_FLOOR_MM = 0.5  # a level line shorter than this is no floor
LOW_SHARE = 0.1  # of the height: how far above the lowest point before it a floor may lie
BACK_SHARE = 0.8  # of the height that a straight back must have


class NoInnerLine(ValueError):
    """Why a chain has no line from a floor up to a rim, as one sentence."""


@dataclass(frozen=True, slots=True, eq=False)
class InnerLine:
    """An open chain from foot to rim; heights as drawn."""

    line: Chain

    @property
    def foot(self) -> FloatArray:
        return np.asarray(self.line.points[0])

    @property
    def rim(self) -> FloatArray:
        return np.asarray(self.line.points[-1])

    @property
    def height(self) -> float:
        return float(self.rim[1] - self.foot[1])


def inner_line(chain: Chain, floor_mm: float | None = None, rim_mm: float | None = None) -> InnerLine:
    """`floor_mm` and `rim_mm`: heights as drawn where somebody says them. Raises NoInnerLine."""
    if len(chain.points) < 2:
        raise NoInnerLine("This chain is a single point.")
    run = _from_rim(chain) if chain.closed else _downward(chain)
    run = _to_floor(run)
    line = run.reversed()
    line = _between(line, floor_mm, rim_mm)
    if len(line.points) < 2 or line.points[-1, 1] - line.points[0, 1] < LEAST_FLOOR_MM:
        raise NoInnerLine("This chain has no line that rises from a floor to a rim.")
    return InnerLine(line)


def is_hollow(chain: Chain) -> bool:
    """Whether a closed chain outlines the space inside rather than the part: it has a straight back by the axis."""
    start, end, bulges = chain.ends()
    low, high = float(chain.points[:, 1].min()), float(chain.points[:, 1].max())
    inner = float(chain.points[:, 0].min())
    back = (np.abs(bulges) < 1e-12) & (np.maximum(start[:, 0], end[:, 0]) < inner + LEVEL)
    return bool(np.any(np.abs(end[back, 1] - start[back, 1]) > BACK_SHARE * (high - low)))


def _from_rim(chain: Chain) -> Chain:
    """The closed chain opened at its rim, run downward along the inner line first."""
    points = chain.points
    top = float(points[:, 1].max())
    at_top = np.flatnonzero(points[:, 1] > top - LEVEL)
    hollow = is_hollow(chain)
    pick = np.argmax if hollow else np.argmin
    start = int(at_top[int(pick(points[at_top, 0]))])
    n = len(points)
    ways = []
    for run, first in ((chain, start), (chain.reversed(), n - 1 - start)):
        order = (np.arange(n) + first) % n
        ways.append(
            Chain(np.vstack((run.points[order], run.points[order[:1]])), np.append(run.bulges[order], 0.0), False)
        )
    # along the rim both ways stay level: the inner line is the one that goes down at once
    return min(ways, key=lambda way: float(sampled(way, 0.1)[1][1]))


def _downward(chain: Chain) -> Chain:
    """The open chain run from its higher end, level lines at its rim left out."""
    first, last = chain.points[0], chain.points[-1]
    run = chain if (first[1], first[0]) >= (last[1], last[0]) else chain.reversed()
    skip = 0
    while skip < len(run.points) - 2 and _is_level(run, skip):
        skip += 1
    return Chain(run.points[skip:], run.bulges[skip:], closed=False)


def _is_level(chain: Chain, i: int) -> bool:
    rise = abs(chain.points[i + 1, 1] - chain.points[i, 1])
    return bool(rise < LEVEL and abs(chain.bulges[i]) < 1e-12)


def _to_floor(run: Chain) -> Chain:
    """Downward as far as the floor: the lowest level line towards the axis, or the lowest point."""
    points = run.points
    height = float(points[:, 1].max() - points[:, 1].min())
    floors = [
        i
        for i in range(len(points) - 1)
        if _is_level(run, i) and points[i, 0] - points[i + 1, 0] > LEAST_FLOOR_MM
        and points[i, 1] <= float(points[: i + 1, 1].min()) + LOW_SHARE * height
    ]  # fmt: skip
    lowest = int(np.argmin(points[:, 1]))
    end = min(floors, key=lambda i: (round(float(points[i, 1]), 6), i), default=lowest)
    return Chain(points[: end + 1], np.append(run.bulges[:end], 0.0), closed=False)


def _between(line: Chain, floor_mm: float | None, rim_mm: float | None) -> Chain:
    """From the first point at or above the floor's height to the last at or below the rim's."""
    heights = line.points[:, 1]
    first, last = 0, len(heights) - 1
    if floor_mm is not None:
        above = np.flatnonzero(heights >= floor_mm - LEVEL)
        first = int(above[0]) if len(above) else last
    if rim_mm is not None:
        below = np.flatnonzero(heights <= rim_mm + LEVEL)
        last = int(below[-1]) if len(below) else first
    return Chain(line.points[first : last + 1], np.append(line.bulges[first:last], 0.0), closed=False)

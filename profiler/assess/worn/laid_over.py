"""A measured profile laid over the drawn inside: how far every point lies off, square to the drawing, and where.

Positive is outward, into the wall: metal or liner is gone there. Points past the ends of the wall, and points a probe
took while it passed over a mouth, say nothing of the wall and are left out, and counted.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from profiler.assess.shape.shape_stage import Shape, shape_of
from profiler.geometry.chain import Chain, FloatArray
from profiler.geometry.nearest import nearest
from profiler.numbers import as_printed, counted, fixed
from profiler.study import Machine, MeasuredProfile

BEYOND_MM = 1.0  # past an end of the wall a point is of the floor or the lip
ON_WALL_MM = 0.02  # a nearest place so near the wall's own line lies on a land
BRIDGING_SHARE = 0.25  # of a groove's depth: less deep inside a mouth a point lies across it
LEAST_BRIDGE_MM = 0.3  # off the drawing, by which such a point must lie
FLOOR_SHARE = 0.7  # of a groove's depth, from which its nearest place is the groove's floor


@dataclass(frozen=True, slots=True, eq=False)
class LaidOver:
    """The n points that count, by rising height of their nearest drawn place."""

    profile: MeasuredProfile
    shape: Shape
    points: FloatArray  # (n, 2) radius, height
    place: FloatArray  # (n, 2) nearest drawn place
    deviation: FloatArray  # (n,) mm, outward positive
    groove: NDArray[np.intp]  # (n,) number of the groove, from 1; 0 on a land
    on_floor: NDArray[np.bool_]  # (n,) of a groove
    left_out: int

    @property
    def on_land(self) -> NDArray[np.bool_]:
        return np.asarray(self.groove == 0)

    @property
    def worst(self) -> int:
        """The point that lies farthest off."""
        return int(np.argmax(np.abs(self.deviation)))

    def where(self, i: int) -> str:
        """In words: at which height, on which land or in which groove."""
        height = f"at {fixed(float(self.place[i, 1]), 1)} mm"
        if self.groove[i]:
            part = "on the floor of" if self.on_floor[i] else "in"
            return f"{height}, {part} groove {self.groove[i]}"
        below = int(np.sum(self.shape.mouths.middle < self.place[i, 1]))
        if not len(self.shape.mouths):
            return height
        return f"{height}, on the land {f'above groove {below}' if below else 'below groove 1'}"

    @property
    def sentence(self) -> str:
        """The largest deviation with its place."""
        i = self.worst
        off = float(self.deviation[i])
        side = "outward (worn, or cast too wide)" if off > 0.0 else "inward (cast too narrow, or scale)"
        least = f"{fixed(abs(off), 2)} mm {side}, {self.where(i)}"
        if abs(off) < 0.0005:
            least = "negligible"
        rest = f"; {counted(self.left_out, 'point')} past the wall or across a mouth left out" if self.left_out else ""
        points = counted(len(self.deviation), "point")
        return as_printed(f"“{self.profile.name}”: the largest deviation of {points} is {least}{rest}.")


@dataclass(frozen=True, slots=True)
class Acceptance:
    """Whether a profile keeps a tolerance: True, False, or None where the measuring cannot tell."""

    kept: bool | None
    sentence: str


def check_doubts(tolerance_mm: float, off_by_mm: float) -> None:
    """Raises ValueError for what is no doubt: of a bowl that ran too, whose rate's band would turn over."""
    if not tolerance_mm > 0.0 or not off_by_mm >= 0.0:
        raise ValueError("A tolerance is above 0 mm, and what a measurement may be off is not below 0.")


def accepted(over: LaidOver, tolerance_mm: float, off_by_mm: float) -> Acceptance:
    """By the default rule of ISO 14253-1 (from memory): the measuring's own doubt is taken off the tolerance to accept,
    and added to it to refuse; between the two nothing is proved. Raises ValueError for a tolerance that is none.
    """
    check_doubts(tolerance_mm, off_by_mm)
    off = np.abs(over.deviation)
    worst, where = float(off[over.worst]), over.where(over.worst)
    band = f"± {tolerance_mm:g} mm, measured to ± {off_by_mm:g} mm"
    if worst <= tolerance_mm - off_by_mm:
        return Acceptance(True, as_printed(f"Accepted: every point keeps {band}."))
    if worst > tolerance_mm + off_by_mm:
        beyond = counted(int(np.sum(off > tolerance_mm + off_by_mm)), "point")
        return Acceptance(False, as_printed(f"Not accepted: {beyond} of {len(off)} beyond {band}, the worst {where}."))
    return Acceptance(None, as_printed(f"Neither accepted nor refused: {fixed(worst, 2)} mm {where} lies within the "
                                       f"uncertainty of the measurement from the limit of {band}."))  # fmt: skip


def laid_over(profile: MeasuredProfile, machine: Machine) -> LaidOver:
    """Raises ValueError, one sentence, where the drawing cannot be built or no point lies on its wall."""
    shape, problems = shape_of(profile.design, machine)
    if shape is None:
        why = problems[0].text.rstrip(".") if problems else "it has no section"
        raise ValueError(f"“{profile.name}” cannot be laid over “{profile.design.name}”: {why}.")
    if not profile.points:
        raise ValueError(f"“{profile.name}” holds no point.")
    points = np.array([(p.radius_mm, p.height_mm) for p in profile.points])
    found = nearest(points, shape.edge)
    groove, depth = _grooves_of(shape, found.foot)
    bridging = _bridges(shape, points, np.abs(found.distance))
    counts = (found.beyond <= BEYOND_MM) & ~bridging
    if not counts.any():
        raise ValueError(f"No point of “{profile.name}” lies on the drawn wall.")
    order = np.flatnonzero(counts)[np.argsort(found.foot[counts, 1], kind="stable")]
    full = np.append(shape.cut.depth, 0.0)[groove - 1]
    floor = (groove > 0) & (depth > FLOOR_SHARE * full)
    return LaidOver(
        profile, shape, points[order], found.foot[order], found.distance[order], groove[order], floor[order],
        int(np.sum(~counts)),
    )  # fmt: skip


def wall_line(shape: Shape) -> Chain:
    """The wall as if no groove were cut."""
    wall = shape.wall
    ends = np.stack((wall.radius, wall.height), axis=1)
    return Chain(ends, np.append(wall.bulge(wall.height[:-1], wall.height[1:]), 0.0), closed=False)


def _grooves_of(shape: Shape, places: FloatArray) -> tuple[NDArray[np.intp], FloatArray]:
    """The groove (from 1) each place of the drawn inside belongs to, 0 for a land; and how deep it lies there."""
    off = nearest(places, wall_line(shape))
    if not len(shape.mouths):
        return np.zeros(len(places), dtype=np.intp), off.distance
    number = np.argmin(np.abs(off.foot[:, 1:] - shape.mouths.middle), axis=1) + 1
    return np.where(off.distance > ON_WALL_MM, number, 0).astype(np.intp), off.distance


def _bridges(shape: Shape, points: FloatArray, away: FloatArray) -> NDArray[np.bool_]:
    """Which points lie across a mouth, near the wall's line where the wall is cut."""
    if not len(shape.mouths):
        return np.zeros(len(points), dtype=bool)
    off = nearest(points, wall_line(shape))
    height = off.foot[:, 1]
    k = np.argmin(np.abs(height[:, None] - shape.mouths.middle), axis=1)
    inside = (height > shape.mouths.lower[k]) & (height < shape.mouths.upper[k])
    shallow = off.distance < BRIDGING_SHARE * shape.cut.depth[k]
    return np.asarray(inside & shallow & (away > LEAST_BRIDGE_MM))

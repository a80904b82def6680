"""What the bed would be without the land that holds it: the same film over the wall, one land taken away.

The repose angle stays as it was worked out for the whole wall: a land is a small part of it.
"""

from dataclasses import dataclass, replace

import numpy as np

from profiler.assess.evaluate.evaluation import Evaluation
from profiler.assess.flow.flow_stage import HIGH, LOW, MIDDLE
from profiler.geometry.wall import FloatArray
from profiler.numbers import as_printed, fixed
from profiler.physics.slurry.surface import WallLine, bed_surface
from profiler.units import MM

SAME_MM = 1e-6
NO_BED_MM = 0.05
TOUCHED_MM = 0.5  # of bed: less over a groove's lower edge is not told of as held


@dataclass(frozen=True, slots=True)
class WithoutLand:
    """One land that holds a bed, and the deepest bed it holds, with it and without, at repose low, middle, high, mm."""

    from_mm: float
    to_mm: float
    number: int  # it lies above this groove, from 1; 0: below the first
    grooves: tuple[int, ...]  # whose lower edge lies under the bed it holds
    held_from_mm: float  # the lowest place of the bed it holds
    deepest: tuple[float, float, float]
    without: tuple[float, float, float]
    then_at_mm: float  # where the bed is held without it, at middle friction
    is_lip: bool  # it reaches up to the lip

    @property
    def sentence(self) -> str:
        where = f"the {'lip' if self.is_lip else 'land'} at {fixed(self.from_mm, 1)} to {fixed(self.to_mm, 1)} mm"
        held = f"grooves {self.grooves[0]} to {self.grooves[-1]}"
        if len(self.grooves) == 1:
            held = f"groove {self.grooves[0]}"
        begins = f"Without {where}, which holds the bed over {held},"
        if self.without[MIDDLE] < NO_BED_MM:
            return as_printed(f"{begins} no bed would lie there, instead of at most {_span(self.deepest)}.")
        return as_printed(
            f"{begins} the bed would be at most {_span(self.without)} deep instead of {_span(self.deepest)}, held at "
            f"{fixed(self.then_at_mm, 0)} mm."
        )


def without_lands(e: Evaluation) -> tuple[WithoutLand, ...]:
    """Every land that holds a bed over some groove, the one that holds most first."""
    if e.shape is None or e.flow is None or not len(e.shape.mouths) or e.flow.answers.missing[0]:
        return ()
    mouths = e.shape.mouths
    edges = (0.0, *mouths.upper.tolist()), (*mouths.lower.tolist(), e.shape.height)
    lands = tuple(zip(*edges, strict=True))
    found = [_without(e, k, low, high) for k, (low, high) in enumerate(lands)]
    kept = [w for w in found if w is not None]
    return tuple(sorted(kept, key=lambda w: w.without[MIDDLE] - w.deepest[MIDDLE]))


def _without(e: Evaluation, number: int, low: float, high: float) -> WithoutLand | None:
    assert e.shape is not None and e.flow is not None
    at, bed = e.shape.stations, e.flow.bed
    held = bed.held_at[0, MIDDLE] / MM
    buried = bed.buried(at.line)[0] / MM
    under = (held >= low - SAME_MM) & (held <= high + SAME_MM) & (buried[MIDDLE] > 0.0)
    grooves = np.flatnonzero(
        under[at.edge_places.lower_index] & (buried[MIDDLE][at.edge_places.lower_index] > TOUCHED_MM)
    )
    if not len(grooves):
        return None
    is_lip = high >= e.shape.height - SAME_MM
    other, then = _lower_lip(e) if is_lip else _taken_away(e, low, high)
    deepest, left = _most(buried, under), _most(then, under)
    lowest = int(np.flatnonzero(under)[0])
    where = int(np.flatnonzero(under)[int(np.argmax(then[MIDDLE][under]))])
    return WithoutLand(
        low, high, number, tuple((grooves + 1).tolist()), float(at.height[lowest]), deepest, left,
        float(other[where]), is_lip,
    )  # fmt: skip


def _taken_away(e: Evaluation, low: float, high: float) -> tuple[FloatArray, FloatArray]:
    """(n,) mm where the bed is held at middle friction, and (3, n) mm how deep it is, were this land no land."""
    assert e.shape is not None and e.flow is not None
    line, bed = e.shape.stations.line, e.flow.bed
    inside = (line.height[:-1] / MM >= low - SAME_MM) & (line.height[1:] / MM <= high + SAME_MM)
    other = bed_surface(replace(line, land=line.land & ~inside), bed.slope[:1], bed.slope_below[:1])
    return other.held_at[0, MIDDLE] / MM, other.buried(line)[0] / MM


def _lower_lip(e: Evaluation) -> tuple[FloatArray, FloatArray]:
    """The same where the lip is gone: the bowl then ends at the lower edge of its topmost groove, no bed above."""
    assert e.shape is not None and e.flow is not None
    line, bed = e.shape.stations.line, e.flow.bed
    n = int(np.searchsorted(line.height / MM, float(e.shape.mouths.lower[-1]) + SAME_MM))
    cut = WallLine(
        line.height[:n], line.radius[:n], line.slope_below[:n], line.slope_above[:n], line.land[: n - 1]
    )  # fmt: skip
    other = bed_surface(cut, bed.slope[:1, :, :n], bed.slope_below[:1, :, :n])
    held, depth = line.height / MM, np.zeros((bed.slope.shape[1], len(line.height)))
    held[:n], depth[:, :n] = other.held_at[0, MIDDLE] / MM, other.buried(cut)[0] / MM
    return held, depth


def _most(depth: FloatArray, under: FloatArray) -> tuple[float, float, float]:
    low, middle, high = (float(np.max(depth[k][under])) for k in (LOW, MIDDLE, HIGH))
    return low, middle, high


def _span(values: tuple[float, float, float]) -> str:
    return f"{fixed(values[MIDDLE], 1)} mm ({fixed(values[LOW], 1)} to {fixed(values[HIGH], 1)})"

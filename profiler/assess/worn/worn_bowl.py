"""A bowl as it is when so much of its wall is gone: a design like any other, so that all else can be asked of it.

The lands wear square to the wall. The outside, the floor plate and the height of the lip stay; so do the grooves'
floors, which lie under their beds, so a groove is shallower by what its lands have lost, and its mouth narrower by what
its flanks lean. Even wear moves the wall exactly; wear by height is followed within 0.05 mm.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import degrees, radians, tan

import numpy as np
from msgspec.structs import replace

from profiler.assess.drawn.fewest_knots import NoCurve, Spots, enough_knots
from profiler.assess.shape.shape_stage import Shape, shape_of
from profiler.assess.worn.wear import Course
from profiler.geometry.offset import NoOffset, outward
from profiler.geometry.wall import FloatArray, Wall
from profiler.numbers import counted, fixed
from profiler.study import Design, GrooveChange, GrooveRule, Knot, Lineage, Machine, Placing, WallCurve, Way
from profiler.study.records.design import GROOVE_MOUTH, LEAST_KNOT_GAP_MM

FOLLOWED_MM = 0.05
PLACES = 401
LEAST_MM = GROOVE_MOUTH.low  # of a mouth or a depth: less of it is no groove


@dataclass(frozen=True, slots=True)
class WornBowl:
    """`gone` are the numbers of grooves of which nothing is left."""

    design: Design
    most_mm: float
    gone: tuple[int, ...]
    remarks: tuple[str, ...]


def worn_bowl(design: Design, machine: Machine, wear: Course, name: str) -> WornBowl:
    """Raises ValueError, one sentence, where the bowl cannot be built or so much cannot be taken off its wall."""
    shape, problems = shape_of(design, machine)
    if shape is None:
        why = problems[0].text.rstrip(".") if problems else "it has no section"
        raise ValueError(f"“{design.name}” cannot be worn: {why}.")
    lineage = Lineage(Way.WORN, origin=design.name)
    height = np.linspace(0.0, shape.height, PLACES)
    there = wear.at(height)
    if float(np.max(np.abs(there))) == 0.0:
        return WornBowl(replace(design, name=name, lineage=lineage), 0.0, (), ())
    _check_thickness(shape, height, there)
    even = bool(np.ptp(there) < 1e-12)
    curve = _moved_whole(shape, float(there[0])) if even else _followed(shape, wear)
    rule, gone = _grooves(design.grooves, shape, wear)
    mean = float(np.mean(there))
    body = replace(design.body, wall_mm=design.body.wall_mm - mean)
    remarks = ["Groove floors, outside, floor plate and the lip's height are taken as they were."]
    if not even:
        remarks.append(f"The worn wall is followed within {FOLLOWED_MM:g} mm.")
        if not design.body.fill_seat:
            remarks.append(f"Its outside follows it, {fixed(mean, 2)} mm nearer: the mean of what is gone.")
    if gone:
        remarks.append(f"{counted(len(gone), 'groove')} worn away: {', '.join(map(str, gone))}.")
    worn = replace(design, name=name, wall=curve, grooves=rule, body=body, lineage=lineage)
    return WornBowl(worn, float(np.max(there)), gone, tuple(remarks))


def _check_thickness(shape: Shape, height: FloatArray, gone: FloatArray) -> None:
    """Raises ValueError where the wall is worn through, its outside staying as it is."""
    thick = (shape.shell.outer.radius_at(height) - shape.wall.radius_at(height)) * np.cos(shape.wall.angle_at(height))
    worst = int(np.argmin(thick - gone))
    if gone[worst] >= thick[worst]:
        raise ValueError(
            f"{fixed(float(gone[worst]), 1)} mm gone at {fixed(float(height[worst]), 0)} mm is more than the wall's "
            f"{fixed(float(thick[worst]), 1)} mm."
        )


def _moved_whole(shape: Shape, by: float) -> WallCurve:
    try:
        wall = outward(shape.wall, by, 0.0, shape.height)
    except NoOffset as reason:
        raise ValueError(f"{fixed(by, 2)} mm cannot be taken off this wall evenly: {reason}.") from None
    return _as_knots(wall.height, wall.lower, wall.upper, float(wall.radius[-1]))


def _followed(shape: Shape, wear: Course) -> WallCurve:
    """The wall moved at every place by what is gone there, as knots that follow it."""
    points = _moved_points(shape.wall, wear)
    if np.any(np.diff(points[:, 1]) <= 0.0):
        raise ValueError("So uneven a wear folds the wall: no wall curve can follow it.")
    inside = np.linspace(0.0, shape.height, PLACES)
    spots = Spots(inside, np.interp(inside, points[:, 1], points[:, 0]))
    try:
        found = enough_knots(spots, shape.height, _corners(shape.wall), FOLLOWED_MM)
    except NoCurve as reason:
        raise ValueError(f"The worn wall cannot be followed: {reason}") from None
    return _as_knots(found.heights, found.leaving[:-1], found.arriving[1:], found.lip_radius)


def _moved_points(wall: Wall, wear: Course) -> FloatArray:
    """Places of the wall, from straight below its floor to straight above its lip, each moved square to it."""
    top, past = float(wall.height[-1]), 2.0 * float(np.max(np.abs(wear.value))) + 1.0
    height = np.unique(np.concatenate((np.linspace(0.0, top, 4 * PLACES), wall.height)))
    angle, radius = wall.angle_at(height), wall.radius_at(height)
    ends = [(0.0, -past, angle[0], radius[0]), (top, top + past, angle[-1], radius[-1])]
    low, high = ((r + (z - z0) * np.tan(t), z, t) for z0, z, t, r in ends)
    table = np.vstack((low, np.stack((radius, height, angle), axis=1), high))
    gone = wear.at(np.clip(table[:, 1], 0.0, top))
    return np.stack((table[:, 0] + gone * np.cos(table[:, 2]), table[:, 1] - gone * np.sin(table[:, 2])), axis=1)


def _corners(wall: Wall) -> list[float]:
    turns = np.abs(wall.lower[1:] - wall.upper[:-1])
    return [float(z) for z in wall.height[1:-1][turns > radians(1.0)]]


def _as_knots(
    heights: FloatArray | Sequence[float], lower: FloatArray, upper: FloatArray, lip_radius: float
) -> WallCurve:
    """Pieces as knots; where a piece leaves as the one below arrives there is no corner.

    A joint nearer to the next than two knots may be is left out: the neighbour reaches over it.
    """
    heights, lower, upper = _without_slivers(np.asarray(heights, dtype=float), lower, upper)
    last = len(heights) - 1
    knots = []
    for i, z in enumerate(heights):
        arriving = degrees(float(upper[i - 1])) if i else degrees(float(lower[0]))
        leaving = degrees(float(lower[i])) if 0 < i < last else None
        corner = leaving is not None and abs(leaving - arriving) > 1e-9
        knots.append(Knot(float(z), arriving, leaving if corner else None))
    return WallCurve(tuple(knots), lip_radius_mm=lip_radius)


def _without_slivers(
    heights: FloatArray, lower: FloatArray, upper: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    kept = np.flatnonzero(np.diff(heights) > 2.0 * LEAST_KNOT_GAP_MM)
    joints = np.concatenate((heights[:1], heights[kept[1:]], heights[-1:]))
    return joints, lower[kept], upper[kept]


def _grooves(rule: GrooveRule, shape: Shape, wear: Course) -> tuple[GrooveRule, tuple[int, ...]]:
    """The same grooves by their own heights, each as shallow and narrow as its lands have left it."""
    mouths = shape.mouths
    if not len(mouths):
        return rule, ()
    middle = 0.5 * (mouths.lower_length + mouths.upper_length)
    height = shape.wall.height_at(middle)
    gone = wear.at(height)
    depth, mouth = shape.cut.depth - gone, shape.cut.mouth - 2.0 * gone * tan(radians(rule.flank_deg))
    moved = height - gone * np.sin(shape.wall.angle_at(height))
    left = (depth >= LEAST_MM) & (mouth >= LEAST_MM)
    changes = tuple(
        GrooveChange(k, mouth_mm=float(m), depth_mm=float(d)) if kept else GrooveChange(k, off=True)
        for k, (m, d, kept) in enumerate(zip(mouth, depth, left, strict=True), 1)
    )
    listed = replace(rule, placing=Placing.LISTED, heights_mm=tuple(moved.tolist()), count=len(mouths), changes=changes)
    return listed, tuple((np.flatnonzero(~left) + 1).tolist())

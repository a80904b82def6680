"""A drawn bowl's inner wall as a design: the fewest knots within 0.2 mm, its grooves as a rule or a list."""

from dataclasses import dataclass
from itertools import pairwise
from math import degrees

import numpy as np
from msgspec.structs import replace

from profiler.assess.drawn.drawn_grooves import ALIKE_MM, DrawnGroove, Lands, headings, lands_of
from profiler.assess.drawn.fewest_knots import Fitted, NoCurve, Spots, fewest_knots
from profiler.assess.drawn.inside import InnerLine
from profiler.assess.shape.shape_stage import wall_of
from profiler.geometry.chain import Chain, FloatArray, distances, sampled
from profiler.geometry.wall import Wall
from profiler.numbers import counted
from profiler.study import Body, Design, GrooveRule, Knot, Lineage, Placing, WallCurve, Way

TOLERANCE_MM = 0.2
AIMS = (1.0, 0.75, 0.5)  # of the tolerance, one after the other
SAG_MM = 0.002  # of the samples a wall is fitted through
SPOT_MM = 2.0  # between them, at most
CORNER_TURN = np.radians(1.0)
HIDDEN_TURN = np.radians(5.0)  # from one side of a mouth to the other: less is a curved wall's
MOST_SPOTS = 400
ANGLE_DECIMALS = 4


@dataclass(frozen=True, slots=True)
class DrawnWall:
    """`worst_mm`: greatest distance between the curve and the drawn lands, square to the wall."""

    design: Design
    worst_mm: float
    grooves: tuple[DrawnGroove, ...]
    repeating: bool

    def as_design(self, name: str, body: Body, drawing: str) -> Design:
        """Under a name of its own, with this body; `drawing` is what it was read from."""
        return replace(self.design, name=name, body=body, lineage=Lineage(Way.DRAWING, told=drawing))

    @property
    def sentence(self) -> str:
        knots = counted(len(self.design.wall.knots), "knot")
        within = f"{knots} follow the drawn wall within {self.worst_mm:.2f} mm ({TOLERANCE_MM:g} mm allowed)"
        if not self.grooves:
            return f"{within}; no grooves were recognised."
        rule = self.design.grooves
        how = "alike, taken as a rule" if self.repeating else "that do not repeat, taken as a list"
        each = f"mouth {rule.mouth_mm:g} mm, depth {rule.depth_mm:g} mm"
        return f"{within}; {counted(len(self.grooves), 'groove')} {how}: {each}."


def drawn_wall(inner: InnerLine, like: Design, tolerance: float = TOLERANCE_MM) -> DrawnWall:
    """A design with the drawn wall and grooves, all else as in `like`. Raises NoCurve, one sentence."""
    lands = lands_of(inner)
    floor, top = float(inner.foot[1]), round(inner.height, 7)
    spots = _spots(lands, floor)
    plain, wall, worst = _followed(spots, top, _corners(lands, floor), tolerance, like)
    rule, repeating = _rule(lands.grooves, floor, wall, like.grooves)
    return DrawnWall(replace(plain, grooves=rule), worst, lands.grooves, repeating)


def _followed(
    spots: Spots, top: float, corners: list[float], tolerance: float, like: Design
) -> tuple[Design, Wall, float]:
    """The design with the curve, its wall, and how far that truly lies off; aimed closer where it lies too far.

    The fit sees distances square to the curve at a place's own height, which where it bends are not the least ones.
    """
    nearest = np.inf
    for share in AIMS:
        try:
            fitted = fewest_knots(spots, top, corners, share * tolerance)
        except NoCurve:
            if np.isfinite(nearest):
                break
            raise
        plain = replace(like, wall=_curve(fitted))
        wall = wall_of(plain)
        worst = _worst(spots, wall)
        if worst <= tolerance:
            return plain, wall, worst
        nearest = min(nearest, worst)
    raise NoCurve(f"The nearest curve found lies {nearest:.3f} mm from the drawn wall; {tolerance:g} mm are allowed.")


def _worst(spots: Spots, wall: Wall) -> float:
    """Greatest distance of a drawn place from the curve as it is kept, square to the curve, however it bends."""
    ends = np.stack((wall.radius, wall.height), axis=1)
    bulges = np.append(wall.bulge(wall.height[:-1], wall.height[1:]), 0.0)
    line = sampled(Chain(ends, bulges, closed=False), SAG_MM)
    return float(np.max(distances(np.stack((spots.radius, spots.height), axis=1), line)))


def _spots(lands: Lands, floor: float) -> Spots:
    """Places of the lands, rising."""
    parts = [_dense(sampled(chain, SAG_MM)) for chain in lands.chains]
    if not parts:
        raise NoCurve("Nothing of this line is wall: grooves take all of it.")
    points = np.concatenate(parts)
    points[:, 1] -= floor
    falls = np.flatnonzero(np.diff(points[:, 1]) < -1e-6)
    if len(falls):
        raise NoCurve(
            f"The line turns back down {points[falls[0], 1]:.1f} mm above its floor, where no groove was recognised: "
            "no wall curve can follow it."
        )
    keep = np.concatenate(([True], np.diff(points[:, 1]) > 1e-6))
    points = points[keep]
    if len(points) > MOST_SPOTS:
        points = points[np.unique(np.linspace(0, len(points) - 1, MOST_SPOTS).round().astype(int))]
    if len(points) < 2:
        raise NoCurve("The line is too short for a wall.")
    return Spots(points[:, 1], points[:, 0])


def _dense(points: FloatArray) -> FloatArray:
    """With further points where straight pieces are long."""
    steps = np.hypot(*np.diff(points, axis=0).T)
    counts = np.maximum(np.ceil(steps / SPOT_MM), 1).astype(int)
    parts = [
        points[i] + (points[i + 1] - points[i]) * (np.arange(n) / n)[:, None] for i, n in enumerate(counts.tolist())
    ]
    return np.concatenate((*parts, points[-1:]))


def _corners(lands: Lands, floor: float) -> list[float]:
    """Heights of the corners: those drawn, and those behind a mouth, where the lands on both sides, led on, meet."""
    found = [z - floor for below, above in pairwise(lands.chains) if (z := _meeting_height(below, above)) is not None]
    for chain in lands.chains:
        leaving, arriving = headings(chain)
        turns = np.abs(leaving[1:] - arriving[:-1])
        found += [float(chain.points[i + 1, 1]) - floor for i in np.flatnonzero(turns > CORNER_TURN)]
    return found


def _meeting_height(below: Chain, above: Chain) -> float | None:
    """Where the land below a mouth and the land above it, led on straight, meet in the mouth; None where none does."""
    start, end = below.points[-1], above.points[0]
    one, other = float(headings(below)[1][-1]), float(headings(above)[0][0])
    if abs(other - one) < HIDDEN_TURN:
        return None
    slopes = np.tan([one, other])
    height = (end[0] - start[0] + slopes[0] * start[1] - slopes[1] * end[1]) / (slopes[0] - slopes[1])
    return float(height) if start[1] < height < end[1] else None


def _curve(fitted: Fitted) -> WallCurve:
    knots = []
    last = len(fitted.heights) - 1
    for i, height in enumerate(fitted.heights):
        arriving, leaving = (round(degrees(float(a[i])), ANGLE_DECIMALS) for a in (fitted.arriving, fitted.leaving))
        inner = 0 < i < last
        angle = leaving if i == 0 else arriving
        knots.append(Knot(height, angle, leaving if inner and leaving != arriving else None))
    return WallCurve(tuple(knots), lip_radius_mm=round(fitted.lip_radius, 4))


def _rule(grooves: tuple[DrawnGroove, ...], floor: float, wall: Wall, like: GrooveRule) -> tuple[GrooveRule, bool]:
    """One rule along the wall where the grooves are alike and evenly spaced; else their heights, and a mean section."""
    plain = replace(like, changes=(), heights_mm=(), placing=Placing.ALONG_WALL)
    if not grooves:
        return replace(plain, count=0), False
    mouths, depths = np.array([g.mouth_mm for g in grooves]), np.array([g.depth_mm for g in grooves])
    mouth, depth = round(float(np.median(mouths)), 2), round(float(np.median(depths)), 2)
    flanks = [f for g in grooves for f in (g.lower_flank_deg, g.upper_flank_deg)]
    cut = replace(
        plain, mouth_mm=mouth, depth_mm=depth, flank_deg=round(min(max(float(np.mean(flanks)), 0.0), 45.0), 1)
    )
    lower = wall.length_at([g.lower_mm - floor for g in grooves])
    upper = wall.length_at([g.upper_mm - floor for g in grooves])
    alike = float(np.ptp(mouths)) < ALIKE_MM and float(np.ptp(depths)) < ALIKE_MM
    middles = np.array([(g.radius_mm, g.middle_mm) for g in grooves])
    straight, along = np.hypot(*np.diff(middles, axis=0).T), np.diff(0.5 * (lower + upper))
    even = (
        len(grooves) < 3 or min(float(np.ptp(straight)), float(np.ptp(along))) < ALIKE_MM
    )  # by chords, or round a corner
    if alike and even:
        middle = 0.5 * (lower + upper)
        start, end = float(middle[0]) - 0.5 * mouth, float(middle[-1]) + 0.5 * mouth
        return replace(cut, count=len(grooves), from_mm=round(start, 2), to_mm=round(end, 2)), True
    heights = tuple(round(g.middle_mm - floor, 2) for g in grooves)
    return replace(cut, placing=Placing.LISTED, heights_mm=heights, count=len(grooves)), False

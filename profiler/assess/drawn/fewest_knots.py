"""The fewest knots whose wall lies within a tolerance of a drawn one.

Knots are put where the fit is worst until the wall keeps the tolerance; then each is tried without, the others moving
to make up for it. Angles come by least squares, with weights that grow where the wall is far away (reweighting for the
smallest greatest error, after C. L. Lawson, 1961; from memory).
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from profiler.geometry.wall import FloatArray, Wall, build_wall

MOST_KNOTS = 24
STEPS, REWEIGHTINGS = 5, 8
SPARE = 0.9  # of the tolerance is aimed at: knots land on tenths of a millimetre afterwards
DECIMALS = 1
LEAST_GAP_MM = 1.0
MOST_ANGLE = np.radians(80.0)
HOPELESS = 12.0  # times the tolerance: further off, no move of the other knots makes up for one less
SHIFTS = (0.5, 0.25, 0.1, 0.04)  # of a span, by which a knot is moved in search


class NoCurve(ValueError):
    """Why no wall curve follows the drawn wall, as one sentence."""


@dataclass(frozen=True, slots=True, eq=False)
class Spots:
    """(m,) heights above the foot and radii of the drawn wall, heights rising."""

    height: FloatArray
    radius: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class Fitted:
    """Heights of the knots, the angles arriving and leaving at each (rad), the lip radius, the greatest distance."""

    heights: tuple[float, ...]
    arriving: FloatArray
    leaving: FloatArray
    lip_radius: float
    worst: float

    def wall(self) -> Wall:
        return build_wall(self.heights, self.leaving[:-1], self.arriving[1:], self.lip_radius)


def fewest_knots(spots: Spots, top: float, corners: Sequence[float], tolerance: float) -> Fitted:
    """`top`: height of the lip; `corners`: heights at which the drawn wall has one. Raises NoCurve."""
    sharp = _sharp(corners, top)
    return _pruned(enough_knots(spots, top, corners, tolerance), spots, sharp, SPARE * tolerance)


def enough_knots(spots: Spots, top: float, corners: Sequence[float], tolerance: float) -> Fitted:
    """Knots put where it is worst until the wall keeps the tolerance, none taken away again. Raises NoCurve."""
    aim, sharp = SPARE * tolerance, _sharp(corners, top)
    heights = tuple(sorted({0.0, top, *sharp}))
    best = _fit(spots, heights, sharp)
    while best.worst > aim:
        if len(heights) >= MOST_KNOTS:
            raise NoCurve(
                f"{MOST_KNOTS} knots leave {best.worst:.2f} mm between curve and drawing; {tolerance:g} mm asked."
            )
        heights = _with_one_more(best, spots)
        best = _fit(spots, heights, sharp)
    return best


def _sharp(corners: Sequence[float], top: float) -> set[float]:
    return {round(float(z), DECIMALS) for z in corners if LEAST_GAP_MM < z < top - LEAST_GAP_MM}


@dataclass(frozen=True, slots=True, eq=False)
class _Model:
    """Knots at fixed heights and the drawn places in their spans; many sets of unknowns are worked at once."""

    spots: Spots
    heights: FloatArray
    span: NDArray[np.intp]
    share: FloatArray
    arrive: list[int]  # which unknown is each knot's angle; the lip radius comes first
    leave: list[int]

    def away(self, unknown: FloatArray) -> FloatArray:
        """(p, m) signed distances of the drawn wall from p curves, square to them."""
        angles = np.clip(unknown, -MOST_ANGLE, MOST_ANGLE)
        low, high = angles[:, self.leave[:-1]], angles[:, self.arrive[1:]]
        steps = np.diff(self.heights)
        rise = np.cumsum(steps * np.tan(0.5 * (low + high)), axis=1)
        foot = unknown[:, :1] - rise[:, -1:] + np.concatenate((np.zeros((len(unknown), 1)), rise[:, :-1]), axis=1)
        sine = np.sin(low)[:, self.span] * (1.0 - self.share) + np.sin(high)[:, self.span] * self.share
        angle = np.arcsin(np.clip(sine, -1.0, 1.0))
        climb = (self.spots.height - self.heights[self.span]) * np.tan(0.5 * (angle + low[:, self.span]))
        return np.asarray((self.spots.radius - foot[:, self.span] - climb) * np.cos(angle))

    def improved(self, unknown: FloatArray, weights: FloatArray) -> FloatArray:
        """One step of weighted least squares."""
        step = np.full(len(unknown), 1e-5)
        step[0] = 1e-3
        rows = self.away(np.vstack((unknown, unknown + np.diag(step))))
        slopes = (rows[1:] - rows[0]).T / step
        root = np.sqrt(weights)
        change = np.linalg.lstsq(slopes * root[:, None], -rows[0] * root, rcond=1e-9)[0]
        change[1:] = np.clip(change[1:], -0.3, 0.3)
        return np.asarray(unknown + change)


def _model(spots: Spots, heights: tuple[float, ...], sharp: set[float]) -> _Model:
    arrive, leave, column = [], [], 1
    for z in heights:
        arrive.append(column)
        column += z in sharp
        leave.append(column)
        column += 1
    at = np.array(heights)
    span = np.clip(np.searchsorted(at, spots.height, side="right") - 1, 0, len(at) - 2)
    share = (spots.height - at[span]) / np.diff(at)[span]
    return _Model(spots, at, span, np.clip(share, 0.0, 1.0), arrive, leave)


def _fit(spots: Spots, heights: tuple[float, ...], sharp: set[float]) -> Fitted:
    """Lip radius and angles for knots at these heights."""
    model = _model(spots, heights, sharp)
    unknown = np.zeros(model.leave[-1] + 1)
    unknown[0] = spots.radius[-1]
    slope = np.gradient(spots.radius, spots.height) if len(spots.height) > 2 else np.zeros(len(spots.height))
    angles = np.arctan(np.interp(heights, spots.height, slope))
    unknown[model.arrive] = unknown[model.leave] = angles
    weights = np.ones(len(spots.height))
    kept, worst = unknown, np.inf
    for turn in range(REWEIGHTINGS):
        for _ in range(STEPS if turn == 0 else 1):
            unknown = model.improved(unknown, weights)
        away = np.abs(model.away(unknown[None])[0])
        if float(away.max()) < worst:
            kept, worst = unknown, float(away.max())
        weights = weights * (0.05 + away / max(float(away.max()), 1e-12))
        weights /= weights.max()
    angles = np.clip(kept, -MOST_ANGLE, MOST_ANGLE)
    return Fitted(heights, angles[model.arrive], angles[model.leave], float(kept[0]), worst)


def _with_one_more(best: Fitted, spots: Spots) -> tuple[float, ...]:
    """A knot in the span that is worst, in its middle or where it is worst, whichever lies further inside."""
    wall = best.wall()
    away = np.abs((spots.radius - wall.radius_at(spots.height)) * np.cos(wall.angle_at(spots.height)))
    spans = np.clip(np.searchsorted(best.heights, spots.height, side="right") - 1, 0, len(best.heights) - 2)
    for worst in np.argsort(-away):
        low, high = best.heights[spans[worst]], best.heights[spans[worst] + 1]
        if high - low > 2.0 * LEAST_GAP_MM:
            return tuple(sorted((*best.heights, round(0.5 * (low + high), DECIMALS))))
    raise NoCurve(f"No knots come nearer than {best.worst:.2f} mm to the drawn wall.")


def _pruned(best: Fitted, spots: Spots, sharp: set[float], aim: float) -> Fitted:
    """Without every knot the others can do without, and without corners that one angle serves as well."""
    for z in sorted(sharp):
        fewer = _fit(spots, best.heights, sharp - {z})
        if fewer.worst <= aim:
            best, sharp = fewer, sharp - {z}
    again = True
    while again and len(best.heights) > 2:
        again = False
        for z in best.heights[1:-1]:
            heights = tuple(h for h in best.heights if h != z)
            fewer = _fit(spots, heights, sharp - {z})
            if fewer.worst < HOPELESS * aim:
                fewer = _moved(fewer, spots, sharp - {z}, aim)
            if fewer.worst <= aim:
                best, sharp, again = fewer, sharp - {z}, True
                break
    return best


def _moved(start: Fitted, spots: Spots, sharp: set[float], aim: float) -> Fitted:
    """Inner knots moved, one after the other and by ever less, as long as that brings the curve nearer."""
    best = start
    for share in SHIFTS:
        for place in range(1, len(best.heights) - 1):
            if best.heights[place] in sharp:
                continue
            below, z, above = best.heights[place - 1 : place + 2]
            for tried in (z - share * (z - below), z + share * (above - z)):
                if best.worst <= aim:
                    return best
                z_new = round(tried, DECIMALS)
                if below + LEAST_GAP_MM < z_new < above - LEAST_GAP_MM:
                    heights = (*best.heights[:place], z_new, *best.heights[place + 1 :])
                    other = _fit(spots, heights, sharp)
                    best = other if other.worst < best.worst else best
    return best

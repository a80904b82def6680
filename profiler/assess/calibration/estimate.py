"""Friction from tables of what the model predicts over it: least squares of angles, the bracket of a stopped bowl.

Pure: values in, values out. What the tables are of, and what may be said of the answer, stands in `calibrate`.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, nan

import numpy as np

from profiler.geometry.wall import FloatArray
from profiler.study import Seen

CHI_SQUARE_95 = 3.841459  # of one degree of freedom: the 95 % interval of one fitted number
FINE = 4001  # frictions at which the sum of squares is looked at


@dataclass(frozen=True, slots=True)
class Fitted:
    """The friction of least squares and the ends of its 95 % interval; `squares` is the sum that is left."""

    friction: float
    low: float
    high: float
    squares: float
    residuals: tuple[float, ...]  # of each angle, in its own spread


def least_squares(frictions: FloatArray, predicted: FloatArray, angle: FloatArray, spread: FloatArray) -> Fitted:
    """Friction by weighted least squares of angles.

    `frictions` (f,) rising; `predicted` (f, n) of each of n angles, linear between them; `angle` and `spread` (n,), the
    spread one standard deviation, all of one unit. The interval holds every friction whose sum of squares is at most
    3.84 above the least: of normal errors of known spread it covers 95 %. An end at the end of `frictions` is open.
    """
    fine = np.geomspace(frictions[0], frictions[-1], FINE)
    there = np.column_stack([np.interp(fine, frictions, column) for column in predicted.T])
    residual = (angle - there) / spread
    squares = np.sum(residual**2, axis=1)
    best = int(np.argmin(squares))
    inside = fine[squares <= squares[best] + CHI_SQUARE_95]
    low, high = float(inside[0]), float(inside[-1])
    return Fitted(float(fine[best]), low, high, float(squares[best]), tuple(residual[best].tolist()))


@dataclass(frozen=True, slots=True)
class Bracket:
    """Between which frictions a stopped bowl's grooves lie; the grooves (from 1) that set each end, 0: none does.

    `impossible` are grooves seen as no friction makes them.
    """

    low: float
    high: float
    low_groove: int
    high_groove: int
    impossible: tuple[int, ...]

    @property
    def contradicts(self) -> bool:
        return self.low > self.high


def bracket(frictions: FloatArray, overfall: FloatArray, seen: Sequence[Seen]) -> Bracket:
    """From `overfall` (f, g) of every groove over friction, and what was seen of them.

    A groove packs where its overfall is not above zero: the larger the friction, the steeper the slurry and the deeper
    the bed. So a packed one says the friction is at least that at which it packs, a clean one that it is less.
    """
    low, high, low_groove, high_groove = 0.0, inf, 0, 0
    impossible = []
    for k, (state, column) in enumerate(zip(seen, overfall.T, strict=True), 1):
        packs_from = packing_friction(frictions, column)
        if state is Seen.PACKED:
            if packs_from == inf:
                impossible.append(k)
            elif packs_from > low:
                low, low_groove = packs_from, k
        elif state is Seen.CLEAN:
            if packs_from == 0.0:
                impossible.append(k)
            elif packs_from < high:
                high, high_groove = packs_from, k
    return Bracket(low, high, low_groove, high_groove, tuple(impossible))


def packing_friction(frictions: FloatArray, overfall: FloatArray) -> float:
    """The friction from which a groove packs: 0 where it always does, infinite where it never does, nan in doubt.

    >>> packing_friction(np.array([0.2, 0.4, 0.6]), np.array([2.0, 1.0, -1.0]))
    0.5
    """
    packed = overfall <= 0.0
    changes = np.flatnonzero(packed[1:] != packed[:-1])
    if not np.all(np.isfinite(overfall)) or len(changes) > 1:
        return nan
    if not len(changes):
        return 0.0 if packed[0] else inf
    i = int(changes[0])
    if packed[i]:  # packed at less friction and clean at more: nothing follows
        return nan
    share = overfall[i] / (overfall[i] - overfall[i + 1])
    return float(frictions[i] + share * (frictions[i + 1] - frictions[i]))

"""Level lines of a grid of values: marching squares over all cells at once, then joined into lines."""

from collections import defaultdict

import numpy as np

from profiler.pictures.basics.axis import round_step
from profiler.pictures.basics.display import FloatArray

# For the four corners above or below the level (bits: lower left 1, lower right 2, upper right 4, upper left 8) the
# sides that are joined: 0 lower, 1 right, 2 upper, 3 left. Saddles (5, 10) are told by the middle of the cell.
_JOINS: dict[int, tuple[tuple[int, int], ...]] = {
    1: ((3, 0),), 2: ((0, 1),), 3: ((3, 1),), 4: ((1, 2),), 6: ((0, 2),), 7: ((3, 2),), 8: ((2, 3),), 9: ((2, 0),),
    11: ((2, 1),), 12: ((1, 3),), 13: ((1, 0),), 14: ((0, 3),),
}  # fmt: skip
_SADDLES = {(5, True): ((3, 2), (1, 0)), (5, False): ((3, 0), (1, 2)), (10, True): ((0, 3), (2, 1)),
            (10, False): ((0, 1), (2, 3))}  # fmt: skip


def contour(x: FloatArray, y: FloatArray, values: FloatArray, level: float) -> list[FloatArray]:
    """Lines (n, 2) along which the values, (ny, nx), pass the level; linear along grid lines; none in cells with nan.

    A closed line ends where it begins.
    """
    above = values >= level
    corners = (above[:-1, :-1], above[:-1, 1:], above[1:, 1:], above[1:, :-1])
    known = np.isfinite(values)
    whole = known[:-1, :-1] & known[:-1, 1:] & known[1:, 1:] & known[1:, :-1]
    kind = np.where(whole, sum(c.astype(int) << bit for bit, c in enumerate(corners)), 0)
    crossing = _Crossings(x, y, values, level)
    links: list[tuple[int, int]] = []
    for row, column in np.argwhere((kind > 0) & (kind < 15)).tolist():
        case = int(kind[row, column])
        joins = _JOINS.get(case)
        if joins is None:
            middle = float(np.mean(values[row : row + 2, column : column + 2])) >= level
            joins = _SADDLES[case, middle]
        links += [(crossing.side(row, column, a), crossing.side(row, column, b)) for a, b in joins]
    return [crossing.points(chain) for chain in _chains(links)]


def levels(values: FloatArray, about: int = 7) -> FloatArray:
    """Round levels inside the range of the values; none where all are equal."""
    finite = values[np.isfinite(values)]
    if not len(finite) or finite.min() == finite.max():
        return np.zeros(0)
    low, high = float(finite.min()), float(finite.max())
    step = round_step((high - low) / about)
    inside = np.arange(np.ceil(low / step), np.floor(high / step) + 1.0) * step
    return np.asarray(inside[(inside > low) & (inside < high)])


class _Crossings:
    """Every grid line between neighbours has a number; where on it the level is passed is worked out when asked."""

    def __init__(self, x: FloatArray, y: FloatArray, values: FloatArray, level: float) -> None:
        self._x, self._y, self._values, self._level = x, y, values, level
        self._nx = int(values.shape[1])

    def side(self, row: int, column: int, side: int) -> int:
        """Number of a cell's side; level ones are even, upright ones odd."""
        if side in (0, 2):
            return 2 * ((row + (side == 2)) * self._nx + column)
        return 2 * (row * self._nx + column + (side == 1)) + 1

    def points(self, sides: list[int]) -> FloatArray:
        number = np.array(sides)
        upright = number % 2
        row, column = np.divmod(number // 2, self._nx)
        row2, column2 = row + upright, column + (1 - upright)
        a, b = self._values[row, column], self._values[row2, column2]
        share = (self._level - a) / (b - a)
        px = self._x[column] + share * (self._x[column2] - self._x[column])
        py = self._y[row] + share * (self._y[row2] - self._y[row])
        return np.column_stack((px, py))


def _chains(links: list[tuple[int, int]]) -> list[list[int]]:
    """Links joined end to end; open chains first from their ends, then rings."""
    beside: dict[int, list[int]] = defaultdict(list)
    for a, b in links:
        beside[a].append(b)
        beside[b].append(a)
    chains = []
    for start in [*(n for n, near in beside.items() if len(near) == 1), *beside]:
        if not beside[start]:
            continue
        chain = [start]
        while beside[chain[-1]]:
            here = chain[-1]
            following = beside[here].pop()
            beside[following].remove(here)
            chain.append(following)
        chains.append(chain)
    return chains


def longest(lines: list[FloatArray]) -> FloatArray | None:
    return max(lines, key=length, default=None)


def length(line: FloatArray) -> float:
    return float(np.sum(np.hypot(*np.diff(line, axis=0).T)))

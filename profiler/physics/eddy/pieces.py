"""Lines and arcs of a groove's section, as complex numbers x + i y: points along them, cuts by a line, roundings."""

from cmath import exp, phase
from dataclasses import dataclass
from math import atan, sin, tan

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
ComplexArray = NDArray[np.complex128]

_STRAIGHT = 1e-12  # bulge below which an arc is its chord
_HALVINGS = 50


@dataclass(frozen=True, slots=True)
class Piece:
    """A line or an arc; the bulge is tan(included angle / 4), counter-clockwise positive, zero for a line."""

    start: complex
    end: complex
    bulge: float = 0.0

    @property
    def turn(self) -> float:
        """Included angle [rad], counter-clockwise positive."""
        return 4.0 * atan(self.bulge)

    @property
    def length(self) -> float:
        chord, half = abs(self.end - self.start), 0.5 * self.turn
        return chord if abs(self.bulge) < _STRAIGHT else chord * half / sin(half)

    def at(self, share: FloatArray) -> ComplexArray:
        """Points at shares (...) of the length, from the start."""
        if abs(self.bulge) < _STRAIGHT:
            return np.asarray(self.start + share * (self.end - self.start))
        half = 0.5 * self.turn
        along = np.sin(share * half) / sin(half) * np.exp(1j * half * (share - 1.0))
        return np.asarray(self.start + (self.end - self.start) * along)

    def point(self, share: float) -> complex:
        return complex(self.at(np.asarray(share)))

    def part(self, first: float, last: float) -> "Piece":
        """What lies between two shares of the length."""
        return Piece(self.point(first), self.point(last), tan(0.25 * self.turn * (last - first)))


Path = tuple[Piece, ...]


def length_of(path: Path) -> float:
    return sum(piece.length for piece in path)


def points_on(path: Path, share: FloatArray) -> ComplexArray:
    """Points (n,) at shares (n,) of a path's whole length."""
    ends = np.cumsum([0.0, *(piece.length for piece in path)])
    ends /= ends[-1]
    which = np.clip(np.searchsorted(ends, share, side="right") - 1, 0, len(path) - 1)
    found = np.empty(share.shape, dtype=np.complex128)
    for k, piece in enumerate(path):
        here = which == k
        found[here] = piece.at((share[here] - ends[k]) / (ends[k + 1] - ends[k]))
    return found


def turned_back(path: Path) -> Path:
    """The same path walked from its other end."""
    return tuple(Piece(piece.end, piece.start, -piece.bulge) for piece in reversed(path))


def rounding(corner: complex, before: complex, after: complex, radius: float) -> Piece:
    """The arc that rounds a corner between two directions of length one; a point where they do not turn."""
    turn = phase(after / before)
    reach = radius * tan(0.5 * abs(turn))
    return Piece(corner - reach * before, corner + reach * after, tan(0.25 * turn))


def crossing(piece: Piece, base: complex, along: complex) -> float | None:
    """Share of the piece at which it passes the line through `base`, or None where both ends lie on one side.

    An arc that dips through the line and comes back within its own length counts as on one side.
    """

    def above(place: complex) -> bool:
        return ((place - base) / along).imag >= 0.0

    before = above(piece.start)
    if before == above(piece.end):
        return None
    low, high = 0.0, 1.0
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if above(piece.point(middle)) == before else (low, middle)
    return 0.5 * (low + high)


def heading(start: complex, end: complex) -> complex:
    """Direction of length one."""
    return exp(1j * phase(end - start))

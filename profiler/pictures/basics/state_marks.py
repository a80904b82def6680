"""How the four states look: a pattern and a role each, so that no state is told by colour alone."""

from functools import lru_cache

import numpy as np

from profiler.physics.slurry.overturn import State
from profiler.pictures.basics.display import Align, Area, FloatArray, Item, Label, Role, Strokes, boxed, hatch

STATE_ROLES = {
    State.STRONG: Role.STRONG,
    State.WEAK: Role.WEAK,
    State.MATCHED: Role.MATCHED,
    State.SHELTERED: Role.SHELTERED,
    State.NONE: Role.PAPER,
}
SHORT_WORDS = {
    State.STRONG: "strong",
    State.WEAK: "weak",
    State.MATCHED: "matched",
    State.SHELTERED: "sheltered",
    State.NONE: "not claimed",
}
ENTRY_WORDS = (
    "Below the entry height no state is claimed: the film is still coming up to speed.\n"
    "The tape is dotted there; the numbers are still shown."
)


def state_box(state: State, left: float, top: float, right: float, bottom: float) -> list[Item]:
    """A rectangle filled in a state's colour and pattern."""
    items: list[Item] = [Area(boxed(left, top, right, bottom), STATE_ROLES[state])]
    ends = pattern(state, left, top, right, bottom)
    if len(ends):
        items.append(Strokes(ends, pattern_role(state), 1.0))
    return items


def state_legend(left: float, y: float, width: float) -> list[Item]:
    """The patterns with their words, on one line of a picture so wide."""
    items: list[Item] = []
    for i, state in enumerate(sorted(State, reverse=True)):
        x = left + i * (width - left - 8.0) / len(State)
        items += state_box(state, x, y - 5.0, x + 14.0, y + 5.0)
        items.append(Label(x + 18.0, y, SHORT_WORDS[state], Role.FAINT, Align.LEFT, 8.0))
    return items


def pattern_role(state: State) -> Role:
    """Ink upon a colour; upon bare paper, which may be as dark as ink, what scales are written with."""
    return Role.FAINT if state is State.NONE else Role.INK


def pattern(state: State, left: float, top: float, right: float, bottom: float) -> FloatArray:
    """(n, 2, 2) lines of a state's pattern in a rectangle."""
    ends = _pattern(state, round(right - left, 1), round(bottom - top, 1))
    return ends + np.array([left, top]) if len(ends) else ends


def runs_of(values: np.ndarray[tuple[int], np.dtype[np.int8]]) -> list[tuple[int, int, int]]:
    """(value, first, last) of each run of equal values."""
    cuts = np.flatnonzero(np.diff(values)) + 1
    firsts = np.concatenate(([0], cuts))
    lasts = np.concatenate((cuts - 1, [len(values) - 1]))
    return [(int(values[a]), int(a), int(b)) for a, b in zip(firsts, lasts, strict=True)]


@lru_cache(maxsize=256)
def _pattern(state: State, width: float, height: float) -> FloatArray:
    """Strong: crossed lines. Weak: leaning lines. Matched: level lines. Sheltered: none. No state: dots."""
    corners = boxed(0.0, 0.0, width, height)
    if state is State.STRONG:
        return np.concatenate((hatch(corners, 8.0), hatch(corners, 8.0, -1.0)))
    if state is State.WEAK:
        return hatch(corners, 8.0)
    if state is State.MATCHED:
        levels = np.arange(3.0, height - 1.0, 6.0 if height > 20.0 else 4.0)
        return np.array([[[2.0, y], [width - 2.0, y]] for y in levels]).reshape(-1, 2, 2)
    if state is State.NONE:
        spots = [[x, y] for y in np.arange(3.0, height - 1.0, 6.0) for x in np.arange(2.0, width - 1.0, 5.0)]
        return np.array([[spot, [spot[0] + 1.0, spot[1]]] for spot in spots]).reshape(-1, 2, 2)
    return np.zeros((0, 2, 2))

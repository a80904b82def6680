"""The rotor round the bowl in the section: its shell, its seat and how near the bowl may come, from the machine alone.

The lines are worked out once for a machine; a frame only carries them to pixels. Nothing of the bowl is here.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from profiler.pictures.basics.display import Dot, FloatArray, Item, Label, Line, Role, Strokes
from profiler.study import Machine, SeatPoint

LABELS_AT = 0.4  # of the rotor's height in sight, from below: most rotors leave room beside them there
LABEL_GAP_PX, LABEL_STEP_PX, LABEL_PX = 8.0, 14.0, 44.0
MOST_SLANT = 4.0  # thickness along the radius over the shell's own, where the seat's rim or foot is nearly level


@dataclass(frozen=True, slots=True, eq=False)
class RotorLines:
    """(n, 2) radius and height above the seat's floor, mm. The same machine gives the very same lines again."""

    seat: FloatArray
    shell: FloatArray | None  # outside of the shell from the axis round the floor to the rim; None: thickness not known
    nearest: FloatArray | None  # where the bowl's outside may stand at most; None without a jacket


def rotor_lines(machine: Machine) -> RotorLines | None:
    """None without a seat. One that does not rise from its floor is shown as it was typed, without a shell."""
    if len(machine.seat) < 2:
        return None
    return _lines(machine.seat, machine.shell_mm, machine.shell_floor_mm, machine.jacket_gap_mm)


def rotor_items(
    lines: RotorLines,
    to_px: Callable[[FloatArray], FloatArray],
    hub_radius: float,
    filled: bool,
    seen: tuple[float, float],
    width: float,
) -> list[Item]:
    """Shell and seat with a word each. `filled`: the bowl fills its seat, so its outside shows the gap.

    `to_px` takes (radius, height above the seat's floor) in mm; `seen` is top and bottom of what is seen, px.
    """
    seat = to_px(np.concatenate((np.array([[hub_radius, 0.0]]), lines.seat)))
    items: list[Item] = [Line(seat, Role.SEAT, 1.0, (7.0, 3.0))]
    inner = outside = seat[1:]
    named = ["seat"]
    if lines.shell is not None:
        shell = to_px(lines.shell)
        outside = shell[-len(inner) - 1 : -1]
        items.append(Line(shell, Role.SEAT, 1.0))
        named.append("shell")
    if lines.nearest is not None:
        inner = to_px(lines.nearest)
        named.insert(0, "jacket")
        if not filled:
            items.append(Line(inner, Role.SEAT, 0.8, (1.6, 4.0)))
    beside = {"jacket": (inner, seat[1:]), "seat": (seat[1:], seat[1:]), "shell": (seat[1:], outside)}
    low, high = min(float(seat[0, 1]), seen[1]), max(float(seat[-1, 1]), seen[0])
    steps = np.arange(len(named), dtype=np.float64) - 0.5 * (len(named) - 1)
    y: FloatArray = low + LABELS_AT * (high - low) + steps * LABEL_STEP_PX
    clear = float(np.max(_across(outside, y))) + LABEL_GAP_PX
    x = min(clear, width - LABEL_PX)
    pairs = [beside[word] for word in named]
    dots = np.array([0.5 * (_across(a, y) + _across(b, y))[k] for k, (a, b) in enumerate(pairs)])
    if x < float(np.max(dots)) + LABEL_GAP_PX:
        return items  # no room for words
    leaders = np.stack((np.stack((dots, y), 1), np.stack((np.full_like(y, x - 2.0), y), 1)), 1)
    items.append(Strokes(leaders, Role.SEAT, 0.7))
    for word, dot, at in zip(named, dots.tolist(), y.tolist(), strict=True):
        items += [Dot(dot, at, 2.0, Role.SEAT), Label(x, at, word, Role.SEAT, size=8.5, paper=x < clear)]
    return items


def _across(profile_px: FloatArray, y: FloatArray) -> FloatArray:
    """Where a profile, floor first, stands at these places."""
    return np.asarray(np.interp(-y, -profile_px[:, 1], profile_px[:, 0]))


@lru_cache(maxsize=16)
def _lines(
    seat: tuple[SeatPoint, ...], shell_mm: float | None, floor_mm: float | None, gap_mm: float | None
) -> RotorLines:
    points = np.array([[p.radius_mm, p.height_mm] for p in seat])
    if np.any(np.diff(points[:, 1]) <= 0.0):
        return RotorLines(points, None, None)
    shell = None
    if shell_mm:
        out = _beside(points, shell_mm)
        under = [[0.0, -floor_mm], [out[0, 0], -floor_mm]] if floor_mm else []
        shell = np.concatenate((np.array(under).reshape(-1, 2), out, points[-1:]))
    return RotorLines(points, shell, _beside(points, -gap_mm) if gap_mm else None)


def _beside(points: FloatArray, away: float) -> FloatArray:
    """The profile moved `away` mm square to itself, outward if positive; its ends stay at their heights."""
    lean = np.arctan2(np.diff(points[:, 0]), np.diff(points[:, 1]))
    before, after = lean[:-1], lean[1:]
    middle, half = 0.5 * (before + after), 0.5 * (after - before)
    moved = points.copy()
    moved[1:-1] += away / np.cos(half)[:, None] * np.stack((np.cos(middle), -np.sin(middle)), axis=1)
    slant = np.minimum(1.0 / np.cos(lean[[0, -1]]), MOST_SLANT)
    moved[[0, -1], 0] += away * slant
    return moved

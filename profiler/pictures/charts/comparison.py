"""Designs side by side as pictures: walls laid over each other, shares of wall per state, power up the wall."""

from dataclasses import dataclass

import numpy as np

from profiler.assess import Evaluation
from profiler.assess.quantities.table import STATE_KEYS, quantity
from profiler.numbers import fixed
from profiler.physics.slurry.overturn import State
from profiler.pictures.basics.display import Align, Dot, FloatArray, Item, Label, Line, Picture, Role
from profiler.pictures.basics.frame import BOTTOM_PX, LEFT_PX, RIGHT_PX, TOP_PX, Frame, Scale, framed
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit
from profiler.pictures.basics.state_marks import state_box, state_legend

ROW_PX = 26.0


@dataclass(frozen=True, slots=True)
class Look:
    """How one design's line is drawn: never by colour alone."""

    role: Role
    dashes: tuple[float, ...]


LOOKS = (
    Look(Role.WALL, ()), Look(Role.REPOSE, (7.0, 3.0)), Look(Role.CHOSEN, (2.0, 2.5)),
    Look(Role.STRONG, (9.0, 3.0, 2.0, 3.0)), Look(Role.SEAT, (4.0, 4.0)), Look(Role.WEAK, (12.0, 4.0)),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Shown:
    """A design as it is drawn: name, evaluation under the duty in view, place in the list."""

    name: str
    evaluation: Evaluation
    place: int

    @property
    def look(self) -> Look:
        return LOOKS[self.place % len(LOOKS)]


def wall_overlay(shown: tuple[Shown, ...], width: float, height: float, lengths: LengthUnit = MILLIMETRES) -> Picture:
    """The wall lines on one radius and height, equal scales."""
    lines = [(s, s.evaluation.shape.stations) for s in shown if s.evaluation.shape is not None]
    if not lines:
        return _nothing(width, height, "no wall to draw")
    radius = np.concatenate([at.radius for _, at in lines])
    top = max(float(at.height[-1]) for _, at in lines)
    frame = _equal(width, height, float(radius.min()), float(radius.max()), top, lengths)
    items: list[Item] = frame.grid()
    for s, at in lines:
        items.append(Line(frame.points(at.radius, at.height), s.look.role, 1.8, s.look.dashes))
    return Picture(width, height, (*items, *frame.scales()))


def power_curves(shown: tuple[Shown, ...], width: float, height: float, lengths: LengthUnit = MILLIMETRES) -> Picture:
    """Overturn power of every groove against its height."""
    curves = [(s, _of(s, "groove_power_w"), _of(s, "groove_height_mm")) for s in shown]
    curves = [(s, power, z) for s, power, z in curves if len(power) and len(power) == len(z)]
    if not curves:
        return _nothing(width, height, "no grooves to compare")
    most = max(float(p.max()) for _, p, _ in curves)
    top = max(s.evaluation.shape.height for s, _, _ in curves if s.evaluation.shape is not None)
    ends = (0.0, 1.05 * most or 1.0), (0.0, top)
    frame = framed(width, height, *ends, "overturn power per groove, W", "height, mm", lengths)
    items: list[Item] = frame.grid()
    for s, power, z in curves:
        points = frame.points(power, z)
        items.append(Line(points, s.look.role, 1.4, s.look.dashes))
        items += [Dot(float(x), float(y), 2.6, s.look.role) for x, y in points]
    return Picture(width, height, (*items, *frame.scales()))


def share_bars(shown: tuple[Shown, ...], by_area: bool, width: float, height: float) -> Picture:
    """A bar per design, cut into the four states, each part's share in per cent where there is room for it.

    The design's line before its name makes this the legend of the other two pictures.
    """
    key = "area_{}_pct" if by_area else "share_{}_pct"
    left, right = 8.0, width - 8.0
    items: list[Item] = []
    room = min(ROW_PX + 12.0, (height - 20.0) / max(len(shown), 1))
    for i, s in enumerate(shown):
        y = 4.0 + i * room
        items.append(Line(np.array([[left, y + 6.0], [left + 28.0, y + 6.0]]), s.look.role, 1.8, s.look.dashes))
        items.append(Label(left + 34.0, y + 6.0, s.name, Role.TEXT, Align.LEFT, 8.5))
        x = left
        for state in sorted(State, reverse=True):
            share = _of(s, key.format(STATE_KEYS[state]))
            if not len(share) or share[0] <= 0.0:
                continue
            end = x + share[0] / 100.0 * (right - left)
            items += state_box(state, x, y + 13.0, end, y + room - 4.0)
            if end - x > 34.0:
                middle = y + 0.5 * (13.0 + room - 4.0)
                items.append(
                    Label(0.5 * (x + end), middle, f"{fixed(share[0], 0)} %", Role.TEXT, Align.CENTRE, 8.0, paper=True)
                )
            x = end
    return Picture(width, height, (*items, *state_legend(left, height - 8.0, width)))


def _of(s: Shown, key: str) -> FloatArray:
    return quantity(key).get(s.evaluation)


def _equal(width: float, height: float, low: float, high: float, top: float, lengths: LengthUnit) -> Frame:
    """Radius and height at one scale; radius starts a little inside the narrowest wall."""
    across, up = width - LEFT_PX - RIGHT_PX, height - TOP_PX - BOTTOM_PX
    per_mm = max(min(across / (1.08 * (high - low) + 1.0), up / top), 1e-3)
    middle, half = 0.5 * (low + high), 0.5 * across / per_mm
    return Frame(
        Scale(middle - half, middle + half, LEFT_PX, width - RIGHT_PX),
        Scale(0.0, up / per_mm, height - BOTTOM_PX, TOP_PX),
        "radius, mm",
        "height, mm",
        lengths,
    )


def _nothing(width: float, height: float, words: str) -> Picture:
    return Picture(width, height, (Label(0.5 * width, 0.5 * height, words, Role.FAINT, Align.CENTRE),))

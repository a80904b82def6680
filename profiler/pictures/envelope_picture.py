"""A placed drawing as a picture: its chains, the axis, which of them are seat and bowl; and which lies at a point."""

from dataclasses import dataclass

import numpy as np

from profiler.assess.drawn.envelope import Roles
from profiler.assess.drawn.placing import Placed
from profiler.geometry.chain import Chain, FloatArray, distances, sampled
from profiler.pictures.basics.display import Align, Item, Label, Line, Picture, Role, Strokes
from profiler.pictures.basics.display import FloatArray as Points

MARGIN_PX = 24.0
NEAR_PX = 8.0
SAG_PX = 0.3
MOST_LOOKED_AT = 3000  # chains that may be pointed at: the longest first


@dataclass(frozen=True, slots=True)
class Window:
    """How (radius, height) in mm come to pixels: equal scale, heights upward."""

    left: float
    top: float
    px_per_mm: float

    def to_px(self, points: FloatArray) -> Points:
        return np.stack(
            (MARGIN_PX + (points[:, 0] - self.left) * self.px_per_mm,
             MARGIN_PX + (self.top - points[:, 1]) * self.px_per_mm), axis=1,
        )  # fmt: skip


def window_of(placed: Placed, width: float, height: float) -> Window:
    """The whole drawing with its axis in sight."""
    points = np.concatenate([c.points for c in placed.chains])
    low, high = points.min(axis=0), points.max(axis=0)
    across, up = max(float(high[0]), 1e-9), max(float(high[1] - low[1]), 1e-9)
    room = max(width - 2.0 * MARGIN_PX, 1.0), max(height - 2.0 * MARGIN_PX, 1.0)
    return Window(0.0, float(high[1]), min(room[0] / across, room[1] / up))


def envelope_picture(placed: Placed, roles: Roles, width: float, height: float) -> Picture:
    view = window_of(placed, width, height)
    sag = SAG_PX / view.px_per_mm
    marked = {place: words for place, words in ((roles.seat, "seat"), (roles.bowl, "bowl")) if place is not None}
    axis_x = MARGIN_PX - view.left * view.px_per_mm
    items: list[Item] = [
        Line(np.array([[axis_x, 4.0], [axis_x, height - 4.0]]), Role.FAINT, 1.0, (12.0, 3.0, 2.0, 3.0))
    ]
    plain = [_ends(view.to_px(_line(c, sag))) for i, c in enumerate(placed.chains) if i not in marked]
    if plain:
        items.append(Strokes(np.concatenate(plain), Role.FAINT, 1.0))
    for place, words in marked.items():
        points = view.to_px(_line(placed.chains[place], sag))
        items.append(Line(points, Role.SEAT if words == "seat" else Role.WALL, 2.5))
        at = points[int(np.argmax(points[:, 0] - points[:, 1]))]
        items.append(
            Label(min(float(at[0]) + 4.0, width - 40.0), float(at[1]), words, Role.TEXT, Align.LEFT, 9.0, True, True)
        )
    return Picture(width, height, tuple(items))


def chain_at(placed: Placed, x: float, y: float, width: float, height: float) -> int | None:
    """Place of the chain nearest to a point of the picture; None where none is near."""
    view = window_of(placed, width, height)
    here = np.array([[x, y]])
    best, least = None, NEAR_PX
    for place, chain in enumerate(placed.chains[:MOST_LOOKED_AT]):
        away = float(distances(here, view.to_px(_line(chain, SAG_PX / view.px_per_mm)))[0])
        if away < least:
            best, least = place, away
    return best


def _line(chain: Chain, sag: float) -> FloatArray:
    points = sampled(chain, sag)
    return np.vstack((points, points[:1])) if chain.closed else points


def _ends(points: FloatArray) -> FloatArray:
    return np.stack((points[:-1], points[1:]), axis=1)

"""Bowls as cast, groove by groove: in how many of the simulated ones the stream falls, at each friction apart."""

import numpy as np

from profiler.explore.sure.castings import AsCast
from profiler.pictures.basics.display import Align, Dot, Item, Label, Line, Picture, Role
from profiler.pictures.basics.frame import framed

MARK_PX = 4.0
ROOM_PX = 18.0  # above the plot, for what the marks are


def castings_picture(c: AsCast, width: float, height: float) -> Picture:
    """A share never stands without its bowls: the scale counts them."""
    grooves = np.arange(1.0, c.overfall.shape[2] + 1.0)
    counts = np.sum(c.overfall > 0.0, axis=0)
    title = f"of {c.bowls} simulated bowls: stream falls"
    frame = framed(
        width,
        height,
        (0.5, float(grooves[-1]) + 0.5),
        (-0.03 * c.bowls, 1.03 * c.bowls),
        "groove, from the floor",
        title,
    )
    items: list[Item] = [*frame.grid()]
    roles = (Role.STRONG, Role.WALL, Role.SHELTERED)
    for k, (friction, role) in enumerate(zip(c.frictions, roles, strict=True)):
        places = frame.points(grooves, counts[k].astype(float))
        items.append(Line(places, role, 1.4 if k == 1 else 1.0, () if k == 1 else (5.0, 4.0)))
        items += [Dot(x, y, MARK_PX, role, filled=k == 1) for x, y in places.tolist()]
        word = f"friction {friction:g}{', middle' if k == 1 else ''}"
        items.append(
            Label(frame.x.end - 8.0, frame.y.end + ROOM_PX * (k + 0.8), word, role, Align.RIGHT, 8.5, k == 1, True)
        )
    return Picture(width, height, (*items, *frame.scales()))

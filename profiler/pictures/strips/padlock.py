"""The sign of what stays put: a held radius, a locked knot."""

import numpy as np

from profiler.pictures.basics.display import Area, Item, Line, Role, boxed


def padlock(x: float, y: float, role: Role = Role.TEXT) -> list[Item]:
    """About this place, px."""
    turn = np.linspace(np.pi, 2.0 * np.pi, 9)
    shackle = np.stack((x + 3.0 * np.cos(turn), y - 2.0 + 4.0 * np.sin(turn)), 1)
    return [Line(shackle, role, 1.4), Area(boxed(x - 4.5, y - 2.0, x + 4.5, y + 5.0), role)]

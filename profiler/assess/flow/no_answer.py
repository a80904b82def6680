"""Where the model has no answer, and why: the bed closes the bowl, the film is too thin, the wall does not carry it.

A duty without an answer at middle or low friction has none at all: no state, overturn, water, catch, slurry mass,
energy or thrust. Where only high friction leaves it without, the values of high friction are missing.
"""

from dataclasses import dataclass
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

from profiler.assess.shape.shape_stage import Shape
from profiler.geometry.wall import FloatArray
from profiler.physics.slurry.repose import Film
from profiler.physics.slurry.surface import Bed
from profiler.study import Machine
from profiler.units import MM

HIGH = 2  # friction; low and middle come before it


class Why(IntEnum):
    """Why there is none; ANSWERED: there is one."""

    ANSWERED = 0
    NOT_CARRIED = 1
    THIN_FILM = 2
    BED_CLOSES = 3


@dataclass(frozen=True, slots=True)
class Answers:
    """d duties, friction low, middle, high."""

    why: NDArray[np.int8]  # (d, 3) of Why
    closes_at: FloatArray  # (d, 3) m, height where the bed stands nearest to what is in its way, or deepest beyond it

    @property
    def missing(self) -> NDArray[np.bool_]:
        """(d,) duties of which nothing can be said."""
        return np.asarray(np.any(self.why[:, :HIGH] != Why.ANSWERED, axis=1))

    @property
    def high_missing(self) -> NDArray[np.bool_]:
        """(d,) duties whose values of high friction are missing, though the others are not."""
        return np.asarray((self.why[:, HIGH] != Why.ANSWERED) & ~self.missing)


def answers(shape: Shape, machine: Machine, entry: FloatArray, grain_size: FloatArray, film: Film, bed: Bed) -> Answers:
    """`entry` (d,) mm and `grain_size` (d,) m; film (d, 3, m) at the nodes, bed (d, 3, n) at the stations.

    What the film does below the entry height decides nothing: nothing is claimed there.
    """
    at = shape.stations
    claimed = (at.height[at.node] >= entry[:, None])[:, None]
    parts = in_the_way(shape, machine)
    covered = (bed.buried(at.line) > 0.0) & (at.line.radius > parts)  # a part that meets the wall is told of the wall
    room = np.where(covered, bed.radius - parts, np.inf)
    why = np.where(np.any(claimed & ~film.carried, axis=-1), Why.NOT_CARRIED, Why.ANSWERED)
    why = np.where(np.any(claimed & (film.depth < grain_size[:, None, None]), axis=-1), Why.THIN_FILM, why)
    why = np.where(np.any(room <= 0.0, axis=-1), Why.BED_CLOSES, why)
    lowest = np.argmin(room, axis=-1)
    return Answers(why.astype(np.int8), shape.stations.line.height[lowest])


def in_the_way(shape: Shape, machine: Machine) -> FloatArray:
    """(n,) m: radius of what stands in the middle of the bowl at each station, 0 where nothing does."""
    radius = np.zeros_like(shape.stations.height)
    for _, part, here in _parts(shape, machine, shape.stations.height):
        radius = np.where(here, np.maximum(radius, part), radius)
    return radius * MM


def _parts(shape: Shape, machine: Machine, height: FloatArray) -> tuple[tuple[str, float, NDArray[np.bool_]], ...]:
    """Name and radius in mm of each part that may stand in the middle, and at which of these heights it does."""
    fed = (
        (p.word, 0.5 * p.across_mm, height >= p.height_mm if p.hangs else height <= p.height_mm)
        for p in machine.feed_parts
    )
    return (("hub", shape.shell.hub_radius, height <= 0.0), *fed)


def named(shape: Shape, machine: Machine, height_mm: float) -> str:
    """What the bed reaches at this height: a part with its radius, or the axis."""
    parts = _parts(shape, machine, np.array(height_mm))
    there = [(radius, word) for word, radius, here in parts if here and radius > 0.0]
    return "the axis" if not there else f"the {max(there)[1]} of radius {max(there)[0]:g} mm"

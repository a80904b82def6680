"""What a profile can be of: the bowl, the core its grooves are cast on, or the machine's seat; and how it lies.

Lengths in mm, heights from the bowl's inner floor; every part is one closed chain of lines and arcs.
"""

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from profiler.assess.shape.shape_stage import Shape
from profiler.geometry.chain import Chain
from profiler.study import Machine


class Part(StrEnum):
    LINER = "liner"
    FORMER = "former"  # the core whose outside is the bowl's inside, groove ribs and all
    SEAT = "seat"
    GAUGE = "gauge"  # a hand template of wall and grooves


class Datum(StrEnum):
    """Which height is zero."""

    FLOOR = "floor"
    UNDERSIDE = "underside"
    LIP = "lip"


LAYERS = {Part.LINER: "OUTLINE", Part.FORMER: "FORMER", Part.SEAT: "SEAT", Part.GAUGE: "GAUGE"}
TITLES = {Part.LINER: "BOWL PROFILE", Part.FORMER: "GROOVE FORMER", Part.SEAT: "SEAT OF THE ROTOR",
          Part.GAUGE: "GAUGE OF WALL AND GROOVES"}  # fmt: skip
GAUGE_GRIP_MM = 40.0
DATUM_WORDS = {
    Datum.FLOOR: "INNER FLOOR",
    Datum.UNDERSIDE: "UNDERSIDE OF THE FLOOR PLATE",
    Datum.LIP: "LIP",
}


@dataclass(frozen=True, slots=True)
class ProfileOptions:
    """`turning`: the axis lies along X, as on a lathe. `shrinkage_pct` is for the former only."""

    part: Part = Part.LINER
    turning: bool = False
    datum: Datum = Datum.FLOOR
    version: str = "R2000"
    shrinkage_pct: float = 0.0

    @property
    def plain(self) -> bool:
        return self == ProfileOptions(version=self.version)


def part_chain(part: Part, shape: Shape, machine: Machine | None) -> Chain:
    """The part's closed chain. Raises ValueError where the machine has no seat."""
    if part is Part.LINER:
        return shape.outline
    if part is Part.SEAT:
        return _seat(shape, machine)
    return _inside(shape, shape.shell.hub_radius if part is Part.FORMER else gauge_back(shape))


def as_made(chain: Chain, options: ProfileOptions) -> Chain:
    """The chain at the size it is written in, heights still from the inner floor: what a tool has to cut."""
    return Chain(chain.points * (1.0 + options.shrinkage_pct / 100.0), chain.bulges, chain.closed)


def laid(chain: Chain, shape: Shape, options: ProfileOptions) -> Chain:
    """The chain with its shrinkage, its datum at zero, its axis where the options want it."""
    if options.shrinkage_pct and options.part is not Part.FORMER:
        raise ValueError("A shrinkage allowance belongs to the groove former, not to another part.")
    factor = 1.0 + options.shrinkage_pct / 100.0
    points = chain.points * factor - np.array([0.0, factor * datum_height(options.datum, shape)])
    if not options.turning:
        return Chain(points, chain.bulges, chain.closed)
    return Chain(points[:, ::-1].copy(), -chain.bulges, chain.closed).reversed()  # a swap of axes mirrors


def datum_height(datum: Datum, shape: Shape) -> float:
    return {Datum.FLOOR: 0.0, Datum.UNDERSIDE: shape.shell.underside, Datum.LIP: shape.height}[datum]


def gauge_back(shape: Shape) -> float:
    """Radius of a hand template's straight back."""
    least = float(np.min(shape.edge.points[:, 0]))
    return max(least - GAUGE_GRIP_MM, 0.3 * least)


def _inside(shape: Shape, back: float) -> Chain:
    """What lies inside wall and grooves, from floor to lip, out from a radius."""
    lip, floor = float(shape.edge.points[-1, 1]), float(shape.edge.points[0, 1])
    points = np.concatenate((shape.edge.points, [[back, lip], [back, floor]]))
    return Chain(points, np.concatenate((shape.edge.bulges[:-1], np.zeros(3))))


def _seat(shape: Shape, machine: Machine | None) -> Chain:
    if machine is None or len(machine.seat) < 2:
        raise ValueError("The machine has no seat profile.")
    points = np.array([[p.radius_mm, p.height_mm + shape.shell.underside] for p in machine.seat])
    if not np.all(np.diff(points[:, 1]) > 0.0):
        raise ValueError("The seat's heights must increase from its floor up.")
    whole = np.concatenate(([[0.0, points[0, 1]]], points, [[0.0, points[-1, 1]]]))
    return Chain(whole, np.zeros(len(whole)))

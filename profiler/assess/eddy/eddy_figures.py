"""The figures of an eddy as one table: page, terminal, CSV and report read it. In shown units."""

from collections.abc import Callable
from dataclasses import dataclass

from profiler.assess.eddy.answers import Answer, Band, Case
from profiler.assess.eddy.grains_moved import Lifted, Moving
from profiler.numbers import NOTHING, fixed
from profiler.units import MICRON, MILLISECOND, MM


@dataclass(frozen=True, slots=True)
class EddyFigure:
    """`middle` is None where a figure is a band and nothing else."""

    label: str
    unit: str
    decimals: int
    middle: float | None
    band: Band | None
    help: str = ""

    @property
    def text(self) -> str:
        """Never one figure where there is a band: the middle, then low to high."""
        if self.middle is None and self.band is None:
            return NOTHING
        unit = f" {self.unit}" if self.unit else ""
        ends = [] if self.band is None else [fixed(v, self.decimals) for v in (self.band.low, self.band.high)]
        if self.middle is None:
            return f"{' to '.join(ends)}{unit}"
        middle = fixed(self.middle, self.decimals)
        return f"{middle}{unit}" if not ends else f"{middle} ({' to '.join(ends)}){unit}"


@dataclass(frozen=True, slots=True)
class _Read:
    """A figure that one case has by itself."""

    label: str
    unit: str
    decimals: int
    get: Callable[[Case], float | None]
    help: str


def _centre(axis: int) -> Callable[[Case], float | None]:
    return lambda case: None if case.measures.centre is None else case.measures.centre[axis]


READS = (
    _Read("Reach", "mm", 1, lambda c: c.reach / MM,
          "Greatest depth below the mouth at which anything moves at 5 % of the film's speed, in the section's plane."),
    _Read("Reach", "mouths", 2, lambda c: c.measures.reach, "The same, in mouths."),
    _Read("Still depth below", "mm", 1, lambda c: c.still_depth / MM, "From the reach to the floor, or to the bed."),
    _Read("Centre, along the mouth", "mouths", 2, _centre(0), "From the lower edge."),
    _Read("Centre, below the mouth", "mouths", 2,
          lambda c: None if c.measures.centre is None else -c.measures.centre[1], "Square to the mouth."),
    _Read("Circulation", "cm²/s", 1, lambda c: None if c.circulation is None else c.circulation * 1e4,
          "What goes round between the centre and the outermost closed streamline, per length of rim."),
    _Read("Turnover time", "ms", 1, lambda c: None if c.turnover is None else c.turnover / MILLISECOND,
          "Mean time of going round, but for the slowest 5 % of the flow."),
    _Read("Stacked eddies below", "", 0, lambda c: float(len(c.measures.stacked)),
          "Eddies from flank to flank under the driven one, each weaker and turning the other way."),
    _Read("Film over the mouth", "m/s", 2, lambda c: c.lid.speed, "In the section's plane, after the drop."),
)  # fmt: skip


def eddy_figures(found: Answer, moved: Moving | None = None, lifted: Lifted | None = None) -> tuple[EddyFigure, ...]:
    """All figures of an answer; those not asked for, or not there, have neither middle nor band."""
    own = [
        EddyFigure(
            r.label, r.unit, r.decimals, None if found.case is None else r.get(found.case), found.band(r.get), r.help
        )
        for r in READS
    ]
    stay = None if found.case is None else found.case.residence
    return (
        *own,
        EddyFigure("Water stays", "s", 2, None, stay, "Past the eddy alone, and if the eddy mixes with it."),
        *_grains(moved, lifted),
    )


def _grains(moved: Moving | None, lifted: Lifted | None) -> tuple[EddyFigure, ...]:
    gangue, target = (None, None) if moved is None else (moved.gangue, moved.target)
    sizes = (None,) * 4 if lifted is None else (lifted.washed, lifted.washed_closed, lifted.kept, lifted.kept_closed)
    words = (
        ("Largest gangue lifted, computed", "By the eddy's rise inside the groove."),
        ("Largest gangue washed out, closed form", "By the exchange across the mouth; see the groove's card."),
        ("Smallest target that stays, computed", "By the eddy's rise inside the groove."),
        ("Smallest target kept, closed form", "By the exchange across the mouth; see the groove's card."),
    )
    depth = "Over any bed: one of such grains lies at rest below it only; order of magnitude only."
    return (
        EddyFigure("Keeps gangue moving down to", "mm", 1, None, _scaled(gangue, MM), depth),
        EddyFigure("Keeps target moving down to", "mm", 1, None, _scaled(target, MM), depth),
        *(EddyFigure(label, "µm", 0, None, _scaled(size, MICRON), said)
          for (label, said), size in zip(words, sizes, strict=True)),
    )  # fmt: skip


def _scaled(band: Band | None, unit: float) -> Band | None:
    """In a unit; None where an end is no number, as closed forms have none under a calm bed."""
    if band is None or band.low != band.low or band.high != band.high:
        return None
    return Band(band.low / unit, band.high / unit)

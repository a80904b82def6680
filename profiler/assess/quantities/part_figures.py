"""What turns, part by part, in the units shown: mass, centre, polar and transverse inertia, apart and together.

The masses alone, and the figures of all together, are quantities too; this is the whole table.
"""

from collections.abc import Callable
from dataclasses import dataclass

from profiler.assess.evaluate.evaluation import Evaluation
from profiler.assess.spin.parts import Parts
from profiler.physics.rotor.body import Mass
from profiler.units import MM


@dataclass(frozen=True, slots=True)
class PartFigures:
    """Under the first duty."""

    key: str  # of the quantity that is its mass; empty where none is
    label: str
    mass_kg: float
    centre_mm: float  # height above the bowl's inner floor
    polar_kg_m2: float  # about the spin axis
    transverse_kg_m2: float  # about an axis square to it, through the part's own centre


_TABLE: tuple[tuple[str, str, Callable[[Parts], Mass]], ...] = (
    ("liner_mass_kg", "bowl", lambda p: p.liner),
    ("shell_mass_kg", "shell", lambda p: p.shell),
    ("", "hub and shaft, as typed", lambda p: p.further),
    ("jacket_water_kg", "jacket water", lambda p: p.water),
    ("slurry_mass_kg", "film and bed", lambda p: p.slurry),
    ("concentrate_mass_kg", "full grooves", lambda p: p.concentrate),
    ("dry_mass_kg", "dry rotor", lambda p: p.dry),
    ("rotor_mass_kg", "rotating assembly", lambda p: p.whole),
)

PARTS = tuple(key for key, _, _ in _TABLE if key and key != "rotor_mass_kg")  # of those together there are quantities


def part_figures(e: Evaluation) -> tuple[PartFigures, ...]:
    """Every part, then the dry rotor and all together; empty where spinning was not worked out."""
    if e.spin is None:
        return ()
    rows = []
    for key, label, of in _TABLE:
        m = of(e.spin.parts)
        mass, centre, polar, transverse = (float(a[0]) for a in (m.mass, m.centre, m.polar, m.transverse))
        rows.append(PartFigures(key, label, mass, centre / MM, polar, transverse))
    return tuple(rows)

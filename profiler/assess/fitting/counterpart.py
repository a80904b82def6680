"""A counterpart: a design with another's wall and everything else equal, as far as it fits the machine."""

from dataclasses import dataclass

from msgspec.structs import replace

from profiler.assess.fitting.fit import first_stop
from profiler.assess.fitting.rescaled import with_rule_anew
from profiler.assess.shape.shape_stage import wall_of
from profiler.numbers import as_printed
from profiler.study import Design, Lineage, Machine, Way


@dataclass(frozen=True, slots=True)
class Counterpart:
    """The design, and one sentence on what could not be kept equal, or that all was."""

    design: Design
    sentence: str


def counterpart(design: Design, wall_of_other: Design, machine: Machine, name: str) -> Counterpart:
    """Grooves follow the design's rule on the other wall. Raises ValueError where either has no wall."""
    lineage = Lineage(Way.COUNTERPART, origin=design.name, other=wall_of_other.name)
    moved = replace(design, name=name, wall=wall_of_other.wall, lineage=lineage)
    made = with_rule_anew(moved, design, wall_of(design))
    parts = []
    if made.grooves.count != design.grooves.count:
        many = f"{made.grooves.count} grooves instead of {design.grooves.count}"
        parts.append(f"it has {many}, as many as its lands allow")
    stop = first_stop(made, machine)
    if stop is not None:
        parts.append(f"it does not fit as it stands: {stop.text.rstrip('.')}")
    kept = "; ".join(parts) if parts else "everything but the wall is equal"
    whose = f"Counterpart of “{design.name}” with the wall of “{wall_of_other.name}”"
    return Counterpart(made, as_printed(f"{whose}: {kept}."))

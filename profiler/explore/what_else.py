"""What designs differ in besides the wall: only where that is nothing does a comparison speak of the wall.

Each design against the reference, thing by thing; a number counts as different beyond what its making would show.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import isfinite, pi

import numpy as np

from profiler.assess import Evaluation
from profiler.assess.quantities.table import quantity
from profiler.numbers import as_printed, fixed
from profiler.study import Design
from profiler.study.records.fields import members_of
from profiler.study.records.record import Record
from profiler.units import MM

WALL_ALONE = "The designs differ in nothing but their walls: what the table shows is the wall's doing."


@dataclass(frozen=True, slots=True)
class _Thing:
    """A number by its words; `share` is how far it may differ before it is said, of the reference's."""

    words: str
    unit: str
    decimals: int
    share: float
    get: Callable[[Evaluation], float]


def what_else_differs(evaluations: Sequence[Evaluation], reference: Evaluation) -> tuple[str, ...]:
    """A sentence for every design that differs in more than its wall; one that says so where none does.

    Nothing for a single design.
    """
    others = [e for e in evaluations if e is not reference]
    if not others:
        return ()
    found = []
    for e in others:
        parts = [*_records(e.design, reference.design), *_numbers(e, reference)]
        if parts:
            names = f"“{e.design.name}” differs from “{reference.design.name}”"
            found.append(as_printed(f"{names} not only in its wall: {'; '.join(parts)}."))
    return tuple(found) or (WALL_ALONE,)


def _records(design: Design, reference: Design) -> list[str]:
    """Grooves, holes and body as decided, by the labels of what differs."""
    parts: tuple[tuple[str, Record, Record, tuple[str, ...]], ...] = (
        ("grooves", design.grooves, reference.grooves, ("from_mm", "to_mm")),
        ("water holes", design.holes, reference.holes, ()),
        ("body", design.body, reference.body, ()),
    )
    found = []
    for words, one, other, passed in parts:
        names = [n for n in one.__struct_fields__ if n not in passed and getattr(one, n) != getattr(other, n)]
        if names:
            found.append(f"{words} ({', '.join(_label(type(one), name) for name in names)})")
    return found


def _label(kind: type[Record], name: str) -> str:
    return members_of(kind)[name].label.lower()


def _numbers(e: Evaluation, reference: Evaluation) -> list[str]:
    found = []
    for thing in THINGS:
        one, other = thing.get(e), thing.get(reference)
        if not (isfinite(one) and isfinite(other)) or abs(one - other) <= thing.share * max(abs(other), 1e-9):
            continue
        values = f"{fixed(one, thing.decimals)} instead of {fixed(other, thing.decimals)} {thing.unit}".strip()
        found.append(f"{thing.words} {values}")
    return found


def _of(key: str) -> Callable[[Evaluation], float]:
    def get(e: Evaluation) -> float:
        values = quantity(key).get(e)
        return float(values[0]) if len(values) else float("nan")

    return get


def _mouth(e: Evaluation) -> float:
    return float("nan") if e.shape is None or not len(e.shape.mouths) else float(np.mean(e.shape.cut.mouth))


def _count(e: Evaluation) -> float:
    return float("nan") if e.shape is None else float(len(e.shape.mouths))


def _hole_area(e: Evaluation) -> float:
    """mm2 of all holes; 0 without a plan."""
    if e.shape is None:
        return float("nan")
    if e.shape.holes is None:
        return 0.0
    rings = e.shape.holes.rings
    return float(np.sum(rings.count * 0.25 * pi * (rings.diameter / MM) ** 2))


def _height(e: Evaluation) -> float:
    return float("nan") if e.shape is None else e.shape.height


def _lip(e: Evaluation) -> float:
    return float("nan") if e.shape is None else e.shape.lip_radius


THINGS = (
    _Thing("grooves", "", 0, 0.0, _count),
    _Thing("mean mouth", "mm", 2, 1e-3, _mouth),
    _Thing("groove volume", "L", 3, 0.02, _of("volume_total_l")),
    _Thing("hole area", "mm²", 1, 1e-3, _hole_area),
    _Thing("height", "mm", 1, 1e-4, _height),
    _Thing("lip radius", "mm", 2, 1e-4, _lip),
    _Thing("mass", "kg", 2, 0.02, _of("mass_kg")),
)

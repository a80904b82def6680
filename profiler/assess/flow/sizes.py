"""A duty's feed by size: its d50 whichever way it is given, and what its size classes say.

A duty with size classes has the d50 of their passing curve; the number kept beside them, for the way back to one d50,
is not read while there are any. Whatever turns the d50 of such a duty (a map, a search for one number) scales the
whole curve, sieve by sieve.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from msgspec.structs import replace

from profiler.assess.findings.finding import Finding
from profiler.assess.findings.kinds import Kind
from profiler.physics.grains.classed_grains import SizeClasses, passing_size, sieve_classes
from profiler.study import Duty, Field, SizeClass, objections
from profiler.study.records.duty import D50
from profiler.study.records.size_classes import rows_objection
from profiler.units import MICRON

KEPT = 64  # tables whose answers are remembered: a drag asks the same one a hundred times
PLACES = 6  # decimals of a micrometre that scaled sieves are rounded to


@dataclass(frozen=True, slots=True)
class Passing:
    """The passing curve through its sieves, coarse first: a straight line between two over the logarithm of size."""

    size_um: tuple[float, ...]
    passing_pct: tuple[float, ...]


def d50_um(duty: Duty) -> float:
    """The size half of the solids' mass is finer than: as typed, or of the size classes."""
    return finer_um(duty.size_classes, 0.5) if duty.size_classes and usable(duty) else duty.d50_um


def usable(duty: Duty) -> bool:
    """Whether the size classes, if there are any, can be worked with."""
    return not rows_trouble(duty.size_classes)


@lru_cache(maxsize=KEPT)
def rows_trouble(rows: tuple[SizeClass, ...]) -> str | None:
    """The first thing that is wrong with a table of size classes, or None."""
    wrong = next((f"Row {n}: {found[0][2]}" for n, row in enumerate(rows, 1) if (found := objections(row))), None)
    return wrong or rows_objection(rows)


@lru_cache(maxsize=KEPT)
def finer_um(rows: tuple[SizeClass, ...], share: float) -> float:
    """The size this share of the mass is finer than, of rows without trouble."""
    return float(passing_size(classes_of(rows), share)) / MICRON


def coarsest_um(duty: Duty) -> float:
    """The coarsest grains fed: the top size, or the upper end of the coarsest class where that lies higher."""
    if not (duty.size_classes and usable(duty)):
        return duty.top_size_um
    classes = classes_of(duty.size_classes)
    return max(duty.top_size_um, float(np.max(classes.upper[classes.share > 0.0])) / MICRON)


def passing_of(rows: tuple[SizeClass, ...]) -> Passing:
    """The curve of rows without trouble, from the upper end of the coarsest class to the finest sieve."""
    classes = classes_of(rows)
    sizes = (classes.upper[0], *classes.lower)
    passing = 100.0 * np.concatenate(([1.0], np.clip(1.0 - np.cumsum(classes.share), 0.0, 1.0)))
    return Passing(tuple(float(s) / MICRON for s in sizes), tuple(np.round(passing, 6).tolist()))


def passing_pct(rows: Sequence[SizeClass]) -> tuple[float, ...]:
    """Per cent finer than each sieve, of whatever all rows add up to."""
    retained = [row.retained_pct for row in rows]
    return tuple(max(sum(retained[n:]), 0.0) for n in range(1, len(retained) + 1))


def with_rows(duty: Duty, rows: tuple[SizeClass, ...]) -> Duty:
    """The duty fed by these classes, their d50 kept beside them; without any by the one d50 it has."""
    median = round(finer_um(rows, 0.5), 1) if rows else round(d50_um(duty), 1)
    possible = D50.objection(median) is None
    return replace(duty, size_classes=rows, d50_um=median if possible else duty.d50_um)


def with_d50(duty: Duty, wanted_um: float) -> Duty:
    """The duty with another d50; size classes keep their shares, every sieve is scaled."""
    if not (duty.size_classes and usable(duty)):
        return replace(duty, d50_um=wanted_um)
    factor = wanted_um / d50_um(duty)
    rows = (replace(row, size_um=round(row.size_um * factor, PLACES)) for row in duty.size_classes)
    return replace(duty, size_classes=tuple(rows), d50_um=wanted_um)


def held_by(duty: Duty, field: Field[float]) -> float:
    """A number of the duty as it counts: its d50 whichever way it is given."""
    return d50_um(duty) if field is D50 else field.get(duty)


def turned(duty: Duty, field: Field[float], value: float) -> Duty:
    """The duty with a number turned, as maps and questions do: size classes keep their shares under another d50."""
    return with_d50(duty, value) if field is D50 else field.set(duty, value)


def size_words(duty: Duty) -> str:
    """The d50 as it stands in a sentence: 'd50 110 µm', or 'd50 95 µm (of 7 classes)'."""
    words = f"d50 {duty.d50_um:g} µm" if not duty.size_classes else f"d50 {d50_um(duty):.0f} µm"
    count = len(duty.size_classes)
    return words if not count else f"{words} (of {count} class{'es' if count > 1 else ''})"


def size_problems(duty: Duty) -> list[Finding]:
    """A stop where rows contradict each other; single numbers out of bounds are found elsewhere."""
    wrong = rows_objection(duty.size_classes)
    if wrong is None:
        return []
    total = sum(row.retained_pct for row in duty.size_classes)
    return [Finding(kind=Kind.SIZE_CLASSES, text=wrong, value=total, limit=100.0, unit="%")]


@lru_cache(maxsize=KEPT)
def classes_of(rows: tuple[SizeClass, ...]) -> SizeClasses:
    """One duty's classes, (k,); not to be written into."""
    sieve = np.array([row.size_um for row in rows]) * MICRON
    return sieve_classes(sieve, np.array([row.retained_pct for row in rows]))


def batch_of(duties: Sequence[Duty]) -> SizeClasses | None:
    """The classes of several duties, (d, k), short tables filled up with nothing; a single d50 is one class.

    None where no duty has any.
    """
    if not any(d.size_classes for d in duties):
        return None
    if len(duties) == 1:
        one = classes_of(duties[0].size_classes)
        return SizeClasses(one.lower[None], one.upper[None], one.share[None])
    each = [classes_of(d.size_classes or (SizeClass(d.d50_um, 100.0),)) for d in duties]
    most = max(len(c.share) for c in each)

    def filled(c: SizeClasses) -> tuple[list[float], list[float], list[float]]:
        more = most - len(c.share)
        return (
            [*c.lower, *[float(c.lower[-1])] * more],
            [*c.upper, *[float(c.lower[-1])] * more],
            [*c.share, *[0.0] * more],
        )

    return SizeClasses(*(np.array(rows) for rows in zip(*(filled(c) for c in each), strict=True)))

"""What is odd about the entries of a trial, named and never dropped: outliers, copies, repeats inside a pair.

Whoever keeps the ledger knows whether a figure was mistyped or a sample mixed up; a number that is merely far away may
be the most telling of all. Not here: balances that do not close (run_flags, closing).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from profiler.statistics.inference.comparison import Kind, Values
from profiler.statistics.trial.layout import Layout, Unit
from profiler.statistics.trial.runs import TrialRun

FAR = 3.5  # robust standard deviations
MAD_TO_SD = 1.482602  # of a normal distribution: 1/0.674490
LEAST_VALUES = 5  # fewer have no robust spread to speak of; own rule
_UNITS = "robust standard deviations"
LEAST_EQUAL = 2  # measured numbers that must be equal: one alone, rounded, is equal by chance


class OddKind(StrEnum):
    """What was found."""

    OUTLIER = "outlier"
    COPY = "copy"
    REPEAT = "repeat"


@dataclass(frozen=True)
class Oddity:
    """`runs` are names of the ledger."""

    kind: OddKind
    runs: tuple[str, ...]
    text: str


def oddities(layout: Layout, runs: Sequence[TrialRun]) -> tuple[Oddity, ...]:
    """Of the observations, and of the runs that are not left out."""
    return (*_outliers(layout), *_copies([run for run in runs if not run.excluded]), *_repeats(layout))


def _outliers(layout: Layout) -> Iterator[Oddity]:
    first, second = layout.values("recovery_percent")
    if layout.kind is Kind.UNPAIRED:
        for design, units, values in (
            (layout.reference_design, layout.reference, first),
            (layout.new_design, layout.new, second),
        ):
            for k, far in _far(values):
                names = _names(units[k])
                where = f"lies {far:.1f} {_UNITS} from the others of {design}"
                yield Oddity(OddKind.OUTLIER, names, f"{layout.noun} {', '.join(names)} {where}")
        return
    turned = np.array(layout.swapped, dtype=bool) if layout.swapped else np.zeros(first.size, dtype=bool)
    for way in (False, True):
        places = np.flatnonzero(turned == way)
        for k, far in _far((second - first)[places]):
            place = int(places[k])
            names = (*_names(layout.reference[place]), *_names(layout.new[place]))
            who = f"{layout.noun} {layout.labels[place]} (runs {', '.join(names)})"
            yield Oddity(OddKind.OUTLIER, names, f"{who} lies {far:.1f} {_UNITS} from the other differences")


def _far(values: Values) -> list[tuple[int, float]]:
    """Places of values far from the median, with how far; none where most values are the same."""
    if values.size < LEAST_VALUES:
        return []
    away = np.abs(values - np.median(values))
    spread = MAD_TO_SD * float(np.median(away))
    if spread <= 0.0:
        return []
    return [(int(k), float(away[k] / spread)) for k in np.flatnonzero(away > FAR * spread)]


def _copies(runs: Sequence[TrialRun]) -> Iterator[Oddity]:
    alike: dict[tuple[float | None, ...], list[str]] = {}
    for run in runs:
        if sum(value is not None for value in run.measured) >= LEAST_EQUAL:
            alike.setdefault(run.measured, []).append(run.run)
    for names in alike.values():
        if len(names) > 1:
            text = f"runs {', '.join(names)} are equal in every measured number: were rows copied?"
            yield Oddity(OddKind.COPY, tuple(names), text)


def _repeats(layout: Layout) -> Iterator[Oddity]:
    if layout.kind is Kind.UNPAIRED or any(run.installation for run in layout.runs()):
        return
    for label, old, new in zip(layout.labels, layout.reference, layout.new, strict=True):
        if len(old) > 1 or len(new) > 1:
            text = (
                f"{layout.noun} {label} holds {len(old)} runs of {layout.reference_design} and {len(new)} of "
                f"{layout.new_design}: their means are compared"
            )
            yield Oddity(OddKind.REPEAT, (*_names(old), *_names(new)), text)


def _names(unit: Unit) -> tuple[str, ...]:
    return tuple(run.run for mounted in unit for run in mounted)

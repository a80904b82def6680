"""A second product: what a cleaner (a table, say) makes of the bowl's concentrate, in the balance of each run.

Where the bowl's own concentrate was not assayed it is what the cleaner made of it; a tail of the cleaner that was not
weighed is the rest, or what the assays tell. Not here: the balance of feed, concentrate and tail (balances).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from profiler.statistics.balances.balance import Estimates, Stream, Streams
from profiler.statistics.balances.products import product_masses, product_recoveries, together

Values = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Cleaner:
    """What a cleaner made of the bowl's concentrate: its two products, and the recovery to either, a fraction (n,)."""

    concentrate: Stream
    tail: Stream
    to_concentrate: Estimates
    to_tail: Estimates


def with_cleaner_tail(streams: Streams, first: Stream, second: Stream) -> tuple[Stream, Stream]:
    """The cleaner's products, the mass of its tail as weighed, else the rest, else as the n-product balance tells."""
    rest = np.where(np.isnan(second.mass), streams.concentrate.mass - first.mass, second.mass)
    mass = np.where(np.isnan(rest), _told_by_assays(streams, first, second), rest)
    return first, Stream(np.where(mass > 0.0, mass, np.nan), second.grade, second.mass_rsd, second.grade_rsd)


def concentrate_of(measured: Stream, first: Stream, second: Stream) -> Stream:
    """The bowl's concentrate as weighed and assayed, else as what the cleaner made of it."""
    with np.errstate(divide="ignore", invalid="ignore"):
        made = together(first, second)
    no_mass, no_grade = np.isnan(measured.mass), np.isnan(measured.grade)
    return Stream(
        np.where(no_mass, made.mass, measured.mass),
        np.where(no_grade, made.grade, measured.grade),
        np.where(no_mass & np.isfinite(made.mass_rsd), made.mass_rsd, measured.mass_rsd),
        np.where(no_grade, made.grade_rsd, measured.grade_rsd),
    )


def cleaner_of(streams: Streams, first: Stream, second: Stream) -> Cleaner:
    """Recoveries to the cleaner's products over the head built up of these and the bowl's tail."""
    tail = streams.tail
    rest = np.where(np.isnan(tail.mass), streams.feed.mass - streams.concentrate.mass, tail.mass)
    last = Stream(rest, tail.grade, np.where(np.isnan(tail.mass), streams.feed.mass_rsd, tail.mass_rsd), tail.grade_rsd)
    to_first, to_second, _ = product_recoveries((first, second, last))
    return Cleaner(first, second, to_first, to_second)


def _told_by_assays(streams: Streams, first: Stream, second: Stream) -> Values:
    """Mass of the cleaner's tail (n,) from feed mass and the assays of all, NaN where these do not tell it."""
    found = np.full(first.mass.size, np.nan)
    for run in range(found.size):
        grades = np.array([part.grade[run] for part in (first, second, streams.tail)])
        fed = float(streams.feed.mass[run]), float(streams.feed.grade[run])
        if np.all(np.isfinite([*grades, *fed])) and fed[1] > 0.0:
            known = [first.mass[run], np.nan, streams.tail.mass[run]]
            found[run] = product_masses(fed[0], [fed[1]], [grades], known)[1]
    return found

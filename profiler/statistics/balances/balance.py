"""The metal balance of each run: three recoveries, each with its deviation, and what goes with them.

Judge on the built-up head: with a mass pull of a tenth of a per cent the two-product formula turns an assay
error of 8 per cent into 7 points of recovery, concentrate over built-up head into 2. Arrays hold one value per
run, NaN where something was not recorded; what cannot be worked out is NaN too and nothing is clipped.
Not here: what is odd about a run (run_flags), balances made to close (reconciliation), where
the metal went (products).

Units: dry masses kg, grades g/t, shares as fractions. Deviations are standard deviations, to first order
(derivatives), errors of the measurements independent of each other.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64]


@dataclass(frozen=True)
class Stream:
    """Mass and grade of a stream in n runs, each with its relative standard deviation; arrays (n,)."""

    mass: Values
    grade: Values
    mass_rsd: Values
    grade_rsd: Values


@dataclass(frozen=True)
class Streams:
    """Feed, concentrate and tail of n runs. Where one of feed and tail mass is missing it is the other's rest."""

    feed: Stream
    concentrate: Stream
    tail: Stream

    def __post_init__(self) -> None:
        if not self.feed.mass.shape == self.concentrate.mass.shape == self.tail.mass.shape:
            raise ValueError("Feed, concentrate and tail need as many runs each.")


@dataclass(frozen=True)
class Estimates:
    """A value per run and its standard deviation, arrays (n,); NaN where not known."""

    value: Values
    sd: Values


@dataclass(frozen=True)
class Balances:
    """What n runs give, arrays (n,).

    Recoveries, mass pull and accountability are fractions; head in g/t. `upgrade` is concentrate grade over feed
    grade (assayed, else built-up). `assay_pull` is the pull that the assays alone imply.
    """

    two_product: Estimates
    over_feed: Estimates
    built_up: Estimates
    mass_pull: Values
    assay_pull: Estimates
    upgrade: Values
    built_up_head: Values
    accountability: Estimates


def balance(streams: Streams) -> Balances:
    """Balances of n runs; never raises for what a run holds (see run_flags)."""
    feed, concentrate, tail = (_usable(part) for part in (streams.feed, streams.concentrate, streams.tail))
    masses = _Masses(feed, concentrate, tail)
    in_concentrate, in_tail = masses.concentrate * concentrate.grade, masses.tail * tail.grade
    out, fed = _above_zero(in_concentrate + in_tail), _above_zero(masses.feed * feed.grade)
    share = in_concentrate / out
    zero = np.zeros_like(share)
    head = out / masses.feed
    return Balances(
        two_product=_two_product(feed, concentrate, tail),
        over_feed=_with_sd(
            in_concentrate / fed,
            np.hypot(feed.grade_rsd, concentrate.grade_rsd),
            masses.rsd(zero - 1.0, zero + 1.0, zero),
        ),
        built_up=_with_sd(
            share,
            (1.0 - share) * np.hypot(concentrate.grade_rsd, tail.grade_rsd),
            (1.0 - share) * masses.rsd(zero, zero + 1.0, zero - 1.0),
        ),
        mass_pull=masses.concentrate / masses.feed,
        assay_pull=_assay_pull(feed, concentrate, tail),
        upgrade=concentrate.grade / _above_zero(np.where(np.isnan(feed.grade), head, feed.grade)),
        built_up_head=head,
        accountability=_with_sd(
            out / fed,
            np.sqrt((share * concentrate.grade_rsd) ** 2 + ((1.0 - share) * tail.grade_rsd) ** 2 + feed.grade_rsd**2),
            masses.rsd(zero - 1.0, share, 1.0 - share),
        ),
    )


class _Masses:
    """The three dry masses, the missing one as the rest of the others, and their share in a deviation."""

    def __init__(self, feed: Stream, concentrate: Stream, tail: Stream) -> None:
        self.concentrate = concentrate.mass
        self._no_tail = np.isnan(tail.mass)
        self._no_feed = np.isnan(feed.mass) & ~self._no_tail
        self.feed = np.where(self._no_feed, concentrate.mass + tail.mass, feed.mass)
        self.tail = _above_zero(np.where(self._no_tail, feed.mass - concentrate.mass, tail.mass))
        self._sd = tuple(
            np.where(np.isnan(part.mass), 0.0, part.mass * part.mass_rsd) for part in (feed, concentrate, tail)
        )

    def rsd(self, of_feed: Values, of_concentrate: Values, of_tail: Values) -> Values:
        """Relative deviation from mass errors, the sensitivities being d ln(result) / d ln(mass)."""
        per_feed, per_concentrate = of_feed / self.feed, of_concentrate / self.concentrate
        per_tail = of_tail / self.tail
        from_tail, from_feed = np.where(self._no_tail, per_tail, 0.0), np.where(self._no_feed, per_feed, 0.0)
        total = (
            ((per_feed + from_tail) * self._sd[0]) ** 2
            + ((per_concentrate - from_tail + from_feed) * self._sd[1]) ** 2
            + ((per_tail + from_feed) * self._sd[2]) ** 2
        )
        return np.asarray(np.sqrt(total))


def _usable(part: Stream) -> Stream:
    """The stream with masses and grades that cannot be (zero mass, negative grade, infinite) as not known."""
    return Stream(
        np.where(np.isfinite(part.mass) & (part.mass > 0.0), part.mass, np.nan),
        np.where(np.isfinite(part.grade) & (part.grade >= 0.0), part.grade, np.nan),
        part.mass_rsd,
        part.grade_rsd,
    )


def _above_zero(values: Values) -> Values:
    return np.where(values > 0.0, values, np.nan)


def _in_order(feed: Stream, concentrate: Stream, tail: Stream) -> tuple[Values, Values, Values]:
    valid = (concentrate.grade > feed.grade) & (feed.grade > tail.grade) & (feed.grade > 0.0)
    f, c, t = (np.where(valid, part.grade, np.nan) for part in (feed, concentrate, tail))
    return f, c, t


def _two_product(feed: Stream, concentrate: Stream, tail: Stream) -> Estimates:
    f, c, t = _in_order(feed, concentrate, tail)
    by_feed = c * t / (f**2 * (c - t))
    by_concentrate = -t * (f - t) / (f * (c - t) ** 2)
    by_tail = -c * (c - f) / (f * (c - t) ** 2)
    variance = (
        (by_feed * f * feed.grade_rsd) ** 2
        + (by_concentrate * c * concentrate.grade_rsd) ** 2
        + (by_tail * t * tail.grade_rsd) ** 2
    )
    return Estimates(c * (f - t) / (f * (c - t)), np.sqrt(variance))


def _assay_pull(feed: Stream, concentrate: Stream, tail: Stream) -> Estimates:
    f, c, t = _in_order(feed, concentrate, tail)
    pull = (f - t) / (c - t)
    variance = (
        (f * feed.grade_rsd) ** 2 + (pull * c * concentrate.grade_rsd) ** 2 + ((1.0 - pull) * t * tail.grade_rsd) ** 2
    ) / (c - t) ** 2
    return Estimates(pull, np.sqrt(variance))


def _with_sd(value: Values, from_grades: Values, from_masses: Values) -> Estimates:
    return Estimates(value, value * np.hypot(from_grades, from_masses))

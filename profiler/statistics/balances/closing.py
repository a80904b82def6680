"""Does the balance of a run close? Metal out over metal in, against its own error.

Beyond two standard errors a run is doubtful: of twelve sound runs one or more is that in 43 trials of 100, so a single
one says little. Beyond three, or with a concentrate no richer than what it came from, it fails. Not here: what follows
for the trial (gate_checks).
"""

from dataclasses import dataclass
from enum import StrEnum
from math import isfinite

import numpy as np

from profiler.statistics.balances.balance import Balances, Streams

DOUBTFUL_ERRORS, FAILING_ERRORS = 2.0, 3.0
FALLBACK = {DOUBTFUL_ERRORS: 0.10, FAILING_ERRORS: 0.15}  # of accountability, where no assay error is known; own rule


class Closure(StrEnum):
    """Of one run's balance."""

    CLOSES = "closes"
    DOUBTFUL = "doubtful"
    FAILS = "fails"


@dataclass(frozen=True)
class RunClosing:
    """How a run's balance closes, with the numbers it was judged by."""

    closure: Closure
    text: str


def closings(streams: Streams, balances: Balances) -> tuple[RunClosing | None, ...]:
    """One per run; None where neither accountability nor the order of the grades is known."""
    return tuple(_closing(streams, balances, run) for run in range(balances.accountability.value.size))


def _closing(streams: Streams, balances: Balances, run: int) -> RunClosing | None:
    feed, concentrate, tail = (float(part.grade[run]) for part in (streams.feed, streams.concentrate, streams.tail))
    for name, grade in (("feed", feed), ("tail", tail)):
        if isfinite(grade) and isfinite(concentrate) and concentrate <= grade:
            return RunClosing(
                Closure.FAILS, f"concentrate {concentrate:g} g/t is no richer than the {name}, {grade:g} g/t"
            )
    value, sd = float(balances.accountability.value[run]), float(balances.accountability.sd[run])
    if not isfinite(value):
        return None
    off, known = abs(value - 1.0), isfinite(sd) and sd > 0.0
    text = f"accountability {100.0 * value:.1f} %"
    text += f", {off / sd:.1f} standard errors from 100" if known else ", assay error not known"
    limits = {errors: errors * sd if known else fallback for errors, fallback in FALLBACK.items()}
    if off > limits[FAILING_ERRORS]:
        return RunClosing(Closure.FAILS, text)
    return RunClosing(Closure.DOUBTFUL if off > limits[DOUBTFUL_ERRORS] else Closure.CLOSES, text)


def most_doubtful(runs: int) -> int:
    """How many of so many runs may be doubtful before the balances as a whole are."""
    return int(np.floor(max(3.0, 0.2 * runs)))

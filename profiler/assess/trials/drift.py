"""Do the recoveries of a trial move with run order or with wear? One slope for both designs, each at its own level.

The verdict does not rest on it: pairs are judged by their differences (statistics.judge). It is what the pictures show.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from profiler.statistics.inference.trends import Trend, trend
from profiler.statistics.trial.runs import COLUMNS, TrialRun


@dataclass(frozen=True, slots=True)
class Level:
    """The runs of one design: their mean place on the axis and mean recovery in per cent, and the axis's ends."""

    design: str
    place: float
    recovery: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Drift:
    """`across` is the place of every run of the ledger, None where it is not known; excluded runs do not count."""

    across: tuple[float | None, ...]
    trend: Trend
    levels: tuple[Level, ...]


def run_order(runs: Sequence[TrialRun]) -> list[float | None]:
    """Place of each run by start, from 1, where all have one; else by the ledger."""
    starts = [COLUMNS["started_day"].get(run) for run in runs]
    known = [(start, row) for row, start in enumerate(starts) if start is not None]
    order = [row for _, row in sorted(known)] if len(known) == len(starts) else list(range(len(starts)))
    places: list[float | None] = [None] * len(starts)
    for place, row in enumerate(order, 1):
        places[row] = float(place)
    return places


def drift(runs: Sequence[TrialRun], across: Sequence[float | None]) -> Drift | None:
    """The line through recoveries along an axis; None where there are too few runs, or the axis does not move."""
    known = [
        (place, run.recovery_percent, run.design)
        for place, run in zip(across, runs, strict=True)
        if place is not None and run.recovery_percent is not None and not run.excluded
    ]
    names = tuple(dict.fromkeys(design for _, _, design in known))
    places, recoveries = (np.array([k[i] for k in known], dtype=np.float64) for i in (0, 1))
    groups = np.array([names.index(design) for _, _, design in known], dtype=np.int64)
    if not len(known):
        return None
    try:
        found = trend(places, recoveries, groups)
    except ValueError:
        return None
    levels = tuple(_level(name, places[groups == i], recoveries[groups == i]) for i, name in enumerate(names))
    return Drift(tuple(across), found, levels)


def _level(design: str, places: NDArray[np.float64], recoveries: NDArray[np.float64]) -> Level:
    means = float(places.mean()), float(recoveries.mean())
    return Level(design, *means, float(places.min()), float(places.max()))

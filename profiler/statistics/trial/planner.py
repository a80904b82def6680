"""Numbers for a trial that has not been run: pairs for a gain, what a sample can hold, which design goes first.

Not here: the power behind it (power), the wording of a protocol.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from profiler.statistics.inference.comparison import Kind
from profiler.statistics.inference.power import half_width, spread_upper_factor, whole_units_for
from profiler.statistics.sampling.grains import LEAST_GRAINS, count_rsd, grain_count

LEAST_UNITS = {Kind.PAIRED: 6, Kind.UNPAIRED: 4, Kind.EXCHANGED: 8}
"""Pairs, runs of each design, blocks (half of them each way round): with fewer no permutation reaches 5 per cent."""


@dataclass(frozen=True)
class TrialSize:
    """Pairs (runs of each design, blocks) for a gain.

    `units` at the spread as given; `cautious` at its 80 per cent upper limit, where it was estimated from few;
    both at least what can be called firm. `half_width` is that of the 95 per cent interval to expect with `units`,
    in points.
    """

    units: int
    cautious: int
    half_width: float


@dataclass(frozen=True)
class SampleFloor:
    """Mean number of (effective) grains in a sample, the relative deviation that means, whether 20 are reached."""

    grains: float
    rsd: float
    enough: bool


def trial_size(gain: float, spread: float, kind: Kind = Kind.PAIRED, *, spread_from: int | None = None) -> TrialSize:
    """Size of trial for a gain at a spread, both in points; `spread_from` counts the differences behind it."""
    units = max(LEAST_UNITS[kind], whole_units_for(gain, spread, kind))
    wider = spread if spread_from is None else spread * spread_upper_factor(spread_from)
    return TrialSize(
        units=units,
        cautious=max(LEAST_UNITS[kind], whole_units_for(gain, wider, kind)),
        half_width=half_width(units, kind) * spread,
    )


def size_table(
    spreads: Sequence[float], gains: Sequence[float], kind: Kind = Kind.PAIRED
) -> tuple[tuple[int, ...], ...]:
    """Pairs by power alone, a row per spread and a column per gain."""
    return tuple(tuple(whole_units_for(gain, spread, kind) for gain in gains) for spread in spreads)


def sample_floor(grade_g_t: float, mass_kg: float, grain_mg: float) -> SampleFloor:
    """What a sample of that grade and mass can tell if its gold comes in grains of that (effective) mass."""
    grains = grain_count(grade_g_t, mass_kg, grain_mg)
    return SampleFloor(grains, count_rsd(grains), grains >= LEAST_GRAINS)


def chance_order(pairs: int, seed: int) -> tuple[bool, ...]:
    """Which design runs first in each pair, (pairs,), true where the reference does; a seed gives its order again.

    By chance, but as often the one as the other: a coin for every pair could put one design first nearly always.
    """
    if pairs < 1:
        raise ValueError(f"An order is drawn for at least one pair, not {pairs}.")
    draw = np.random.default_rng(seed)
    leads = pairs // 2 + int(pairs % 2 and draw.random() < 0.5)
    return tuple(bool(first) for first in draw.permutation(np.arange(pairs) < leads))

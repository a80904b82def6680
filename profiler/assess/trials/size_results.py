"""Size by size: what each class recovers under the two designs, what it contributes to the gain, how sure that is.

Classes explain the result, they do not decide it. Not here: openings (statistics.sieves).
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from profiler.statistics.balances.sizes import (
    SizeBalance,
    SizeClassTest,
    SizedStream,
    SizeGain,
    class_tests,
    size_balance,
    size_gain,
)
from profiler.statistics.inference.differences import mean_interval
from profiler.statistics.sampling.sieves import same_opening
from profiler.statistics.trial.layout import Layout, Unit
from profiler.study.records.trial import Run, Trial

Values = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class TrialSizes:
    """Coarsest class first, arrays (k,): openings µm, head shares and recoveries as fractions.

    The halves are of the 95 per cent intervals of these recoveries over what repeats, NaN where that is not known.
    `tests` holds None for a class that cannot be tested; `left_out` says of runs why their classes are not used.
    """

    openings_um: tuple[float, ...]
    reference_head: Values
    new_head: Values
    reference_recoveries: Values
    new_recoveries: Values
    reference_half: Values
    new_half: Values
    gain: SizeGain
    tests: tuple[SizeClassTest | None, ...]
    left_out: tuple[str, ...]

    @property
    def words(self) -> tuple[str, ...]:
        """'+212' for the coarsest, '−106+53' between, '−25' for the pan."""
        names = []
        for k, opening in enumerate(self.openings_um):
            above = "" if k == 0 else f"−{self.openings_um[k - 1]:g}"
            names.append(f"{above}+{opening:g}" if opening > 0.0 else above or "all")
        return tuple(names)


@dataclass(frozen=True, slots=True)
class _Sized:
    balance: SizeBalance
    metal: Values  # (k,) grams


def trial_sizes(trial: Trial, layout: Layout) -> TrialSizes | None:
    """Of the runs that take part and were screened; None where none was on one of the sides."""
    by_name = {run.run: run for run in trial.runs if run.sizes}
    taking_part = [by_name[run.run] for run in layout.runs() if run.run in by_name]
    if not taking_part:
        return None
    openings = _openings(taking_part)
    sized: dict[str, _Sized] = {}
    left_out = []
    for run in taking_part:
        try:
            sized[run.run] = _sized(run, openings)
        except ValueError as reason:
            left_out.append(f"Run {run.run}: {reason}")
    sides = [_pooled(units, sized) for units in (layout.reference, layout.new)]
    if sides[0] is None or sides[1] is None:
        return None
    (head_a, recovery_a), (head_b, recovery_b) = _filled(sides[0], sides[1])
    means = [np.array([_unit_recoveries(u, sized, len(openings)) for u in us]) for us in (layout.reference, layout.new)]
    return TrialSizes(
        openings,
        head_a,
        head_b,
        recovery_a,
        recovery_b,
        _halves(means[0]),
        _halves(means[1]),
        size_gain(head_a, recovery_a, head_b, recovery_b),
        class_tests(layout.kind, means[0], means[1], (head_a + head_b) / 2.0, layout.swapped),
        tuple(left_out),
    )


def _halves(recoveries: Values) -> Values:
    """Half-widths (k,) of the means of recoveries (n, k)."""
    halves = np.full(recoveries.shape[1], np.nan)
    for k in range(halves.size):
        known = recoveries[np.isfinite(recoveries[:, k]), k]
        interval = mean_interval(known) if known.size else None
        if interval is not None:
            halves[k] = (interval.high - interval.low) / 2.0
    return halves


def _openings(runs: Sequence[Run]) -> tuple[float, ...]:
    """The sieves that most runs were screened on."""
    series = Counter(tuple(sorted((c.opening_um for c in run.sizes), reverse=True)) for run in runs)
    return series.most_common(1)[0][0]


def _sized(run: Run, openings: Sequence[float]) -> _Sized:
    classes = sorted(run.sizes, key=lambda c: -c.opening_um)
    if len(classes) != len(openings) or not all(
        same_opening(c.opening_um, opening) for c, opening in zip(classes, openings, strict=True)
    ):
        raise ValueError("its sieves are not those of most runs.")
    concentrate, tail = run.concentrate.mass_kg, run.tail.mass_kg
    if tail is None and run.feed.mass_kg is not None and concentrate is not None:
        tail = run.feed.mass_kg - concentrate
    if concentrate is None or tail is None or concentrate <= 0.0 or tail <= 0.0:
        raise ValueError("class recoveries need the masses of concentrate and of feed or tail.")
    columns = np.array([[c.concentrate_pct, c.concentrate_g_t, c.tail_pct, c.tail_g_t] for c in classes]).T
    if not (columns[0].sum() > 0.0 and columns[2].sum() > 0.0 and np.all(columns >= 0.0)):
        raise ValueError("the mass shares of its classes must not be negative and must add up to more than zero.")
    found = size_balance(SizedStream(concentrate, columns[0], columns[1]), SizedStream(tail, columns[2], columns[3]))
    metal = concentrate * columns[0] / columns[0].sum() * columns[1] + tail * columns[2] / columns[2].sum() * columns[3]
    return _Sized(found, metal / 1000.0)


def _pooled(units: Sequence[Unit], sized: dict[str, _Sized]) -> tuple[Values, Values] | None:
    """Head shares and class recoveries of all runs of a side together, by metal; NaN where a class holds none."""
    runs = [sized[run.run] for unit in units for mounted in unit for run in mounted if run.run in sized]
    if not runs:
        return None
    metal = np.sum([run.metal for run in runs], axis=0)
    caught = np.sum([run.metal * np.nan_to_num(run.balance.recoveries) for run in runs], axis=0)
    recovery = np.divide(caught, metal, out=np.full_like(metal, np.nan), where=metal > 0.0)
    return metal / metal.sum(), recovery


def _filled(first: tuple[Values, Values], second: tuple[Values, Values]) -> tuple[tuple[Values, Values], ...]:
    """A class without metal on one side is taken to recover as on the other; without any it contributes nothing."""
    a, b = first[1], second[1]
    return (
        (first[0], np.nan_to_num(np.where(np.isnan(a), b, a))),
        (second[0], np.nan_to_num(np.where(np.isnan(b), a, b))),
    )


def _unit_recoveries(unit: Unit, sized: dict[str, _Sized], classes: int) -> Values:
    """Mean class recoveries of one observation, by metal; NaN where nothing of it was screened."""
    pooled = _pooled((unit,), sized)
    return np.full(classes, np.nan) if pooled is None else pooled[1]

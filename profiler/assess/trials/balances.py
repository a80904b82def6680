"""The runs of a trial as the balances of `statistics`: streams as arrays, assay errors from duplicates, recoveries.

Raw values of the ledger are read, never changed. Not here: the comparison (trial_verdicts), size classes (trial_sizes).
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from math import inf, isfinite, nan, sqrt

import numpy as np
from numpy.typing import NDArray

from profiler.assess.trials.cleaner import Cleaner, cleaner_of, concentrate_of, with_cleaner_tail
from profiler.statistics.balances.balance import Balances, Stream, Streams, balance
from profiler.statistics.balances.closing import RunClosing, closings
from profiler.statistics.balances.reconciliation import ReconciledRuns, reconcile_runs, recoveries_on
from profiler.statistics.sampling.duplicates import replicate_cv
from profiler.statistics.trial.run_flags import RunFlag, cleaner_flags, flag_runs
from profiler.study.records.trial import Run, SampledStream, SamplingInputs, Trial
from profiler.units import PERCENT
from profiler.words import Basis

Values = NDArray[np.float64]

Z95 = 1.959964  # of a normal distribution, two-sided
_CLEANED: tuple[Callable[[Run], SampledStream], ...] = (lambda r: r.cleaner_concentrate, lambda r: r.cleaner_tail)
NO_ERROR = "error not known: no duplicates"


@dataclass(frozen=True, slots=True)
class AssayError:
    """Relative deviation of one assay of a stream, a fraction; NaN where neither duplicates nor the study tell.

    `duplicates` are the degrees of freedom behind it, 0 where it is the study's own number.
    """

    rsd: float
    duplicates: int


@dataclass(frozen=True, slots=True)
class TrialBalances:
    """All runs of a trial, excluded ones too, in the ledger's order. `recovery_pct` (n,) on the plan's basis."""

    streams: Streams
    balances: Balances
    reconciled: ReconciledRuns
    flags: tuple[tuple[RunFlag, ...], ...]
    closings: tuple[RunClosing | None, ...]
    cleaner: Cleaner
    recovery_pct: Values
    recovery_sd_pct: Values
    feed_error: AssayError
    concentrate_error: AssayError
    tail_error: AssayError

    def recovery_half_pct(self, row: int) -> float | None:
        """Half the 95 per cent interval of a run's recovery by its own errors; None where these are not known."""
        sd = float(self.recovery_sd_pct[row])
        return Z95 * sd if isfinite(sd) else None

    @property
    def gold_out_g(self) -> Values:
        """Gold in concentrate and tail of each run."""
        c, t, f = self.streams.concentrate, self.streams.tail, self.streams.feed
        tail = np.where(np.isnan(t.mass), f.mass - c.mass, t.mass)
        return np.asarray((c.mass * c.grade + tail * t.grade) / 1000.0)


def trial_balances(trial: Trial) -> TrialBalances:
    """Balances, flags and recoveries of every run. Never raises for what a run holds: that becomes a flag."""
    runs, known = trial.runs, trial.sampling
    errors = (
        assay_error((run.feed.grades_g_t for run in runs), known.feed_rsd_pct),
        assay_error((run.concentrate.grades_g_t for run in runs), known.concentrate_rsd_pct),
        assay_error((run.tail.grades_g_t for run in runs), known.tail_rsd_pct),
    )
    gets: tuple[Callable[[Run], SampledStream], ...] = (lambda r: r.feed, lambda r: r.concentrate, lambda r: r.tail)
    mass_rsd = known.mass_rsd_pct * PERCENT
    measured = [_stream([get(r) for r in runs], e, mass_rsd) for get, e in zip(gets, errors, strict=True)]
    cleaned = with_cleaner_tail(Streams(*measured), *_products_of_cleaner(runs, known))
    streams = Streams(measured[0], concentrate_of(measured[1], *cleaned), measured[2])
    with np.errstate(divide="ignore", invalid="ignore"):
        balances, reconciled = balance(streams), reconcile_runs(streams)
        flags = flag_runs(streams, balances, reconciled) if runs else ()
        cleaner = cleaner_of(streams, *cleaned)
    flags = (*flags, *cleaner_flags(measured[1], *cleaned))
    recovery, sd = _recoveries(trial, balances, reconciled, cleaner)
    of_runs = _by_run(flags, len(runs)), closings(streams, balances)
    return TrialBalances(streams, balances, reconciled, *of_runs, cleaner, recovery, sd, *errors)


def _products_of_cleaner(runs: Sequence[Run], known: SamplingInputs) -> tuple[Stream, Stream]:
    """As weighed and assayed; the error of their assays that of a concentrate, where no duplicates tell."""
    errors = [assay_error((get(run).grades_g_t for run in runs), known.concentrate_rsd_pct) for get in _CLEANED]
    mass_rsd = known.mass_rsd_pct * PERCENT
    first, second = (_stream([get(r) for r in runs], e, mass_rsd) for get, e in zip(_CLEANED, errors, strict=True))
    return first, second


def flagged(balances: TrialBalances, said: Sequence[Sequence[str]]) -> TrialBalances:
    """With a flag for each number of a run that cannot be worked with; `said` has the sentences by run."""
    flags = (
        (*(RunFlag(row, "out-of-bounds", text.rstrip(".")) for text in texts), *known)
        for row, (texts, known) in enumerate(zip(said, balances.flags, strict=True))
    )
    return replace(balances, flags=tuple(flags))


def assay_error(groups: Iterable[tuple[float, ...]], own_pct: float | None) -> AssayError:
    """Of one assay: from the duplicates above zero where there are any, else the study's own number."""
    usable = [group for group in groups if len(group) > 1 and all(isfinite(g) and g > 0.0 for g in group)]
    if usable:
        rsd, df = replicate_cv(usable)
        if rsd > 0.0:
            return AssayError(rsd, df)
    return AssayError(nan if own_pct is None else own_pct * PERCENT, 0)


def value(array: Values, row: int) -> float | None:
    """One number of an array, None where there is none."""
    found = float(array[row])
    return found if isfinite(found) else None


def _stream(recorded: list[SampledStream], error: AssayError, mass_rsd: float) -> Stream:
    counts = np.array([max(len(part.grades_g_t), 1) for part in recorded], dtype=np.float64)
    return Stream(
        mass=np.array([nan if part.mass_kg is None else part.mass_kg for part in recorded], dtype=np.float64),
        grade=np.array([nan if (mean := part.grade_g_t) is None else mean for part in recorded], dtype=np.float64),
        mass_rsd=np.full(len(recorded), mass_rsd),
        grade_rsd=error.rsd / np.sqrt(counts),
    )


def _recoveries(
    trial: Trial, balances: Balances, reconciled: ReconciledRuns, cleaner: Cleaner
) -> tuple[Values, Values]:
    if trial.plan.basis is Basis.STATED:
        stated = [nan if run.recovery_pct is None else run.recovery_pct for run in trial.runs]
        return np.array(stated, dtype=np.float64), np.full(len(stated), nan)
    if trial.plan.basis is Basis.CLEANER:
        return cleaner.to_concentrate.value / PERCENT, cleaner.to_concentrate.sd / PERCENT
    found = recoveries_on(trial.plan.basis, balances, reconciled)
    return found.value / PERCENT, found.sd / PERCENT


def _by_run(flags: tuple[RunFlag, ...], count: int) -> tuple[tuple[RunFlag, ...], ...]:
    sorted_flags: list[list[RunFlag]] = [[] for _ in range(count)]
    for flag in flags:
        sorted_flags[flag.run].append(flag)
    return tuple(tuple(of_run) for of_run in sorted_flags)


def mean_rsd(error: AssayError, counts: Iterable[int]) -> float | None:
    """Relative deviation of the mean grade that a typical run uses."""
    used = [count for count in counts if count]
    if not used or not isfinite(error.rsd):
        return None
    return error.rsd / sqrt(sum(used) / len(used))


UNLIMITED = inf  # grains of a stream assayed as a whole

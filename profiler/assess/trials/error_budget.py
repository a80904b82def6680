"""The error budget of a trial: grains, samples, duplicates and weighing against the scatter that was seen."""

from math import isfinite

import numpy as np

from profiler.assess.trials.balances import UNLIMITED, TrialBalances, Values, mean_rsd
from profiler.statistics.inference.comparison import Comparison
from profiler.statistics.sampling.budget import ErrorBudget, Sampling, error_budget
from profiler.statistics.sampling.grains import effective_grain_mass_mg, grain_count
from profiler.study.records.trial import Trial
from profiler.units import PERCENT

NATIVE_GOLD = 16_000.0  # kg/m3, gold with silver, as it comes in ores


def trial_budget(trial: Trial, balances: TrialBalances, found: Comparison | None) -> tuple[ErrorBudget | None, str]:
    """The budget of one run at the mean recovery, or why there is none."""
    recovery = _mean(balances.recovery_pct) if found is None else (found.reference_mean + found.new_mean) / 2.0
    if recovery is None:
        return None, "No run has a recovery yet, so there is no error budget."
    try:
        return error_budget(recovery, _sampling(trial, balances), found), ""
    except ValueError as reason:
        return None, str(reason)


def grain_mg(trial: Trial) -> float | None:
    """Effective grain mass of the trial's gold; None while its sizes are not given."""
    gold = trial.sampling.gold
    total = sum(part.share_pct for part in gold)
    if not total > 0.0 or any(part.size_um <= 0.0 or part.share_pct < 0.0 for part in gold):
        return None
    shares = [part.share_pct / total for part in gold]
    return effective_grain_mass_mg([part.size_um for part in gold], shares, NATIVE_GOLD)


def _sampling(trial: Trial, balances: TrialBalances) -> Sampling:
    known, streams, runs = trial.sampling, balances.streams, trial.runs
    fed = _mean(balances.gold_out_g)
    grain = grain_mg(trial)
    return Sampling(
        grains_fed=None if fed is None or grain is None or fed <= 0.0 else fed * 1000.0 / grain,
        tail_sample_grains=_grains(known.tail_sample_kg, streams.tail.grade, grain, whole=known.field_duplicates),
        concentrate_sample_grains=_grains(
            known.concentrate_sample_kg,
            streams.concentrate.grade,
            grain,
            whole=known.whole_concentrate or known.field_duplicates,
        ),
        tail_rsd=mean_rsd(balances.tail_error, (len(run.tail.grades_g_t) for run in runs)),
        concentrate_rsd=mean_rsd(balances.concentrate_error, (len(run.concentrate.grades_g_t) for run in runs)),
        mass_rsd=known.mass_rsd_pct * PERCENT if np.isfinite(streams.concentrate.mass).any() else None,
    )


def _grains(sample_kg: float | None, grades: Values, grain: float | None, *, whole: bool) -> float | None:
    """Grains in a sample of that mass; without limit where no sample was taken or duplicates hold its error."""
    if whole:
        return UNLIMITED
    grade = _mean(grades)
    if sample_kg is None or grain is None or grade is None or grade <= 0.0 or sample_kg <= 0.0:
        return None
    return grain_count(grade, sample_kg, grain)


def _mean(values: Values) -> float | None:
    known = [v for v in values.tolist() if isfinite(v)]
    return sum(known) / len(known) if known else None

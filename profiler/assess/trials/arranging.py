"""A ledger told apart by the order of its runs, when asked for: mountings from stretches, pairs from neighbours."""

from msgspec.structs import replace

from profiler.assess.trials.balances import trial_balances
from profiler.assess.trials.usable import usable
from profiler.assess.trials.verdicts import trial_runs
from profiler.statistics.trial.mountings import mountings, neighbours
from profiler.statistics.trial.runs import TrialRun
from profiler.study.records.trial import Trial
from profiler.words import Structure


def with_stretches_mounted(trial: Trial) -> Trial:
    """Each stretch of one bowl as one installation, where none is recorded. ValueError without runs."""
    taking_part = _taking_part(trial)
    names = mountings(taking_part)
    runs = tuple(
        replace(run, installation=names[run.run]) if run.run in names and not run.installation else run
        for run in trial.runs
    )
    return replace(trial, runs=runs, plan=replace(trial.plan, structure=Structure.INSTALLATIONS))


def with_neighbours_paired(trial: Trial) -> Trial:
    """Runs of both designs next to each other in time as pairs. ValueError where the designs do not alternate."""
    pairs = neighbours(_taking_part(trial))
    if not pairs:
        raise ValueError("The designs do not alternate in time, so there are no neighbours to pair.")
    blocks = {run: str(number) for number, pair in enumerate(pairs, 1) for run in pair}
    runs = tuple(replace(run, block=blocks.get(run.run, "")) for run in trial.runs)
    return replace(trial, runs=runs, plan=replace(trial.plan, structure=Structure.PAIRS))


def _taking_part(trial: Trial) -> tuple[TrialRun, ...]:
    found = tuple(run for run in _sound_runs(trial) if not run.excluded)
    if not found:
        raise ValueError("There is no run in the ledger to arrange.")
    return found


def _sound_runs(trial: Trial) -> tuple[TrialRun, ...]:
    trial = usable(trial).trial
    return trial_runs(trial, trial_balances(trial))

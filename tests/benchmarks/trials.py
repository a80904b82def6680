"""How long a long ledger takes: a thousand runs balanced, flagged, judged and put into words."""

import numpy as np
from msgspec.structs import replace

from profiler.assess.trials.verdicts import evaluate_trial
from profiler.study.files import examples
from profiler.study.records.trial import Stream, Trial
from profiler.words import Structure
from tests.benchmarks.measures import Row, timed

RUNS = 1000
STRUCTURES = (Structure.PAIRS, Structure.UNPAIRED, Structure.INSTALLATIONS)


def judging(count: int) -> list[Row]:
    """The whole way from a study's ledger to its account, for each way of laying a trial out."""
    study = examples.read("trial")
    rows = []
    for structure in STRUCTURES:
        long = long_trial(study.trials[0], structure)
        evaluate_trial(long, study)  # loads scipy
        times = tuple(timed(lambda long=long: evaluate_trial(long, study)) for _ in range(count))
        rows.append(Row(f"{RUNS} runs judged, {structure}", times, 500.0))
    return rows


def long_trial(trial: Trial, structure: Structure) -> Trial:
    """The example's runs again and again, tails drawn anew."""
    draw = np.random.default_rng(0)
    runs = []
    for row in range(RUNS):
        runs.append(
            replace(
                trial.runs[row % len(trial.runs)],
                run=str(row),
                design=("Plain cone", "Graded, first try")[row % 2],
                block="" if structure is Structure.INSTALLATIONS else str(row // 2),
                installation=f"{row % 2}-{row // 20}",
                tail=Stream(998.8, (round(2.45 + 0.2 * draw.standard_normal(), 3),)),
                excluded=False,
            )
        )
    return replace(trial, runs=tuple(runs), plan=replace(trial.plan, structure=structure, reference=""))

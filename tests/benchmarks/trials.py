"""How long a long ledger takes: a thousand runs balanced, flagged, judged and put into words; 200 read from a table."""

import numpy as np
from msgspec.structs import replace

from profiler.assess.trials.verdicts import evaluate_trial
from profiler.output.tables.trial_csv import ledger_csv
from profiler.study.files import examples
from profiler.study.ledger.reading import preview, trial_of
from profiler.study.ledger.text_tables import read_table
from profiler.study.records.trial import SampledStream, Trial
from profiler.words import Structure
from tests.benchmarks.rows import Row, timed

RUNS = 1000
READ = 200
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
    long = long_trial(study.trials[0], Structure.PAIRS)
    text = ledger_csv(replace(long, runs=long.runs[:READ]))
    times = tuple(timed(lambda: evaluate_trial(trial_of(preview(read_table(text)), "T"), study)) for _ in range(count))
    return [*rows, Row(f"{READ} runs read from a table and judged", times, 1000.0)]


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
                tail=SampledStream(998.8, (round(2.45 + 0.2 * draw.standard_normal(), 3),)),
                excluded=False,
            )
        )
    return replace(trial, runs=tuple(runs), plan=replace(trial.plan, structure=structure, reference=""))

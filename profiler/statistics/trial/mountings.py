"""Which runs share one mounting of a bowl, and which are neighbours, told from the order in which they were run.

Cycles of one mounting share whatever that mounting was like: taken for repeats, they made 88 of 300 simulated trials
of alike designs come out firm. Where no installation is recorded, long stretches of one bowl give them away. Not here:
averaging cycles (layout), what follows for the verdict (gate_checks).
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from profiler.statistics.inference.comparison import Values
from profiler.statistics.inference.probability import f_tail
from profiler.statistics.trial.runs import COLUMNS, TrialRun

LEAST_SHARE = 2.0 / 3.0  # of the stretches that chance would make; own rule, no source
LEAST_PAIRS = 3  # of neighbours worth proposing
PAIRED_SHARE = 0.8  # of the runs that must find a neighbour


@dataclass(frozen=True)
class RunOrder:
    """Runs in the order of their start where all have one (`dated`), else as the ledger has them."""

    runs: tuple[TrialRun, ...]
    dated: bool

    @property
    def stretches(self) -> tuple[tuple[TrialRun, ...], ...]:
        """Runs of one design without the other between them."""
        found: list[list[TrialRun]] = []
        for run in self.runs:
            if found and found[-1][-1].design == run.design:
                found[-1].append(run)
            else:
                found.append([run])
        return tuple(tuple(stretch) for stretch in found)

    @property
    def by_chance(self) -> float:
        """Stretches to expect if the designs were run in a random order (Wald and Wolfowitz): 2 nA nB/n + 1."""
        first = sum(run.design == self.runs[0].design for run in self.runs)
        return 2.0 * first * (len(self.runs) - first) / len(self.runs) + 1.0

    @property
    def told_apart(self) -> bool:
        """Whether the designs changed places often enough for each run to be a mounting of its own."""
        return len(self.stretches) >= LEAST_SHARE * self.by_chance

    def resemblance_p(self) -> float | None:
        """How likely runs of a stretch are this much alike if each is a mounting of its own, by analysis of variance.

        Stretches within each design; None where no stretch has two runs or there is nothing to judge by.
        """
        between = within = 0.0
        df_between = df_within = 0
        for design in {run.design for run in self.runs}:
            groups = [_recoveries(stretch) for stretch in self.stretches if stretch[0].design == design]
            mean = float(np.concatenate(groups).mean())
            between += sum(group.size * (float(group.mean()) - mean) ** 2 for group in groups)
            within += sum(float(np.sum((group - group.mean()) ** 2)) for group in groups)
            df_between += len(groups) - 1
            df_within += sum(group.size - 1 for group in groups)
        if not (df_between > 0 and df_within > 0 and within > 0.0):
            return None
        return f_tail(between / df_between / (within / df_within), df_between, df_within)


def _recoveries(stretch: Sequence[TrialRun]) -> Values:
    return np.array([run.recovery_percent for run in stretch if run.recovery_percent is not None])


def run_order(runs: Sequence[TrialRun]) -> RunOrder:
    """At least one run."""
    starts = [COLUMNS["started_day"].get(run) for run in runs]
    known = [(start, row) for row, start in enumerate(starts) if start is not None]
    if len(known) < len(runs):
        return RunOrder(tuple(runs), dated=False)
    return RunOrder(tuple(runs[row] for _, row in sorted(known)), dated=True)


def mountings(runs: Sequence[TrialRun]) -> dict[str, str]:
    """A name for the mounting of each run, every stretch being one: 'B-2' is the second of B."""
    counts: dict[str, int] = {}
    names: dict[str, str] = {}
    for stretch in run_order(runs).stretches:
        design = stretch[0].design
        counts[design] = counts.get(design, 0) + 1
        names |= {run.run: f"{design}-{counts[design]}" for run in stretch}
    return names


def neighbours(runs: Sequence[TrialRun]) -> tuple[tuple[str, str], ...]:
    """Runs of both designs next to each other in time, each once; empty where the designs do not alternate."""
    ordered, pairs, row = run_order(runs).runs, [], 0
    while row + 1 < len(ordered):
        if ordered[row].design == ordered[row + 1].design:
            row += 1
            continue
        pairs.append((ordered[row].run, ordered[row + 1].run))
        row += 2
    enough = len(pairs) >= LEAST_PAIRS and 2 * len(pairs) >= PAIRED_SHARE * len(ordered)
    return tuple(pairs) if enough else ()

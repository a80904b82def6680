"""A trial judged: from runs and plan to the verdict and every number that stands beside it.

The one entry for a ledger. Not here: the account in words (account); balances of the runs (balance), which come
before; size classes (sizes) and error budget (budget), which explain afterwards.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import isfinite

import numpy as np

from profiler.statistics.inference.comparison import Comparison, Interval, Kind, Values
from profiler.statistics.inference.differences import compare, mean_interval, metal_weighted
from profiler.statistics.inference.permutation import Permutation, label_shuffles, sign_flips
from profiler.statistics.inference.power import detectable, needed
from profiler.statistics.inference.ratio import Ratio, relative_gain
from profiler.statistics.inference.trends import Trend, trend
from profiler.statistics.trial.adjustment import Adjustment, adjust, caution, parallel_slopes_p, trap
from profiler.statistics.trial.gate_checks import check_gates
from profiler.statistics.trial.gates import Evidence
from profiler.statistics.trial.layout import Layout, lay_out
from profiler.statistics.trial.mountings import neighbours
from profiler.statistics.trial.oddities import Oddity, oddities
from profiler.statistics.trial.planner import LEAST_UNITS
from profiler.statistics.trial.runs import COLUMNS, TrialPlan, TrialRun
from profiler.statistics.trial.secondary_outcomes import SecondaryOutcome, secondary_outcome
from profiler.statistics.trial.verdict import Verdict
from profiler.statistics.trial.worth import Amount, Downstream, Tonnage, Worth, worth
from profiler.words import Structure


@dataclass(frozen=True, kw_only=True)
class Judgement:
    """The verdict and what stands beside it; points are percentage points of recovery.

    `needed` is the number of pairs (runs of each design, installations, blocks) in all that would show the
    worthwhile gain at the scatter found. `weighted` is the comparison by metal fed, None where that is not
    recorded; `worth` follows from it if there is one. `drift` runs in points a day, `wear` in points an hour.
    `with_all` is the verdict with the runs taken in that were left out, None where none was or they allow none;
    `neighbours` are runs that could be paired, by name, where the designs alternate in time and no pairs are
    recorded. The two intervals are those of the designs' mean recoveries.
    """

    plan: TrialPlan
    layout: Layout
    verdict: Verdict
    permutation: Permutation
    relative: Ratio | None
    adjustment: Adjustment
    detectable_points: float
    needed: int | None
    weighted: Comparison | None
    drift: Trend | None
    wear: Trend | None
    secondary_outcomes: tuple[SecondaryOutcome, ...]
    worth: Worth | None
    excluded: tuple[TrialRun, ...]
    with_all: Verdict | None
    neighbours: tuple[tuple[str, str], ...]
    odd: tuple[Oddity, ...]
    reference_interval: Interval | None
    new_interval: Interval | None

    @property
    def comparison(self) -> Comparison:
        return self.verdict.comparison


def judge(
    runs: Sequence[TrialRun],
    plan: TrialPlan,
    tonnage: Tonnage | None = None,
    downstream: Downstream | None = None,
) -> Judgement:
    """Judge a trial. ValueError, one sentence, where there is nothing to judge."""
    _refuse_not_finite(runs)
    evidence = _evidence(runs, plan)
    layout, found, adjustment = evidence.layout, evidence.comparison, evidence.adjustment
    first, second = layout.values("recovery_percent")
    weighted = _weighted(layout, found, first, second)
    return Judgement(
        plan=plan,
        layout=layout,
        verdict=_verdict(evidence),
        permutation=_permutation(layout, first, second),
        relative=relative_gain(layout.kind, first, second, layout.swapped),
        adjustment=adjustment,
        detectable_points=detectable(found.standard_error, found.df),
        needed=_needed(found, plan.worthwhile_points),
        weighted=weighted,
        drift=evidence.trend,
        wear=_wear(layout),
        secondary_outcomes=_secondary_outcomes(layout, plan, found),
        worth=None if tonnage is None else worth(_amount(weighted or found), tonnage, downstream),
        excluded=tuple(run for run in runs if run.excluded),
        with_all=_with_all(runs, plan),
        neighbours=_neighbours(layout, runs, plan),
        odd=oddities(layout, runs),
        reference_interval=mean_interval(first, layout.swapped or None),
        new_interval=mean_interval(second, layout.swapped or None),
    )


def verdict_on(runs: Sequence[TrialRun], plan: TrialPlan) -> Verdict:
    """The verdict of `judge` without what stands beside it. ValueError as there."""
    _refuse_not_finite(runs)
    return _verdict(_evidence(runs, plan))


def _evidence(runs: Sequence[TrialRun], plan: TrialPlan) -> Evidence:
    layout = lay_out(runs, plan.structure, plan.reference)
    first, second = layout.values("recovery_percent")
    return Evidence(
        runs=tuple(runs),
        plan=plan,
        layout=layout,
        comparison=compare(layout.kind, first, second, layout.swapped),
        adjustment=_adjustment(layout, plan),
        trend=_drift(layout, first, second),
    )


def _verdict(evidence: Evidence) -> Verdict:
    layout = evidence.layout
    return Verdict(
        comparison=evidence.comparison,
        gates=check_gates(evidence),
        worthwhile=evidence.plan.worthwhile_points,
        reference=layout.reference_design,
        new=layout.new_design,
        units_noun=layout.counted(2),
        least_way=_least_way(layout),
    )


def _neighbours(layout: Layout, runs: Sequence[TrialRun], plan: TrialPlan) -> tuple[tuple[str, str], ...]:
    taking_part = {run.run for run in layout.runs()}
    loose = [run for run in runs if run.run in taking_part]
    if plan.structure is not Structure.UNPAIRED or any(run.block for run in loose):
        return ()
    return neighbours(loose)


def _with_all(runs: Sequence[TrialRun], plan: TrialPlan) -> Verdict | None:
    if not any(run.excluded for run in runs):
        return None
    try:
        return verdict_on([replace(run, excluded=False) for run in runs], plan)
    except ValueError:
        return None


def _needed(found: Comparison, gain: float | None) -> int | None:
    """In all, and never fewer than what can be called firm."""
    return None if gain is None else max(LEAST_UNITS[found.kind], needed(found, gain))


def _refuse_not_finite(runs: Sequence[TrialRun]) -> None:
    for run in runs:
        for column in COLUMNS.values():
            value = column.get(run)
            if value is not None and not isfinite(value):
                raise ValueError(f"Run “{run.run}”: the {column.label} is {value}, which is not a number.")


def _adjustment(layout: Layout, plan: TrialPlan) -> Adjustment:
    blocked = trap(plan.basis, plan.feed_grade, in_circuit=plan.in_circuit)
    columns = ("feed_grade_g_t", *plan.adjust_also)
    for name in columns:
        if name not in COLUMNS or (name in plan.adjust_also and not COLUMNS[name].covariate):
            raise ValueError(f"There is no column “{name}” of the runs to adjust for.")
    covariates = [layout.values(name) for name in columns]
    if any(not np.all(np.isfinite(side)) for sides in covariates for side in sides):
        named = " or ".join(COLUMNS[name].label for name in columns)
        return Adjustment(None, blocked or f"{named} is not recorded for every {layout.noun}")
    if blocked:
        return Adjustment(None, blocked)
    sides = (
        np.column_stack([reference for reference, _ in covariates]),
        np.column_stack([new for _, new in covariates]),
    )
    try:
        result = adjust(layout.kind, layout.values("recovery_percent"), sides, layout.swapped)
    except ValueError as reason:
        return Adjustment(None, str(reason).rstrip("."))
    return Adjustment(result, "", caution(plan.basis, plan.feed_grade), _parallel(layout, plan))


def _parallel(layout: Layout, plan: TrialPlan) -> float | None:
    if plan.adjust_also:
        return None
    try:
        return parallel_slopes_p(layout.values("recovery_percent"), layout.values("feed_grade_g_t"))
    except ValueError:
        return None


def _drift(layout: Layout, first: Values, second: Values) -> Trend | None:
    """Pair and block differences against time, or unpaired runs about the mean of their design."""
    days = layout.values("started_day")
    if not all(np.all(np.isfinite(side)) for side in days):
        return None
    try:
        if layout.kind is Kind.UNPAIRED:
            return trend(np.concatenate(days), np.concatenate([first, second]), _sides(first, second))
        groups = layout.swapped if layout.kind is Kind.EXCHANGED else None
        return trend((days[0] + days[1]) / 2.0, second - first, groups)
    except ValueError:
        return None


def _wear(layout: Layout) -> Trend | None:
    hours, recoveries = layout.values("wear_h"), layout.values("recovery_percent")
    if not all(np.all(np.isfinite(side)) for side in hours):
        return None
    try:
        return trend(np.concatenate(hours), np.concatenate(recoveries), _sides(*recoveries))
    except ValueError:
        return None


def _sides(first: Values, second: Values) -> Values:
    return np.concatenate([np.zeros(first.size), np.ones(second.size)])


def _permutation(layout: Layout, first: Values, second: Values) -> Permutation:
    if layout.kind is Kind.PAIRED:
        return sign_flips(second - first)
    if layout.kind is Kind.UNPAIRED:
        return label_shuffles(first, second)
    crossed = np.array(layout.swapped, dtype=bool)
    between_machines = np.where(crossed, first - second, second - first)
    return label_shuffles(between_machines[crossed], between_machines[~crossed])


def _weighted(layout: Layout, found: Comparison, first: Values, second: Values) -> Comparison | None:
    of_first, of_second = layout.fed_metal()
    if not (np.all(of_first > 0.0) and np.all(of_second > 0.0)):
        return None
    return metal_weighted(found, (first, second), (of_first, of_second), layout.swapped)


def _least_way(layout: Layout) -> int | None:
    crossed = sum(layout.swapped)
    return min(crossed, len(layout.swapped) - crossed) if layout.kind is Kind.EXCHANGED else None


def _secondary_outcomes(layout: Layout, plan: TrialPlan, found: Comparison) -> tuple[SecondaryOutcome, ...]:
    streams = (
        secondary_outcome(
            layout,
            "downstream_g_t",
            plan.downstream_name,
            "g/t",
            lower_is_better=True,
            recovery_difference=found.difference,
        ),
        secondary_outcome(
            layout,
            "gold_output_g",
            "gold output",
            "g",
            lower_is_better=False,
            recovery_difference=found.difference,
        ),
    )
    return tuple(stream for stream in streams if stream is not None)


def _amount(comparison: Comparison) -> Amount:
    return Amount(comparison.difference, comparison.interval95)

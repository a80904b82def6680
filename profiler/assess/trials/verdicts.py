"""A trial of the study judged: from the ledger to the statistics and back, once, to one whole TrialEvaluation.

Window, terminal and report read it. The statistics are in `statistics`; here records become theirs. Not here:
balances (trial_balances), size classes (trial_sizes), what the program predicts (trial_prediction).
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from msgspec import convert

from profiler.assess.trials.balances import TrialBalances, flagged, trial_balances, value
from profiler.assess.trials.design_link import Difference, differences, of_prediction
from profiler.assess.trials.drift import Drift, drift, run_order
from profiler.assess.trials.error_budget import trial_budget
from profiler.assess.trials.prediction import Prediction, predictions
from profiler.assess.trials.size_results import TrialSizes, trial_sizes
from profiler.assess.trials.usable import Usable, usable
from profiler.numbers import moment_of
from profiler.statistics.sampling.budget import ErrorBudget
from profiler.statistics.trial.account import account
from profiler.statistics.trial.judge import Judgement, judge
from profiler.statistics.trial.runs import TrialPlan, TrialRun
from profiler.statistics.trial.worth import Amount, Downstream, Tonnage, WearCost, net_value
from profiler.study import Study
from profiler.study.records.trial import Plan, Run, Trial, WorthInputs
from profiler.units import PERCENT
from profiler.words import Basis, FeedGrade

FORMER_COLUMNS = {"solids_percent": "solids_pct", "downstream_grade_g_t": "downstream_g_t"}  # in earlier files


@dataclass(frozen=True, slots=True)
class TrialEvaluation:
    """Everything that is true of a trial. Without a judgement `trouble` is the one sentence that says why.

    `account` is the verdict with its interval and all that belongs to it. `net_a_year` is money, in the unit of the
    price. `runs` are what the statistics were given. `problems` are sentences about single entries.
    """

    trial: Trial
    runs: tuple[TrialRun, ...]
    balances: TrialBalances
    judgement: Judgement | None
    trouble: str
    account: str
    budget: ErrorBudget | None
    budget_trouble: str
    sizes: TrialSizes | None
    net_a_year: Amount | None
    net_lacks: tuple[str, ...]  # costs that are not given, and so not taken off it
    predictions: tuple[Prediction, ...]
    problems: tuple[str, ...]
    differences: tuple[Difference, ...] = ()  # between the two bowls, besides the wall's curve
    of_prediction: str = ""  # what the trial says of the predicted states, and its limit
    with_order: Drift | None = None  # recoveries along the order of the runs
    with_wear: Drift | None = None  # along the liner's age


def evaluate_trial(trial: Trial, study: Study | None = None) -> TrialEvaluation:
    """Judge a trial. Never raises for what the ledger holds. Without a study nothing is predicted."""
    asked, can_use = trial, usable(trial)
    trial = can_use.trial
    balances = flagged(trial_balances(trial), can_use.of_runs)
    runs = trial_runs(trial, balances)
    problems = list(_entry_problems(trial, can_use))
    judgement, trouble = None, ""
    try:
        plan = _plan(trial.plan, problems, _reference(trial, study))
        judgement = judge(runs, plan, *_worth(trial.worth))
    except ValueError as reason:
        trouble = str(reason)
    found = None if judgement is None else judgement.comparison
    budget, budget_trouble = trial_budget(trial, balances, found)
    designs = tuple(dict.fromkeys(run.design for run in trial.runs))
    sizes = None if judgement is None else trial_sizes(trial, judgement.layout)
    predicted = () if study is None else predictions(study, trial.runs, designs[:2])
    verdict = None if judgement is None else judgement.verdict
    return TrialEvaluation(
        trial=asked,
        runs=runs,
        balances=balances,
        judgement=judgement,
        trouble=trouble,
        account="" if judgement is None else account(judgement),
        budget=budget,
        budget_trouble=budget_trouble,
        sizes=sizes,
        net_a_year=_net(judgement, trial.worth),
        net_lacks=_costs_not_given(trial.worth),
        predictions=predicted,
        problems=(*problems, *(() if sizes is None else sizes.left_out)),
        differences=differences(predicted, verdict),
        of_prediction=of_prediction(predicted, verdict),
        with_order=drift(runs, run_order(runs)),
        with_wear=drift(runs, [run.wear_h for run in runs]),
    )


def trial_runs(trial: Trial, balances: TrialBalances) -> tuple[TrialRun, ...]:
    """The runs as the statistics take them: the records as a whole, and what was worked out of them."""
    gold_out = balances.gold_out_g
    return tuple(_run(trial, balances, row, value(gold_out, row)) for row in range(len(trial.runs)))


def _run(trial: Trial, balances: TrialBalances, row: int, gold_out_g: float | None) -> TrialRun:
    run = trial.runs[row]
    pull = value(balances.balances.mass_pull, row)
    return replace(
        convert(run, TrialRun, from_attributes=True),
        recovery_percent=value(balances.recovery_pct, row),
        mass_pull_percent=run.mass_pull_pct if pull is None else pull / PERCENT,
        began=_moment(run.started),
        feed_grade_g_t=_feed_grade(trial.plan, run, value(balances.balances.built_up_head, row)),
        feed_assay_g_t=run.feed.grade_g_t,
        feed_metal_g=_fed(trial.plan, run, gold_out_g),
        closing=balances.closings[row],
        measured=_measured(run),
    )


def _measured(run: Run) -> tuple[float | None, ...]:
    """Every number weighed or assayed; as many for each run, the assays of a sample by their mean."""
    streams = (run.feed, run.concentrate, run.tail, run.cleaner_concentrate, run.cleaner_tail)
    weighed = (value for stream in streams for value in (stream.mass_kg, stream.grade_g_t))
    single = (run.recovery_pct, run.feed_grade_g_t, run.feed_f80_um, run.downstream_g_t, run.gold_output_g)
    return (*weighed, *single, run.feed_metal_g)


def _feed_grade(plan: Plan, run: Run, head: float | None) -> float | None:
    """The grade that is compared, from where the plan says it comes."""
    if plan.feed_grade is FeedGrade.ASSAYED_FEED:
        return run.feed.grade_g_t
    return head if plan.feed_grade is FeedGrade.BUILT_UP_HEAD else run.feed_grade_g_t


def _fed(plan: Plan, run: Run, gold_out_g: float | None) -> float | None:
    """Gold fed, in g: as entered, else feed mass by the sample outside the balance, else what came out."""
    if run.feed_metal_g is not None:
        return run.feed_metal_g
    outside = run.feed_grade_g_t if plan.feed_grade in (FeedGrade.INDEPENDENT, FeedGrade.NOT_STATED) else None
    if run.feed.mass_kg is not None and outside is not None:
        return run.feed.mass_kg * outside / 1000.0
    return gold_out_g


def _reference(trial: Trial, study: Study | None) -> str:
    """The plan's reference, else the study's mark if that design ran, else (empty) the first by name."""
    if trial.plan.reference or study is None:
        return trial.plan.reference
    return study.reference if any(r.design == study.reference and not r.excluded for r in trial.runs) else ""


def _plan(plan: Plan, problems: list[str], reference: str) -> TrialPlan:
    taken = convert(plan, TrialPlan, from_attributes=True)
    columns = tuple(FORMER_COLUMNS.get(name, name) for name in plan.adjust_also)
    return replace(taken, reference=reference, frozen_on=_day(plan.stamped, problems), adjust_also=columns)


def _worth(given: WorthInputs) -> tuple[Tonnage | None, Downstream | None]:
    """Ounces need tonnes and grade; extra metal needs all three returns."""
    tonnage = downstream = None
    if given.tonnes_a_year is not None and given.head_grade_g_t is not None:
        tonnage = Tonnage(given.tonnes_a_year, given.head_grade_g_t)
    returns = (given.gravity_return_pct, given.downstream_recovery_pct, given.downstream_pay_pct)
    shares = [share * PERCENT for share in returns if share is not None]
    if len(shares) == len(returns):
        downstream = Downstream(*shares)
    return tonnage, downstream


def _net(judgement: Judgement | None, given: WorthInputs) -> Amount | None:
    """Money a year of the extra metal, less what is given of the new bowl's extra cost; None without a price."""
    worth = None if judgement is None else judgement.worth
    if worth is None or worth.extra_oz is None or given.price_per_oz is None:
        return None
    return net_value(worth.extra_oz, given.price_per_oz, (_wear(given) or 0.0) + (given.other_cost_a_year or 0.0))


def _wear(given: WorthInputs) -> float | None:
    """Money a year that the new bowl's liners cost more; None while any part of it is not given."""
    hours, cost, old, new = given.hours_a_year, given.change_cost, given.reference_life_h, given.new_life_h
    if hours is None or cost is None or old is None or new is None:
        return None
    return WearCost(hours, new, cost).a_year - WearCost(hours, old, cost).a_year


def _costs_not_given(given: WorthInputs) -> tuple[str, ...]:
    lacking = (
        "wear of the liners" if _wear(given) is None else "",
        "" if given.other_cost_a_year is not None else "other cost",
    )
    return tuple(word for word in lacking if word)


def _entry_problems(trial: Trial, can_use: Usable) -> Sequence[str]:
    found = [f"{sentence[:-1]}: it counts as not recorded." for sentence in can_use.of_trial]
    for run, said in zip(trial.runs, can_use.of_runs, strict=True):
        found += [f"Run {run.run}: {sentence[:-1]}: it counts as not recorded." for sentence in said]
        if run.started and _moment(run.started) is None:
            found.append(f"Run {run.run}: the start “{run.started}” is not a date and counts as not recorded.")
        if run.recovery_pct is not None and trial.plan.basis is not Basis.STATED and not run.excluded:
            found.append(f"Run {run.run}: the recovery entered is not used; the basis is {trial.plan.basis.value}.")
    return found


def _moment(text: str) -> datetime | None:
    try:
        return moment_of(text) if text else None
    except ValueError:
        return None


def _day(text: str, problems: list[str]) -> date | None:
    if not text:
        return None
    moment = _moment(text)
    if moment is None:
        problems.append(f"The plan's freezing date “{text}” is not a date such as 2031-03-01 and counts as missing.")
    return None if moment is None else moment.date()

"""The gates one by one: a table of questions, each a function of the evidence that answers or does not apply.

The label names what is asked about; a failed gate's text says what happened, as it stands in the verdict.

Adding a gate is one line of the table. Not here: what a gate is (gates).
"""

from collections.abc import Callable
from functools import partial

import numpy as np

from profiler.statistics.balances.closing import Closure, most_doubtful
from profiler.statistics.inference.comparison import Kind
from profiler.statistics.trial.gate_likeness import BLANK, feed_grade, feed_size, setting, wear, within_share
from profiler.statistics.trial.gates import Answer, Evidence, Gate, with_waiver
from profiler.statistics.trial.layout import Unit
from profiler.statistics.trial.mountings import run_order
from profiler.statistics.trial.runs import COLUMNS, TrialRun
from profiler.words import GateCode, GateState, Ordering, Structure

TREND_LEVEL = 0.01  # a drift this unlikely fails; at 5 per cent one fair trial in twenty would. Own rule, no source
_CHANGE_OVER_RESIDENCES = 3.0
MOST_NAMED = 3  # runs in one sentence

Question = Callable[[Evidence], Answer | None]


def check_gates(evidence: Evidence) -> tuple[Gate, ...]:
    """All gates that apply to the trial. ValueError if a waiver names none of them."""
    gates = []
    for code, (label, question) in GATES.items():
        answer = question(evidence)
        if answer is not None:
            gates.append(with_waiver(code, label, answer, evidence.plan))
    for waiver in evidence.plan.waivers:
        if waiver.gate not in GATES:
            raise ValueError(f"There is no gate “{waiver.gate}” to waive; the gates are {', '.join(GATES)}.")
    return tuple(gates)


def _order(evidence: Evidence) -> Answer:
    plan = evidence.plan
    if plan.structure is Structure.BEFORE_AFTER or _one_after_the_other(evidence):
        return Answer(
            GateState.FAILED,
            "one design ran before the other throughout, so design and time cannot be told apart; indicative only",
            waivable=False,
        )
    if evidence.layout.kind is Kind.EXCHANGED:
        crossed = sum(evidence.layout.swapped)
        return Answer(GateState.MET, f"bowls exchanged: {len(evidence.layout.swapped) - crossed} and {crossed} blocks")
    leads, known = _reference_first(evidence)
    text = f"{evidence.layout.reference_design} first in {leads} of {known}" if known else plan.ordering.value
    if known >= 6 and leads in (0, known):
        return Answer(GateState.FAILED, f"the same design always ran first: {text}")
    if plan.ordering is Ordering.FIXED:
        return Answer(GateState.FAILED, "the order was fixed, so a drift within a pair counts for one design")
    if plan.ordering is Ordering.NOT_RECORDED:
        return Answer(GateState.NOT_RECORDED, f"{text}; how it was chosen is not recorded" if known else BLANK)
    return Answer(GateState.MET, f"{plan.ordering.value}, {text}" if known else plan.ordering.value)


def _one_after_the_other(evidence: Evidence) -> bool:
    if evidence.layout.kind is Kind.EXCHANGED:
        return False
    first, second = evidence.layout.values("started_day")
    if not (np.all(np.isfinite(first)) and np.all(np.isfinite(second))):
        return False
    return bool(first.max() < second.min() or second.max() < first.min())


def _reference_first(evidence: Evidence) -> tuple[int, int]:
    """In how many pairs the reference ran first, of how many whose order is known."""
    leads = known = 0
    if evidence.layout.kind is not Kind.PAIRED:
        return leads, known
    for old, new in zip(evidence.layout.reference, evidence.layout.new, strict=True):
        for place in (_order_in_pair, COLUMNS["started_day"].get):
            first, second = _earliest(old, place), _earliest(new, place)
            if first is not None and second is not None and first != second:
                known += 1
                leads += first < second
                break
    return leads, known


def _order_in_pair(run: TrialRun) -> float | None:
    return None if run.order is None else float(run.order)


def _earliest(unit: Unit, place: Callable[[TrialRun], float | None]) -> float | None:
    places = [place(run) for mounted in unit for run in mounted]
    known = [value for value in places if value is not None]
    return min(known) if len(known) == len(places) else None


def _machine(evidence: Evidence) -> Answer | None:
    if evidence.layout.kind is Kind.EXCHANGED:
        return None
    machines = list(dict.fromkeys(run.machine for run in evidence.layout.runs()))
    if len(machines) > 1:
        named = ", ".join(machine or "not recorded" for machine in machines)
        state = GateState.NOT_RECORDED if "" in machines and len(machines) == 2 else GateState.FAILED
        several = f"runs on several machines: {named}"
        return Answer(state, several if state is GateState.FAILED else f"only some runs name {named}")
    return Answer(GateState.MET, machines[0]) if machines[0] else Answer(GateState.NOT_RECORDED, BLANK)


def _castings(evidence: Evidence) -> Answer | None:
    """Where serials are kept: a design that ran as one casting only cannot be told from that casting."""
    serials: dict[str, list[str]] = {}
    for run in evidence.layout.runs():
        serials.setdefault(run.design, []).append(run.serial)
    named = [serial for each in serials.values() for serial in each if serial]
    if not named:
        return None
    if any("" in each for each in serials.values()):
        return Answer(GateState.NOT_RECORDED, "only some runs name the casting that ran")
    single = [(design, each[0]) for design, each in sorted(serials.items()) if len(set(each)) == 1]
    if single:
        said = " and ".join(f"all runs of “{design}” stand on one casting, {serial}" for design, serial in single)
        return Answer(GateState.FAILED, f"{said}: design and casting cannot be told apart")
    counts = ", ".join(f"{design} {len(set(each))}" for design, each in sorted(serials.items()))
    return Answer(GateState.MET, f"castings that ran: {counts}")


def _trend(evidence: Evidence) -> Answer:
    trend = evidence.trend
    if trend is None:
        some = any(run.began is not None for run in evidence.layout.runs())
        return Answer(GateState.NOT_RECORDED, "start times missing or too few" if some else BLANK)
    text = f"{trend.slope:+.3g} points a day, p {trend.p:.2g}"
    if trend.p < TREND_LEVEL:
        return Answer(GateState.FAILED, f"the difference drifts with time: {text}")
    return Answer(GateState.MET, text)


def _exclusions(evidence: Evidence) -> Answer:
    excluded = [run for run in evidence.runs if run.excluded]
    silent = [run.run for run in excluded if not run.exclusion_reason.strip()]
    if silent:
        return Answer(GateState.FAILED, f"runs left out without a reason: {', '.join(silent)}")
    if not excluded:
        return Answer(GateState.MET, "none")
    return Answer(GateState.MET, "; ".join(f"{run.run} ({run.exclusion_reason.strip()})" for run in excluded))


def _frozen(evidence: Evidence) -> Answer:
    frozen = evidence.plan.frozen_on
    starts = [run.began.date() for run in evidence.runs if run.began is not None]
    if frozen is None:
        return Answer(GateState.NOT_RECORDED, "plan not frozen")
    if not starts:
        return Answer(GateState.NOT_RECORDED, f"plan frozen {frozen.isoformat()}; when the runs began is not recorded")
    if frozen <= min(starts):
        return Answer(GateState.MET, f"plan frozen {frozen.isoformat()}, first run {min(starts).isoformat()}")
    return Answer(
        GateState.NOT_RECORDED,
        f"plan frozen {frozen.isoformat()}, after the first run of {min(starts).isoformat()}",
    )


def _clean(evidence: Evidence) -> Answer:
    """Once per mounting is enough: later cycles find only gold of their own bowl."""
    layout = evidence.layout
    mounted = [runs for unit in (*layout.reference, *layout.new) for runs in unit]
    dirty = [run.run for runs in mounted for run in runs if run.cleaned_out is False]
    if dirty:
        return Answer(GateState.FAILED, f"bowl not cleaned out: gold of the bowl before may be in {', '.join(dirty)}")
    unknown = sum(not any(run.cleaned_out for run in runs) for runs in mounted)
    if unknown:
        return Answer(GateState.NOT_RECORDED, BLANK if unknown == len(mounted) else f"missing in {unknown}")
    return Answer(GateState.MET, "every time")


def _change_over(evidence: Evidence) -> Answer | None:
    if not evidence.plan.in_circuit:
        return None
    residence = evidence.plan.load_residence_h
    hours = {run.run: run.since_change_h for run in evidence.layout.runs()}
    known = {name: value for name, value in hours.items() if value is not None}
    if residence is None or len(known) < len(hours):
        return Answer(GateState.NOT_RECORDED, "residence time of the load or hours since the change not recorded")
    least = _CHANGE_OVER_RESIDENCES * residence
    early = [name for name, value in known.items() if value < least]
    if early:
        return Answer(GateState.FAILED, f"runs within {least:g} h of the change of bowl: {', '.join(early)}")
    return Answer(GateState.MET, f"all later than {least:g} h after the change of bowl")


def _mountings(evidence: Evidence) -> Answer | None:
    """Cycles of one mounting counted as if each were a trial of its own, or not known not to be."""
    plan, layout = evidence.plan, evidence.layout
    if layout.kind is Kind.EXCHANGED:
        return None
    names = [run.installation for run in layout.runs()]
    if plan.structure is Structure.INSTALLATIONS:
        return Answer(GateState.MET, f"cycles averaged within {len(set(names))} mountings")
    shared = _shared(evidence)
    if shared:
        return Answer(
            GateState.FAILED,
            f"cycles of one mounting are counted as repeats (installation {', '.join(shared[:MOST_NAMED])}): "
            f"choose “{Structure.INSTALLATIONS}”",
        )
    return (
        Answer(GateState.MET, f"one mounting each, {len(set(names))} recorded")
        if all(names)
        else _by_stretches(evidence)
    )


def _shared(evidence: Evidence) -> list[str]:
    """Installations that more than one observation comes from."""
    mounted: dict[str, int] = {}
    for unit in (*evidence.layout.reference, *evidence.layout.new):
        for name in {run.installation for runs in unit for run in runs if run.installation}:
            mounted[name] = mounted.get(name, 0) + 1
    return [name for name, count in mounted.items() if count > 1]


def _by_stretches(evidence: Evidence) -> Answer | None:
    """Told from the order of the runs; pairs without dates are taken as they are named."""
    rows = {run.run: row for row, run in enumerate(evidence.runs)}
    order = run_order(sorted(evidence.layout.runs(), key=lambda run: rows[run.run]))
    if evidence.layout.kind is Kind.PAIRED and not order.dated:
        return None
    found = f"{len(order.runs)} runs in {len(order.stretches)} stretches of one bowl"
    where = "" if order.dated else " by the ledger's order"
    if order.told_apart:
        alike = order.resemblance_p() if evidence.layout.kind is Kind.UNPAIRED else None
        if alike is not None and alike < TREND_LEVEL:
            return Answer(
                GateState.FAILED,
                f"runs of one stretch of a bowl resemble each other (p {alike:.2g}), as cycles of one mounting do: "
                "name the installation of each run",
            )
        return Answer(GateState.MET, f"{found}{where}")
    if not order.dated and evidence.plan.ordering in (Ordering.RANDOMISED, Ordering.ALTERNATED):
        return Answer(GateState.NOT_RECORDED, f"{found}{where}; start times would show the {evidence.plan.ordering}")
    return Answer(
        GateState.FAILED,
        f"mountings cannot be told apart: {found}{where}, where chance would make {order.by_chance:.0f}; cycles of one "
        "mounting are no repeats: name the installation of each run",
    )


def _balances(evidence: Evidence) -> Answer:
    """Of the runs that take part, and of those that give no recovery."""
    taking_part = {run.run for run in evidence.layout.runs()} | set(evidence.layout.unmeasured)
    runs = [run for run in evidence.runs if run.run in taking_part]
    known = [(run.run, run.closing) for run in runs if run.closing is not None]
    failing = [f"run {name}: {found.text}" for name, found in known if found.closure is Closure.FAILS]
    if failing:
        more = f"; and {len(failing) - MOST_NAMED} more" if len(failing) > MOST_NAMED else ""
        return Answer(GateState.FAILED, f"balances do not close ({'; '.join(failing[:MOST_NAMED])}{more})")
    doubtful = [name for name, found in known if found.closure is Closure.DOUBTFUL]
    text = f"{len(doubtful)} of {len(runs)} runs beyond 2 standard errors of their accountability"
    if len(doubtful) > most_doubtful(len(runs)):
        return Answer(GateState.FAILED, f"balances do not close: {text}")
    if not known:
        return Answer(GateState.NOT_RECORDED, "no run has what it takes: masses, and assays of feed and products")
    if len(known) < len(runs):
        return Answer(GateState.NOT_RECORDED, f"missing in {len(runs) - len(known)} runs; otherwise {text}")
    return Answer(GateState.MET, text)


GATES: dict[GateCode, tuple[str, Question]] = {
    GateCode.MACHINE: ("machine", _machine),
    GateCode.FEED_GRADE: ("feed grade", feed_grade),
    GateCode.FEED_SIZE: ("feed size", feed_size),
    GateCode.SPEED: ("speed", partial(setting, column="speed_rpm", differ="speeds differ", unit="rpm")),
    GateCode.WATER: (
        "fluidising water",
        partial(setting, column="water_l_min", differ="fluidising water differs", unit="L/min"),
    ),
    GateCode.FEED_RATE: ("feed rate", partial(setting, column="feed_t_h", differ="feed rates differ", unit="t/h")),
    GateCode.SOLIDS: ("solids", partial(setting, column="solids_pct", differ="solids differ", unit="%")),
    GateCode.CYCLE: (
        "cycle",
        partial(within_share, column="cycle_min", differ="cycles differ", unit="min",
                remedy="recovery falls as a cycle goes on"),
    ),
    GateCode.MASS_PULL: (
        "mass pull",
        partial(within_share, column="mass_pull_percent", differ="mass pulls differ", unit="%",
                remedy="compare at equal pull"),
    ),
    GateCode.WEAR: ("wear", wear),
    GateCode.CASTINGS: ("castings", _castings),
    GateCode.CLEAN_OUT: ("clean-out", _clean),
    GateCode.CHANGE_OVER: ("change-over", _change_over),
    GateCode.ORDER: ("order", _order),
    GateCode.UNITS: ("mountings", _mountings),
    GateCode.BALANCES: ("balances", _balances),
    GateCode.TREND: ("drift", _trend),
    GateCode.EXCLUSIONS: ("runs left out", _exclusions),
    GateCode.STAMP: ("plan", _frozen),
}  # fmt: skip

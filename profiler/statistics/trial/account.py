"""The account of a trial in words: everything a reader needs to believe the verdict or to doubt it.

The bare word for an unlikely chance result never stands in it: the interval, the size worth having and what the
trial could have seen say more. Not here: the numbers (judge).
"""

from collections.abc import Iterable

from profiler.numbers import fixed
from profiler.statistics.inference.comparison import Comparison, Interval, Kind
from profiler.statistics.inference.permutation import Permutation, smallest_two_sided
from profiler.statistics.inference.power import needed
from profiler.statistics.trial.gates import Gate
from profiler.statistics.trial.judge import Judgement
from profiler.statistics.trial.planner import LEAST_UNITS
from profiler.statistics.trial.runs import COLUMNS
from profiler.statistics.trial.verdict import points, signed
from profiler.statistics.trial.worth import Amount, Worth
from profiler.words import GateCode, GateState, Ordering, Structure, VerdictState

_SETTINGS = (GateCode.SPEED, GateCode.WATER, GateCode.FEED_RATE, GateCode.SOLIDS, GateCode.CYCLE)


def account(judgement: Judgement) -> str:
    """The whole account, a short paragraph."""
    parts = (
        _result(judgement),
        _reference(judgement),
        _disagreement(judgement),
        _adjusted(judgement),
        _verdict(judgement),
        _scatter(judgement),
        _more(judgement),
        _proposed(judgement),
        _gates(judgement),
        _listed("Look at these, nothing is dropped for it", (oddity.text for oddity in judgement.odd)),
        _other_evidence(judgement),
        _left_out(judgement),
        _worth(judgement),
    )
    return " ".join(part for part in parts if part)


def _result(judgement: Judgement) -> str:
    verdict, found = judgement.verdict, judgement.comparison
    test = "Welch t" if found.kind is Kind.UNPAIRED else "paired t"
    if found.kind is Kind.EXCHANGED:
        test = "t on the difference of differences"
    relative = "the relative gain cannot be estimated"
    if judgement.relative is not None:
        relative = (
            f"{judgement.relative.gain_percent:+.1f} % relative to {verdict.reference} "
            f"(95 % interval {signed(judgement.relative.gain_interval_percent, 1)})"
        )
    return (
        f"In {_observations(judgement)} ({_conditions(judgement)}) {_means(judgement)}: "
        f"{verdict.difference_text} ({test} {found.t:.2f}, "
        f"{found.df:.3g} degrees of freedom, p {_p(found.p)}; {_permutation(judgement.permutation, found.kind)}); "
        f"{relative}.{_weighted(judgement)}"
    )


def _means(judgement: Judgement) -> str:
    """What the designs recovered, neither without its 95 per cent interval."""
    verdict, found = judgement.verdict, judgement.comparison
    new = _with_interval(found.new_mean, judgement.new_interval)
    reference = _with_interval(found.reference_mean, judgement.reference_interval)
    return f"{verdict.new} recovered {new} and {verdict.reference} {reference}"


def _with_interval(mean: float, interval: Interval | None) -> str:
    limits = "error not known" if interval is None else f"{interval.low:.1f} to {interval.high:.1f}"
    return f"{mean:.1f} % ({limits})"


def _disagreement(judgement: Judgement) -> str:
    """Where the t test and the permutation test fall on either side of 5 per cent."""
    found, shuffled = judgement.comparison, judgement.permutation.two_sided
    if (found.p < 0.05) == (shuffled < 0.05):
        return ""
    test = "Welch's t" if found.kind is Kind.UNPAIRED else "The t test"
    said = f"{test} and the permutation test disagree across 0.05 (p {_p(found.p)} against {_p(shuffled)})"
    if found.kind is Kind.UNPAIRED:
        first, second = (float(values.std(ddof=1)) for values in judgement.layout.values("recovery_percent"))
        said += f"; the designs scatter by {second:.2f} and {first:.2f} points"
    return f"{said}: treat the difference as unsettled until more runs decide."


def _observations(judgement: Judgement) -> str:
    layout, units = judgement.layout, judgement.comparison.units
    one = any(gate.code is GateCode.MACHINE and gate.state is GateState.MET for gate in judgement.verdict.gates)
    where = " on one machine" if one else ""
    if layout.kind is Kind.UNPAIRED:
        return (
            f"{units[0]} {layout.counted(units[0])} of {layout.reference_design} and {units[1]} of "
            f"{layout.new_design}{where}"
        )
    if layout.kind is Kind.EXCHANGED:
        where = " on two machines"
    return f"{units[0]} {'randomised ' if _randomised(judgement) else ''}{layout.counted(units[0])}{where}"


def _randomised(judgement: Judgement) -> bool:
    """Pairs are called randomised only where the order was and nothing else is left unrecorded."""
    gates = judgement.verdict.gates
    ordered = any(gate.code is GateCode.ORDER and gate.state is GateState.MET for gate in gates)
    complete = all(gate.state is not GateState.NOT_RECORDED for gate in gates)
    return judgement.plan.ordering is Ordering.RANDOMISED and ordered and complete


def _reference(judgement: Judgement) -> str:
    if judgement.plan.reference:
        return ""
    reference = judgement.verdict.reference
    return f"No reference is named: {reference}, the first by name, stands for it, which changes only the signs."


def _conditions(judgement: Judgement) -> str:
    plan = judgement.plan
    met = {gate.code for gate in judgement.verdict.gates if gate.state is GateState.MET}
    cut = f", {plan.size_cut}" if plan.size_cut else ""
    layouts = {Structure.EXCHANGED: "bowls exchanged", Structure.BEFORE_AFTER: Structure.BEFORE_AFTER.value}
    parts = [
        "only the bowl changed" if met.issuperset(_SETTINGS) else "",
        f"{plan.basis.value}{cut}",
        _dates(judgement),
        layouts.get(plan.structure, plan.ordering.value),
    ]
    return "; ".join(part for part in parts if part)


def _dates(judgement: Judgement) -> str:
    starts = [run.began.date() for run in judgement.layout.runs() if run.began is not None]
    if not starts:
        return "dates not recorded"
    first, last = min(starts).isoformat(), max(starts).isoformat()
    return first if first == last else f"{first} to {last}"


def _permutation(permutation: Permutation, kind: Kind) -> str:
    name = "sign-flip" if kind is Kind.PAIRED else "label-shuffle"
    if permutation.exact:
        return f"exact {name} p {_p(permutation.two_sided)}"
    return f"{name} p {_p(permutation.two_sided)} from {fixed(permutation.arrangements, 0)} seeded draws"


def _weighted(judgement: Judgement) -> str:
    weighted = judgement.weighted
    if weighted is None:
        return ""
    return f" Weighted by metal fed: {weighted.difference:+.2f} points ({signed(weighted.interval95)})."


def _adjusted(judgement: Judgement) -> str:
    adjustment, plan = judgement.adjustment, judgement.plan
    if adjustment.result is None:
        return f"Not adjusted for feed grade: {adjustment.reason}."
    beside = "".join(f" and {COLUMNS[name].label}" for name in plan.adjust_also)
    doubt = f"; {adjustment.caution}" if adjustment.caution else ""
    if adjustment.parallel_p is not None and adjustment.parallel_p < 0.05:
        doubt += f"; the designs answer the feed grade with different slopes (p {_p(adjustment.parallel_p)})"
    result = adjustment.result
    return (
        f"Adjusted for feed grade ({plan.feed_grade.value}){beside}: {result.difference:+.2f} points "
        f"({signed(result.interval95)}){doubt}."
    )


def _verdict(judgement: Judgement) -> str:
    plan, verdict = judgement.plan, judgement.verdict
    outcome = f"Verdict: {verdict.text}."
    if plan.worthwhile_points is None:
        return f"{outcome} No worthwhile gain was agreed: agree on one to learn whether a gain is worth having."
    source = plan.worthwhile_source or "its origin is not recorded"
    when = "plan not frozen" if plan.frozen_on is None else f"plan frozen {plan.frozen_on.isoformat()}"
    return f"{outcome}{_against_gain(judgement)} Worthwhile gain {points(plan.worthwhile_points)} ({source}; {when})."


def _against_gain(judgement: Judgement) -> str:
    """The one-sided tests behind a word about the worthwhile gain; empty for any other word."""
    gain, found, state = judgement.plan.worthwhile_points, judgement.comparison, judgement.verdict.state
    if gain is not None and state is VerdictState.NO_DIFFERENCE:
        return f" Two one-sided tests against ±{points(gain)}: p {_p(found.p_equivalent(gain))}."
    if gain is not None and state is VerdictState.WORTHWHILE:
        beyond = found.p_above(gain) if found.difference > 0.0 else 1.0 - found.p_above(-gain)
        return f" One-sided test of a difference beyond {points(gain)}: p {_p(beyond)}."
    return ""


def _scatter(judgement: Judgement) -> str:
    found = judgement.comparison
    of = {
        Kind.PAIRED: f"{judgement.layout.noun} differences",
        Kind.UNPAIRED: f"a single {judgement.layout.noun}",
        Kind.EXCHANGED: "block differences",
    }[found.kind]
    return (
        f"The standard deviation of {of} is {found.spread:.2f} points; a trial like this one finds a true difference "
        f"of {judgement.detectable_points:.2f} points with 80 % power.{_neighbours(judgement)}"
    )


def _proposed(judgement: Judgement) -> str:
    count = len(judgement.neighbours)
    if not count:
        return ""
    return (
        f"The designs alternate in time and no pairs are recorded: neighbours could be paired ({count} pairs), which "
        "takes out what both of a pair share; decide on it for that reason, not for the result."
    )


def _neighbours(judgement: Judgement) -> str:
    drift = judgement.drift
    if drift is None or drift.lag_one <= drift.lag_limit:
        return ""
    return f" Neighbours in time are alike (correlation {drift.lag_one:.2f}), so the interval is too narrow."


def _more(judgement: Judgement) -> str:
    if judgement.verdict.state is not VerdictState.NOT_RESOLVED:
        return ""
    found, gain = judgement.comparison, judgement.plan.worthwhile_points
    each = " of each design" if found.kind is Kind.UNPAIRED else ""
    noun, have = f"{judgement.layout.counted(2)}{each}", min(found.units)
    few = "" if judgement.verdict.enough else _too_few(judgement, noun)
    if gain is None or judgement.needed is None:
        return f"{_in_all(found, 1.0)} {noun} in all would show 1 point, {_in_all(found, 2.0)} would show 2.{few}"
    if judgement.needed > have:
        more = judgement.needed - have
        return f"{judgement.needed} {noun} in all, {more} more, would show {points(gain)}.{few}"
    if found.difference == 0.0:
        return f"{judgement.needed} {noun} would have shown {points(gain)}.{few}"
    own = _in_all(found, found.difference)
    return (
        f"{judgement.needed} {noun} would show {points(gain)}; to tell the difference found from none takes {own}, "
        f"{max(own - have, 0)} more.{few}"
    )


def _in_all(found: Comparison, gain: float) -> int:
    """Never fewer than what can be called firm."""
    return max(LEAST_UNITS[found.kind], needed(found, gain))


def _too_few(judgement: Judgement, noun: str) -> str:
    found, units = judgement.comparison, min(judgement.comparison.units)
    said = f" Below {LEAST_UNITS[found.kind]} {noun} no difference is called firm"
    if found.kind is Kind.PAIRED:
        lowest = _p(smallest_two_sided(units))
        return f"{said}: however large, {units} cannot bring the sign-flip test below p {lowest}."
    if found.kind is Kind.EXCHANGED:
        return f"{said}, half of them each way round."
    return f"{said}."


def _gates(judgement: Judgement) -> str:
    """Waived and unrecorded gates; the failed ones stand in the verdict."""
    by_state: dict[GateState, list[Gate]] = {state: [] for state in GateState}
    for gate in judgement.verdict.gates:
        by_state[gate.state].append(gate)
    parts = [
        _listed(
            "Waived",
            (f"{gate.label} ({gate.text}; reason: {gate.reason})" for gate in by_state[GateState.WAIVED]),
        ),
        _listed("Not recorded", (_unrecorded(gate) for gate in by_state[GateState.NOT_RECORDED])),
    ]
    said = " ".join(part for part in parts if part)
    return said or ("" if by_state[GateState.FAILED] else "All gates are met.")


def _unrecorded(gate: Gate) -> str:
    return gate.label if gate.text == "not recorded" else f"{gate.label} ({gate.text})"


def _listed(what: str, items: Iterable[str]) -> str:
    joined = ", ".join(items)
    return f"{what}: {joined}." if joined else ""


def _other_evidence(judgement: Judgement) -> str:
    said = [
        f"{stream.name} {stream.agreement.value} ({stream.comparison.difference:+.3g} {stream.unit}, 95 % interval "
        f"{stream.comparison.interval95.low:+.3g} to {stream.comparison.interval95.high:+.3g})"
        for stream in judgement.secondary_outcomes
    ]
    return _listed("Other evidence", said)


def _left_out(judgement: Judgement) -> str:
    layout = judgement.layout
    parts = [
        _listed("Excluded", (f"{run.run} ({run.exclusion_reason or 'no reason'})" for run in judgement.excluded)),
        "" if judgement.with_all is None else f"With the runs left out taken in: {judgement.with_all.text}.",
        _listed("Left out for want of a partner", layout.lone),
        _listed("Left out without a recovery", layout.unmeasured),
    ]
    planned, have = judgement.plan.planned_units, min(judgement.comparison.units)
    if planned is not None and planned != have:
        parts.append(
            f"{planned} {judgement.layout.counted(planned)} were planned and {have} are judged: stopping where the "
            "result looks good makes false gains more likely."
        )
    return " ".join(part for part in parts if part)


def _worth(judgement: Judgement) -> str:
    if judgement.worth is None:
        return "Ounces a year not calculated: no tonnage and grade given."
    unfair = judgement.verdict.state is VerdictState.NOT_FAIR
    return f"{'Indicative only, the comparison not being fair: ' if unfair else ''}{_ounces(judgement.worth)}"


def _ounces(worth: Worth) -> str:
    tonnage = worth.tonnage
    caught = (
        f"At {fixed(tonnage.tonnes_a_year, 0)} t a year and {tonnage.grade_g_t:g} g/t that is "
        f"{_amount(worth.caught_oz)} troy oz a year caught by gravity"
    )
    if worth.extra_oz is None or worth.downstream is None:
        return f"{caught}; how much of it is extra metal depends on the recovery downstream, which is not given."
    returns = worth.downstream
    return (
        f"{caught}, of which {_amount(worth.extra_oz)} is extra metal at net returns of "
        f"{100.0 * returns.gravity_return:.3g} % (gravity) and {100.0 * returns.net_return:.3g} % (downstream)."
    )


def _amount(amount: Amount) -> str:
    estimate, low, high = (fixed(value, 0) for value in (amount.estimate, amount.interval.low, amount.interval.high))
    return f"{estimate} ({low} to {high})"


def _p(probability: float) -> str:
    return "< 0.0001" if probability < 1e-4 else f"{probability:.2g}"

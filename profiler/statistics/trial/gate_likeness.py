"""Gates that ask whether two things were alike: feed, settings, pull, wear.

Feed is matched when the interval of its difference lies within the agreed tolerance, a share of both designs' mean;
settings are known numbers and are held against their own spread. Not here: the other gates and the table of all
(gate_checks).
"""

import numpy as np

from profiler.numbers import Against
from profiler.statistics.inference.comparison import Interval, Kind, Values
from profiler.statistics.inference.differences import compare
from profiler.statistics.trial.gates import Answer, Evidence
from profiler.units import PERCENT
from profiler.words import FeedGrade, GateState

RUNNING_FLOOR = 0.01  # settings closer than 1 per cent are the same set point. Own rule, no source
_OVERLAP = 0.25  # feeds whose ranges share less than a quarter hardly overlap. Own rule, no source
BLANK = GateState.NOT_RECORDED.value
NOT_SHOWN = "not shown to match: "


def feed_grade(evidence: Evidence) -> Answer:
    """Feed grades matched, and not the explanation of the difference between the designs."""
    plan = evidence.plan
    if plan.in_circuit and plan.feed_grade is not FeedGrade.FRESH_FEED:
        return Answer(
            GateState.NOT_RECORDED,
            "inside a circuit the bowl's own feed grade is an outcome; the fresh feed's grade is what must match",
        )
    column = _feed_column(evidence)
    matched = _matched(column, evidence, "feed grades differ")
    if column != "feed_grade_g_t":
        return Answer(matched.state, f"{matched.text} (the balances' own feed assays)")
    if matched.state is not GateState.FAILED and _feed_explains(evidence):
        found = matched.text.removeprefix(NOT_SHOWN)
        return Answer(GateState.FAILED, f"feed grades explain the difference, which adjusted for them is gone: {found}")
    return matched


def _feed_column(evidence: Evidence) -> str:
    """The feed grade that is recorded for more observations; the balance's own assay only where another is missing."""
    counts = {}
    for column in ("feed_grade_g_t", "feed_assay_g_t"):
        first, second, _, _ = evidence.layout.complete(column)
        counts[column] = min(first.size, second.size)
    return max(counts, key=lambda column: counts[column])


def _feed_explains(evidence: Evidence) -> bool:
    """Feeds differ, hardly overlap, and the difference between the designs is gone once adjusted for."""
    adjusted = evidence.adjustment.result
    if adjusted is None or adjusted.interval95.excludes_zero() or not evidence.comparison.interval95.excludes_zero():
        return False
    first, second, swapped, _ = evidence.layout.complete("feed_grade_g_t")
    overlap = min(first.max(), second.max()) - max(first.min(), second.min())
    together = max(first.max(), second.max()) - min(first.min(), second.min())
    return (
        _interval(evidence.layout.kind, first, second, swapped, 0.95).excludes_zero() and overlap < _OVERLAP * together
    )


def feed_size(evidence: Evidence) -> Answer:
    """Sizes that 80 per cent pass matched."""
    return _matched("feed_f80_um", evidence, "feed sizes (F80) differ")


def _matched(column: str, evidence: Evidence, differ: str) -> Answer:
    """Matched if the 90 per cent interval lies within the tolerance; failed if a difference beyond it is shown."""
    first, second, swapped, lost = evidence.layout.complete(column)
    if min(first.size, second.size) < 2:
        return Answer(GateState.NOT_RECORDED, BLANK)
    mean = _middle(first, second)
    if not mean > 0.0:
        return Answer(GateState.NOT_RECORDED, "no value above zero")
    kind, tolerance_pct = evidence.layout.kind, evidence.plan.feed_tolerance_pct
    limits = _interval(kind, first, second, swapped, 0.90).times(100.0 / mean)
    shown = _interval(kind, first, second, swapped, 0.95).excludes_zero()
    share = 100.0 * float(second.mean() - first.mean()) / mean
    told, low, high = (Against(v, -tolerance_pct, tolerance_pct) for v in (share, limits.low, limits.high))
    text = (
        f"{_range(first)} against {_range(second)}: {told:+.1f} %, 90 % interval {low:+.1f} to {high:+.1f} %, "
        f"tolerance {tolerance_pct:g} %"
    )
    if limits.within(tolerance_pct):
        return _if_complete(GateState.MET, text, lost, evidence)
    if shown and abs(share) > tolerance_pct:
        return Answer(GateState.FAILED, f"{differ}: {text}")
    return Answer(GateState.NOT_RECORDED, f"{NOT_SHOWN}{text}")


def setting(evidence: Evidence, *, column: str, differ: str, unit: str) -> Answer:
    """The same if the means differ by no more than 1 per cent, or than their own spread and 10 per cent."""
    first, second, _, lost = evidence.layout.complete(column)
    if min(first.size, second.size) == 0:
        return Answer(GateState.NOT_RECORDED, BLANK)
    mean = abs(_middle(first, second))
    apart = abs(float(second.mean() - first.mean()))
    spread = float(np.sqrt((first.var() + second.var()) / 2.0))
    allowed = max(RUNNING_FLOOR * mean, min(spread, evidence.plan.running_tolerance_pct * PERCENT * mean))
    text = f"{first.mean():.4g} against {second.mean():.4g} {unit}, {allowed:.2g} apart allowed"
    if apart <= allowed:
        return _if_complete(GateState.MET, text, lost, evidence)
    return Answer(GateState.FAILED, f"{differ}: {text}")


def within_share(evidence: Evidence, *, column: str, differ: str, unit: str, remedy: str) -> Answer:
    """The same if the means differ by no more than the agreed share."""
    first, second, _, lost = evidence.layout.complete(column)
    if min(first.size, second.size) == 0:
        return Answer(GateState.NOT_RECORDED, BLANK)
    tolerance_pct = evidence.plan.running_tolerance_pct
    text = f"{first.mean():.4g} against {second.mean():.4g} {unit}, tolerance {tolerance_pct:g} %"
    if abs(float(second.mean() - first.mean())) <= tolerance_pct * PERCENT * abs(_middle(first, second)):
        return _if_complete(GateState.MET, text, lost, evidence)
    return Answer(GateState.FAILED, f"{differ}: {text}; {remedy}")


def wear(evidence: Evidence) -> Answer:
    """Alike if mean hours differ by no more than 10 per cent of the larger, or than their spread."""
    first, second, _, lost = evidence.layout.complete("wear_h")
    if min(first.size, second.size) == 0:
        return Answer(GateState.NOT_RECORDED, BLANK)
    means = float(first.mean()), float(second.mean())
    spread = float(np.sqrt((first.var() + second.var()) / 2.0))
    text = f"liners {means[0]:.4g} h old against {means[1]:.4g} h"
    if abs(means[1] - means[0]) <= max(evidence.plan.running_tolerance_pct * PERCENT * max(means), spread):
        return _if_complete(GateState.MET, text, lost, evidence)
    return Answer(GateState.FAILED, f"a newer bowl ran against a more worn one: {text}")


def _if_complete(state: GateState, text: str, lost: int, evidence: Evidence) -> Answer:
    """A gate met by what was recorded is met only if all of it was."""
    if state is GateState.MET and lost:
        return Answer(GateState.NOT_RECORDED, f"missing in {lost} {evidence.layout.noun}(s); otherwise {text}")
    return Answer(state, text)


def _interval(kind: Kind, first: Values, second: Values, swapped: tuple[bool, ...], confidence: float) -> Interval:
    """Interval of the difference; without scatter (the same lot entered on both sides) the difference itself."""
    try:
        return compare(kind, first, second, swapped).interval(confidence)
    except ValueError:
        difference = float(second.mean() - first.mean())
        return Interval(difference, difference)


def _middle(first: Values, second: Values) -> float:
    """Of both designs' means: shares of it are the same whichever is the reference."""
    return float(first.mean() + second.mean()) / 2.0


def _range(values: Values) -> str:
    return f"{values.mean():.3g} ({values.min():.3g} to {values.max():.3g})"

"""Gates that ask whether two things were alike: feed, settings, pull, wear.

Feed is matched when the interval of its difference lies within the agreed tolerance; settings are known numbers
and are held against their own spread. Not here: the other gates and the table of all (gate_checks).
"""

import numpy as np

from profiler.statistics.inference.comparison import Interval, Kind, Values
from profiler.statistics.inference.differences import compare
from profiler.statistics.trial.gates import Answer, Evidence
from profiler.units import PERCENT
from profiler.words import FeedGrade, GateState

RUNNING_FLOOR = 0.01  # settings closer than 1 per cent are the same set point. Own rule, no source
_OVERLAP = 0.25  # feeds whose ranges share less than a quarter hardly overlap. Own rule, no source
BLANK = GateState.NOT_RECORDED.value


def feed_grade(evidence: Evidence) -> Answer:
    """Feed grades matched, and not the explanation of the difference between the designs."""
    plan = evidence.plan
    if plan.in_circuit and plan.feed_grade is not FeedGrade.FRESH_FEED:
        return Answer(
            GateState.NOT_RECORDED,
            "inside a circuit the bowl's own feed grade is an outcome; the fresh feed's grade is what must match",
        )
    matched = _matched("feed_grade_g_t", evidence, plan.feed_tolerance_pct)
    if matched.state is not GateState.FAILED and _feed_explains(evidence):
        return Answer(GateState.FAILED, f"{matched.text}; adjusted for it the difference does not stand")
    return matched


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
    return _matched("feed_f80_um", evidence, evidence.plan.feed_tolerance_pct)


def _matched(column: str, evidence: Evidence, tolerance_pct: float) -> Answer:
    """Matched if the 90 per cent interval lies within the tolerance; failed if a difference beyond it is shown."""
    first, second, swapped, lost = evidence.layout.complete(column)
    if min(first.size, second.size) < 2:
        return Answer(GateState.NOT_RECORDED, BLANK)
    mean = float(first.mean())
    if not mean > 0.0:
        return Answer(GateState.NOT_RECORDED, "the reference has no value above zero")
    kind = evidence.layout.kind
    limits = _interval(kind, first, second, swapped, 0.90).times(100.0 / mean)
    shown = _interval(kind, first, second, swapped, 0.95).excludes_zero()
    share = 100.0 * float(second.mean() - first.mean()) / mean
    text = (
        f"{_range(first)} against {_range(second)}: {share:+.1f} %, 90 % interval {limits.low:+.1f} to "
        f"{limits.high:+.1f} %, tolerance {tolerance_pct:g} %"
    )
    if limits.within(tolerance_pct):
        return _if_complete(GateState.MET, text, lost, evidence)
    if shown and abs(share) > tolerance_pct:
        return Answer(GateState.FAILED, text)
    return Answer(GateState.NOT_RECORDED, f"not shown to match: {text}")


def setting(evidence: Evidence, *, column: str) -> Answer:
    """The same if the means differ by no more than 1 per cent, or than their own spread and 10 per cent."""
    first, second, _, lost = evidence.layout.complete(column)
    if min(first.size, second.size) == 0:
        return Answer(GateState.NOT_RECORDED, BLANK)
    mean = float(first.mean())
    apart = abs(float(second.mean()) - mean)
    spread = float(np.sqrt((first.var() + second.var()) / 2.0))
    allowed = max(RUNNING_FLOOR * abs(mean), min(spread, evidence.plan.running_tolerance_pct * PERCENT * abs(mean)))
    text = f"{mean:.4g} against {second.mean():.4g}, {allowed:.2g} apart allowed"
    return _if_complete(GateState.MET if apart <= allowed else GateState.FAILED, text, lost, evidence)


def within_share(evidence: Evidence, *, column: str, remedy: str) -> Answer:
    """The same if the means differ by no more than the agreed share."""
    first, second, _, lost = evidence.layout.complete(column)
    if min(first.size, second.size) == 0:
        return Answer(GateState.NOT_RECORDED, BLANK)
    mean = float(first.mean())
    tolerance_pct = evidence.plan.running_tolerance_pct
    text = f"{mean:.4g} against {second.mean():.4g}, tolerance {tolerance_pct:g} %"
    if abs(float(second.mean()) - mean) <= tolerance_pct * PERCENT * abs(mean):
        return _if_complete(GateState.MET, text, lost, evidence)
    return Answer(GateState.FAILED, f"{text}; {remedy}")


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
    return Answer(GateState.FAILED, f"{text}: a new bowl against a worn one")


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


def _range(values: Values) -> str:
    return f"{values.mean():.3g} ({values.min():.3g} to {values.max():.3g})"

"""Was it a fair comparison? Each gate is met, failed, waived or not recorded; only a failed one closes the trial.

Likeness is shown by an interval inside an agreed tolerance, never by the absence of a proven difference. What was
not recorded is said and does not fail. Not here: the questions one by one (gate_checks), what follows (verdict).
"""

from dataclasses import dataclass

from profiler.statistics.inference.comparison import Comparison
from profiler.statistics.inference.trends import Trend
from profiler.statistics.trial.adjustment import Adjustment
from profiler.statistics.trial.layout import Layout
from profiler.statistics.trial.runs import TrialPlan, TrialRun
from profiler.words import GateCode, GateState


@dataclass(frozen=True)
class Gate:
    """`code` names the gate for waivers; `text` gives the numbers; `reason` is that of the waiver."""

    code: GateCode
    label: str
    state: GateState
    text: str
    reason: str = ""


@dataclass(frozen=True, kw_only=True)
class Evidence:
    """What the gates look at: all runs (excluded ones too), the plan, and what has been worked out so far."""

    runs: tuple[TrialRun, ...]
    plan: TrialPlan
    layout: Layout
    comparison: Comparison
    adjustment: Adjustment
    trend: Trend | None


@dataclass(frozen=True)
class Answer:
    """A gate's finding. `waivable` is false where no reason can make the comparison fair."""

    state: GateState
    text: str
    waivable: bool = True


def with_waiver(code: GateCode, label: str, answer: Answer, plan: TrialPlan) -> Gate:
    """The gate, waived where the plan says so and it did not pass by itself. ValueError for a waiver without reason."""
    waiver = next((waiver for waiver in plan.waivers if waiver.gate == code), None)
    if waiver is not None and not waiver.reason.strip():
        raise ValueError(f"The gate “{code}” cannot be waived without a reason.")
    open_gate = answer.state in (GateState.FAILED, GateState.NOT_RECORDED)
    if waiver is not None and open_gate and answer.waivable:
        return Gate(code, label, GateState.WAIVED, answer.text, waiver.reason)
    return Gate(code, label, answer.state, answer.text)

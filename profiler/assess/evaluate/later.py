"""Findings made 80 ms after the last input: kept from before until they are known anew."""

from dataclasses import replace

from profiler.assess.evaluate.evaluation import Evaluation
from profiler.assess.findings.finding import Finding, in_order
from profiler.assess.findings.kinds import When


def with_older(quick: Evaluation, whole: Evaluation | None) -> Evaluation:
    """The quick evaluation with what the last whole one of this design and duty found at leisure.

    An edit that would mend an older finding belongs to an older design, so it is not offered meanwhile.
    """
    if whole is None or quick.shape is None:
        return quick
    if (whole.design.name, whole.duty.name) != (quick.design.name, quick.duty.name):
        return quick
    older = [_without_remedy(f) for f in whole.findings if f.kind.when is When.AFTERWARDS]
    return replace(quick, findings=in_order((*quick.findings, *older))) if older else quick


def _without_remedy(finding: Finding) -> Finding:
    return finding if finding.remedy is None else replace(finding, remedy=None)

"""Findings of the stages that follow when the hand rests: kept from before until they are known anew."""

from dataclasses import replace

from profiler.assess.evaluate.evaluation import Evaluation
from profiler.assess.findings.finding import Finding, in_order

LATER = frozenset({
    "bowl_backed", "bowl_factor", "bowl_folds", "bowl_leans", "bowl_material_unknown", "bowl_overspeed", "drive_feed",
    "drive_spin_up", "drive_unknown", "flange_hold_unknown", "flange_thrust", "full_early", "groove_wide",
    "keeps_at_rest", "off_backflow", "outline_crosses", "shell_factor", "shell_overspeed", "shell_unknown",
    "spin_energy", "strength_unknown", "supply_unknown", "target_doubtful", "target_flushed", "target_not_kept",
    "unbalance_bed", "undercut", "water_high", "water_low",
})  # fmt: skip


def with_older(quick: Evaluation, whole: Evaluation | None) -> Evaluation:
    """The quick evaluation with what the last whole one of this design and duty found at leisure.

    An edit that would mend an older finding belongs to an older design, so it is not offered meanwhile.
    """
    if whole is None or quick.shape is None:
        return quick
    if (whole.design.name, whole.duty.name) != (quick.design.name, quick.duty.name):
        return quick
    older = [_without_remedy(f) for f in whole.findings if f.code in LATER]
    return replace(quick, findings=in_order((*quick.findings, *older))) if older else quick


def _without_remedy(finding: Finding) -> Finding:
    return finding if finding.remedy is None else replace(finding, remedy=None)

"""Where a study meets geometry and physics: stages, evaluate(), findings, quantities."""

from profiler.assess.evaluate.evaluation import Evaluation, StageCache, Stages, evaluate
from profiler.assess.findings.finding import Finding, Remedy
from profiler.assess.findings.kinds import Severity

__all__ = ["Evaluation", "Finding", "Remedy", "Severity", "StageCache", "Stages", "evaluate"]

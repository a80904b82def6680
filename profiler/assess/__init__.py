"""Where a study meets geometry and physics: stages, evaluate(), findings, quantities."""

from .evaluation import Evaluation, StageCache, Stages, evaluate
from .findings import Finding, Remedy, Severity

__all__ = ["Evaluation", "Finding", "Remedy", "Severity", "StageCache", "Stages", "evaluate"]

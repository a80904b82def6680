"""The ghost: another design, or an earlier state of this one, drawn faintly in all strips under the shown duty."""

from profiler.assess import Evaluation, Stages, evaluate
from profiler.study import Design, Duty, Machine


class Ghost:
    """Keeps a design as it was when it was chosen, and its evaluation until machine or duty change."""

    def __init__(self) -> None:
        self.design: Design | None = None
        self._kept: Evaluation | None = None

    def of(self, machine: Machine, duty: Duty) -> Evaluation | None:
        if self.design is None:
            return None
        kept = self._kept
        if kept is None or kept.design is not self.design or kept.machine is not machine or kept.duty is not duty:
            kept = self._kept = evaluate(self.design, machine, duty, Stages.FLOW)
        return kept

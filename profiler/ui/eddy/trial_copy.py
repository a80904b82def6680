"""The what-if copy of the page Eddy: another wall, another way of running, and nothing of the study touched."""

from dataclasses import dataclass, replace

from profiler.assess import Evaluation, StageCache, evaluate
from profiler.explore.eddy_what_if import WANTED, angle_at, turned
from profiler.study import Design, Duty, NumberField, Study


@dataclass(frozen=True, slots=True)
class TrialCopy:
    """`design` and `duty` are None where they are the study's own."""

    study: Study
    design: Design | None = None
    duty: Duty | None = None

    @property
    def tried_design(self) -> Design:
        return self.design or self.study.design

    @property
    def tried_duty(self) -> Duty:
        return self.duty or self.study.duty

    def on(self, study: Study) -> "TrialCopy":
        """The same trial on the study as it now is; what was changed there itself is no longer on trial."""
        if study is self.study:
            return self
        same_wall = study.design is self.study.design
        same_duty = study.duty is self.study.duty
        return TrialCopy(study, self.design if same_wall else None, self.duty if same_duty else None)

    def turned(self, groove: int, angle_deg: float) -> "TrialCopy":
        """The wall at a groove turned; always from the study's own wall, so that back is where it was. ValueError."""
        own = self.study.design
        if abs(angle_deg - angle_at(own, groove)) < 0.5e-2:
            return replace(self, design=None)
        return replace(self, design=turned(own, groove, angle_deg))

    def running(self, field: NumberField, value: float) -> "TrialCopy":
        there = field.set(self.tried_duty, value)  # type: ignore[arg-type]  # a float, or None where that is a value
        return replace(self, duty=None if there == self.study.duty else there)

    def evaluated(self, cache: StageCache) -> Evaluation:
        return evaluate(self.tried_design, self.study.machine, self.tried_duty, WANTED, cache)

"""The groove states predicted for the designs that ran, at the settings they ran at: prediction beside outcome.

The prediction is of the slurry over the wall, not of a recovery; nothing here turns the one into the other.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from msgspec.structs import replace

from profiler.assess.evaluate.evaluation import Evaluation, Stages, evaluate
from profiler.assess.quantities.table import STATE_KEYS, STATE_WORDS, quantity
from profiler.physics.slurry.overturn import State
from profiler.study import Duty, Study
from profiler.study.records.trial import Run

_AS_RUN = {
    "speed_rpm": "speed_rpm",
    "water_l_min": "water_l_min",
    "feed_t_h": "dry_feed_t_h",
    "solids_pct": "solids_pct",
}


@dataclass(frozen=True, slots=True)
class Prediction:
    """One design at the mean settings of its runs; what was not recorded is taken from the duty.

    `evaluation` is None where the study holds no design of that name.
    """

    design: str
    evaluation: Evaluation | None
    recorded: tuple[str, ...]

    @property
    def states(self) -> tuple[tuple[str, int], ...]:
        """Grooves in each state, strong first; empty where the slurry could not be worked out."""
        e = self.evaluation
        if e is None or e.flow is None:
            return ()
        keys = [(STATE_WORDS[state], f"count_{STATE_KEYS[state]}") for state in sorted(State, reverse=True)]
        return tuple((words, int(quantity(key).get(e)[0])) for words, key in keys)

    @property
    def text(self) -> str:
        """States and water in one line."""
        e = self.evaluation
        if e is None:
            return f"{self.design}: no design of this name in the study, so nothing is predicted."
        d = e.duty
        at = f"{d.speed_rpm:.0f} rpm, {d.dry_feed_t_h:g} t/h, {d.solids_pct:g} % solids, {d.water_l_min:.1f} L/min"
        source = "as run" if len(self.recorded) == len(_AS_RUN) else f"not all recorded: duty “{d.name}” for the rest"
        if not self.states:
            return f"{self.design} at {at} ({source}): the slurry cannot be worked out."
        counts = ", ".join(f"{count} {words}" for words, count in self.states)
        return f"{self.design} at {at} ({source}): grooves {counts}."


def predictions(study: Study, runs: Sequence[Run], designs: Sequence[str]) -> tuple[Prediction, ...]:
    """A prediction for each design named, excluded runs left out of the mean settings."""
    return tuple(_prediction(study, [r for r in runs if r.design == name and not r.excluded], name) for name in designs)


def _prediction(study: Study, runs: Sequence[Run], name: str) -> Prediction:
    design = next((d for d in study.designs if d.name == name), None)
    if design is None:
        return Prediction(name, None, ())
    duty, recorded = _as_run(study.duty, runs)
    return Prediction(name, evaluate(design, study.machine, duty, Stages.FLOW), recorded)


def _as_run(duty: Duty, runs: Sequence[Run]) -> tuple[Duty, tuple[str, ...]]:
    means: dict[str, float] = {}
    for of_run, of_duty in _AS_RUN.items():
        known = [value for run in runs if (value := getattr(run, of_run)) is not None]
        if known:
            means[of_duty] = sum(known) / len(known)
    return replace(duty, **means), tuple(means)

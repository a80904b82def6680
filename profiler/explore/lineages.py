"""The lineage of each design as it is told: made from which, what changed since, why, what its trials said.

What changed is worked out against the origin as it stands now, number by number, and says so; an origin that was
deleted, or none, leaves nothing to compare with. A trial speaks of the designs its runs name.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from profiler.assess.trials.verdicts import TrialEvaluation, evaluate_trial
from profiler.explore.what_changed import Change, of_records
from profiler.numbers import as_printed, counted
from profiler.study import Design, Study, Way

PASSED = ("name", "note", "lineage")
NO_WHY = "not stated"
NO_TRIAL = "no trial names it"
LISTED = 4  # changes in a cell; report and JSON have all
HEADS = ("Design", "Made from", "What changed", "Why", "Its trial")


@dataclass(frozen=True, slots=True)
class Told:
    """A design's lineage in words; `changes` is None where there is no origin to compare with."""

    design: str
    way: Way
    origin: str
    made: str
    changes: tuple[Change, ...] | None
    why: str
    trials: tuple[str, ...]

    @property
    def changed(self) -> str:
        """How many things differ, in a sentence that says against what."""
        if self.changes is None:
            return "Nothing to compare with."
        if not self.changes:
            return f"Nothing differs from “{self.origin}” as it stands now."
        return f"{counted(len(self.changes), 'thing')} differ{'s' if len(self.changes) == 1 else ''} from " + (
            f"“{self.origin}” as it stands now."
        )

    @property
    def cells(self) -> tuple[str, ...]:
        """Under `HEADS`: the first changes by name, the count of the others."""
        told = [self.changed, *(f"{c.what}: {c.before} → {c.now}" for c in (self.changes or ())[:LISTED])]
        rest = len(self.changes or ()) - LISTED
        changed = "\n".join([*told, *([f"and {counted(rest, 'more', 'more')}"] if rest > 0 else [])])
        return (self.design, self.made, changed, self.why or NO_WHY, " ".join(self.trials) or NO_TRIAL)

    @property
    def sentence(self) -> str:
        """All of it in one line."""
        why = f"Why: {self.why.rstrip('.')}." if self.why else "The reason is not stated."
        trials = " ".join(self.trials) or f"{NO_TRIAL[0].upper()}{NO_TRIAL[1:]}."
        return as_printed(f"{self.made} {self.changed} {why} {trials}")


def lineages(study: Study, trials: Sequence[TrialEvaluation] | None = None) -> tuple[Told, ...]:
    """Of every design; trials that were judged already need not be judged again."""
    judged = [evaluate_trial(t, study) for t in study.trials] if trials is None else trials
    return tuple(lineage_of(d, study, judged) for d in study.designs)


def lineage_of(design: Design, study: Study, judged: Sequence[TrialEvaluation]) -> Told:
    """Of a design of the study."""
    lineage = design.lineage
    origin = None
    if lineage.origin not in lineage.gone:
        origin = next((d for d in study.designs if d.name == lineage.origin), None)
    changes = None if origin is None else tuple(of_records("", origin, design, PASSED))
    words = tuple(_word(found) for found in judged if any(r.design == design.name for r in found.trial.runs))
    return Told(design.name, lineage.way, lineage.origin, lineage.words, changes, lineage.why, words)


def _word(found: TrialEvaluation) -> str:
    """A trial's verdict with its interval, or why it has none."""
    said = f"no verdict: {found.trouble}" if found.judgement is None else found.judgement.verdict.text
    return as_printed(f"Trial “{found.trial.name}”: {said.rstrip('.')}.")

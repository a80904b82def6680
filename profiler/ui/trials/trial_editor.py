"""The trial in view and what can be done to it: every change is proposed to the document as one edit.

A refusal is said and changes nothing. Not here: which widgets ask for it (trials), reading tables (trial_import).
"""

from collections.abc import Callable, Sequence
from datetime import date

from profiler.numbers import counted
from profiler.study.edits import trial_edits
from profiler.study.ledger.reading import Preview, basis_of, structure_of
from profiler.study.records.trial import Trial
from profiler.ui.document.document import Document

Change = Callable[[Trial], Trial]


class TrialEditor:
    def __init__(self, document: Document) -> None:
        self._document = document
        self._index = 0

    @property
    def place(self) -> int:
        """Of the trial in view among the study's; -1 where there is none."""
        return min(self._index, len(self._document.study.trials) - 1)

    @property
    def trial(self) -> Trial | None:
        """The trial in view."""
        return self._document.study.trials[self.place] if self.place >= 0 else None

    def turn_to(self, index: int) -> None:
        self._index = index

    def edit(self, change: Change, name: str) -> bool:
        """Propose a changed trial; whether it was taken."""
        trial = self.trial
        if trial is None:
            self._document.say("There is no trial yet: make one with New, or import a table.")
            return False
        try:
            study = trial_edits.with_trial(self._document.study, self.place, change(trial))
        except ValueError as reason:
            self._document.say(str(reason))
            return False
        self._document.edit(study, name)
        return True

    def new(self) -> None:
        self._document.edit(trial_edits.add_trial(self._document.study, Trial("Trial")), "New trial")
        self._index = len(self._document.study.trials) - 1

    def rename(self, name: str) -> None:
        self.edit(lambda trial: trial_edits.renamed(trial, name), "Rename a trial")

    def delete(self) -> None:
        """Take the trial in view out of the study, as one step that can be undone."""
        trial, study = self.trial, self._document.study
        if trial is not None:
            self._document.edit(trial_edits.delete_trial(study, self.place), "Delete a trial")
            runs = counted(len(trial.runs), "run")
            self._document.say(f"“{trial.name}” is deleted with {runs}; Undo brings it back.")

    def freeze_plan(self) -> None:
        self.edit(lambda trial: trial_edits.freeze_plan(trial, date.today()), "Freeze the plan")

    def add_run(self) -> None:
        if self.trial is None:
            self.new()
        self.edit(lambda trial: trial_edits.add_run(trial, "" if trial.runs else self.designs()[0]), "Add a run")

    def delete_runs(self, rows: Sequence[int]) -> None:
        if rows:
            self.edit(lambda trial: trial_edits.delete_runs(trial, rows), "Delete runs")

    def exclude(self, rows: Sequence[int], reason: str) -> bool:
        return self.edit(lambda trial: trial_edits.exclude(trial, rows, reason), "Leave runs out")

    def take_back(self, rows: Sequence[int]) -> None:
        self.edit(lambda trial: trial_edits.take_back(trial, rows), "Take runs back")

    def add_read(self, seen: Preview, joins: bool = True) -> bool:
        """Runs read from a table, as one edit, into the trial in view or a new one, with the answers they needed.

        A trial without runs takes layout and basis from the table's columns.
        """
        count = len(seen.runs)
        study, trial = self._document.study, self.trial if joins else None
        fresh = Trial("Imported trial") if trial is None else trial
        try:
            filled = trial_edits.add_runs(fresh, seen.runs)
        except ValueError as reason:
            self._document.say(str(reason))
            return False
        if not fresh.runs:
            filled = trial_edits.set_plan(filled, "structure", structure_of(seen.runs))
            filled = trial_edits.set_plan(filled, "basis", basis_of(seen.runs))
        filled = filled.having("reading", seen.reading.for_next())
        new = trial is None
        edited = trial_edits.add_trial(study, filled) if new else trial_edits.with_trial(study, self.place, filled)
        self._document.edit(edited, f"Import {counted(count, 'run')}")
        if new:
            self._index = len(edited.trials) - 1
        return True

    def designs(self) -> tuple[str, str]:
        """Reference and new design: of the ledger, else the study's first two."""
        trial, study = self.trial, self._document.study
        ran = () if trial is None else tuple(dict.fromkeys(run.design for run in trial.runs))
        names = tuple(dict.fromkeys((*ran, *(design.name for design in study.designs), "A", "B")))
        reference = (trial.plan.reference if trial is not None else "") or names[0]
        return reference, next(name for name in names if name != reference)

"""The trials page: ledger, pictures, verdict; from a run to its design and what was predicted for it.

Shows the trial in view and what came of it. Not here: what can be done to a trial (trial_editor), tables on their
way in (trial_import), files on their way out (trial_files), where things stand (trials_layout).
"""

from collections.abc import Sequence
from html import escape

from PySide6.QtWidgets import QApplication, QWidget

from profiler.assess import Evaluation
from profiler.assess.trials.verdicts import TrialEvaluation, evaluate_trial
from profiler.numbers import with_minus
from profiler.study.edits import trial_edits
from profiler.study.records.trial import Trial
from profiler.ui.document.document import Document
from profiler.ui.pages.page import Page
from profiler.ui.trials.trial_editor import TrialEditor
from profiler.ui.trials.trial_files import TrialFiles
from profiler.ui.trials.trial_import import TrialImport
from profiler.ui.trials.trials_layout import TrialsLayout
from profiler.ui.widgets.theme import Theme
from profiler.ui.work.jobs import Jobs

KEY = "trial"


class TrialsPage(Page):
    """Works a trial out when it comes into view or changes while it is seen."""

    def __init__(self, document: Document, jobs: Jobs, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        self.jobs = jobs
        self.found: TrialEvaluation | None = None
        self._asked: tuple[object, ...] = ()
        self.parts = TrialsLayout()
        self.editor = TrialEditor(document)
        self.files = TrialFiles(self, document)
        self.importing = TrialImport(self.parts.stack, self.editor, jobs, document.say, self._back_to_ledger)
        self.parts.fill(
            self,
            self.importing.panel,
            {"New": self._new, "Add a run": self.editor.add_run, "Import…": self.importing.from_file,
             "Export…": self._save},
            {"Leave out": self._exclude, "Take back": lambda: self.editor.take_back(self.parts.ledger.rows),
             "Delete runs": lambda: self.editor.delete_runs(self.parts.ledger.rows)},
        )  # fmt: skip
        self._wire()

    @property
    def trial(self) -> Trial | None:
        """The trial in view."""
        return self.editor.trial

    def key_parts(self) -> Sequence[QWidget]:
        return (self.parts.names, self.parts.stack, self.parts.tabs)

    def show_theme(self, theme: Theme) -> None:
        super().show_theme(theme)
        self.parts.model.theme = self.importing.theme = theme
        self._draw()

    def _wire(self) -> None:
        parts, editor, edit = self.parts, self.editor, self.editor.edit
        parts.names.activated.connect(self._turn_to)
        parts.stack.currentChanged.connect(lambda _: parts.pictures.setVisible(self._has_pictures()))
        parts.menu.rename_wanted.connect(editor.rename)
        parts.menu.delete_wanted.connect(editor.delete)
        parts.start.wanted.connect(self._begin)
        parts.reason.returnPressed.connect(self._exclude)
        parts.model.proposed.connect(lambda cells, name: edit(lambda trial: trial_edits.set_cells(trial, cells), name))
        parts.ledger.cells_pasted.connect(
            lambda cells: edit(lambda trial: trial_edits.set_cells(trial, cells), "Paste cells")
        )
        parts.ledger.table_pasted.connect(self.importing.from_text)
        parts.ledger.chosen.connect(self._choose)
        for pane in (parts.verdict, parts.plan, parts.worth):
            pane.proposed.connect(edit)
        for form in (parts.plan, parts.worth, parts.planner):
            form.refused.connect(self.document.say)
        parts.plan.freeze_asked.connect(editor.freeze_plan)
        parts.planner.protocol_asked.connect(lambda pairs: self.files.protocol(self.trial, editor.designs(), pairs))
        parts.planner.blank_asked.connect(lambda pairs: self.files.blank(editor.designs(), pairs))
        parts.run.design_asked.connect(self._show_design)
        parts.pictures.row_chosen.connect(self._point)

    # what is asked for

    def _new(self) -> None:
        self.editor.new()
        self._refresh()

    def _begin(self, way: str) -> None:
        """One of the ways in that are offered while there is no trial."""
        if way == "paste":
            self.importing.from_text(QApplication.clipboard().text())
        elif way == "read":
            self.importing.from_file()
        else:
            self._new()
            self.parts.tabs.setCurrentWidget(self.parts.planner if way == "plan" else self.parts.plan)

    def _exclude(self) -> None:
        """Leave the chosen runs out, with the reason typed."""
        if self.editor.exclude(self.parts.ledger.rows, self.parts.reason.text()):
            self.parts.reason.clear()

    def _save(self) -> None:
        if self.trial is not None:
            self.files.ledger(self.trial)

    def _turn_to(self, index: int) -> None:
        self.editor.turn_to(index)
        self._back_to_ledger()
        self._refresh()

    def _point(self, row: int) -> None:
        """A click on a run in a picture chooses it in the ledger."""
        self.parts.ledger.choose_row(row)
        self.parts.tabs.setCurrentWidget(self.parts.run)

    def _show_design(self, name: str) -> None:
        if any(design.name == name for design in self.document.study.designs):
            self.document.show_design(name)
            self.document.say(f"{name} is shown on the Shape page.")
        else:
            self.document.say(f"The study holds no design “{name}”.")

    # what is shown

    def show_evaluation(self, e: Evaluation) -> None:
        self._refresh()

    def _refresh(self) -> None:
        """Show the trial at once, and ask for its verdict unless the very same was asked for already."""
        if not self.isVisible() or self.document.in_gesture:
            return
        study, trial = self.document.study, self.trial
        wanted = (trial, study.designs, study.machine, study.duty, study.reference)
        if len(wanted) == len(self._asked) and all(a is b for a, b in zip(wanted, self._asked, strict=True)):
            return
        self._asked = wanted
        same_runs = self.found is not None and trial is not None and self.found.trial.runs is trial.runs
        self.parts.model.show_trial(trial, self.found if same_runs else None)
        self._show_names()
        self._show_parts()
        if trial is None:
            self.jobs.cancel(KEY)
            self.found = None
            self.parts.heading.setText("No trial yet: begin one below.")
            self._draw()
            return
        self.parts.plan.show_trial(trial)
        self.parts.worth.show_trial(trial)
        self.jobs.ask(KEY, lambda progress: evaluate_trial(trial, study), self._take, failed=self.document.say)

    def _take(self, found: TrialEvaluation) -> None:
        if found.trial is not self.trial:
            return
        self.found = found
        self.parts.model.show_trial(found.trial, found)
        words = found.trouble if found.judgement is None else found.judgement.verdict.text
        self.parts.heading.setText(f"<b>{escape(with_minus(words[:1].upper() + words[1:]))}</b>")
        self.parts.verdict.show_found(found)
        self.parts.worth.show_found(found)
        self.parts.planner.show_found(found)
        self._choose()

    def _show_names(self) -> None:
        trials, names = self.document.study.trials, self.parts.names
        names.clear()
        names.addItems([trial.name for trial in trials])
        names.setCurrentIndex(self.editor.place)
        names.setEnabled(bool(trials))
        trial = self.trial
        left = 0 if trial is None else sum(run.excluded for run in trial.runs)
        self.parts.counted.setText("" if trial is None else f"{len(trial.runs)} runs, {left} left out")

    def _show_parts(self) -> None:
        """Without a trial: the ways to begin one, and of what stands beside the ledger only the planner."""
        there, parts = self.trial is not None, self.parts
        if not self.importing.under_way:
            parts.stack.setCurrentIndex(0 if there else parts.stack.indexOf(parts.start))
        parts.pictures.setVisible(self._has_pictures())
        parts.menu.setEnabled(there)
        for place in range(parts.tabs.count()):
            parts.tabs.setTabEnabled(place, there or parts.tabs.widget(place) is parts.planner)

    def _has_pictures(self) -> bool:
        """While a table is read its preview has their room."""
        return self.trial is not None and not self.importing.under_way

    def _draw(self) -> None:
        found = self.found
        faded = found is not None and found.trial is not self.trial
        self.parts.pictures.show_found(found, self._row(), self.theme, faded)

    def _row(self) -> int | None:
        rows = self.parts.ledger.rows
        return rows[0] if len(rows) == 1 else None

    def _choose(self) -> None:
        self.parts.run.show_run(self.found, self._row())
        self._draw()

    def _back_to_ledger(self) -> None:
        self.parts.stack.setCurrentIndex(0)
        self._show_parts()

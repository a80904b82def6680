"""The trials page: ledger, charts, verdict; from a run to its design and what the program said of it.

Every change is proposed to the document as one edit. An import is one undo step.
"""

from collections.abc import Callable
from datetime import date
from html import escape

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QApplication,
    QComboBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QSplitter,
    QStackedWidget,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from profiler.assess import Evaluation
from profiler.assess.trials.verdicts import TrialEvaluation, evaluate_trial
from profiler.numbers import with_minus
from profiler.study import BowlFileError
from profiler.study.edits import trial_edits
from profiler.study.files.disk import read_whole
from profiler.study.ledger.reading import (
    Preview,
    basis_of,
    is_size_table,
    read_table,
    size_classes,
    structure_of,
    text_of,
)
from profiler.study.records.trial import Trial
from profiler.ui.dialogs import dialogs
from profiler.ui.document.document import Document
from profiler.ui.pages.page import Page
from profiler.ui.trials.trial_files import TrialFiles
from profiler.ui.trials.trial_import_panel import ImportPanel
from profiler.ui.trials.trial_ledger import LedgerModel, LedgerView
from profiler.ui.trials.trial_menu import TrialMenu
from profiler.ui.trials.trial_pictures import TrialPictures
from profiler.ui.trials.trial_side import PlannerPane, PlanPane, RunPane, VerdictPane, WorthPane
from profiler.ui.trials.trial_start import TrialStart
from profiler.ui.widgets.theme import Theme
from profiler.ui.work.jobs import Jobs

KEY = "trial"
Change = Callable[[Trial], Trial]


class TrialsPage(Page):
    """Works a trial out when it comes into view or changes while it is seen."""

    def __init__(self, document: Document, jobs: Jobs, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        self.jobs = jobs
        self.found: TrialEvaluation | None = None
        self._index = 0
        self._asked: tuple[object, ...] = ()
        self.files = TrialFiles(self, document)
        self.names, self.counted = QComboBox(), QLabel()
        self.menu, self.start = TrialMenu(self.names), TrialStart()
        self.heading = QLabel()
        self.reason = QLineEdit()
        self.model = LedgerModel()
        self.ledger = LedgerView(self.model)
        self.panel = ImportPanel()
        self.stack, self.tabs = QStackedWidget(), QTabWidget()
        self.verdict, self.plan, self.worth = VerdictPane(), PlanPane(), WorthPane()
        self.planner, self.run = PlannerPane(), RunPane()
        self.pictures = TrialPictures()
        self._lay_out()
        self._wire()

    @property
    def trial(self) -> Trial | None:
        """The trial in view."""
        trials = self.document.study.trials
        return trials[min(self._index, len(trials) - 1)] if trials else None

    def show_theme(self, theme: Theme) -> None:
        super().show_theme(theme)
        self.model.theme = theme
        self._draw()

    # what can be done

    def edit(self, change: Change, name: str) -> bool:
        """Propose a changed trial; a refusal is said and changes nothing."""
        trial = self.trial
        if trial is None:
            self.document.say("There is no trial yet: make one with New, or import a table.")
            return False
        try:
            study = trial_edits.with_trial(self.document.study, self._place, change(trial))
        except ValueError as reason:
            self.document.say(str(reason))
            return False
        self.document.edit(study, name)
        return True

    def new_trial(self) -> None:
        self.document.edit(trial_edits.add_trial(self.document.study, Trial("Trial")), "New trial")
        self._index = len(self.document.study.trials) - 1
        self._refresh()

    def exclude(self) -> None:
        """Leave the chosen runs out, with the reason typed."""
        rows, reason = self.ledger.rows, self.reason.text()
        if self.edit(lambda trial: trial_edits.exclude(trial, rows, reason), "Leave runs out"):
            self.reason.clear()

    def take_back(self) -> None:
        rows = self.ledger.rows
        self.edit(lambda trial: trial_edits.take_back(trial, rows), "Take runs back")

    def import_file(self) -> None:
        path = dialogs.ask_table(self)
        if path is None:
            return
        try:
            self.import_text(text_of(read_whole(path)[0], path.name))
        except BowlFileError as reason:
            self.document.say(str(reason))

    def import_text(self, text: str) -> None:
        """Show what a table of runs would give; size classes are taken at once."""
        try:
            table = read_table(text)
            if is_size_table(table):
                sizes = size_classes(table)
                self.edit(lambda trial: trial_edits.with_sizes(trial, sizes), "Import size classes")
                return
        except ValueError as reason:
            self.document.say(str(reason))
            return
        taken = () if self.trial is None else tuple(run.run for run in self.trial.runs)
        self.panel.show_table(table, taken, self.theme)
        self.stack.setCurrentWidget(self.panel)

    def save_csv(self) -> None:
        if self.trial is not None:
            self.files.ledger(self.trial)

    def save_protocol(self, pairs: int) -> None:
        self.files.protocol(self.trial, self._designs(), pairs)

    def save_blank(self, pairs: int) -> None:
        self.files.blank(self._designs(), pairs)

    def rename(self, name: str) -> None:
        self.edit(lambda trial: trial_edits.renamed(trial, name), "Rename a trial")

    def delete_trial(self) -> None:
        """Take the trial in view out of the study, as one step that can be undone."""
        trial, study = self.trial, self.document.study
        if trial is not None:
            self.document.edit(trial_edits.delete_trial(study, self._place), "Delete a trial")
            count = len(trial.runs)
            self.document.say(
                f"“{trial.name}” is deleted with {count} run{'' if count == 1 else 's'}; Undo brings it back."
            )

    def begin(self, way: str) -> None:
        """One of the ways in that are offered while there is no trial."""
        if way == "paste":
            self.import_text(QApplication.clipboard().text())
        elif way == "read":
            self.import_file()
        else:
            self.new_trial()
            self.tabs.setCurrentWidget(self.planner if way == "plan" else self.plan)

    # how it is put together

    def _lay_out(self) -> None:
        bar = QHBoxLayout()
        bar.addWidget(QLabel("Trial"))
        self.names.setAccessibleName("Trial in view")
        self.names.setMinimumWidth(220)
        bar.addWidget(self.names)
        bar.addWidget(self.menu)
        for words, do in (
            ("New", self.new_trial), ("Add a run", self._add_run), ("Import…", self.import_file),
            ("Export…", self.save_csv),
        ):  # fmt: skip
            bar.addWidget(_button(words, do))
        bar.addStretch(1)
        self.counted.setObjectName("muted")
        bar.addWidget(self.pictures.along)
        bar.addWidget(self.counted)
        self.heading.setWordWrap(True)
        self.heading.setAccessibleName("Verdict with its interval")
        self.stack.addWidget(self._ledger_part())
        self.stack.addWidget(self.panel)
        self.stack.addWidget(self.start)
        panes = ((self.verdict, "Verdict"), (self.run, "Run"), (self.plan, "Plan"), (self.worth, "Errors, worth"))
        for pane, words in (*panes, (self.planner, "Planner")):
            self.tabs.addTab(pane, words)
        upper = QSplitter(Qt.Orientation.Horizontal)
        upper.addWidget(self.stack)
        upper.addWidget(self.tabs)
        upper.setStretchFactor(0, 3)
        upper.setStretchFactor(1, 2)
        upper.setSizes([760, 480])
        whole = QSplitter(Qt.Orientation.Vertical)
        whole.addWidget(upper)
        whole.addWidget(self.pictures)
        whole.setStretchFactor(0, 3)
        whole.setStretchFactor(1, 2)
        whole.setSizes([380, 240])
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 8, 10, 8)
        column.addLayout(bar)
        column.addWidget(self.heading)
        column.addWidget(whole, 1)

    def _ledger_part(self) -> QWidget:
        part = QWidget()
        self.reason.setPlaceholderText("reason for leaving the chosen runs out")
        self.reason.setAccessibleName("Reason for leaving runs out")
        self.reason.returnPressed.connect(self.exclude)
        row = QHBoxLayout()
        row.addWidget(self.reason, 1)
        for words, do in (
            ("Leave out", self.exclude), ("Take back", self.take_back), ("Delete runs", self._delete),
        ):  # fmt: skip
            row.addWidget(_button(words, do))
        column = QVBoxLayout(part)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.ledger, 1)
        column.addLayout(row)
        return part

    def _wire(self) -> None:
        self.names.activated.connect(self._turn_to)
        self.menu.rename_wanted.connect(self.rename)
        self.menu.delete_wanted.connect(self.delete_trial)
        self.start.wanted.connect(self.begin)
        self.model.proposed.connect(
            lambda cells, name: self.edit(lambda trial: trial_edits.set_cells(trial, cells), name)
        )
        self.ledger.cells_pasted.connect(
            lambda cells: self.edit(lambda trial: trial_edits.set_cells(trial, cells), "Paste cells")
        )
        self.ledger.table_pasted.connect(self.import_text)
        self.ledger.chosen.connect(self._choose)
        self.panel.accepted.connect(self._import)
        self.panel.given_up.connect(self._back_to_ledger)
        for pane in (self.verdict, self.plan, self.worth):
            pane.proposed.connect(self.edit)
        for form in (self.plan, self.worth, self.planner):
            form.refused.connect(self.document.say)
        self.plan.stamp_asked.connect(lambda: self.edit(lambda t: trial_edits.stamp(t, date.today()), "Stamp the plan"))
        self.planner.protocol_asked.connect(self.save_protocol)
        self.planner.blank_asked.connect(self.save_blank)
        self.run.design_asked.connect(self._show_design)
        self.pictures.row_chosen.connect(self._point)

    # what is shown

    @property
    def _place(self) -> int:
        return min(self._index, len(self.document.study.trials) - 1)

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
        self.model.show_trial(trial, self.found if same_runs else None)
        self._show_names()
        self._show_parts()
        if trial is None:
            self.jobs.cancel(KEY)
            self.found = None
            self.heading.setText("No trial yet: begin one below.")
            self._draw()
            return
        self.plan.show_trial(trial)
        self.worth.show_trial(trial)
        self.jobs.ask(KEY, lambda progress: evaluate_trial(trial, study), self._take, failed=self.document.say)

    def _take(self, found: TrialEvaluation) -> None:
        if found.trial is not self.trial:
            return
        self.found = found
        self.model.show_trial(found.trial, found)
        words = found.trouble if found.judgement is None else found.judgement.verdict.text
        self.heading.setText(f"<b>{escape(with_minus(words[:1].upper() + words[1:]))}</b>")
        self.verdict.show_found(found)
        self.worth.show_found(found)
        self._choose()

    def _show_names(self) -> None:
        trials = self.document.study.trials
        self.names.clear()
        self.names.addItems([trial.name for trial in trials])
        self.names.setCurrentIndex(self._place)
        self.names.setEnabled(bool(trials))
        trial = self.trial
        left = 0 if trial is None else sum(run.excluded for run in trial.runs)
        self.counted.setText("" if trial is None else f"{len(trial.runs)} runs, {left} left out")

    def _draw(self) -> None:
        found = self.found
        self.pictures.show_found(found, self._row(), self.theme, found is not None and found.trial is not self.trial)

    def _row(self) -> int | None:
        rows = self.ledger.rows
        return rows[0] if len(rows) == 1 else None

    def _choose(self) -> None:
        self.run.show_run(self.found, self._row())
        self._draw()

    def _point(self, row: int) -> None:
        """A click on a run in a picture chooses it in the ledger."""
        self.ledger.choose_row(row)
        self.tabs.setCurrentWidget(self.run)

    def _turn_to(self, index: int) -> None:
        self._index = index
        self._back_to_ledger()
        self._refresh()

    def _show_design(self, name: str) -> None:
        if any(design.name == name for design in self.document.study.designs):
            self.document.show_design(name)
            self.document.say(f"{name} is shown on the Shape page.")
        else:
            self.document.say(f"The study holds no design '{name}'.")

    # small steps

    def _add_run(self) -> None:
        if self.trial is None:
            self.new_trial()
        self.edit(lambda trial: trial_edits.add_run(trial, "" if trial.runs else self._designs()[0]), "Add a run")

    def _delete(self) -> None:
        rows = self.ledger.rows
        if rows:
            self.edit(lambda trial: trial_edits.delete_runs(trial, rows), "Delete runs")

    def _import(self, seen: Preview) -> None:
        """Add the runs as one edit; a trial without runs takes layout and basis from the table's columns."""
        count = len(seen.runs)
        name = f"Import {count} run{'' if count == 1 else 's'}"
        study, trial = self.document.study, self.trial
        fresh = Trial("Imported trial") if trial is None else trial
        try:
            filled = trial_edits.add_runs(fresh, seen.runs)
        except ValueError as reason:
            self.document.say(str(reason))
            return
        if not fresh.runs:
            filled = trial_edits.set_plan(filled, "structure", structure_of(seen.runs))
            filled = trial_edits.set_plan(filled, "basis", basis_of(seen.runs))
        new = trial is None
        edited = trial_edits.add_trial(study, filled) if new else trial_edits.with_trial(study, self._place, filled)
        self._back_to_ledger()
        self.document.edit(edited, name)

    def _back_to_ledger(self) -> None:
        self.stack.setCurrentIndex(0)
        self._show_parts()

    def _show_parts(self) -> None:
        """Without a trial: the ways to begin one, and of what stands beside the ledger only the planner."""
        there = self.trial is not None
        if self.stack.currentWidget() is not self.panel:
            self.stack.setCurrentIndex(0 if there else self.stack.indexOf(self.start))
        self.pictures.setVisible(there)
        self.menu.setEnabled(there)
        for place in range(self.tabs.count()):
            self.tabs.setTabEnabled(place, there or self.tabs.widget(place) is self.planner)

    def _designs(self) -> tuple[str, str]:
        """Reference and new design: of the ledger, else the study's first two."""
        trial, study = self.trial, self.document.study
        ran = () if trial is None else tuple(dict.fromkeys(run.design for run in trial.runs))
        names = tuple(dict.fromkeys((*ran, *(design.name for design in study.designs), "A", "B")))
        reference = (trial.plan.reference if trial is not None else "") or names[0]
        return reference, next(name for name in names if name != reference)


def _button(words: str, do: Callable[[], object]) -> QPushButton:
    button = QPushButton(words)
    button.setObjectName("plain")
    button.clicked.connect(lambda: do())
    return button

"""Errors of samples and assays, and what a gain is worth: forms, and what comes of them."""

from collections.abc import Sequence

import msgspec
from msgspec.structs import replace
from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QGridLayout, QLineEdit, QScrollArea

from profiler.assess.trials.verdicts import TrialEvaluation
from profiler.output.trials.trial_blocks import worth_pane_blocks
from profiler.study.edits import trial_edits
from profiler.study.records.trial import Sampling, Trial, WorthInputs
from profiler.ui.forms.record_form import RecordForm
from profiler.ui.trials.pane_parts import add_row, form_of, grid_in, show_blocks, text_page


class WorthPane(QScrollArea):
    proposed = Signal(object, str)
    refused = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        grid = grid_in(self)
        self.text = text_page("Error budget and worth")
        self.text.setMinimumHeight(250)
        grid.addWidget(self.text, 0, 0, 1, 2)
        self.gold = QLineEdit()
        self.gold.setAccessibleName("Gold grain sizes, µm")
        self.gold.setPlaceholderText("µm, or sizes with shares: 75: 60; 150: 40")
        self.gold.editingFinished.connect(self._take_gold)
        add_row(grid, "Gold grains, µm", self.gold)
        self.marks: dict[str, QCheckBox] = {}
        for name, words in {
            "whole_concentrate": "The whole concentrate is assayed",
            "field_duplicates": "Duplicates are of the whole stream",
        }.items():
            mark = self.marks[name] = QCheckBox(words)
            mark.clicked.connect(lambda on, name=name: self._propose("sampling", name, bool(on)))
            grid.addWidget(mark, grid.rowCount(), 0, 1, 2)
        self.sampling = self._form(grid, "sampling", Sampling, ("mass_rsd_pct",))
        self.worth = self._form(grid, "worth", WorthInputs, ("other_cost_a_year",))
        grid.setRowStretch(grid.rowCount(), 1)

    def show_trial(self, trial: Trial) -> None:
        self.sampling.show_record(trial.sampling)
        self.worth.show_record(trial.worth)
        if not (self.gold.hasFocus() and self.gold.isModified()):
            self.gold.setText(trial_edits.gold_text(trial.sampling.gold))
        for name, mark in self.marks.items():
            mark.setChecked(getattr(trial.sampling, name))

    def show_found(self, found: TrialEvaluation) -> None:
        show_blocks(self.text, worth_pane_blocks(found))

    def _form(self, grid: QGridLayout, part: str, kind: type[msgspec.Struct], needed: Sequence[str]) -> RecordForm:
        optional = [name for name in kind.__struct_fields__ if name not in needed]
        form = form_of(kind, optional)
        form.proposed.connect(lambda name, value: self._propose(part, name, value))
        form.refused.connect(self.refused)
        grid.addWidget(form, grid.rowCount(), 0, 1, 2)
        return form

    def _take_gold(self) -> None:
        if not self.gold.isModified():
            return
        try:
            gold = trial_edits.gold_of(self.gold.text())
        except ValueError as reason:
            self.refused.emit(str(reason))
            return
        self.gold.setModified(False)
        self._propose("sampling", "gold", gold)

    def _propose(self, part: str, name: str, value: object) -> None:
        def change(trial: Trial) -> Trial:
            return replace(trial, **{part: replace(getattr(trial, part), **{name: value})})

        self.proposed.emit(change, "Change errors or worth")

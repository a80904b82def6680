"""Errors of samples and assays, and what a gain is worth: forms, and what comes of them."""

from typing import TypeVar

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QGridLayout, QLineEdit, QScrollArea

from profiler.assess.trials.verdicts import TrialEvaluation
from profiler.output.trials.trial_blocks import worth_pane_blocks
from profiler.study import Field, Record, fields_of
from profiler.study.edits import trial_edits
from profiler.study.records.trial import (
    FIELD_DUPLICATES,
    GOLD_GRAINS,
    WHOLE_CONCENTRATE,
    SamplingInputs,
    Trial,
    WorthInputs,
)
from profiler.ui.forms.record_form import RecordForm
from profiler.ui.trials.pane_parts import add_row, form_of, grid_in, setting, show_blocks, text_page

T = TypeVar("T")


class WorthPane(QScrollArea):
    proposed = Signal(object, str)
    refused = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        grid = grid_in(self, "Errors and value")
        self.text = text_page("Error budget and worth")
        self.text.setMinimumHeight(250)
        grid.addWidget(self.text, 0, 0, 1, 2)
        self.gold = QLineEdit()
        self.gold.setAccessibleName("Gold grain sizes, µm")
        self.gold.setPlaceholderText("µm, or sizes with shares: 75: 60; 150: 40")
        self.gold.editingFinished.connect(self._take_gold)
        add_row(grid, "Gold grains, µm", self.gold)
        self.marks: dict[Field[bool], QCheckBox] = {}
        for field in (WHOLE_CONCENTRATE, FIELD_DUPLICATES):
            mark = self.marks[field] = QCheckBox(field.label)
            mark.setToolTip(field.help)
            mark.clicked.connect(lambda on, field=field: self._set(field, on))
            grid.addWidget(mark, grid.rowCount(), 0, 1, 2)
        self.sampling = self._form(grid, SamplingInputs)
        self.worth = self._form(grid, WorthInputs)
        grid.setRowStretch(grid.rowCount(), 1)

    def show_trial(self, trial: Trial) -> None:
        self.sampling.show_record(trial.sampling)
        self.worth.show_record(trial.worth)
        if not (self.gold.hasFocus() and self.gold.isModified()):
            self.gold.setText(trial_edits.gold_text(trial.sampling.gold))
        for field, mark in self.marks.items():
            mark.setChecked(field.get(trial))

    def show_found(self, found: TrialEvaluation) -> None:
        show_blocks(self.text, worth_pane_blocks(found))

    def _form(self, grid: QGridLayout, kind: type[Record]) -> RecordForm:
        form = form_of(fields_of(kind).values())
        form.proposed.connect(self._set)
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
        self._set(GOLD_GRAINS, gold)

    def _set(self, field: Field[T], value: T) -> None:
        self.proposed.emit(*setting(field, value))

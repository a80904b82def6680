"""What is settled before a trial, and the day on which it was frozen."""

from typing import TypeVar

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QComboBox, QGridLayout, QHBoxLayout, QLineEdit, QScrollArea

from profiler.study.edits import trial_edits
from profiler.study.records.fields import Field, fields_of, members_of
from profiler.study.records.trial import FROZEN_ON, IN_CIRCUIT, PLAN_REFERENCE, Plan, Trial
from profiler.ui.trials.pane_parts import add_row, form_of, grid_in, plain_button, setting
from profiler.ui.widgets.choice_box import ChoiceBox
from profiler.ui.widgets.column_choice import ColumnChoice
from profiler.ui.widgets.labels import plain_label

T = TypeVar("T")

PLAN = members_of(Plan)
CHOICES = tuple(field for field in PLAN.values() if field.options)
TEXTS = tuple(field for field in PLAN.values() if field.kind is str and field not in (PLAN_REFERENCE, FROZEN_ON))


class PlanPane(QScrollArea):
    proposed = Signal(object, str)
    refused = Signal(str)
    freeze_asked = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.combos: dict[Field[object], QComboBox] = {}
        self.texts: dict[Field[object], QLineEdit] = {}
        grid = grid_in(self, "Plan")
        self.reference = self._combo(grid, PLAN_REFERENCE)
        self.reference.activated.connect(lambda _: self._set(PLAN_REFERENCE, str(self.reference.currentData())))
        for field in CHOICES:
            self.combos[field] = self._options(grid, field)
        for field in TEXTS:
            self.texts[field] = self._text(grid, field)
        self.adjusted = ColumnChoice("Adjusted for, beside the feed grade")
        self.adjusted.changed.connect(self._adjust)
        add_row(grid, "Adjusted also for", self.adjusted)
        self.in_circuit = QCheckBox(IN_CIRCUIT.label)
        self.in_circuit.clicked.connect(lambda on: self._set(IN_CIRCUIT, on))
        grid.addWidget(self.in_circuit, grid.rowCount(), 0, 1, 2)
        self.form = form_of(fields_of(Plan).values())
        self.form.proposed.connect(self._set)
        self.form.refused.connect(self.refused)
        grid.addWidget(self.form, grid.rowCount(), 0, 1, 2)
        self.frozen = plain_label()
        self.frozen.setWordWrap(True)
        row = QHBoxLayout()
        row.addWidget(self.frozen, 1)
        self.freeze = plain_button("Freeze the plan today", self.freeze_asked.emit)
        self.freeze.setToolTip("Fixes measure, size cut, exclusion rule and worthwhile gain together, with the date")
        row.addWidget(self.freeze)
        grid.addLayout(row, grid.rowCount(), 0, 1, 2)
        grid.setRowStretch(grid.rowCount(), 1)

    def show_trial(self, trial: Trial) -> None:
        plan = trial.plan
        designs = tuple(dict.fromkeys(run.design for run in trial.runs if run.design))
        self.reference.clear()
        self.reference.addItem("as the study marks it, else the first by name", "")
        for name in dict.fromkeys((*designs, *([plan.reference] if plan.reference else []))):
            self.reference.addItem(name, name)
        self.reference.setCurrentIndex(max(self.reference.findData(plan.reference), 0))
        for field, combo in self.combos.items():
            combo.setCurrentIndex(field.options.index(field.get(plan)))
        for field, box in self.texts.items():
            if not (box.hasFocus() and box.isModified()):
                box.setText(str(field.get(plan)))
        self.adjusted.show_chosen(plan.adjust_also)
        self.in_circuit.setChecked(plan.in_circuit)
        self.form.show_record(plan)
        what = "measure, size cut, exclusions and worthwhile gain"
        frozen = (
            f"Plan frozen {plan.stamped}: {what}." if plan.stamped else f"Plan not frozen: {what} may still change."
        )
        self.frozen.setText(frozen)

    def _adjust(self, key: str, on: bool) -> None:
        self.proposed.emit(lambda trial: trial_edits.adjust_also(trial, key, on), "Change what is adjusted for")

    def _set(self, field: Field[T], value: T) -> None:
        self.proposed.emit(*setting(field, value))

    def _combo(self, grid: QGridLayout, field: Field[T]) -> QComboBox:
        combo = ChoiceBox()
        combo.setAccessibleName(field.label)
        combo.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        add_row(grid, field.label, combo)
        return combo

    def _options(self, grid: QGridLayout, field: Field[object]) -> QComboBox:
        combo = self._combo(grid, field)
        combo.addItems([str(option) for option in field.options])
        combo.activated.connect(lambda index: self._set(field, field.options[index]))
        return combo

    def _text(self, grid: QGridLayout, field: Field[object]) -> QLineEdit:
        box = QLineEdit()
        box.setAccessibleName(field.label)
        box.editingFinished.connect(lambda: self._set(field, box.text().strip()) if box.isModified() else None)
        add_row(grid, field.label, box)
        return box

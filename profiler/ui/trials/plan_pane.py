"""What is settled before a trial, and the day on which it was frozen."""

from collections.abc import Sequence
from enum import StrEnum

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QComboBox, QGridLayout, QHBoxLayout, QLabel, QLineEdit, QScrollArea

from profiler.study.edits import trial_edits
from profiler.study.records.trial import Plan, Trial
from profiler.ui.trials.pane_parts import add_row, form_of, grid_in, plain_button
from profiler.ui.widgets.column_choice import ColumnChoice
from profiler.words import Basis, FeedGrade, Ordering, Structure

OWN_WORDS = {"worthwhile_source": "Gain comes from", "size_cut": "Size cut", "exclusion_rule": "Runs are left out if"}


class PlanPane(QScrollArea):
    proposed = Signal(object, str)
    refused = Signal(str)
    freeze_asked = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.combos: dict[str, QComboBox] = {}
        self.texts: dict[str, QLineEdit] = {}
        grid = grid_in(self)
        kinds: dict[str, tuple[str, type[StrEnum]]] = {
            "structure": ("Layout", Structure),
            "basis": ("Recovery by", Basis),
            "ordering": ("Order", Ordering),
            "feed_grade": ("Feed grade from", FeedGrade),
        }
        self.reference = self._combo(grid, "reference", "Reference", ())
        for name, (label, kind) in kinds.items():
            self._combo(grid, name, label, tuple(kind))
        for name, label in {**OWN_WORDS, "downstream_name": "Stream downstream"}.items():
            self._text(grid, name, label)
        self.adjusted = ColumnChoice("Adjusted for, beside the feed grade")
        self.adjusted.changed.connect(self._adjust)
        add_row(grid, "Adjusted also for", self.adjusted)
        self.in_circuit = QCheckBox("Inside a circuit: its own tail comes back")
        self.in_circuit.clicked.connect(lambda on: self._propose("in_circuit", bool(on)))
        grid.addWidget(self.in_circuit, grid.rowCount(), 0, 1, 2)
        self.form = form_of(Plan, ("worthwhile_points", "planned_units", "load_residence_h"))
        self.form.proposed.connect(self._number)
        self.form.refused.connect(self.refused)
        grid.addWidget(self.form, grid.rowCount(), 0, 1, 2)
        self.frozen = QLabel()
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
        for name, combo in self.combos.items():
            combo.setCurrentIndex(max(combo.findData(str(getattr(plan, name))), 0))
        for name, box in self.texts.items():
            if not (box.hasFocus() and box.isModified()):
                box.setText(getattr(plan, name))
        self.adjusted.show_chosen(plan.adjust_also)
        self.in_circuit.setChecked(plan.in_circuit)
        self.form.show_record(plan)
        what = "measure, size cut, exclusions and worthwhile gain"
        frozen = (
            f"Plan frozen {plan.stamped}: {what}." if plan.stamped else f"Plan not frozen: {what} may still change."
        )
        self.frozen.setText(frozen)

    def _number(self, name: str, value: object) -> None:
        self._propose(name, int(value) if name == "planned_units" and isinstance(value, float) else value)

    def _adjust(self, key: str, on: bool) -> None:
        self.proposed.emit(lambda trial: trial_edits.adjust_also(trial, key, on), "Change what is adjusted for")

    def _propose(self, name: str, value: object) -> None:
        self.proposed.emit(lambda trial: trial_edits.set_plan(trial, name, value), "Change the plan")

    def _combo(self, grid: QGridLayout, name: str, label: str, choices: Sequence[StrEnum]) -> QComboBox:
        combo = QComboBox()
        combo.setAccessibleName(label)
        combo.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        for choice in choices:
            combo.addItem(choice.value, choice.value)
        kinds = {choice.value: choice for choice in choices}
        combo.activated.connect(lambda _: self._propose(name, kinds.get(combo.currentData(), combo.currentData())))
        self.combos[name] = combo
        add_row(grid, label, combo)
        return combo

    def _text(self, grid: QGridLayout, name: str, label: str) -> None:
        box = QLineEdit()
        box.setAccessibleName(label)
        box.editingFinished.connect(lambda: self._propose(name, box.text().strip()) if box.isModified() else None)
        self.texts[name] = box
        add_row(grid, label, box)

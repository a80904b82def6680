"""What stands beside the ledger: verdict and gates, the plan, errors and worth, the planner, the chosen run."""

from collections.abc import Callable, Sequence
from enum import StrEnum

import msgspec
from msgspec.structs import replace
from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from profiler.assess.trials.planning import KINDS, Question, answer
from profiler.assess.trials.verdicts import TrialEvaluation
from profiler.numbers import with_minus
from profiler.output.report.trial_html import budget_html, run_html, verdict_html
from profiler.study.edits import trial_edits
from profiler.study.records.trial import Plan, Sampling, Trial, WorthInputs
from profiler.ui.forms.record_form import RecordForm
from profiler.ui.widgets.column_choice import ColumnChoice
from profiler.words import Basis, FeedGrade, Ordering, Structure

OWN_WORDS = {"worthwhile_source": "Gain comes from", "size_cut": "Size cut", "exclusion_rule": "Runs are left out if"}


class VerdictPane(QWidget):
    """Account and gates, with a line to waive one."""

    proposed = Signal(object, str)  # what makes the other trial of this one, name of the edit

    def __init__(self) -> None:
        super().__init__()
        self.text = _browser("Verdict, account and gates")
        self.gate, self.reason = QComboBox(), QLineEdit()
        self.gate.setAccessibleName("Gate to waive")
        self.gate.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.gate.setMinimumContentsLength(14)
        self.reason.setPlaceholderText("reason for setting the gate aside")
        self.waive = _button("Waive", self._waive)
        row = QHBoxLayout()
        for part in (self.gate, self.reason, self.waive):
            row.addWidget(part)
        row.setStretch(1, 1)
        _column(self, self.text, row)

    def show_found(self, found: TrialEvaluation) -> None:
        self.text.setHtml(with_minus(verdict_html(found)))
        chosen = self.gate.currentData()
        self.gate.clear()
        for gate in () if found.judgement is None else found.judgement.verdict.gates:
            waived = any(w.gate == gate.code for w in found.trial.plan.waivers)
            if waived or gate.state.value in ("failed", "not recorded"):
                self.gate.addItem(f"{gate.label}{' (waived)' if waived else ''}", gate.code)
        self.gate.setCurrentIndex(max(self.gate.findData(chosen), 0))
        for part in (self.gate, self.reason, self.waive):
            part.setVisible(self.gate.count() > 0)

    def _waive(self) -> None:
        code, reason = str(self.gate.currentData() or ""), self.reason.text()
        if "(waived)" in self.gate.currentText() and not reason.strip():
            self.proposed.emit(lambda trial: trial_edits.unwaive(trial, code), "Take back a waiver")
        elif code:
            self.proposed.emit(lambda trial: trial_edits.waive(trial, code, reason), "Waive a gate")
            self.reason.clear()


class PlanPane(QScrollArea):
    """What is settled beforehand, and its stamp."""

    proposed = Signal(object, str)
    refused = Signal(str)
    stamp_asked = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.combos: dict[str, QComboBox] = {}
        self.texts: dict[str, QLineEdit] = {}
        grid = _grid_in(self)
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
        _row(grid, "Adjusted also for", self.adjusted)
        self.in_circuit = QCheckBox("Inside a circuit: its own tail comes back")
        self.in_circuit.clicked.connect(lambda on: self._propose("in_circuit", bool(on)))
        grid.addWidget(self.in_circuit, grid.rowCount(), 0, 1, 2)
        self.form = _form(Plan, ("worthwhile_points", "planned_units", "load_residence_h"))
        self.form.proposed.connect(self._number)
        self.form.refused.connect(self.refused)
        grid.addWidget(self.form, grid.rowCount(), 0, 1, 2)
        self.stamped = QLabel()
        self.stamped.setWordWrap(True)
        row = QHBoxLayout()
        row.addWidget(self.stamped, 1)
        self.stamp = _button("Stamp today", self.stamp_asked.emit)
        self.stamp.setToolTip("Settles measure, size cut, exclusion rule and worthwhile gain together, with the date")
        row.addWidget(self.stamp)
        grid.addLayout(row, grid.rowCount(), 0, 1, 2)
        grid.setRowStretch(grid.rowCount(), 1)

    def show_trial(self, trial: Trial) -> None:
        plan = trial.plan
        designs = tuple(dict.fromkeys(run.design for run in trial.runs if run.design))
        self.reference.clear()
        self.reference.addItem("as the study marks it, else the first run's", "")
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
        self.stamped.setText(f"Stamped {plan.stamped}: {what}." if plan.stamped else f"Not stamped: {what} may move.")

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
        _row(grid, label, combo)
        return combo

    def _text(self, grid: QGridLayout, name: str, label: str) -> None:
        box = QLineEdit()
        box.setAccessibleName(label)
        box.editingFinished.connect(lambda: self._propose(name, box.text().strip()) if box.isModified() else None)
        self.texts[name] = box
        _row(grid, label, box)


class WorthPane(QScrollArea):
    """Errors of samples and assays, and what a gain is worth: forms, and what comes of them."""

    proposed = Signal(object, str)
    refused = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        grid = _grid_in(self)
        self.text = _browser("Error budget and worth")
        self.text.setMinimumHeight(250)
        grid.addWidget(self.text, 0, 0, 1, 2)
        self.gold = QLineEdit()
        self.gold.setAccessibleName("Gold grain sizes, µm")
        self.gold.setPlaceholderText("µm, or sizes with shares: 75: 60; 150: 40")
        self.gold.editingFinished.connect(self._take_gold)
        _row(grid, "Gold grains, µm", self.gold)
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
        self.text.setHtml(with_minus(budget_html(found)))

    def _form(self, grid: QGridLayout, part: str, kind: type[msgspec.Struct], needed: Sequence[str]) -> RecordForm:
        optional = [name for name in kind.__struct_fields__ if name not in needed]
        form = _form(kind, optional)
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


class PlannerPane(QScrollArea):
    """Pairs for a gain and a spread, grain floors; the protocol and a blank ledger. Nothing here is kept."""

    refused = Signal(str)
    protocol_asked = Signal(int)
    blank_asked = Signal(int)

    def __init__(self) -> None:
        super().__init__()
        self.question = Question()
        self.units = 6
        grid = _grid_in(self)
        self.kind = QComboBox()
        self.kind.setAccessibleName("Layout planned")
        self.kind.addItems(list(KINDS))
        self.kind.activated.connect(lambda _: self._show())
        _row(grid, "Layout", self.kind)
        self.form = _form(Question, ("spread_from",))
        self.form.proposed.connect(self._take)
        self.form.refused.connect(self.refused)
        grid.addWidget(self.form, grid.rowCount(), 0, 1, 2)
        self.words = QLabel()
        self.words.setWordWrap(True)
        self.words.setAccessibleName("What the planner says")
        grid.addWidget(self.words, grid.rowCount(), 0, 1, 2)
        row = QHBoxLayout()
        row.setSpacing(6)
        row.addWidget(_button("Protocol…", lambda: self.protocol_asked.emit(self.units)))
        row.addWidget(_button("Blank ledger…", lambda: self.blank_asked.emit(self.units)))
        row.addStretch(1)
        grid.addLayout(row, grid.rowCount(), 0, 1, 2)
        grid.setRowStretch(grid.rowCount(), 1)
        self._show()

    def _take(self, name: str, value: object) -> None:
        number = int(value) if name == "spread_from" and isinstance(value, float) else value
        self.question = replace(self.question, **{name: number})
        self._show()

    def _show(self) -> None:
        said = answer(self.question, KINDS[self.kind.currentText()])
        self.units = said.units or self.units
        self.form.show_record(self.question)
        self.words.setText("\n\n".join(said.sentences))


class RunPane(QWidget):
    """One run: its balances, its flags, and what the program says of its design."""

    design_asked = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.text = _browser("The chosen run")
        self.show_design = _button("Show its design", lambda: self.design_asked.emit(self._design))
        self._design = ""
        row = QHBoxLayout()
        row.addWidget(self.show_design)
        row.addStretch(1)
        _column(self, self.text, row)
        self.show_run(None, None)

    def show_run(self, found: TrialEvaluation | None, row: int | None) -> None:
        known = found is not None and row is not None and row < len(found.trial.runs)
        self.show_design.setEnabled(known)
        if found is None or row is None or not known:
            self.text.setHtml("<p>Choose a run in the ledger or in a picture.</p>")
            return
        self._design = found.trial.runs[row].design
        self.text.setHtml(with_minus(run_html(found, row)))


def _browser(name: str) -> QTextBrowser:
    browser = QTextBrowser()
    browser.setFrameShape(QFrame.Shape.NoFrame)
    browser.setOpenLinks(False)
    browser.setAccessibleName(name)
    return browser


def _button(words: str, do: Callable[[], object]) -> QPushButton:
    button = QPushButton(words)
    button.setObjectName("plain")
    button.clicked.connect(lambda: do())
    return button


def _column(holder: QWidget, top: QWidget, row: QHBoxLayout) -> None:
    column = QVBoxLayout(holder)
    column.setContentsMargins(6, 6, 6, 6)
    column.addWidget(top, 1)
    column.addLayout(row)


def _form(kind: type[msgspec.Struct], optional: Sequence[str]) -> RecordForm:
    """A form whose empty boxes mean 'not known'."""
    form = RecordForm(kind, optional=optional)
    for name in optional:
        if name in form.boxes:
            form.boxes[name].setPlaceholderText("–")
    return form


def _grid_in(area: QScrollArea) -> QGridLayout:
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    inside = QWidget()
    grid = QGridLayout(inside)
    grid.setContentsMargins(8, 8, 8, 8)
    grid.setVerticalSpacing(5)
    grid.setColumnStretch(1, 1)
    area.setWidget(inside)
    return grid


def _row(grid: QGridLayout, label: str, part: QWidget) -> None:
    row = grid.rowCount()
    grid.addWidget(QLabel(label), row, 0)
    grid.addWidget(part, row, 1)

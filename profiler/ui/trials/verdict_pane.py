"""Account and gates of a judged trial, with a line to waive a gate."""

from collections.abc import Callable

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLineEdit, QWidget

from profiler.assess.trials.arranging import with_neighbours_paired, with_stretches_mounted
from profiler.assess.trials.verdicts import TrialEvaluation
from profiler.output.trials.trial_blocks import verdict_pane_blocks
from profiler.study.edits import trial_edits
from profiler.study.records.trial import Trial
from profiler.ui.trials.pane_parts import plain_button, show_blocks, stacked, text_page
from profiler.ui.widgets.choice_box import ChoiceBox
from profiler.words import GateCode, GateState

OPEN = (GateState.FAILED, GateState.NOT_RECORDED)


class VerdictPane(QWidget):
    proposed = Signal(object, str)  # Change, name of the edit

    def __init__(self) -> None:
        super().__init__()
        self.text = text_page("Verdict, account and gates")
        self.gate, self.reason = ChoiceBox(), QLineEdit()
        self.gate.setAccessibleName("Gate to waive")
        self.gate.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.gate.setMinimumContentsLength(14)
        self.reason.setPlaceholderText("reason for setting the gate aside")
        self.waive = plain_button("Waive", self._waive)
        self.pair = plain_button("Pair neighbours", lambda: self._arrange(with_neighbours_paired, "Pair neighbours"))
        self.pair.setToolTip("Runs of both designs next to each other in time become pairs")
        self.mount = plain_button(
            "Fill installations", lambda: self._arrange(with_stretches_mounted, "Fill installations")
        )
        self.mount.setToolTip("Each stretch of one bowl becomes one mounting; its cycles are averaged")
        row = QHBoxLayout()
        for part in (self.gate, self.reason, self.waive):
            row.addWidget(part)
        row.setStretch(1, 1)
        arranging = QHBoxLayout()
        arranging.addWidget(self.pair)
        arranging.addWidget(self.mount)
        arranging.addStretch(1)
        stacked(self, self.text, arranging, row)

    def show_found(self, found: TrialEvaluation) -> None:
        show_blocks(self.text, verdict_pane_blocks(found))
        gates = () if found.judgement is None else found.judgement.verdict.gates
        self.pair.setVisible(found.judgement is not None and bool(found.judgement.neighbours))
        self.mount.setVisible(any(g.code is GateCode.UNITS and g.state is GateState.FAILED for g in gates))
        chosen = self.gate.currentData()
        self.gate.clear()
        for gate in gates:
            waived = any(w.gate == gate.code for w in found.trial.plan.waivers)
            if waived or gate.state in OPEN:
                self.gate.addItem(f"{gate.label}{' (waived)' if waived else ''}", gate.code)
        self.gate.setCurrentIndex(max(self.gate.findData(chosen), 0))
        for part in (self.gate, self.reason, self.waive):
            part.setVisible(self.gate.count() > 0)

    def _arrange(self, change: Callable[[Trial], Trial], name: str) -> None:
        self.proposed.emit(change, name)

    def _waive(self) -> None:
        code, reason = str(self.gate.currentData() or ""), self.reason.text()
        if "(waived)" in self.gate.currentText() and not reason.strip():
            self.proposed.emit(lambda trial: trial_edits.unwaive(trial, code), "Take back a waiver")
        elif code:
            self.proposed.emit(lambda trial: trial_edits.waive(trial, code, reason), "Waive a gate")
            self.reason.clear()

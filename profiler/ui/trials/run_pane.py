"""One run: its balances, its flags, and what was predicted for its design."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from profiler.assess.trials.verdicts import TrialEvaluation
from profiler.output.blocks.blocks import Paragraph
from profiler.output.trials.run_blocks import run_blocks
from profiler.ui.trials.pane_parts import plain_button, show_blocks, stacked, text_page


class RunPane(QWidget):
    design_asked = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.text = text_page("The chosen run")
        self.show_design = plain_button("Show its design", lambda: self.design_asked.emit(self._design))
        self._design = ""
        row = QHBoxLayout()
        row.addWidget(self.show_design)
        row.addStretch(1)
        stacked(self, self.text, row)
        self.show_run(None, None)

    def show_run(self, found: TrialEvaluation | None, row: int | None) -> None:
        known = found is not None and row is not None and row < len(found.trial.runs)
        self.show_design.setEnabled(known)
        if found is None or row is None or not known:
            show_blocks(self.text, [Paragraph("Choose a run in the ledger or in a picture.")])
            return
        self._design = found.trial.runs[row].design
        show_blocks(self.text, run_blocks(found, row))

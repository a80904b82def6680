"""Pairs for a gain and a spread, grain floors; the protocol and a blank ledger. Nothing here is kept."""

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QGridLayout, QHBoxLayout, QLabel, QScrollArea

from profiler.assess.trials.planning import KINDS, OF_SAMPLES, OF_TRIAL, Question, answer
from profiler.output.trials.planner_blocks import sample_blocks, size_of_trial_blocks
from profiler.study import Field
from profiler.ui.forms.record_form import RecordForm
from profiler.ui.trials.pane_parts import add_row, form_of, grid_in, plain_button, show_blocks
from profiler.ui.widgets.labels import plain_label


class PlannerPane(QScrollArea):
    refused = Signal(str)
    protocol_asked = Signal(int)
    blank_asked = Signal(int)

    def __init__(self) -> None:
        super().__init__()
        self.question = Question()
        self.units = 6
        grid = grid_in(self)
        self.kind = QComboBox()
        self.kind.setAccessibleName("Layout planned")
        self.kind.addItems(list(KINDS))
        self.kind.activated.connect(lambda _: self._show())
        add_row(grid, "Layout", self.kind)
        self.form, self.words = self._asked(grid, OF_TRIAL, "What the planner says of the trial")
        self.samples, self.of_samples = self._asked(grid, OF_SAMPLES, "What the planner says of the samples")
        row = QHBoxLayout()
        row.setSpacing(6)
        row.addWidget(plain_button("Protocol…", lambda: self.protocol_asked.emit(self.units)))
        row.addWidget(plain_button("Blank ledger…", lambda: self.blank_asked.emit(self.units)))
        row.addStretch(1)
        grid.addLayout(row, grid.rowCount(), 0, 1, 2)
        grid.setRowStretch(grid.rowCount(), 1)
        self._show()

    def _asked(self, grid: QGridLayout, fields: Sequence[Field[float]], said: str) -> tuple[RecordForm, QLabel]:
        """Boxes for these numbers of the question, and a place below for what is said of them."""
        form = form_of(fields)
        form.proposed.connect(self._take)
        form.refused.connect(self.refused)
        words = plain_label()
        words.setWordWrap(True)
        words.setAccessibleName(said)
        for part in (form, words):
            grid.addWidget(part, grid.rowCount(), 0, 1, 2)
        return form, words

    def _take(self, field: Field[float], value: float) -> None:
        self.question = field.set(self.question, value)
        self._show()

    def _show(self) -> None:
        said = answer(self.question, KINDS[self.kind.currentText()])
        self.units = said.units or self.units
        self.form.show_record(self.question)
        self.samples.show_record(self.question)
        show_blocks(self.words, size_of_trial_blocks(said))
        show_blocks(self.of_samples, sample_blocks(said))

"""Pairs for a gain and a spread, grain floors; the protocol and a blank ledger. Nothing here is kept."""

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QScrollArea

from profiler.assess.trials.planning import KINDS, OF_SAMPLES, OF_TRIAL, Question, answer, asked_of
from profiler.assess.trials.verdicts import TrialEvaluation
from profiler.output.trials.planner_blocks import sample_blocks, size_of_trial_blocks
from profiler.statistics.inference.comparison import Kind
from profiler.study import Field
from profiler.ui.forms.record_form import RecordForm
from profiler.ui.trials.pane_parts import add_row, form_of, grid_in, plain_button, show_blocks
from profiler.ui.widgets.choice_box import ChoiceBox
from profiler.ui.widgets.labels import plain_label


class PlannerPane(QScrollArea):
    refused = Signal(str)
    protocol_asked = Signal(int)
    blank_asked = Signal(int)

    def __init__(self) -> None:
        super().__init__()
        self.question = Question()
        self.units = 6
        self._own: tuple[Question, Kind] | None = None  # asked with the scatter of the trial in view
        self._typed = False
        grid = grid_in(self, "Planner")
        self.kind = ChoiceBox()
        self.kind.setAccessibleName("Layout planned")
        self.kind.addItems(list(KINDS))
        self.kind.activated.connect(lambda _: self._show())
        add_row(grid, "Layout", self.kind)
        self.own = plain_button("Use this trial's own scatter", self._ask_own)
        grid.addWidget(self.own, grid.rowCount(), 0, 1, 2)
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

    def show_found(self, found: TrialEvaluation) -> None:
        """Of a trial that scatters the planner takes over that scatter, until something else is typed."""
        self._own = asked_of(found)
        if self._own is not None and not self._typed:
            self._ask_own()
        else:
            self._show()

    def _ask_own(self) -> None:
        if self._own is None:
            return
        self.question, kind = self._own
        self._typed = False
        self.kind.setCurrentIndex(list(KINDS.values()).index(kind))
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
        self._typed = True
        self._show()

    def _show(self) -> None:
        kind = KINDS[self.kind.currentText()]
        seen = self._own is not None and (self.question.spread, kind) == (self._own[0].spread, self._own[1])
        said = answer(self.question, kind, seen)
        self.units = said.planned or self.units
        self.own.setVisible(self._own is not None and not seen)
        self.form.show_record(self.question)
        self.samples.show_record(self.question)
        show_blocks(self.words, size_of_trial_blocks(said))
        show_blocks(self.of_samples, sample_blocks(said))

"""Pairs for a gain and a spread, grain floors; the protocol and a blank ledger. Nothing here is kept."""

from msgspec.structs import replace
from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QScrollArea

from profiler.assess.trials.planning import KINDS, Question, answer
from profiler.ui.trials.pane_parts import add_row, form_of, grid_in, plain_button


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
        self.form = form_of(Question, ("spread_from", "top_um"))
        self.form.proposed.connect(self._take)
        self.form.refused.connect(self.refused)
        grid.addWidget(self.form, grid.rowCount(), 0, 1, 2)
        self.words = QLabel()
        self.words.setWordWrap(True)
        self.words.setAccessibleName("What the planner says")
        grid.addWidget(self.words, grid.rowCount(), 0, 1, 2)
        row = QHBoxLayout()
        row.setSpacing(6)
        row.addWidget(plain_button("Protocol…", lambda: self.protocol_asked.emit(self.units)))
        row.addWidget(plain_button("Blank ledger…", lambda: self.blank_asked.emit(self.units)))
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

"""What an import would give, before it is made: questions, columns, first rows as typed and as read, problems by kind.

Shows a `Shown` and says what was answered; reading again is for whoever owns the table (trial_import).
"""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from profiler.ui.trials.import_questions import ImportQuestions
from profiler.ui.trials.import_shown import Shown
from profiler.ui.trials.import_tables import ColumnTable, RowTable
from profiler.ui.widgets.choice_box import ChoiceBox
from profiler.ui.widgets.labels import plain_label
from profiler.ui.widgets.splitter import Splitter
from profiler.ui.widgets.theme import LIGHT, Theme

JOIN, NEW = "join", "new"


class ImportPanel(QWidget):
    """Takes the place of the ledger until the import is made or given up."""

    accepted = Signal()
    given_up = Signal()
    answered = Signal(object)  # TableReading

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme: Theme = LIGHT
        self.shown: Shown | None = None
        self.words, self.problems = plain_label(), plain_label()
        self.questions, self.columns, self.rows = ImportQuestions(), ColumnTable(), RowTable()
        self.into = ChoiceBox()
        self.remember = QCheckBox("Know these headings again in other studies")
        self.take, self.cancel = QPushButton("Import"), QPushButton("Cancel")
        self._lay_out()
        self.take.clicked.connect(self.accepted)
        self.cancel.clicked.connect(self.given_up)
        self.questions.answered.connect(self.answered)
        self.columns.meant.connect(self._mean)

    @property
    def joins(self) -> bool:
        """Whether the runs go into the trial in view."""
        return bool(self.into.currentData() == JOIN)

    def offer_trial(self, name: str | None) -> None:
        """Where runs may go: into the trial of this name, or a new one."""
        self.into.clear()
        if name is not None:
            self.into.addItem(f"into “{name}”", JOIN)
        self.into.addItem("into a new trial", NEW)

    def show_import(self, shown: Shown, theme: Theme, of_runs: bool) -> None:
        self.shown, self.theme = shown, theme
        self.words.setText(shown.words)
        self.questions.show_questions(shown.questions)
        self.columns.show_columns(shown, theme)
        self.rows.show_rows(shown, theme)
        said = [group.told for group in shown.groups]
        self.problems.setText("\n".join(said))
        self.problems.setVisible(bool(said))
        self.take.setText(shown.take)
        self.take.setEnabled(shown.can_take)
        self.into.setVisible(of_runs)
        self.remember.setVisible(of_runs and bool(shown.reading.columns))

    def _mean(self, heading: str, key: str, unit: str) -> None:
        if self.shown is not None:
            self.answered.emit(self.shown.reading.answering(heading, key, unit))

    def _lay_out(self) -> None:
        for label in (self.words, self.problems):
            label.setWordWrap(True)
        self.problems.setAccessibleName("Problems of the import")
        self.problems.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.into.setAccessibleName("Where the runs go")
        buttons = QHBoxLayout()
        buttons.addWidget(self.words, 1)
        buttons.addWidget(self.into)
        for button in (self.cancel, self.take):
            button.setObjectName("plain")
            buttons.addWidget(button)
        tables = Splitter(Qt.Orientation.Vertical)
        for table in (self.columns, self.rows):
            tables.addWidget(table)
            table.setMinimumHeight(70)
        tables.setSizes([150, 190])
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(buttons)
        column.addWidget(self.questions)
        column.addWidget(tables, 1)
        column.addWidget(self.remember)
        column.addWidget(self.problems)

"""Why the bowl does not fit, in the place of the forms: which limit binds, by how much, and what turning costs."""

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from profiler.assess import Evaluation
from profiler.assess.fitting.fit import Choice, Fit
from profiler.study import Study
from profiler.ui.document.document import Document
from profiler.ui.document.fitting import take_choice
from profiler.ui.widgets.labels import bold, plain_label

NO_CHOICE = "Turning the wall does not help here: change the limit, the machine or the design."
ASK = "What remains is to turn the wall. Each is one step, which undo takes back:"
STALE = "The study has changed since: fit again."


class FitPane(QWidget):
    """`closed` when the designer wants the forms back, or has taken one of the ways."""

    closed = Signal()

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._asked: Study | None = None
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 8, 10, 10)
        column.setSpacing(7)
        column.addWidget(bold(plain_label("Fit the bowl to the machine")))
        self.sentence, self.ask = plain_label(), plain_label()
        for label in (self.sentence, self.ask):
            label.setWordWrap(True)
            label.setTextFormat(Qt.TextFormat.PlainText)
            column.addWidget(label)
        self._ways = QVBoxLayout()
        column.addLayout(self._ways)
        self.choices: list[QPushButton] = []
        column.addStretch(1)
        self.back = QPushButton("Back to the forms")
        self.back.setObjectName("plain")
        self.back.clicked.connect(self.closed)
        column.addWidget(self.back)
        document.evaluated.connect(self._follow)

    def show_fit(self, found: Fit) -> None:
        self._asked = self._document.study
        self.sentence.setText(found.sentence)
        self.ask.setText(ASK if found.choices else NO_CHOICE)
        for old in self.choices:
            old.deleteLater()
        self.choices = [self._button(choice) for choice in found.choices]

    def _button(self, choice: Choice) -> QPushButton:
        button = QPushButton(_folded(choice.words))
        button.setObjectName("plain")
        button.setAccessibleName(choice.words)
        button.clicked.connect(partial(self._take, choice))
        self._ways.addWidget(button)
        return button

    def _take(self, choice: Choice, _: bool = False) -> None:
        take_choice(self._document, choice)
        self.closed.emit()

    def _follow(self, _: Evaluation) -> None:
        """A choice speaks of the study it was asked of."""
        study = self._document.study
        if self.isVisible() and self._asked is not None and study is not self._asked:
            self.ask.setText(STALE)
            for button in self.choices:
                button.setEnabled(False)


def _folded(words: str) -> str:
    """Over two lines: a button does not fold by itself."""
    head, _, tail = words.rpartition(" by ")
    return f"{head}\nby {tail}"

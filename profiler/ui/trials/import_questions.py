"""The questions of an import, each with its answers as buttons: the proposed one first, with what follows from it."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QGridLayout, QPushButton, QScrollArea, QVBoxLayout, QWidget

from profiler.study.ledger.questions import Choice, Question
from profiler.ui.trials.pane_parts import plain_button
from profiler.ui.widgets.labels import plain_label

ACROSS = 2  # buttons beside each other, where their words are short
SHORT = 44  # letters
MOST_HIGH = 190


class ImportQuestions(QScrollArea):
    answered = Signal(object)  # TableReading

    def __init__(self) -> None:
        super().__init__()
        self.buttons: list[QPushButton] = []
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setAccessibleName("What the file leaves in doubt")

    def show_questions(self, questions: tuple[Question, ...]) -> None:
        self.buttons = []
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(2, 2, 2, 2)
        for question in sorted(questions, key=lambda q: not q.must):
            words = plain_label(question.text)
            words.setWordWrap(True)
            column.addWidget(words)
            column.addLayout(self._answers(question))
        column.addStretch(1)
        self.setWidget(inside)
        self.setVisible(bool(questions))
        self.setMaximumHeight(min(inside.sizeHint().height() + 8, MOST_HIGH))

    def _answers(self, question: Question) -> QGridLayout:
        grid = QGridLayout()
        grid.setContentsMargins(12, 0, 0, 6)
        longest = max(len(choice.words) + len(choice.follows) for choice in question.choices)
        across = ACROSS if longest <= SHORT else 1
        ordered = sorted(range(len(question.choices)), key=lambda k: k != question.proposed)
        for place, k in enumerate(ordered):
            button = self._button(question.choices[k], k == question.proposed)
            grid.addWidget(button, place // across, place % across)
        grid.setColumnStretch(ACROSS, 1)
        return grid

    def _button(self, choice: Choice, proposed: bool) -> QPushButton:
        follows = f": {choice.follows}" if choice.follows else ""
        reading = choice.reading
        button = plain_button(
            f"{choice.words}{follows}{'  (proposed)' if proposed else ''}", lambda: self.answered.emit(reading)
        )
        button.setToolTip(f"{choice.words}{follows}")
        self.buttons.append(button)
        return button

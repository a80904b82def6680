"""The lesson pane takes the place of the forms: what to do, numbers to look at, why; then everything is put back."""

from textwrap import wrap

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QGridLayout, QLabel, QPushButton, QScrollArea, QVBoxLayout, QWidget

from ..assess import Evaluation
from ..lessons import LESSONS, Lesson
from .document import Document

LINE_LETTERS = 32  # of a lesson's title on its button


class LessonPane(QScrollArea):
    """`closed` when the designer wants the forms back. A lesson visits a study of its own (see Document.visit)."""

    closed = Signal()

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self.lesson: Lesson | None = None
        self.finished = False
        self._start: Evaluation | None = None
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName("Lessons")
        document.evaluated.connect(self._watch)
        self.show_list()

    def show_list(self) -> None:
        """The lessons to choose from."""
        self.lesson, self._start, self.finished = None, None, False
        column = self._fresh()
        column.addWidget(_text("Lessons", bold=True))
        column.addWidget(
            _text("Each takes a few minutes on a study of its own. Yours waits, with its undo, and comes back.")
        )
        for number, lesson in enumerate(LESSONS, 1):
            button = _button("\n     ".join(wrap(f"{number}  {lesson.title}", LINE_LETTERS)))
            button.setStyleSheet("text-align: left;")
            button.clicked.connect(lambda _=False, lesson=lesson: self.begin(lesson))
            column.addWidget(button)
        column.addStretch(1)
        back = _button("Back to the forms")
        back.clicked.connect(self.closed)
        column.addWidget(back)

    def begin(self, lesson: Lesson) -> None:
        """Show the lesson's study and its task."""
        self.lesson, self.finished = None, False
        self.document.visit(lesson.study())
        self._start = self.document.evaluation
        self.lesson = lesson
        self._show(lesson)
        self._fill(lesson, self._start)

    def leave(self) -> None:
        """Put the designer's own study back and show the list."""
        self.show_list()
        self.document.come_back()

    def _show(self, lesson: Lesson) -> None:
        column = self._fresh()
        column.addWidget(_text(lesson.title, bold=True))
        column.addWidget(_text(lesson.about))
        self.task = _text(f"To do: {lesson.task}", bold=True)
        column.addWidget(self.task)
        grid = QGridLayout()
        grid.setHorizontalSpacing(8)
        for place, head in ((1, "at first"), (2, "now")):
            grid.addWidget(_number(head, muted=True), 0, place)
        self.numbers: list[QLabel] = []
        for row, look in enumerate(lesson.look, 1):
            assert self._start is not None
            grid.addWidget(_text(look.label), row, 0)
            grid.addWidget(_number(look.text(self._start), muted=True), row, 1)
            self.numbers.append(_number("–"))
            grid.addWidget(self.numbers[-1], row, 2)
        grid.setColumnStretch(0, 1)
        column.addLayout(grid)
        self.seen = _text(f"Done. {lesson.seen}")
        self.seen.hide()
        column.addWidget(self.seen)
        self.why_button = _button("Why?")
        self.why_button.setCheckable(True)
        column.addWidget(self.why_button)
        self.why = _text(f"{lesson.why.text}\n\n{lesson.why.equation}\n\n{lesson.why.source}")
        self.why.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.why.hide()
        self.why_button.toggled.connect(self.why.setVisible)
        column.addWidget(self.why)
        column.addStretch(1)
        self.next_button = _button("Next lesson")
        self.next_button.clicked.connect(self._next)
        self.next_button.setVisible(lesson is not LESSONS[-1])
        column.addWidget(self.next_button)
        back = _button("Back to my study")
        back.clicked.connect(self.leave)
        column.addWidget(back)

    def _next(self) -> None:
        if self.lesson is not None:
            self.begin(LESSONS[LESSONS.index(self.lesson) + 1])

    def _watch(self, e: Evaluation) -> None:
        if self.lesson is None:
            return
        if not self.document.visiting:  # saved, or another study opened: the visit is over
            self.show_list()
            return
        self._fill(self.lesson, e)

    def _fill(self, lesson: Lesson, e: Evaluation) -> None:
        assert self._start is not None
        for label, look in zip(self.numbers, lesson.look, strict=True):
            label.setText(look.text(e))
        if not self.finished and lesson.done(self._start, e):
            self.finished = True
            self.seen.show()

    def _fresh(self) -> QVBoxLayout:
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(10, 8, 10, 10)
        column.setSpacing(9)
        self.setWidget(inside)
        return column


def _text(words: str, bold: bool = False) -> QLabel:
    label = QLabel(words)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setWordWrap(True)
    font = label.font()
    font.setBold(bold)
    label.setFont(font)
    return label


def _number(words: str, muted: bool = False) -> QLabel:
    label = QLabel(words)
    label.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
    if muted:
        label.setObjectName("muted")
    return label


def _button(words: str) -> QPushButton:
    button = QPushButton(words)
    button.setObjectName("plain")
    return button

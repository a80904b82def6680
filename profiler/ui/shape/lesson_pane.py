"""The lesson pane takes the place of the forms: what to do, numbers to look at, why; then everything is put back."""

from collections.abc import Callable

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QFrame, QGridLayout, QLabel, QPushButton, QScrollArea, QVBoxLayout, QWidget

from profiler.assess import Evaluation
from profiler.lessons import LESSONS, Lesson
from profiler.study import Field
from profiler.ui.document.document import Document
from profiler.ui.widgets.labels import plain_label
from profiler.ui.widgets.spoken import name_toggle


class LessonPane(QScrollArea):
    """`closed` when the designer wants the forms back. A lesson visits a study of its own (see Document.visit)."""

    closed = Signal()
    form_wanted = Signal(object)  # Field that the lesson has changed
    noticed = Signal()  # the task is done
    ended = Signal()  # no lesson is going on any more

    def __init__(self, document: Document, title_of: Callable[[Field[float]], str]) -> None:
        """`title_of` tells which form holds a number."""
        super().__init__()
        self.document = document
        self._title_of = title_of
        self.lesson: Lesson | None = None
        self.finished = False
        self._start: Evaluation | None = None
        self.setAccessibleName("Lessons")
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName("Lessons")
        document.evaluated.connect(self._watch)

    def end(self) -> None:
        """No lesson is going on any more: the forms come back."""
        self.lesson, self._start, self.finished = None, None, False
        self.ended.emit()
        self.closed.emit()

    def begin(self, lesson: Lesson) -> None:
        """Show the lesson's study and its task."""
        self.lesson, self.finished = None, False
        self.document.visit(lesson.study())
        start = self.document.whole_evaluation  # a number to start from for everything watched
        self.lesson, self._start = lesson, start
        self._show(lesson, start)
        self._fill(lesson, start, start)

    def leave(self) -> None:
        """Put the designer's own study back, and the forms."""
        self.end()
        self.document.come_back()

    def _show(self, lesson: Lesson, start: Evaluation) -> None:
        column = self._fresh()
        column.addWidget(_text(lesson.title, bold=True))
        column.addWidget(_text(lesson.told(lesson.about, start, start)))
        self.task = _text(f"To do: {lesson.told(lesson.task, start, start)}", bold=True)
        column.addWidget(self.task)
        self.missing = _text("")
        column.addWidget(self.missing)
        if lesson.field is not None:
            self.form_button = _button(f"Open the form\n{self._title_of(lesson.field)}")
            self.form_button.clicked.connect(lambda: self.form_wanted.emit(lesson.field))
            column.addWidget(self.form_button)
        grid = QGridLayout()
        grid.setHorizontalSpacing(8)
        for place, head in ((1, "at first"), (2, "now")):
            grid.addWidget(_number(head, muted=True), 0, place)
        self.numbers: list[QLabel] = []
        for row, look in enumerate(lesson.look, 1):
            grid.addWidget(_text(look.label), row, 0)
            grid.addWidget(_number(look.text(start), muted=True), row, 1)
            self.numbers.append(_number("–"))
            grid.addWidget(self.numbers[-1], row, 2)
        grid.setColumnStretch(0, 1)
        column.addLayout(grid)
        self.seen = _text("")
        self.seen.hide()
        column.addWidget(self.seen)
        self.why_button = _button("Why?")
        self.why_button.setCheckable(True)
        name_toggle(self.why_button, "Why? Show the answer", "Why? Hide the answer")
        column.addWidget(self.why_button)
        self.why = _text(lesson.why.whole)
        self.why.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.why.hide()
        self.why_button.toggled.connect(self.why.setVisible)
        self.why_button.toggled.connect(lambda on: self._reveal(self.why if on else self.why_button))
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
        if self.lesson is None or self._start is None:
            return
        if not self.document.visiting:  # saved, or another study opened: the visit is over
            self.end()
            return
        self._fill(self.lesson, self._start, e)

    def _fill(self, lesson: Lesson, start: Evaluation, e: Evaluation) -> None:
        for label, look in zip(self.numbers, lesson.look, strict=True):
            label.setText(look.text(e))
        missing = lesson.missing(start, e)
        untouched = e.design is start.design and e.duty is start.duty
        self.missing.setText("" if missing is None or untouched or self.finished else f"Missing: {missing}")
        self.missing.setHidden(not self.missing.text())
        if missing is not None:
            return
        if e.body is not None and e.catch is not None:  # with every number it tells of
            self.seen.setText(f"Done. {lesson.told(lesson.seen, start, e)}")
        if not self.finished:
            self.finished = True
            self.seen.setText(self.seen.text() or "Done.")
            self.seen.show()
            self._reveal(self.seen)
            self.noticed.emit()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if self.lesson is not None and self.finished:
            self._reveal(self.seen)

    def _reveal(self, part: QWidget) -> None:
        """Scroll so far that the part is read, once it has found its place."""
        QTimer.singleShot(0, part, lambda: self.ensureWidgetVisible(part))

    def _fresh(self) -> QVBoxLayout:
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(10, 8, 10, 10)
        column.setSpacing(9)
        self.setWidget(inside)
        return column


def _text(words: str, bold: bool = False) -> QLabel:
    label = plain_label(words)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setWordWrap(True)
    font = label.font()
    font.setBold(bold)
    label.setFont(font)
    return label


def _number(words: str, muted: bool = False) -> QLabel:
    label = plain_label(words)
    label.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
    if muted:
        label.setObjectName("muted")
    return label


def _button(words: str) -> QPushButton:
    button = QPushButton(words)
    button.setObjectName("plain")
    return button

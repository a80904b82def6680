"""The lessons to choose from, beside the groove. Each is done on Shape, where its task is seen in the strips."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QPushButton, QScrollArea, QVBoxLayout, QWidget

from profiler.lessons import LESSONS
from profiler.ui.widgets.labels import plain_label


class LessonList(QScrollArea):
    chosen = Signal(object)  # Lesson

    def __init__(self) -> None:
        super().__init__()
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setAccessibleName("Lessons")
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(10, 8, 10, 10)
        column.setSpacing(9)
        about = plain_label(
            f"There are {len(LESSONS)}, each of a few minutes on a study of its own, beside the strips of the page "
            "Shape. Yours waits, with its undo, and comes back."
        )
        about.setWordWrap(True)
        column.addWidget(about)
        self.buttons = [QPushButton(f"{number}  {lesson.title}") for number, lesson in enumerate(LESSONS, 1)]
        for button, lesson in zip(self.buttons, LESSONS, strict=True):
            button.setObjectName("plain")
            button.setStyleSheet("text-align: left;")
            button.clicked.connect(lambda _=False, lesson=lesson: self.chosen.emit(lesson))
            column.addWidget(button, 0, Qt.AlignmentFlag.AlignLeft)
        column.addStretch(1)
        self.setWidget(inside)

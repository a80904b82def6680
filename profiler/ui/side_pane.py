"""What stands left of the strips: the forms, or in their place the lessons or the asking backwards."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QStackedWidget

from .document import Document
from .forms.pane import FormsPane
from .jobs import Jobs

if TYPE_CHECKING:
    from .ask import AskPane
    from .lesson_pane import LessonPane

WIDTH = 256


class SidePane(QStackedWidget):
    """Panes other than the forms are made when first wanted. `changed` when another pane came or went."""

    changed = Signal()

    def __init__(self, document: Document, forms: FormsPane) -> None:
        super().__init__()
        self._document = document
        self._forms = forms
        self._lessons: LessonPane | None = None
        self._ask: AskPane | None = None
        self.setFixedWidth(WIDTH)
        self.addWidget(forms)

    def show_forms(self) -> None:
        self.setCurrentWidget(self._forms)
        self._forms.show_evaluation(self._document.evaluation)
        self.changed.emit()

    def show_lessons(self) -> None:
        from .lesson_pane import LessonPane

        if self._lessons is None:
            self._lessons = LessonPane(self._document)
            self._lessons.closed.connect(self.show_forms)
            self.addWidget(self._lessons)
        self.setCurrentWidget(self._lessons)
        self.changed.emit()

    def show_ask(self, jobs: Jobs, key: str, groove: int | None, height_mm: float | None) -> None:
        from .ask import AskPane

        if self._ask is None:
            self._ask = AskPane(self._document, jobs)
            self._ask.closed.connect(self.show_forms)
            self.addWidget(self._ask)
        self._ask.about(key, groove, height_mm)
        self.setCurrentWidget(self._ask)
        self.changed.emit()

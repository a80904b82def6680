"""What stands left of the strips: the forms, or in their place lessons, finding one number, size classes or a fit."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QPushButton, QStackedWidget, QVBoxLayout, QWidget

from profiler.study import NumberField
from profiler.ui.document.document import Document
from profiler.ui.forms.pane import FormsPane
from profiler.ui.widgets.theme import Theme
from profiler.ui.work.jobs import Jobs

if TYPE_CHECKING:
    from profiler.assess.fitting.fit import Fit
    from profiler.ui.ore.measured_pane import MeasuredPane
    from profiler.ui.ore.window_pane import WindowPane
    from profiler.ui.shape.ask import AskPane
    from profiler.ui.shape.fit_pane import FitPane
    from profiler.ui.shape.lesson_pane import LessonPane
    from profiler.ui.shape.sizes_pane import SizesPane
    from profiler.ui.shape.start_pane import StartPane

WIDTH = 256


class SidePane(QStackedWidget):
    """Panes other than the forms are made when first wanted. `changed` when another pane came or went."""

    changed = Signal()

    def __init__(self, document: Document, forms: FormsPane, jobs: Jobs) -> None:
        super().__init__()
        self._document, self._jobs = document, jobs
        self._forms = forms
        self._lessons: LessonPane | None = None
        self._ask: AskPane | None = None
        self._sizes: SizesPane | None = None
        self._fit: FitPane | None = None
        self._window: WindowPane | None = None
        self._start: StartPane | None = None
        self._measured: MeasuredPane | None = None
        self.setFixedWidth(WIDTH)
        self.back = QPushButton()
        self.back.setObjectName("plain")
        self.back.clicked.connect(self.show_lessons)
        self.back.hide()
        self._below_back = QWidget()
        column = QVBoxLayout(self._below_back)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.back)
        column.addWidget(forms)
        self.addWidget(self._below_back)

    def show_forms(self) -> None:
        self.back.hide()
        self._show_forms()

    def show_form(self, field: NumberField) -> None:
        """The form of a number that a lesson asks for, with a way back to the lesson above it."""
        self.back.setText("Back to the lesson")
        self.back.show()
        self._show_forms()
        self._forms.open(self._forms.group_of(field))

    def _show_forms(self) -> None:
        self.setCurrentWidget(self._below_back)
        self._forms.show_evaluation(self._document.evaluation)
        self.changed.emit()

    def show_lessons(self) -> None:
        from profiler.ui.shape.lesson_pane import LessonPane

        if self._lessons is None:
            self._lessons = LessonPane(
                self._document, self._forms.pointer, lambda field: self._forms.group_of(field).title
            )
            self._lessons.closed.connect(self.show_forms)
            self._lessons.form_wanted.connect(self.show_form)
            self._lessons.noticed.connect(lambda: self.back.setText("Done: back to the lesson"))
            self._lessons.ended.connect(self.back.hide)
            self.addWidget(self._lessons)
        self.setCurrentWidget(self._lessons)
        self.changed.emit()

    def show_ask(self, key: str, groove: int | None, height_mm: float | None) -> None:
        from profiler.ui.shape.ask import AskPane

        if self._ask is None:
            self._ask = AskPane(self._document, self._jobs)
            self._ask.closed.connect(self.show_forms)
            self.addWidget(self._ask)
        self._ask.about(key, groove, height_mm)
        self.setCurrentWidget(self._ask)
        self.changed.emit()

    def show_sizes(self, theme: Theme) -> None:
        from profiler.ui.shape.sizes_pane import SizesPane

        if self._sizes is None:
            self._sizes = SizesPane(self._document)
            self._sizes.closed.connect(self.show_forms)
            self.addWidget(self._sizes)
        self._sizes.show_theme(theme)
        self.setCurrentWidget(self._sizes)
        self.changed.emit()

    def show_window(self) -> None:
        """Build an ore window from the shown duty."""
        from profiler.ui.ore.window_pane import WindowPane

        if self._window is None:
            self._window = WindowPane(self._document)
            self._window.closed.connect(self.show_forms)
            self.addWidget(self._window)
        self._window.show_duty()
        self.setCurrentWidget(self._window)
        self.changed.emit()

    def show_start(self) -> None:
        """Curves to start from."""
        from profiler.ui.shape.start_pane import StartPane

        if self._start is None:
            self._start = StartPane(self._document)
            self._start.closed.connect(self.show_forms)
            self.addWidget(self._start)
        self._start.start()
        self.setCurrentWidget(self._start)
        self.changed.emit()

    def show_measured(self) -> None:
        """Measurements, and the friction they give."""
        from profiler.ui.ore.measured_pane import MeasuredPane

        if self._measured is None:
            self._measured = MeasuredPane(self._document)
            self._measured.closed.connect(self.show_forms)
            self.addWidget(self._measured)
        self._measured.show_study()
        self.setCurrentWidget(self._measured)
        self.changed.emit()

    def show_fit(self, found: "Fit") -> None:
        """What keeps the bowl from fitting, and what remains."""
        from profiler.ui.shape.fit_pane import FitPane

        if self._fit is None:
            self._fit = FitPane(self._document)
            self._fit.closed.connect(self.show_forms)
            self.addWidget(self._fit)
        self._fit.show_fit(found)
        self.setCurrentWidget(self._fit)
        self.changed.emit()

    def show_theme(self, theme: Theme) -> None:
        """Only the curve of the size classes has colours of its own."""
        if self._sizes is not None:
            self._sizes.show_theme(theme)

"""What stands left of a page's strips: its forms, or in their place another pane until the forms are wanted back."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Protocol, TypeVar

from PySide6.QtCore import Signal, SignalInstance
from PySide6.QtWidgets import QPushButton, QStackedWidget, QVBoxLayout, QWidget

from profiler.study import Duty, NumberField, fields_of
from profiler.ui.document.document import Document
from profiler.ui.forms.duty_group import DutyGroup
from profiler.ui.forms.pane import FormsPane, ShapeForms

if TYPE_CHECKING:
    from profiler.assess.fitting.fit import Fit
    from profiler.lessons import Lesson
    from profiler.ui.shape.lesson_pane import LessonPane

WIDTH = 256
OF_DUTY = frozenset(fields_of(Duty).values())


class _Closing(Protocol):
    """A pane that says when the forms are wanted back."""

    @property
    def closed(self) -> SignalInstance: ...


Pane = TypeVar("Pane", bound=QWidget)


class SidePane(QStackedWidget):
    """Panes other than the forms are made when first wanted. `changed` when another pane came or went."""

    changed = Signal()

    def __init__(self, document: Document, forms: FormsPane) -> None:
        super().__init__()
        self._document, self._forms = document, forms
        self._panes: dict[type[QWidget], QWidget] = {}
        self.setFixedWidth(WIDTH)
        self._below = QVBoxLayout()
        self._below.setContentsMargins(0, 0, 0, 0)
        self._below.setSpacing(0)
        self._below.addWidget(forms)
        self._first = QWidget()
        self._first.setLayout(self._below)
        self.addWidget(self._first)

    def show_forms(self) -> None:
        self.setCurrentWidget(self._first)
        self._forms.show_evaluation(self._document.evaluation)
        self.changed.emit()

    def show_fit(self, found: "Fit") -> None:
        """What keeps the bowl from fitting, and what remains."""
        from profiler.ui.shape.fit_pane import FitPane

        pane = self.pane(FitPane, lambda: FitPane(self._document))
        pane.show_fit(found)
        self.turn_to(pane)

    def pane(self, kind: type[Pane], make: Callable[[], Pane]) -> Pane:
        """The pane of this kind, made if need be; the forms come back when it closes."""
        known = self._panes.get(kind)
        if isinstance(known, kind):
            return known
        made = make()
        closing: _Closing = made  # type: ignore[assignment]  # every pane has the signal
        closing.closed.connect(self.show_forms)
        self._panes[kind] = made
        self.addWidget(made)
        return made

    def turn_to(self, pane: QWidget) -> None:
        self.setCurrentWidget(pane)
        self.changed.emit()


class ShapeSide(SidePane):
    """Lessons too.

    A lesson on the running opens the duty's form here, for the time of the lesson: what it changes is seen in the
    strips, and the lesson is one click back.
    """

    sizes_wanted = Signal()
    window_wanted = Signal()

    def __init__(self, document: Document, forms: ShapeForms) -> None:
        super().__init__(document, forms)
        self._shape_forms = forms
        self._duty_forms: FormsPane | None = None
        self.back = QPushButton()
        self.back.setObjectName("plain")
        self.back.clicked.connect(lambda: self.turn_to(self._lessons()))
        self.back.hide()
        self._below.insertWidget(0, self.back)

    def show_forms(self) -> None:
        self.back.hide()
        self._put(self._shape_forms)

    def show_form(self, field: NumberField) -> None:
        """The form of a number that a lesson asks for, with a way back to the lesson above it."""
        self.back.setText("Back to the lesson")
        self.back.show()
        forms = self._forms_of(field)
        self._put(forms)
        forms.open(forms.group_of(field))

    def begin_lesson(self, lesson: "Lesson") -> None:
        pane = self._lessons()
        self.turn_to(pane)
        pane.begin(lesson)

    def _lessons(self) -> "LessonPane":
        from profiler.ui.shape.lesson_pane import LessonPane

        return self.pane(LessonPane, self._lesson_pane)

    def show_start(self) -> None:
        """Curves to start from."""
        from profiler.ui.shape.start_pane import StartPane

        pane = self.pane(StartPane, lambda: StartPane(self._document))
        pane.start()
        self.turn_to(pane)

    def pull_start(self, knot: int, height_mm: float | None, angle_deg: float | None, leaving: bool) -> bool:
        """A knot dragged while a curve is started pulls the curve's handle; False where none is."""
        shown = self.currentWidget()
        if shown is self._first:
            return False
        from profiler.ui.shape.start_pane import StartPane

        return isinstance(shown, StartPane) and shown.pull(knot, height_mm, angle_deg, leaving)

    def show_steps(self) -> None:
        """The design rounded to the steps of a shop."""
        from profiler.ui.shape.steps_pane import StepsPane

        self.turn_to(self.pane(StepsPane, lambda: StepsPane(self._document)))

    def show_evaluation(self) -> None:
        """Of the forms in view."""
        self._forms.show_evaluation(self._document.evaluation)

    def _lesson_pane(self) -> "LessonPane":
        from profiler.ui.shape.lesson_pane import LessonPane

        made = LessonPane(self._document, lambda field: self._forms_of(field).group_of(field).title)
        made.form_wanted.connect(self.show_form)
        made.noticed.connect(lambda: self.back.setText("Done: back to the lesson"))
        made.ended.connect(self.back.hide)
        return made

    def _forms_of(self, field: NumberField) -> FormsPane:
        if field not in OF_DUTY or any(field in group.fields for group in self._shape_forms.groups):
            return self._shape_forms
        if self._duty_forms is None:
            group = DutyGroup(self._document)
            group.sizes_wanted.connect(self.sizes_wanted)
            group.window_wanted.connect(self.window_wanted)
            self._duty_forms = FormsPane(self._document, (group,))
            self._duty_forms.hide()
            self._below.addWidget(self._duty_forms)
        return self._duty_forms

    def _put(self, forms: FormsPane) -> None:
        self._forms = forms
        for one in (self._shape_forms, self._duty_forms):
            if one is not None:
                one.setVisible(one is forms)
        super().show_forms()

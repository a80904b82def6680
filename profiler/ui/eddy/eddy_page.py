"""The page Eddy: one groove, its computed flow, and what would become of it if the wall or the running were otherwise.

All that is turned here is on trial, in a copy: the study changes by "Use this angle" and "Use these numbers" alone,
each one undo step. Geometry and surface follow the hand at once, the flow as soon as it is settled.
"""

from collections.abc import Callable, Sequence
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from profiler.assess import Evaluation, StageCache, evaluate
from profiler.assess.eddy.answers import Answer
from profiler.assess.eddy.eddy_figures import eddy_figures
from profiler.assess.eddy.grains_moved import LIFT_EXPLAINED, Lifted, Moving
from profiler.assess.eddy.lids import Setting
from profiler.explore.eddy_what_if import ALONGS, WANTED, Swept, angle_at
from profiler.explore.why_changed import why_changed
from profiler.lessons import Lesson
from profiler.output.record.output import TableShown
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit
from profiler.pictures.charts.eddy_charts import EDDY_CHARTS, eddy_chart
from profiler.pictures.eddy.groove_picture import GrooveScene
from profiler.study import NumberField
from profiler.study.records.design import KNOT_ANGLE
from profiler.ui.document.document import Document
from profiler.ui.eddy.eddy_layout import FILL, RUNNING, TABS, EddyParts
from profiler.ui.eddy.eddy_solving import EddySolving, Question
from profiler.ui.eddy.trial_copy import TrialCopy
from profiler.ui.pages.page import Page
from profiler.ui.shape.duty_bar import DutyBar
from profiler.ui.widgets.canvas import WORKING
from profiler.ui.widgets.theme import Theme
from profiler.ui.work.jobs import Jobs
from profiler.units import PERCENT


class EddyPage(Page):
    """`chosen` tells which groove is looked at elsewhere in the window, when this page is turned to."""

    def __init__(
        self,
        document: Document,
        jobs: Jobs,
        chosen: Callable[[], int | None],
        begin_lesson: Callable[[Lesson], object] = lambda lesson: None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(document, parent)
        self._chosen, self._followed = chosen, 0
        self.bar = DutyBar(document, numbers=False)  # those are on trial below
        self.parts = EddyParts(self, self.bar)
        self._lengths = MILLIMETRES
        self.solving = EddySolving(jobs, self)
        self.trial = TrialCopy(document.study)
        self.tried: Evaluation | None = None  # the copy's
        self.answer: Answer | None = None  # as last settled
        self._curves: Swept | None = None
        self._fill = 0.0
        self._cache, self._cache_before = StageCache(), StageCache()
        self.parts.lessons.chosen.connect(begin_lesson)
        self._wire()

    @property
    def groove(self) -> int:
        """Number of the groove looked into, from 1; 0 where there is none."""
        return self.parts.groove.currentIndex() + 1

    def key_parts(self) -> Sequence[QWidget]:
        parts = self.parts
        return (
            self.bar.design,
            parts.groove,
            *parts.boxes.values(),
            parts.canvas,
            parts.tabs,
            parts.against,
            parts.figures,
            parts.lessons,
            parts.more,
        )

    def show_theme(self, theme: Theme) -> None:
        super().show_theme(theme)
        self._again()

    def show_lengths(self, unit: LengthUnit) -> None:
        """In the bar; what the pictures and words say follows by itself."""
        self._lengths = unit
        self._again()

    def activated(self) -> None:
        """Look where one has just looked elsewhere; a groove chosen here stays until then."""
        super().activated()
        number = self._chosen()
        if number is not None and number != self._followed:
            self._followed = number
            self.show_groove(number)

    def show_lessons(self) -> None:
        """The list to choose from, beside the groove."""
        self.parts.tabs.setCurrentIndex(TABS.index("Lessons"))
        self.parts.lessons.buttons[0].setFocus(Qt.FocusReason.OtherFocusReason)

    def show_groove(self, number: int) -> None:
        """The groove chosen elsewhere in the window."""
        if 0 < number <= self.parts.groove.count() and number != self.groove:
            self.parts.groove.setCurrentIndex(number - 1)
            self._begin_anew()

    def show_evaluation(self, e: Evaluation) -> None:
        if not self.isVisible():
            return
        self.trial = self.trial.on(self.document.study)
        self.bar.show_study(self.document.study)
        self.bar.show_evaluation(e, self._lengths)
        count = 0 if e.shape is None else len(e.shape.mouths)
        box = self.parts.groove
        if e.shape is not None and box.count() != count:
            now = box.currentIndex()
            box.clear()
            box.addItems([f"Groove {n}" for n in range(1, count + 1)])
            box.setCurrentIndex(min(now, count - 1) if now >= 0 else min(2, count - 1))
        self._again()

    def hideEvent(self, event: object) -> None:
        self.solving.stop()
        super().hideEvent(event)  # type: ignore[arg-type]

    def _wire(self) -> None:
        parts = self.parts
        parts.groove.activated.connect(lambda _: self._begin_anew())
        parts.against.activated.connect(lambda _: self._again())
        for field, box in parts.boxes.items():
            box.proposed.connect(lambda value, field=field: self._try(field, value))
            box.refused.connect(self.document.say)
        parts.canvas.turned.connect(lambda angle: self._try(KNOT_ANGLE, angle))
        parts.canvas.given_up.connect(self._back)
        parts.back.clicked.connect(self._back)
        parts.use_angle.clicked.connect(self._use_angle)
        parts.use_numbers.clicked.connect(self._use_numbers)
        self.solving.found.connect(self._show_answer)
        self.solving.grains.connect(self._show_grains)
        self.solving.curves.connect(self._show_curves)
        self.solving.failed.connect(lambda _, words: self._say_failure(words))

    def _begin_anew(self) -> None:
        """Another groove: the wall on trial was turned for the one before."""
        self.trial = TrialCopy(self.document.study, None, self.trial.duty)
        self.answer = None
        self._again()

    def _try(self, field: NumberField, value: float) -> None:
        """One number of the copy."""
        if field is FILL:
            self._fill = value * PERCENT
        else:
            try:
                wall = field is KNOT_ANGLE
                self.trial = self.trial.turned(self.groove, value) if wall else self.trial.running(field, value)
            except ValueError as refusal:
                self.document.say(str(refusal))
        self._again()

    def _back(self) -> None:
        self.trial, self._fill = TrialCopy(self.document.study), 0.0
        self._again()

    def _use_angle(self) -> None:
        design = self.trial.design
        if design is not None:
            self.document.edit_design(design, f"Turn the wall at groove {self.groove}")

    def _use_numbers(self) -> None:
        duty = self.trial.duty
        if duty is not None:
            self.document.edit_duty(duty, "Run as tried")

    def _again(self) -> None:
        """Evaluate the copy, draw what is known of it, and ask for its flow."""
        if not self.isVisible():
            return
        e = self.trial.evaluated(self._cache)
        self._show_numbers(e)
        if e.shape is None or e.flow is None or e.catch is None or not 0 < self.groove <= len(e.shape.mouths):
            self._show_trouble(e)
            return
        self.tried = e
        parts = self.parts
        self._draw(waiting=True)
        self._draw_curves(faded=True)
        parts.words.setText(" ".join((parts.why.show_groove(e, self.groove, self.theme), self._change(e))).strip())
        along = ALONGS[max(parts.against.currentIndex(), 0)]
        parts.progress.show()
        self.solving.ask(Question(e, self.groove, Setting(fill=self._fill), along))

    def _change(self, e: Evaluation) -> str:
        """Against the study where something is on trial, else against what was before the last step."""
        study, step = self.document.study, self.document.last_step
        since, old = "In the study", study
        if self.trial.design is None and self.trial.duty is None:
            if step is None:
                return ""
            since, old = f"Before “{step[0]}”", step[1]
        design = next((d for d in old.designs if d.name == study.design.name), None)
        duty = next((d for d in old.duties if d.name == study.duty.name), None)
        if design is None or duty is None:
            return ""
        before = evaluate(design, old.machine, duty, WANTED, self._cache_before)
        return why_changed(before, e, self.groove, since)

    def _show_numbers(self, e: Evaluation) -> None:
        parts = self.parts
        for field in RUNNING:
            parts.boxes[field].show_value(field.get(self.trial.tried_duty))
        parts.boxes[FILL].show_value(self._fill / PERCENT)
        known = e.shape is not None and 0 < self.groove <= len(e.shape.mouths)
        angle = round(angle_at(e.design, self.groove), KNOT_ANGLE.decimals) if known else None
        parts.boxes[KNOT_ANGLE].show_value(angle)
        parts.use_angle.setEnabled(self.trial.design is not None and known)
        parts.use_numbers.setEnabled(self.trial.duty is not None)
        parts.back.setEnabled(self.trial.design is not None or self.trial.duty is not None or self._fill > 0.0)

    def _show_trouble(self, e: Evaluation) -> None:
        """What can be said where there is no flow; the last picture stays, faded."""
        self.solving.stop()
        parts = self.parts
        parts.progress.hide()
        parts.words.setText(parts.why.show_groove(e, max(self.groove, 1), self.theme))
        parts.canvas.show_scene(parts.canvas.scene, float("nan"), self.theme, faded=True)
        for canvas in parts.charts:
            canvas.empty = "No answer here."
            canvas.show_picture(None, self.theme)
        parts.figures.show_table(TableShown((), ()))

    def _draw(self, waiting: bool) -> None:
        if self.tried is None:
            return
        found = self.answer if self.answer is not None and self.answer.groove == self.groove else None
        scene = GrooveScene(self.tried, self.groove, found, waiting, handle=True)
        self.parts.canvas.show_scene(scene, angle_at(self.tried.design, self.groove), self.theme)

    def _draw_curves(self, faded: bool) -> None:
        if self._curves is None:
            return
        for canvas, chart in zip(self.parts.charts, EDDY_CHARTS, strict=True):
            canvas.empty = WORKING
            canvas.show_picture(partial(eddy_chart, self._curves, chart, lengths=self._lengths), self.theme, faded)

    def _show_answer(self, question: Question, found: Answer) -> None:
        self.answer = found
        self._draw(waiting=False)
        self._show_figures(found)

    def _show_grains(self, question: Question, moved: Moving, lift: Lifted | None) -> None:
        if self.answer is not None:
            self._show_figures(self.answer, moved, lift)

    def _show_figures(self, found: Answer, moved: Moving | None = None, lift: Lifted | None = None) -> None:
        rows = tuple((f.label, f.text, f.help) for f in eddy_figures(found, moved, lift))
        self.parts.figures.show_table(TableShown(("Figure", "middle (low to high)", "What it says"), rows))
        unsettled = found.unsettled
        said = (*((found.reason,) if found.reason else ()), *((unsettled.reason,) if unsettled else ()))
        lines = (*said, *found.left_out, LIFT_EXPLAINED)
        self.parts.left_out.setText("\n".join(f"– {line}" for line in lines))

    def _show_curves(self, question: Question, found: Swept) -> None:
        self.parts.progress.hide()
        self._curves = found
        self._draw_curves(faded=False)

    def _say_failure(self, words: str) -> None:
        self.parts.progress.hide()
        self.parts.words.setText(words)

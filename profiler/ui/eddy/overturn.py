"""The page that shows why a groove overturns: curves against wall angle that move with solids, speed and mouth."""

from collections.abc import Sequence
from math import isfinite

from PySide6.QtWidgets import QComboBox, QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from profiler.assess import Evaluation
from profiler.assess.flow.flow_stage import HIGH, LOW
from profiler.assess.quantities.table import STATE_WORDS, quantity
from profiler.explore.why_overturn import Why, why
from profiler.numbers import fixed
from profiler.physics.slurry.overturn import State
from profiler.pictures.charts import overturn_plot
from profiler.study import NumberField
from profiler.study.records.design import GROOVE_MOUTH
from profiler.study.records.duty import SOLIDS, SPEED
from profiler.ui.document.document import Document
from profiler.ui.forms.bar_number import bar_number
from profiler.ui.pages.page import Page
from profiler.ui.widgets.canvas import Canvas
from profiler.ui.widgets.labels import plain_label
from profiler.ui.widgets.number_box import NumberBox
from profiler.ui.widgets.theme import Theme

TURNED = (SOLIDS, SPEED, GROOVE_MOUTH)
WIDTH_PX = 50


class OverturnPage(Page):
    """Closed forms on the present evaluation: live while a number is scrubbed."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        self.groove = QComboBox()
        self.boxes: dict[NumberField, NumberBox] = {}
        self.words = plain_label()
        self.ratio, self.power = (
            Canvas("Overturn ratio against wall angle"),
            Canvas("Overturn power against wall angle"),
        )
        self.stepped = Canvas("Jet or skimming against wall angle")
        self.ratio.setToolTip(overturn_plot.RATIO_MEANS)
        self.stepped.setToolTip("\n".join(overturn_plot.STEPPED_MEANS))
        self._lay_out()
        self.groove.activated.connect(lambda _: self._refresh())

    def key_parts(self) -> Sequence[QWidget]:
        return (self.groove, *self.boxes.values())

    def show_theme(self, theme: Theme) -> None:
        super().show_theme(theme)
        self._refresh()

    def show_groove(self, number: int | None) -> None:
        """The groove chosen elsewhere in the window."""
        if number is not None and 0 < number <= self.groove.count():
            self.groove.setCurrentIndex(number - 1)
            self._refresh()

    def _lay_out(self) -> None:
        bar = QHBoxLayout()
        bar.setSpacing(14)
        self.groove.setAccessibleName("Groove looked into")
        bar.addWidget(self.groove)
        for field in TURNED:
            whole, self.boxes[field] = bar_number(self.document, field, WIDTH_PX)
            bar.addWidget(whole)
        bar.addStretch(1)
        self.words.setWordWrap(True)
        self.words.setMinimumHeight(34)
        plots = QGridLayout()
        plots.setSpacing(6)
        plots.addWidget(self.ratio, 0, 0, 2, 1)
        plots.addWidget(self.power, 0, 1)
        plots.addWidget(self.stepped, 1, 1)
        plots.setColumnStretch(0, 5)
        plots.setColumnStretch(1, 4)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 8, 10, 6)
        column.addLayout(bar)
        column.addWidget(self.words)
        column.addLayout(plots, 1)

    def _refresh(self) -> None:
        self.show_evaluation(self.document.evaluation)

    def show_evaluation(self, e: Evaluation) -> None:
        if not self.isVisible():
            return
        for field, box in self.boxes.items():
            box.show_value(field.get(self.document.study))
        count = 0 if e.shape is None else len(e.shape.mouths)
        if e.shape is not None and self.groove.count() != count:
            now = self.groove.currentIndex()
            self.groove.clear()
            self.groove.addItems([f"Groove {n}" for n in range(1, count + 1)])
            self.groove.setCurrentIndex(min(now, count - 1) if now >= 0 else (count - 1) // 2)
        try:
            found = why(e, self.groove.currentIndex() + 1)
        except ValueError as reason:
            self.words.setText(str(reason))
            for canvas in (self.ratio, self.power, self.stepped):
                canvas.show_picture(None, self.theme)
            return
        self.words.setText(words_of(found))
        self.ratio.show_picture(lambda w, h: overturn_plot.ratio_plot(found, w, h), self.theme)
        self.power.show_picture(lambda w, h: overturn_plot.power_plot(found, w, h), self.theme)
        self.stepped.show_picture(lambda w, h: overturn_plot.stepped_plot(found, w, h), self.theme)


def words_of(w: Why) -> str:
    """What the curves say of the chosen groove, and what its ratio and state rest on."""
    i = w.groove - 1
    low, middle, high = w.repose_deg
    ratio = quantity("groove_ratio").text(float(w.grooves_ratio[i]))
    state = STATE_WORDS[State(int(w.grooves_state[i]))]
    alone = w.exposed_ratio(i)
    held = "" if abs(alone - float(w.grooves_ratio[i])) < 0.25 else (
        f" Alone, an exposed wall of its {fixed(w.grooves_deg[i], 1)}° would give {fixed(alone, 2)}: a bed held "
        f"higher up takes the rest."
    )  # fmt: skip
    state_means = ""
    if int(w.grooves_state[i]) == State.MATCHED:
        at_low, at_high = (overfall_words(float(w.grooves_overfall_mm[level, i])) for level in (LOW, HIGH))
        state_means = f" Matched: it {at_low} at low friction, {at_high} at high."
    strong = "" if w.strong_deg != w.strong_deg else f"; strong from {fixed(w.strong_deg, 1)}°"
    return (
        f"Groove {w.groove}: {state}, ratio {ratio}, wall {fixed(w.grooves_deg[i], 1)}°. "
        f"The stream here rests at {fixed(middle, 1)}° "
        f"({fixed(low, 1)}° to {fixed(high, 1)}°): an exposed wall that opens more overturns{strong}."
        f"{held}{state_means}"
    )


def overfall_words(mm: float) -> str:
    """An overfall as a sentence has it: 'falls 0.4 mm', 'is buried 0.2 mm'."""
    if not isfinite(mm):
        return "has no answer"
    return f"falls {fixed(mm, 1)} mm" if mm > 0.0 else f"is buried {fixed(-mm, 1)} mm"

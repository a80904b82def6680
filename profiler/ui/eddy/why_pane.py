"""Why a groove overturns: curves of an exposed wall against its angle, closed forms, with the grooves as they are."""

from math import isfinite

from PySide6.QtWidgets import QGridLayout, QWidget

from profiler.assess import Evaluation
from profiler.assess.flow.flow_stage import HIGH, LOW
from profiler.assess.quantities.table import STATE_WORDS, quantity
from profiler.explore.why_overturn import Why, why
from profiler.numbers import Against, fixed
from profiler.physics.slurry.overturn import State
from profiler.pictures.charts import overturn_plot
from profiler.ui.widgets.canvas import Canvas
from profiler.ui.widgets.theme import LIGHT, Theme


class WhyPane(QWidget):
    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme: Theme = LIGHT
        self.ratio = Canvas("Overturn ratio against wall angle", empty="No answer here.")
        self.power = Canvas("Overturn power against wall angle", empty="No answer here.")
        self.stepped = Canvas("Jet or skimming against wall angle", empty="No answer here.")
        self.ratio.setToolTip(overturn_plot.RATIO_MEANS)
        self.stepped.setToolTip("\n".join(overturn_plot.STEPPED_MEANS))
        plots = QGridLayout(self)
        plots.setContentsMargins(0, 0, 0, 0)
        plots.setSpacing(6)
        plots.addWidget(self.ratio, 0, 0, 1, 2)
        plots.addWidget(self.power, 1, 0)
        plots.addWidget(self.stepped, 1, 1)

    def show_groove(self, e: Evaluation, groove: int, theme: Theme) -> str:
        """Draw the curves; what they say in words, or why there are none."""
        self.theme = theme
        try:
            found = why(e, groove)
        except ValueError as reason:
            for canvas in (self.ratio, self.power, self.stepped):
                canvas.show_picture(None, theme)
            return str(reason)
        self.ratio.show_picture(lambda w, h: overturn_plot.ratio_plot(found, w, h), theme)
        self.power.show_picture(lambda w, h: overturn_plot.power_plot(found, w, h), theme)
        self.stepped.show_picture(lambda w, h: overturn_plot.stepped_plot(found, w, h), theme)
        return words_of(found)


def words_of(w: Why) -> str:
    """What the curves say of the chosen groove, and what its ratio and state rest on."""
    i = w.groove - 1
    low, middle, high = w.repose_deg
    ratio = quantity("groove_ratio").text(float(w.grooves_ratio[i]))
    wall, opens = float(w.grooves_deg[i]), Against(w.grooves_deg[i], w.strong_deg, low)
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
    strong = "" if w.strong_deg != w.strong_deg else f", strongly from {fixed(Against(w.strong_deg, wall), 1)}°"
    low_deg = fixed(Against(low, wall), 1)
    return (
        f"Groove {w.groove}: {state}, ratio {ratio}, wall {fixed(opens, 1)}°. "
        f"The stream here rests at {fixed(middle, 1)}° "
        f"({low_deg}° to {fixed(high, 1)}°): an exposed wall that opens more overturns{strong}; "
        f"below {low_deg}° none does."
        f"{held}{state_means}"
    )


def overfall_words(mm: float) -> str:
    """An overfall as a sentence has it: 'falls 0.4 mm', 'is buried 0.2 mm'."""
    if not isfinite(mm):
        return "has no answer"
    deep = fixed(Against(abs(mm), 0.0), 1)
    return f"falls {deep} mm" if mm > 0.0 else f"is buried {deep} mm"

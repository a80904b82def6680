"""How sure: bowls as they are cast, and what matters, for the shown design under the shown duty; beside the window."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLineEdit, QProgressBar, QPushButton, QVBoxLayout, QWidget

from profiler.assess import Evaluation
from profiler.assess.quantities.table import quantity
from profiler.explore.sure.castings import BOWLS, CAUTION, WORDS, AsCast, Tolerances, as_cast
from profiler.explore.sure.what_matters import Matters, what_matters
from profiler.numbers import read
from profiler.output.terminal.sure_text import castings_answer, costs_words, matters_text
from profiler.pictures.charts.castings_picture import castings_picture
from profiler.progress import Progress
from profiler.ui.document.document import Document
from profiler.ui.widgets.canvas import Canvas
from profiler.ui.widgets.labels import head_label, plain_label
from profiler.ui.widgets.length_line import LengthLine
from profiler.ui.widgets.theme import LIGHT, Theme
from profiler.ui.work.jobs import Jobs

KEY = "how sure"
MATTERING = ("exposed_height_mm", "strong_height_mm", "power_w")
TIP = "Inputs of the duty and how far each may be off: solids=2, water=5, d50=15, feed=0.2, speed=5, density=50"


class SurePane(QWidget):
    """The newest question wins; an answer names the design and duty it speaks of."""

    def __init__(self, document: Document, jobs: Jobs, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document, self.jobs = document, jobs
        self.theme: Theme = LIGHT
        self.bowls = BOWLS
        self.cast: AsCast | None = None
        self.tolerances = {
            name: LengthLine(f"{getattr(Tolerances(), name):g}", unit) for name, (_, unit) in WORDS.items()
        }
        self.plus_minus = QLineEdit()
        self.look, self.progress, self.canvas = (
            QPushButton("Simulate"),
            QProgressBar(),
            Canvas("Bowls as cast", empty="Simulate to see how the castings would turn out."),
        )
        self.sentence, self.costs, self.matters = plain_label(), plain_label(), plain_label()
        self._lay_out()
        self.look.clicked.connect(self.ask)

    def show_theme(self, theme: Theme) -> None:
        self.theme = theme
        self._draw()

    def ask(self) -> None:
        """Work it out beside the window; what cannot be read is one sentence."""
        e, bowls = self.document.evaluation, self.bowls
        try:
            tolerances = Tolerances(**{name: read(box.held).value for name, box in self.tolerances.items()})
            amounts = _amounts(self.plus_minus.text())
        except ValueError as reason:
            self.jobs.cancel(KEY)  # an older question's answer is not this one's
            self._fail(str(reason))
            return
        self.sentence.setText("Simulating…")
        self.progress.setValue(0)
        self.progress.show()

        def work(progress: Progress) -> tuple[AsCast, Matters]:
            matters = what_matters(e, [quantity(key) for key in MATTERING], amounts)
            return as_cast(e.design, e.machine, e.duty, tolerances, bowls, progress=progress), matters

        self.jobs.ask(KEY, work, lambda found: self._take(e, *found), self._advance, self._fail)

    def _lay_out(self) -> None:
        grid = QGridLayout()
        grid.setHorizontalSpacing(8)
        for k, (name, (label, unit)) in enumerate(WORDS.items()):
            box = self.tolerances[name]
            box.setAccessibleName(f"{label}, plus and minus, {unit}")
            box.setMaximumWidth(64)
            box.setAlignment(Qt.AlignmentFlag.AlignRight)
            box.setToolTip("Common practice, no source: a tolerance is yours to accept or change.")
            grid.addWidget(plain_label(f"{label} ±"), 0, 3 * k)
            grid.addWidget(box, 0, 3 * k + 1)
            grid.addWidget(head_label(unit), 0, 3 * k + 2)
        self.plus_minus.setAccessibleName("How far the duty's numbers may be off, plus and minus")
        self.plus_minus.setPlaceholderText("not given; for example solids=2, water=5")
        self.plus_minus.setToolTip(TIP)
        grid.addWidget(plain_label("Duty's numbers ±"), 1, 0)
        grid.addWidget(self.plus_minus, 1, 1, 1, 10)
        grid.addWidget(self.look, 1, 12, 1, 3)
        self.progress.setRange(0, 100)
        self.progress.setTextVisible(False)
        self.progress.setFixedHeight(4)
        self.progress.hide()
        self.matters.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(plain_label(CAUTION))
        column.addLayout(grid)
        column.addWidget(self.progress)
        for said in (self.sentence, self.costs):
            said.setWordWrap(True)
            column.addWidget(said)
        column.addWidget(self.canvas, 1)
        font = self.matters.font()
        font.setFamilies(["DejaVu Sans Mono", "monospace"])
        self.matters.setFont(font)
        column.addWidget(self.matters)

    def _advance(self, share: float) -> None:
        self.progress.setValue(round(100 * share))

    def _take(self, e: Evaluation, cast: AsCast, matters: Matters) -> None:
        self.cast = cast
        self.progress.hide()
        self.sentence.setText(f"{e.design.name}, {e.duty.name}. {castings_answer(cast)}")
        self.costs.setText(f"How far an overfall moves at each tolerance's limit: {costs_words(cast)}.")
        self.matters.setText(matters_text(matters))
        self._draw()

    def _fail(self, sentence: str) -> None:
        self.progress.hide()
        self.sentence.setText(sentence)

    def _draw(self) -> None:
        cast = self.cast
        if cast is not None:
            self.canvas.show_picture(lambda w, h: castings_picture(cast, w, h), self.theme)


def _amounts(text: str) -> dict[str, float]:
    """Raises ValueError, one sentence, for what is no plus and minus."""
    found = {}
    for part in filter(None, (p.strip() for p in text.replace(";", ",").split(","))):
        word, mark, value = part.partition("=")
        if not mark:
            raise ValueError(f"“{part}” is not an input with its amount; write it as solids=2.")
        found[word.strip()] = read(value).value
    return found

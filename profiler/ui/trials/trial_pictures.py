"""The pictures of a trial in a row; a click on a run chooses it. Wear is drawn where the liner's age is recorded."""

from collections.abc import Callable

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QWidget

from profiler.assess.trials.verdicts import TrialEvaluation
from profiler.pictures.basics.display import Picture
from profiler.pictures.charts import trial_charts as charts
from profiler.ui.widgets.canvas import WORKING, Canvas
from profiler.ui.widgets.choice_box import ChoiceBox
from profiler.ui.widgets.theme import Theme

FIVE_PX = 1500
PLACES = {"order": charts.order_points, "wear": charts.wear_points, "grade": charts.grade_points}


class TrialPictures(QWidget):
    row_chosen = Signal(int)

    def __init__(self) -> None:
        super().__init__()
        self.found: TrialEvaluation | None = None
        self.canvases = {
            "differences": Canvas("Differences with their interval", empty=WORKING),
            "order": Canvas("Recoveries in run order, with their drift", empty=WORKING),
            "wear": Canvas("Recoveries against the liner's age, with their drift", empty=WORKING),
            "grade": Canvas("Feed grade against recovery", empty=WORKING),
            "sizes": Canvas("Size classes with intervals", empty=WORKING),
        }
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        for canvas in self.canvases.values():
            row.addWidget(canvas, 1)
        self.along = ChoiceBox()
        self.along.setAccessibleName("Drift of the recoveries along")
        self.along.addItems(["Drift along run order", "Drift along liner age"])
        self.along.currentIndexChanged.connect(lambda _: self._place())
        for name in PLACES:
            self.canvases[name].clicked.connect(lambda x, y, name=name: self._point(name, x, y))

    def show_found(self, found: TrialEvaluation | None, row: int | None, theme: Theme, faded: bool) -> None:
        """`row` is the run marked; `faded` while the verdict of a changed ledger is under way."""
        self.found = found
        self._place()
        if found is None:
            for canvas in self.canvases.values():
                canvas.show_picture(None, theme)
            return
        draws: dict[str, Callable[[float, float], Picture]] = {
            "differences": lambda w, h: charts.differences(found, w, h),
            "order": lambda w, h: charts.run_order(found, w, h, row),
            "wear": lambda w, h: charts.wear(found, w, h, row),
            "grade": lambda w, h: charts.grade_recovery(found, w, h, row),
            "sizes": lambda w, h: charts.size_classes(found, w, h),
        }
        for name, draw in draws.items():
            self.canvases[name].show_picture(draw, theme, faded)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._place()

    def _place(self) -> None:
        """Order and wear side by side where there is room, else the one chosen in `along`."""
        aged = self.found is not None and self.found.with_wear is not None
        both = aged and self.width() >= FIVE_PX
        wear = both or (aged and self.along.currentIndex() == 1)
        self.canvases["wear"].setVisible(wear)
        self.canvases["order"].setVisible(both or not wear)
        self.along.setVisible(aged and not both)

    def _point(self, name: str, x: float, y: float) -> None:
        if self.found is None:
            return
        canvas = self.canvases[name]
        row = charts.nearest(PLACES[name](self.found, float(canvas.width()), float(canvas.height())), x, y)
        if row is not None:
            self.row_chosen.emit(row)

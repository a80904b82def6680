"""The four pictures of a trial in a row; a click on a run chooses it."""

from collections.abc import Callable

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from ...assess.trial_verdicts import TrialEvaluation
from ...pictures import trial_charts as charts
from ...pictures.display import Picture
from ..theme import Theme
from .canvas import Canvas


class TrialPictures(QWidget):
    row_chosen = Signal(int)

    def __init__(self) -> None:
        super().__init__()
        self.found: TrialEvaluation | None = None
        self.canvases = {
            "differences": Canvas("Differences with their interval"),
            "order": Canvas("Recoveries in run order"),
            "grade": Canvas("Feed grade against recovery"),
            "sizes": Canvas("Size classes with intervals"),
        }
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        for canvas in self.canvases.values():
            row.addWidget(canvas, 1)
        self.canvases["order"].clicked.connect(lambda x, y: self._point("order", x, y))
        self.canvases["grade"].clicked.connect(lambda x, y: self._point("grade", x, y))

    def show_found(self, found: TrialEvaluation | None, row: int | None, theme: Theme, faded: bool) -> None:
        """`row` is the run marked; `faded` while the verdict of a changed ledger is under way."""
        self.found = found
        if found is None:
            for canvas in self.canvases.values():
                canvas.show_picture(None, theme)
            return
        draws: dict[str, Callable[[float, float], Picture]] = {
            "differences": lambda w, h: charts.differences(found, w, h),
            "order": lambda w, h: charts.run_order(found, w, h, row),
            "grade": lambda w, h: charts.grade_recovery(found, w, h, row),
            "sizes": lambda w, h: charts.size_classes(found, w, h),
        }
        for name, draw in draws.items():
            self.canvases[name].show_picture(draw, theme, faded)

    def _point(self, name: str, x: float, y: float) -> None:
        if self.found is None:
            return
        place = charts.order_points if name == "order" else charts.grade_points
        canvas = self.canvases[name]
        row = charts.nearest(place(self.found, float(canvas.width()), float(canvas.height())), x, y)
        if row is not None:
            self.row_chosen.emit(row)

"""A range of one number: from and to, typed; refuses what is no number."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QWidget

from profiler.ui.widgets.number import parse_number


class RangeBox(QWidget):
    """Holds texts until both are numbers; whether they make a range is judged by who asked."""

    changed = Signal()
    refused = Signal(str)

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._values = (0.0, 1.0)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(4)
        self.low, self.high = QLineEdit(), QLineEdit()
        self.unit = QLabel()
        self.unit.setObjectName("unit")
        for box, word in ((self.low, "from"), (self.high, "to")):
            box.setObjectName("number")
            box.setFixedWidth(58)
            box.setAccessibleName(f"{name}, {word}")
            box.editingFinished.connect(self._take)
        for part in (self.low, QLabel("to"), self.high, self.unit):
            row.addWidget(part)
        row.addStretch(1)

    @property
    def values(self) -> tuple[float, float]:
        return self._values

    def show_range(self, low: float, high: float, unit: str) -> None:
        self._values = (low, high)
        self.low.setText(f"{low:g}")
        self.high.setText(f"{high:g}")
        self.unit.setText(unit)

    def _take(self) -> None:
        typed = (parse_number(self.low.text()), parse_number(self.high.text()))
        if typed[0] is None or typed[1] is None:
            wrong = self.low.text() if typed[0] is None else self.high.text()
            self.refused.emit(f"“{wrong}” is not a number; the range stays.")
            self.show_range(*self._values, self.unit.text())
        elif typed != self._values:
            self._values = (typed[0], typed[1])
            self.changed.emit()

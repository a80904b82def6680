"""A range of one number: from and to, typed; refuses what is no number."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from profiler.numbers import editable, read
from profiler.ui.widgets.labels import head_label, plain_label
from profiler.ui.widgets.length_line import LengthLine


class RangeBox(QWidget):
    """Holds texts until both are numbers; whether they make a range is judged by who asked."""

    changed = Signal()
    refused = Signal(str)

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._values, self._unit = (0.0, 1.0), ""
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(4)
        self.low, self.high = LengthLine(unit=""), LengthLine(unit="")
        self.unit = head_label()
        self.unit.setObjectName("unit")
        for box, word in ((self.low, "from"), (self.high, "to")):
            box.setObjectName("number")
            box.setFixedWidth(58)
            box.setAlignment(Qt.AlignmentFlag.AlignRight)
            box.setAccessibleName(f"{name}, {word}")
            box.editingFinished.connect(self._take)
        for part in (self.low, plain_label("to"), self.high, self.unit):
            row.addWidget(part)
        row.addStretch(1)

    @property
    def values(self) -> tuple[float, float]:
        return self._values

    def show_range(self, low: float, high: float, unit: str) -> None:
        self._values, self._unit = (low, high), unit
        self.low.hold(editable(low, 0), unit)
        self.high.hold(editable(high, 0), unit)
        self.unit.setText(unit)

    def _take(self) -> None:
        try:
            typed = read(self.low.held).value, read(self.high.held).value
        except ValueError as reason:
            self.refused.emit(f"{str(reason)[:-1]}; the range stays.")
            self.show_range(*self._values, self._unit)
            return
        if typed != self._values:
            self._values = typed
            self.changed.emit()

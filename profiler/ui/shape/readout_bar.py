"""The read-out under the strips: fixed columns, so that numbers do not dance while the crosshair moves."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from profiler.assess.quantities.reading import Reading
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit
from profiler.pictures.strips.readout import COLUMNS, NO_READING, readout
from profiler.ui.widgets.labels import plain_label, plain_tip

REMARK_BESIDE_PX = 1200


class ReadoutBar(QWidget):
    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("readout")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.setAccessibleName("Numbers at the crosshair")
        grid = QGridLayout(self)
        grid.setContentsMargins(8, 2, 8, 2)
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(0)
        self._values: list[QLabel] = []
        for column, spec in enumerate(COLUMNS):
            head, value = plain_label(spec.head), plain_label("–")
            head.setObjectName("muted")
            for label in (head, value):
                font = label.font()
                font.setPointSizeF(8.0)
                label.setFont(font)
            grid.addWidget(head, 0, column)
            grid.addWidget(value, 1, column)
            metrics = value.fontMetrics()  # a label of fixed size asks for no new layout with each text
            value.setFixedSize(metrics.horizontalAdvance(spec.sample) + 1, metrics.height())
            self._values.append(value)
            self._bed_head = head  # the last column's
        grid.setColumnStretch(len(COLUMNS), 1)
        self.remark = plain_label()
        self.remark.setObjectName("muted")
        font = self.remark.font()
        font.setPointSizeF(8.0)
        self.remark.setFont(font)
        grid.addWidget(self.remark, 0, len(COLUMNS), 2, 1)
        self.remark.setWordWrap(True)
        self._grid, self._cramped = grid, False
        self.show_reading(None, MILLIMETRES)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Where there is no room beside the columns, a remark takes the place of the last, the bed it speaks of."""
        super().resizeEvent(event)
        cramped = self.width() < REMARK_BESIDE_PX
        if cramped != self._cramped:
            self._cramped = cramped
            first = len(COLUMNS) - 1 if cramped else len(COLUMNS)
            self._grid.addWidget(self.remark, 0, first, 2, len(COLUMNS) + 1 - first)
            self._show_bed()

    def show_reading(self, reading: Reading | None, lengths: LengthUnit) -> None:
        for label, text in zip(self._values, readout(reading, lengths), strict=True):
            label.setText(text)
        remark = NO_READING if reading is None else reading.remark
        bed = f"{COLUMNS[-1].head}: {self._values[-1].text()}\n" if remark and reading is not None else ""
        self.remark.setText(remark)
        self.remark.setToolTip(plain_tip(f"{bed}{remark}"))
        self._show_bed()

    def _show_bed(self) -> None:
        said = bool(self.remark.text())
        bed = not (self._cramped and said)
        for label, shown in ((self._bed_head, bed), (self._values[-1], bed), (self.remark, said)):
            if label.isHidden() is shown:
                label.setVisible(shown)

"""Size classes as a table: the sieve, what stays on it, and what passes it, coarse first."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableWidget, QTableWidgetItem, QWidget

from ..study import SizeClass, fields_of
from .number import parse_number, shortest

COLUMNS = ("size_um", "retained_pct")
HEADS = ("Sieve, µm", "Retained, %", "Passing, %")
ROW_PX = 22
LEAST_ROWS, MOST_ROWS = 3, 7


class SizesTable(QTableWidget):
    """Proposes single numbers; refuses with a sentence what is no number or lies outside the field's bounds."""

    proposed = Signal(int, str, float)  # row, member, value
    refused = Signal(str)
    paste_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(0, len(HEADS), parent)
        self.setHorizontalHeaderLabels(list(HEADS))
        self.verticalHeader().hide()
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        self.horizontalHeader().setSectionResizeMode(1, QHeaderView.ResizeMode.ResizeToContents)
        self.verticalHeader().setDefaultSectionSize(ROW_PX)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setAccessibleName("Size classes, coarsest sieve first")
        self.setTabKeyNavigation(False)
        self._rows: tuple[SizeClass, ...] = ()
        self._filling = False
        self.itemChanged.connect(self._take)

    @property
    def chosen(self) -> int:
        """The current row; the last where none is."""
        row = self.currentRow()
        return row if 0 <= row < len(self._rows) else len(self._rows) - 1

    def show_rows(self, rows: tuple[SizeClass, ...], passing: Sequence[float]) -> None:
        """`passing` in per cent of all, one for each row."""
        self._filling = True
        self._rows = rows
        self.setRowCount(len(rows))
        for row, finer in enumerate(passing):
            for column in range(len(COLUMNS)):
                self._write(row, column)
            self._put(row, len(COLUMNS), f"{finer:.1f}", "Of the solids' mass, finer than this sieve.", editable=False)
        shown = min(max(len(rows), LEAST_ROWS), MOST_ROWS)
        self.setFixedHeight(self.horizontalHeader().sizeHint().height() + ROW_PX * shown + 4)
        self._filling = False

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.matches(QKeySequence.StandardKey.Paste):
            self.paste_wanted.emit()
        else:
            super().keyPressEvent(event)

    def _write(self, row: int, column: int) -> None:
        name = COLUMNS[column]
        field = fields_of(SizeClass)[name]
        self._put(row, column, shortest(getattr(self._rows[row], name), field.decimals), field.help)

    def _put(self, row: int, column: int, text: str, tip: str, editable: bool = True) -> None:
        item = self.item(row, column)
        if item is None:
            item = QTableWidgetItem()
            item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            item.setToolTip(tip)
            if not editable:
                item.setFlags(Qt.ItemFlag.ItemIsEnabled)
            self.setItem(row, column, item)
        if item.text() != text:
            item.setText(text)

    def _take(self, item: QTableWidgetItem) -> None:
        if self._filling or item.column() >= len(COLUMNS):
            return
        row, name, text = item.row(), COLUMNS[item.column()], item.text().strip()
        field, value = fields_of(SizeClass)[name], parse_number(text)
        objection = f"{field.label}: “{text}” is not a number." if value is None else field.objection(value)
        if objection is not None:
            self.refused.emit(f"{objection[:-1]}; nothing was changed.")
        elif value is not None and value != getattr(self._rows[row], name):
            self.proposed.emit(row, name, value)
        self._filling = True
        self._write(row, item.column())
        self._filling = False

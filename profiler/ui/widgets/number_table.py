"""What tables of numbers share: a row per record, numbers to the right, refusal in a sentence."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableWidget, QTableWidgetItem, QWidget

from profiler.study import Field

ROW_PX = 22


class NumberTable(QTableWidget):
    """Subclasses write their records with `put` while `_filling`, and take what is typed in `_take`."""

    refused = Signal(str)

    def __init__(self, heads: Sequence[str], name: str, parent: QWidget | None = None) -> None:
        super().__init__(0, len(heads), parent)
        self.setHorizontalHeaderLabels(list(heads))
        self.verticalHeader().hide()
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        self.verticalHeader().setDefaultSectionSize(ROW_PX)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setAccessibleName(name)
        self.setTabKeyNavigation(False)
        self._filling = False
        self.itemChanged.connect(self._take)

    def put(self, row: int, column: int, text: str, tip: str, editable: bool = True) -> None:
        """Write a cell, made when it is first needed; one that says so already is left alone."""
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

    def show_height(self, rows: int, least: int, most: int) -> None:
        """As high as its rows, within bounds."""
        shown = min(max(rows, least), most)
        self.setFixedHeight(self.horizontalHeader().sizeHint().height() + ROW_PX * shown + 4)

    def accepts(self, field: Field, text: str, value: float | None) -> bool:
        """Whether what was typed can be worked with; says why where not."""
        objection = f"{field.label}: “{text}” is not a number." if value is None else field.objection(value)
        if objection is not None:
            self.refused.emit(f"{objection[:-1]}; nothing was changed.")
        return objection is None

    def _take(self, item: QTableWidgetItem) -> None:
        raise NotImplementedError

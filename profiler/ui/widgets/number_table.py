"""What tables of numbers share: a row per record, numbers to the right, refusal in a sentence."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableWidget, QTableWidgetItem, QWidget

from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit
from profiler.study import Field
from profiler.ui.widgets.number_box import typed_value

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

    def typed(self, field: Field, text: str, lengths: LengthUnit = MILLIMETRES) -> float | None:
        """What was typed, in the field's own unit; None, and said why, where it cannot be used."""
        try:
            return typed_value(field, text, lengths)
        except ValueError as reason:
            self.refused.emit(f"{str(reason)[:-1]}; nothing was changed.")
            return None

    def _take(self, item: QTableWidgetItem) -> None:
        raise NotImplementedError

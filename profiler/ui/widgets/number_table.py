"""A table of numbers: a row per record, a column per Field, numbers to the right, refusal in a sentence."""

from collections.abc import Iterable, Sequence
from textwrap import fill

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableWidget, QTableWidgetItem, QWidget

from profiler import numbers
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit
from profiler.study import NumberField, Record
from profiler.ui.widgets.labels import Tells, unit_of
from profiler.ui.widgets.number_box import typed_value

LONGEST_HEAD = 13  # letters of a line; a longer head has two
ROW_PX = 22


class NumberTable(Tells, QTableWidget):
    """Proposes single numbers: the field of the record's place in its list, and the value.

    `upward` tables stand as the strips do: the last record on top. Columns after those of the fields can be read only.
    """

    proposed = Signal(object, object)  # Field, value or None
    refused = Signal(str)

    def __init__(
        self,
        fields: Sequence[NumberField],
        name: str,
        rows: tuple[int, int],
        upward: bool = False,
        further: Iterable[str] = (),
        parent: QWidget | None = None,
    ) -> None:
        """`rows` are the least and the most shown without scrolling, `further` the heads of columns to be read."""
        heads = [*(field.head for field in fields), *further]
        super().__init__(0, len(heads), parent)
        self.fields = tuple(fields)
        self.records: tuple[Record, ...] = ()
        self._upward, self._span = upward, rows
        self._lengths = MILLIMETRES
        self._filling = False
        self.setHorizontalHeaderLabels([fill(head, LONGEST_HEAD) for head in heads])
        self.verticalHeader().hide()
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        self.verticalHeader().setDefaultSectionSize(ROW_PX)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setAccessibleName(name)
        self.setTabKeyNavigation(False)
        self.itemChanged.connect(self._take)

    @property
    def chosen(self) -> int:
        """The record whose row is current; the last where none is."""
        row = self.currentRow()
        return self.place(row) if 0 <= row < len(self.records) else len(self.records) - 1

    def place(self, row: int) -> int:
        """The record's place in its list; and the row of a place."""
        return len(self.records) - 1 - row if self._upward else row

    def show_records(self, records: Sequence[Record]) -> None:
        self._filling = True
        self.records = tuple(records)
        self.setRowCount(len(self.records))
        for row in range(len(self.records)):
            self._write(row)
        shown = min(max(len(self.records), self._span[0]), self._span[1])
        self.setFixedHeight(self.horizontalHeader().sizeHint().height() + ROW_PX * shown + 4)
        self._filling = False

    def tell_again(self) -> None:
        """Show and take lengths in the window's unit; other numbers stay as they are."""
        super().tell_again()
        unit = unit_of(self)
        if unit is self._lengths:
            return
        self._lengths = unit
        for column, field in enumerate(self.fields):
            if field.unit == MILLIMETRES.name:
                head = field.head.removesuffix(MILLIMETRES.name) + unit.name
                self.setHorizontalHeaderItem(column, QTableWidgetItem(fill(head, LONGEST_HEAD)))
        self.show_records(self.records)

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

    def _write(self, row: int) -> None:
        record = self.records[self.place(row)]
        for column, field in enumerate(self.fields):
            unit, value = self._unit(field), field.get(record)
            text = "" if value is None else numbers.editable(unit.shown(value), field.decimals + unit.more_decimals)
            self.put(row, column, text, field.help)

    def _take(self, item: QTableWidgetItem) -> None:
        row, column = item.row(), item.column()
        if self._filling or column >= len(self.fields):
            return
        field, text = self.fields[column], item.text().strip()
        value = self._read(field, text)
        if (value is not None or (field.empty and not text)) and value != field.get(self.records[self.place(row)]):
            self.proposed.emit(field.at(self.place(row)), value)
        self._filling = True
        self._write(row)
        self._filling = False

    def _read(self, field: NumberField, text: str) -> float | None:
        """What was typed, in the field's own unit; None, and said why, where it cannot be used."""
        if field.empty and not text:
            return None
        try:
            return typed_value(field, text, self._unit(field))
        except ValueError as reason:
            self.refused.emit(f"{str(reason)[:-1]}; nothing was changed.")
            return None

    def _unit(self, field: NumberField) -> LengthUnit:
        return self._lengths if field.unit == MILLIMETRES.name else MILLIMETRES

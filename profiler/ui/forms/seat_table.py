"""The seat as a table: height and radius of every point, the rim on top as in the section."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QTableWidgetItem, QWidget

from profiler.numbers import editable
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit
from profiler.study import SeatPoint, fields_of
from profiler.ui.widgets.number_table import NumberTable

COLUMNS = ("height_mm", "radius_mm")
HEADS = ("Height, mm", "Radius, mm")
LEAST_ROWS, MOST_ROWS = 2, 8


class SeatTable(NumberTable):
    """Proposes single numbers; refuses with a sentence what is no number or lies outside the field's bounds."""

    proposed = Signal(int, str, float)  # point from the floor, member, value

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(HEADS, "Points of the seat, rim first; heights from the seat's floor", parent)
        self._seat: tuple[SeatPoint, ...] = ()
        self._lengths = MILLIMETRES

    @property
    def chosen(self) -> int:
        """The point whose row is current, from the floor; the topmost where none is."""
        row = self.currentRow()
        return len(self._seat) - 1 - (row if 0 <= row < len(self._seat) else 0)

    def show_lengths(self, unit: LengthUnit) -> None:
        self._lengths = unit
        for column, word in enumerate(("Height", "Radius")):
            self.setHorizontalHeaderItem(column, QTableWidgetItem(f"{word}, {unit.name}"))
        self.show_seat(self._seat)

    def show_seat(self, seat: tuple[SeatPoint, ...]) -> None:
        self._filling = True
        self._seat = seat
        self.setRowCount(len(seat))
        for row in range(len(seat)):
            for column in range(len(COLUMNS)):
                self._write(row, column)
        self.show_height(len(seat), LEAST_ROWS, MOST_ROWS)
        self._filling = False

    def _point(self, row: int) -> int:
        return len(self._seat) - 1 - row

    def _write(self, row: int, column: int) -> None:
        name = COLUMNS[column]
        field, value = fields_of(SeatPoint)[name], getattr(self._seat[self._point(row)], name)
        text = editable(self._lengths.shown(value), field.decimals + self._lengths.more_decimals)
        self.put(row, column, text, field.help)

    def _take(self, item: QTableWidgetItem) -> None:
        if self._filling:
            return
        row, column = item.row(), item.column()
        index, name = self._point(row), COLUMNS[column]
        field, text = fields_of(SeatPoint)[name], item.text().strip()
        value = self.typed(field, text, self._lengths)
        if value is not None and value != getattr(self._seat[index], name):
            self.proposed.emit(index, name, value)
        self._filling = True
        self._write(row, column)
        self._filling = False

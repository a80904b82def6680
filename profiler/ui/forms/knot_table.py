"""The knots as a table: the exact numbers, and the way to them without a mouse."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QTableWidgetItem, QWidget

from profiler.numbers import editable
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit
from profiler.study import Knot, fields_of
from profiler.ui.widgets.number_table import NumberTable

COLUMNS = ("height_mm", "angle_deg", "leaving_deg")
HEADS = ("Height, mm", "Angle, °", "Leaving, °")
LEAST_ROWS, MOST_ROWS = 3, 9


class KnotTable(NumberTable):
    """One row per knot, the lip on top as in the strips. Proposes; refuses with a sentence what is no number."""

    proposed = Signal(int, str, object)  # knot, member, value or None
    chosen = Signal(int, bool)  # knot, whether its leaving angle

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(HEADS, "Knots of the wall curve, lip first", parent)
        self._knots: tuple[Knot, ...] = ()
        self._lengths = MILLIMETRES
        self.currentCellChanged.connect(self._choose)

    def show_lengths(self, unit: LengthUnit) -> None:
        self._lengths = unit
        self.setHorizontalHeaderItem(0, QTableWidgetItem(f"Height, {unit.name}"))

    def show_knots(self, knots: tuple[Knot, ...], chosen: int | None, leaving: bool) -> None:
        self._filling = True
        self._knots = knots
        self.setRowCount(len(knots))
        for row in range(len(knots)):
            knot = knots[len(knots) - 1 - row]
            for column, name in enumerate(COLUMNS):
                self._write(row, column, getattr(knot, name), name)
        self.show_height(len(knots), LEAST_ROWS, MOST_ROWS)
        if chosen is not None and chosen < len(knots):
            self.setCurrentCell(len(knots) - 1 - chosen, self._column(knots[chosen], leaving))
        elif chosen is None:
            self.setCurrentCell(-1, -1)
        self._filling = False

    def _column(self, knot: Knot, leaving: bool) -> int:
        """Where the cursor belongs: it stays in its column unless the other angle of a corner was chosen."""
        now = self.currentColumn()
        if leaving:
            return 2
        return 1 if now < 0 or (now == 2 and knot.is_corner) else now

    def _write(self, row: int, column: int, value: float | None, name: str) -> None:
        field = fields_of(Knot)[name]
        unit = self._lengths if name == "height_mm" else MILLIMETRES
        text = "" if value is None else editable(unit.shown(value), field.decimals + unit.more_decimals)
        self.put(row, column, text, field.help)

    def _take(self, item: QTableWidgetItem) -> None:
        if self._filling:
            return
        index, name = len(self._knots) - 1 - item.row(), COLUMNS[item.column()]
        text = item.text().strip()
        old = getattr(self._knots[index], name)
        field = fields_of(Knot)[name]
        if not text and name == "leaving_deg":
            self.proposed.emit(index, name, None)
            return
        value = self.typed(field, text, self._lengths if name == "height_mm" else MILLIMETRES)
        if value is not None and value != old:
            self.proposed.emit(index, name, value)
        self._filling = True
        self._write(item.row(), item.column(), old, name)
        self._filling = False

    def _choose(self, row: int, column: int, *_: int) -> None:
        if not self._filling and row >= 0:
            index = len(self._knots) - 1 - row
            self.chosen.emit(index, column == 2 and self._knots[index].is_corner)

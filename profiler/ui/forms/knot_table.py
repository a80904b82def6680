"""The knots as a table: the exact numbers, and the way to them without a mouse."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from profiler.study import Knot
from profiler.study.records.design import KNOT_ANGLE, KNOT_HEIGHT, KNOT_LEAVING
from profiler.ui.widgets.number_table import NumberTable

COLUMNS = (KNOT_HEIGHT, KNOT_ANGLE, KNOT_LEAVING)
ANGLE, LEAVING = COLUMNS.index(KNOT_ANGLE), COLUMNS.index(KNOT_LEAVING)

LOCKED = "This knot is locked: untick “Lock this knot” below to change it."


class KnotTable(NumberTable):
    """One row per knot, the lip on top as in the strips."""

    chosen_knot = Signal(int, bool)  # knot, whether its leaving angle

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(COLUMNS, "Knots of the wall curve, lip first", (3, 9), upward=True, parent=parent)
        self.currentCellChanged.connect(self._choose)

    def show_knots(self, knots: tuple[Knot, ...], chosen: int | None, leaving: bool) -> None:
        self.show_records(knots)
        self._filling = True
        if chosen is None:
            self.setCurrentCell(-1, -1)
        elif chosen < len(knots):
            self.setCurrentCell(self.place(chosen), self._column(knots[chosen], leaving))
        self._filling = False

    def _write(self, row: int) -> None:
        """A locked knot's numbers are pale, and say so."""
        super()._write(row)
        knot = self.records[self.place(row)]
        locked = isinstance(knot, Knot) and knot.locked
        for column in range(len(COLUMNS)):
            item = self.item(row, column)
            if item is not None:
                font = item.font()
                if font.italic() is not locked:
                    font.setItalic(locked)
                    item.setFont(font)
                    item.setToolTip(LOCKED if locked else COLUMNS[column].help)

    def _column(self, knot: Knot, leaving: bool) -> int:
        """Where the cursor belongs: it stays in its column unless the other angle of a corner was chosen."""
        now = self.currentColumn()
        if leaving:
            return LEAVING
        return ANGLE if now < 0 or (now == LEAVING and knot.is_corner) else now

    def _choose(self, row: int, column: int, *_: int) -> None:
        if not self._filling and row >= 0:
            knot = self.records[self.place(row)]
            self.chosen_knot.emit(self.place(row), column == LEAVING and isinstance(knot, Knot) and knot.is_corner)

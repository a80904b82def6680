"""Size classes as a table: the sieve, what stays on it, and what passes it, coarse first."""

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHeaderView, QTableWidgetItem, QWidget

from profiler.numbers import editable
from profiler.study import SizeClass, fields_of
from profiler.ui.widgets.keys import PASTE, Key, answered, keyed
from profiler.ui.widgets.number_table import NumberTable

COLUMNS = ("size_um", "retained_pct")
HEADS = ("Sieve, µm", "Retained, %", "Passing, %")
LEAST_ROWS, MOST_ROWS = 3, 7

KEYS: tuple[Key["SizesTable"], ...] = (
    keyed("Paste sieve and per cent, two columns of a spreadsheet", lambda t: t.want_paste(), *PASTE),
)


class SizesTable(NumberTable):
    """Proposes single numbers; refuses with a sentence what is no number or lies outside the field's bounds."""

    proposed = Signal(int, str, float)  # row, member, value
    paste_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(HEADS, "Size classes, coarsest sieve first", parent)
        self.horizontalHeader().setSectionResizeMode(1, QHeaderView.ResizeMode.ResizeToContents)
        self._rows: tuple[SizeClass, ...] = ()

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
            self.put(row, len(COLUMNS), f"{finer:.1f}", "Of the solids' mass, finer than this sieve.", editable=False)
        self.show_height(len(rows), LEAST_ROWS, MOST_ROWS)
        self._filling = False

    def want_paste(self) -> None:
        self.paste_wanted.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not answered(self, KEYS, event):
            super().keyPressEvent(event)

    def _write(self, row: int, column: int) -> None:
        name = COLUMNS[column]
        field = fields_of(SizeClass)[name]
        self.put(row, column, editable(getattr(self._rows[row], name), field.decimals), field.help)

    def _take(self, item: QTableWidgetItem) -> None:
        if self._filling or item.column() >= len(COLUMNS):
            return
        row, name, text = item.row(), COLUMNS[item.column()], item.text().strip()
        value = self.typed(fields_of(SizeClass)[name], text)
        if value is not None and value != getattr(self._rows[row], name):
            self.proposed.emit(row, name, value)
        self._filling = True
        self._write(row, item.column())
        self._filling = False

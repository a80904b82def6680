"""Size classes as a table: the sieve, what stays on it, and what passes it, coarse first."""

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHeaderView, QWidget

from profiler.study import SizeClass
from profiler.study.records.size_classes import RETAINED, SIEVE
from profiler.ui.widgets.keys import PASTE, Key, answered, keyed
from profiler.ui.widgets.number_table import NumberTable

COLUMNS = (SIEVE, RETAINED)

KEYS: tuple[Key["SizesTable"], ...] = (
    keyed("Paste sieve and per cent, two columns of a spreadsheet", lambda t: t.want_paste(), *PASTE),
)


class SizesTable(NumberTable):
    paste_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(COLUMNS, "Size classes, coarsest sieve first", (3, 7), further=["Passing, %"], parent=parent)
        self.horizontalHeader().setSectionResizeMode(1, QHeaderView.ResizeMode.ResizeToContents)

    def show_rows(self, rows: tuple[SizeClass, ...], passing: Sequence[float]) -> None:
        """`passing` in per cent of all, one for each row."""
        self.show_records(rows)
        self._filling = True
        for row, finer in enumerate(passing):
            self.put(row, len(COLUMNS), f"{finer:.1f}", "Of the solids' mass, finer than this sieve.", editable=False)
        self._filling = False

    def want_paste(self) -> None:
        self.paste_wanted.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not answered(self, KEYS, event):
            super().keyPressEvent(event)

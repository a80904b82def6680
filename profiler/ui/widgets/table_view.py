"""A table as its file will hold it: read-only, any length, copied as a spreadsheet takes it."""

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractItemView, QApplication, QHeaderView, QTableView

from profiler.numbers import in_plain_signs, is_number
from profiler.output.record.output import TableShown
from profiler.ui.widgets.keys import COPY, Key, answered, keyed

Place = QModelIndex | QPersistentModelIndex
EMPTY = TableShown((), ())
NOWHERE = QModelIndex()
ROLE = Qt.ItemDataRole
WIDEST = 420  # px of a column
LOOKED_AT = 60  # rows by which the width of a column is judged

KEYS: tuple[Key["TableView"], ...] = (keyed("Copy the chosen cells", lambda t: t.copy_chosen(), *COPY),)


class _Cells(QAbstractTableModel):
    def __init__(self) -> None:
        super().__init__()
        self.table = EMPTY

    def show(self, table: TableShown) -> None:
        self.beginResetModel()
        self.table = table
        self.endResetModel()

    def rowCount(self, parent: Place = NOWHERE) -> int:
        return 0 if parent.isValid() else len(self.table.rows)

    def columnCount(self, parent: Place = NOWHERE) -> int:
        return 0 if parent.isValid() else len(self.table.heads)

    def data(self, index: Place, role: int = ROLE.DisplayRole) -> object:
        row = self.table.rows[index.row()]
        text = row[index.column()] if index.column() < len(row) else ""
        if role in (ROLE.DisplayRole, ROLE.ToolTipRole):
            return text
        if role == ROLE.TextAlignmentRole:
            side = Qt.AlignmentFlag.AlignRight if is_number(text) else Qt.AlignmentFlag.AlignLeft
            return int(side | Qt.AlignmentFlag.AlignVCenter)
        return None

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = ROLE.DisplayRole) -> object:
        if orientation == Qt.Orientation.Horizontal and role == ROLE.DisplayRole:
            return self.table.heads[section]
        return None


class TableView(QTableView):
    def __init__(self, name: str) -> None:
        super().__init__()
        self._cells = _Cells()
        self.setModel(self._cells)
        self.setAccessibleName(name)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setAlternatingRowColors(True)
        self.setShowGrid(False)
        self.setWordWrap(False)
        self.setTabKeyNavigation(False)
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(21)
        self.horizontalHeader().setResizeContentsPrecision(LOOKED_AT)
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Interactive)

    @property
    def table(self) -> TableShown:
        return self._cells.table

    def show_table(self, table: TableShown) -> None:
        same = table.heads == self.table.heads
        place = self.verticalScrollBar().value()
        self._cells.show(table)
        self.resizeColumnsToContents()
        for column in range(len(table.heads)):
            self.setColumnWidth(column, min(self.columnWidth(column) + 8, WIDEST))
        if same:
            self.verticalScrollBar().setValue(place)

    def text(self) -> str:
        """Heads and rows, with tabs between cells; numbers as a spreadsheet takes them."""
        lines = [self.table.heads, *self.table.rows]
        return "".join("\t".join(in_plain_signs(cell).replace("\t", " ") for cell in line) + "\n" for line in lines)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not answered(self, KEYS, event):
            super().keyPressEvent(event)

    def copy_chosen(self) -> None:
        """What is chosen is copied as a table too."""
        QApplication.clipboard().setText(self._chosen())

    def _chosen(self) -> str:
        cells: dict[int, dict[int, str]] = {}
        for index in self.selectionModel().selectedIndexes():
            cells.setdefault(index.row(), {})[index.column()] = in_plain_signs(str(index.data()))
        return "\n".join("\t".join(text for _, text in sorted(row.items())) for _, row in sorted(cells.items()))

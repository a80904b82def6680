"""The two tables of an import: column by column what it is taken for, and the first rows as typed and as read."""

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QAbstractItemView, QComboBox, QHeaderView, QTableWidget, QTableWidgetItem

from profiler.pictures.basics.display import Role
from profiler.ui.trials.import_shown import Shown, ShownRow
from profiler.ui.widgets.choice_box import ChoiceBox
from profiler.ui.widgets.theme import Theme

PASSED_OVER = "(passed over)"
HEADINGS = ("Heading", "Taken as", "Unit", "Cells read", "How it was recognised")


class ColumnTable(QTableWidget):
    """A row per column of the file; meaning and unit can be answered otherwise."""

    meant = Signal(str, str, str)  # heading, key, unit

    def __init__(self) -> None:
        super().__init__()
        _as_read_only(self, "What each column of the file is taken for")
        self.combos: dict[str, QComboBox] = {}
        self.setColumnCount(len(HEADINGS))
        self.setHorizontalHeaderLabels(list(HEADINGS))
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(25)

    def show_columns(self, shown: Shown, theme: Theme) -> None:
        columns = [column for column in shown.columns if column.heading]
        self.setRowCount(0)
        self.setRowCount(len(columns))
        self.combos = {}
        for row, column in enumerate(columns):
            for place, text in ((0, column.heading), (3, column.cells), (4, column.note)):
                item = QTableWidgetItem(text)
                item.setToolTip(text)
                if not column.key:
                    item.setForeground(theme.colour(Role.FAINT))
                self.setItem(row, place, item)
            heading, key = column.heading, column.key
            meaning = self._combo(row, 1, f"What “{heading}” is taken as", [("", PASSED_OVER), *shown.meanings], key)
            meaning.activated.connect(self._sender(heading, meaning, None))
            self.combos[heading] = meaning
            units = shown.units.get(key, ())
            if len(units) > 1:
                unit = self._combo(row, 2, f"Unit of “{heading}”", [(name, name) for name in units], column.unit)
                unit.activated.connect(self._sender(heading, meaning, unit))
            else:
                self.setItem(row, 2, QTableWidgetItem(column.unit))
        header = self.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setStretchLastSection(True)

    def _sender(self, heading: str, meaning: QComboBox, unit: QComboBox | None) -> Callable[[int], None]:
        def send(_: int) -> None:
            self.meant.emit(heading, str(meaning.currentData()), "" if unit is None else str(unit.currentData()))

        return send

    def _combo(self, row: int, place: int, name: str, items: list[tuple[str, str]], chosen: str) -> QComboBox:
        combo = ChoiceBox()
        combo.setAccessibleName(name)
        combo.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        for key, words in items:
            combo.addItem(words, key)
        combo.setCurrentIndex(max(combo.findData(chosen), 0))
        self.setCellWidget(row, place, combo)
        return combo


class RowTable(QTableWidget):
    """Each line of the file twice: as typed, and below it as read, in the ledger's units."""

    def __init__(self) -> None:
        super().__init__()
        _as_read_only(self, "First rows as typed and as read")

    def show_rows(self, shown: Shown, theme: Theme) -> None:
        self.setRowCount(0)
        self.setColumnCount(len(shown.columns))
        self.setHorizontalHeaderLabels([column.heading or "–" for column in shown.columns])
        self.setRowCount(2 * len(shown.rows))
        names: list[str] = []
        for place, row in enumerate(shown.rows):
            names += [f"line {row.line}", "as read" if row.taken else "not taken"]
            for k in range(len(shown.columns)):
                self._put(2 * place, k, row.typed, row, theme, Role.FAINT if not shown.columns[k].key else Role.TEXT)
                self._put(2 * place + 1, k, row.read, row, theme, Role.REPOSE if row.taken else Role.FAINT)
        self.setVerticalHeaderLabels(names)
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)

    def _put(self, at: int, k: int, texts: tuple[str, ...], row: ShownRow, theme: Theme, role: Role) -> None:
        item = QTableWidgetItem(texts[k] if k < len(texts) else "")
        problem = row.problems.get(k, "")
        item.setForeground(theme.colour(Role.STOP if problem else role))
        item.setToolTip(problem)
        self.setItem(at, k, item)


def _as_read_only(table: QTableWidget, name: str) -> None:
    table.setTabKeyNavigation(False)
    table.setAccessibleName(name)
    table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
    table.verticalHeader().setDefaultSectionSize(21)
    table.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)

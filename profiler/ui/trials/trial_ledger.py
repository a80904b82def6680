"""The ledger as a table: a row per run, typed and pasted into; what is worked out stands beside it, read only."""

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt, Signal
from PySide6.QtGui import QFont, QKeyEvent
from PySide6.QtWidgets import QAbstractItemView, QApplication, QTableView, QWidget

from profiler.assess.trials.balances import NO_ERROR
from profiler.assess.trials.verdicts import TrialEvaluation
from profiler.numbers import NOTHING, fixed
from profiler.pictures.basics.display import Role
from profiler.study.ledger.columns import COLUMNS, Column
from profiler.study.ledger.reading import has_headings
from profiler.study.ledger.text_tables import read_table
from profiler.study.records.trial import Run, Trial
from profiler.ui.widgets.keys import COPY, PASTE, Key, answered, keyed
from profiler.ui.widgets.labels import plain_tip
from profiler.ui.widgets.theme import LIGHT, Theme

Index = QModelIndex | QPersistentModelIndex
ROOT = QModelIndex()
USED, FLAGS = "used", "flags"  # worked out, not typed
_FIRST = ("run", "design", "block", "order", "recovery_pct")
KEYS = (*_FIRST[:4], USED, FLAGS, *(key for key in COLUMNS if key not in _FIRST), _FIRST[4])
_TITLES = {USED: "Recovery\non basis, %", FLAGS: "Flags"}
_WIDE = {"design": 118, "started": 122, "exclusion_reason": 170, "remarks": 200, "machine": 88, FLAGS: 46}


class LedgerModel(QAbstractTableModel):
    """Shows the document's runs; a typed cell is proposed, never set here."""

    proposed = Signal(object, str)  # texts by (row, key), name of the edit

    def __init__(self) -> None:
        super().__init__()
        self.runs: tuple[Run, ...] = ()
        self.found: TrialEvaluation | None = None
        self.theme: Theme = LIGHT

    def show_trial(self, trial: Trial | None, found: TrialEvaluation | None) -> None:
        """The runs, and what was worked out of just these runs (None while that is under way)."""
        runs = () if trial is None else trial.runs
        if len(runs) != len(self.runs):
            self.beginResetModel()
            self.runs, self.found = runs, found
            self.endResetModel()
            return
        self.runs, self.found = runs, found
        if runs:
            self.dataChanged.emit(self.index(0, 0), self.index(len(runs) - 1, len(KEYS) - 1))

    def rowCount(self, parent: Index = ROOT) -> int:
        return 0 if parent.isValid() else len(self.runs)

    def columnCount(self, parent: Index = ROOT) -> int:
        return 0 if parent.isValid() else len(KEYS)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        if role != Qt.ItemDataRole.DisplayRole:
            return None
        if orientation == Qt.Orientation.Vertical:
            return str(section + 1)
        column = COLUMNS.get(KEYS[section])
        if column is None:
            return _TITLES[KEYS[section]]
        label = "Recovery\nentered" if column.key == "recovery_pct" else column.label
        return f"{label}, {column.unit}" if "\n" in label else _two_lines(column)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        run, key = self.runs[index.row()], KEYS[index.column()]
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.EditRole):
            return self._text(index.row(), key)
        if role == Qt.ItemDataRole.ToolTipRole:
            tip = self._tip(index.row(), run, key)
            return None if tip is None else plain_tip(tip)
        if role == Qt.ItemDataRole.ForegroundRole and run.excluded:
            return self.theme.colour(Role.FAINT)
        if role == Qt.ItemDataRole.ForegroundRole and key == FLAGS:
            return self.theme.colour(Role.STOP)
        if role == Qt.ItemDataRole.FontRole and run.excluded:
            font = QFont(QApplication.font())
            font.setStrikeOut(key != "exclusion_reason")
            return font
        if role == Qt.ItemDataRole.TextAlignmentRole:
            numeric = key == USED or (key in COLUMNS and bool(COLUMNS[key].units))
            side = Qt.AlignmentFlag.AlignRight if numeric else Qt.AlignmentFlag.AlignLeft
            return side | Qt.AlignmentFlag.AlignVCenter
        return None

    def setData(self, index: Index, value: object, role: int = Qt.ItemDataRole.EditRole) -> bool:
        key = KEYS[index.column()]
        if role != Qt.ItemDataRole.EditRole or key not in COLUMNS or str(value) == self._text(index.row(), key):
            return False
        run = self.runs[index.row()].run
        self.proposed.emit({(index.row(), key): str(value)}, f"{COLUMNS[key].label} of run {run}")
        return True

    def flags(self, index: Index) -> Qt.ItemFlag:
        known = super().flags(index)
        editable = KEYS[index.column()] in COLUMNS and KEYS[index.column()] != "excluded"
        return known | Qt.ItemFlag.ItemIsEditable if editable else known

    def _text(self, row: int, key: str) -> str:
        if key in COLUMNS:
            return COLUMNS[key].show(self.runs[row])
        if self.found is None or row >= len(self.found.balances.flags):
            return ""
        if key == FLAGS:
            return str(len(self.found.balances.flags[row]) or "")
        recovery, half = float(self.found.balances.recovery_pct[row]), self.found.balances.recovery_half_pct(row)
        return f"{fixed(recovery, 2)} ± {'?' if half is None else fixed(half, 2)}" if recovery == recovery else NOTHING

    def _tip(self, row: int, run: Run, key: str) -> str | None:
        if key == FLAGS and self.found is not None and row < len(self.found.balances.flags):
            return "\n".join(flag.text for flag in self.found.balances.flags[row]) or None
        if key == USED and self.found is not None and row < len(self.found.balances.flags):
            half = self.found.balances.recovery_half_pct(row)
            return NO_ERROR.capitalize() if half is None else "± 95 % by its own assay and weighing errors"
        return f"Left out: {run.exclusion_reason}" if run.excluded else None


LEDGER_KEYS: tuple[Key["LedgerView"], ...] = (
    keyed("Copy the chosen cells", lambda view: view.copy(), *COPY),
    keyed("Paste cells, or a table with headings", lambda view: view.paste(QApplication.clipboard().text()), *PASTE),
)


class LedgerView(QTableView):
    """Copies and pastes as a spreadsheet does; a pasted table with headings goes to the import."""

    table_pasted = Signal(str)
    cells_pasted = Signal(object)  # Cells
    chosen = Signal()

    def __init__(self, model: LedgerModel, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.ledger = model
        self.setModel(model)
        self.setTabKeyNavigation(False)
        self.setAccessibleName("Ledger of the trial, a row per run")
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.verticalHeader().setDefaultSectionSize(21)
        self.horizontalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignCenter)
        self.horizontalHeader().setMinimumHeight(36)
        for section, key in enumerate(KEYS):
            self.setColumnWidth(section, _width(key))
        self.selectionModel().selectionChanged.connect(lambda *_: self.chosen.emit())

    @property
    def rows(self) -> tuple[int, ...]:
        """Rows that hold a chosen cell, from the top."""
        return tuple(sorted({index.row() for index in self.selectedIndexes()}))

    def choose_row(self, row: int) -> None:
        if 0 <= row < len(self.ledger.runs):
            self.selectRow(row)
            self.scrollTo(self.ledger.index(row, 0))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not answered(self, LEDGER_KEYS, event):
            super().keyPressEvent(event)

    def copy(self) -> None:
        """The chosen cells, kept apart by tabs."""
        indexes = sorted(self.selectedIndexes(), key=lambda index: (index.row(), index.column()))
        lines: dict[int, list[str]] = {}
        for index in indexes:
            lines.setdefault(index.row(), []).append(str(index.data() or ""))
        QApplication.clipboard().setText("\n".join("\t".join(cells) for cells in lines.values()))

    def paste(self, text: str) -> None:
        if _has_headings(text):
            self.table_pasted.emit(text)
            return
        start = self.currentIndex()
        row0, column0 = (start.row(), start.column()) if start.isValid() else (len(self.ledger.runs), 0)
        cells: dict[tuple[int, str], str] = {}
        for down, line in enumerate(text.rstrip("\r\n").splitlines()):
            for across, cell in enumerate(line.split("\t")):
                if column0 + across < len(KEYS) and (key := KEYS[column0 + across]) in COLUMNS:
                    cells[row0 + down, key] = cell.strip()
        if cells:
            self.cells_pasted.emit(cells)


def _has_headings(text: str) -> bool:
    try:
        return has_headings(read_table(text))
    except ValueError:
        return False


def _two_lines(column: Column) -> str:
    return f"{column.label}\n{column.unit}" if column.unit else column.label


def _width(key: str) -> int:
    """Room for the heading's longer line, and for what stands below."""
    title = _two_lines(COLUMNS[key]) if key in COLUMNS else _TITLES[key]
    longest = max(len(line) for line in title.split("\n"))
    return max(_WIDE.get(key, 0), 7 * longest + 18, 92 if key in COLUMNS and COLUMNS[key].adds else 56)

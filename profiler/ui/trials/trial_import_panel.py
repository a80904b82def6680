"""What an import would give, before it is made: matched columns to correct, rows, and every problem by its line."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QHBoxLayout,
    QHeaderView,
    QPushButton,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from profiler.numbers import counted
from profiler.pictures.basics.display import Role
from profiler.study.ledger.columns import COLUMNS, heading_of
from profiler.study.ledger.reading import Match, Preview, Table, preview
from profiler.ui.widgets.labels import plain_label
from profiler.ui.widgets.theme import LIGHT, Theme

PASSED_OVER = "(pass over)"
MOST_SHOWN = 300  # rows painted; all are read


class ImportPanel(QWidget):
    """Takes the place of the ledger until the import is made or given up."""

    accepted = Signal(object)  # Preview
    given_up = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme: Theme = LIGHT
        self.seen: Preview | None = None
        self._taken: tuple[str, ...] = ()
        self.words, self.problems = plain_label(), plain_label()
        self.table = QTableWidget()
        self.take, self.cancel = QPushButton("Import"), QPushButton("Cancel")
        self._combos: list[QComboBox] = []
        self._lay_out()
        self.take.clicked.connect(lambda: self.accepted.emit(self.seen))
        self.cancel.clicked.connect(self.given_up)

    def show_table(self, table: Table, taken: tuple[str, ...], theme: Theme) -> None:
        """`taken` names the runs the ledger holds already."""
        self.theme, self._taken = theme, taken
        self._fill(preview(table, None, taken))

    def _lay_out(self) -> None:
        for label in (self.words, self.problems):
            label.setWordWrap(True)
        self.problems.setObjectName("muted")
        self.problems.setAccessibleName("Problems of the import")
        self.table.setAccessibleName("Preview of the import")
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.verticalHeader().setDefaultSectionSize(21)
        buttons = QHBoxLayout()
        buttons.addWidget(self.words, 1)
        for button in (self.cancel, self.take):
            button.setObjectName("plain")
            buttons.addWidget(button)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(buttons)
        column.addWidget(self.table, 1)
        column.addWidget(self.problems)

    def _fill(self, seen: Preview) -> None:
        """A row of choices above the cells, then the cells as they came."""
        self.seen = seen
        shown = seen.table.rows[:MOST_SHOWN]
        self.table.clear()
        self.table.setColumnCount(len(seen.matches))
        self.table.setRowCount(len(shown) + 1)
        self.table.setHorizontalHeaderLabels([m.heading or "–" for m in seen.matches])
        self.table.setVerticalHeaderLabels(["taken as", *(str(line) for line in seen.table.lines[:MOST_SHOWN])])
        self._combos = [self._combo(k, match) for k, match in enumerate(seen.matches)]
        self.table.setRowHeight(0, 26)
        wrong = {(p.line, p.heading) for p in seen.problems}
        bad_lines = {p.line for p in seen.problems if p.line > 1}
        for r, (line, cells) in enumerate(zip(seen.table.lines, shown, strict=False), 1):
            for c, text in enumerate(cells[: len(seen.matches)]):
                item = QTableWidgetItem(text)
                heading = seen.matches[c].heading
                if (line, heading) in wrong:
                    item.setForeground(self.theme.colour(Role.STOP))
                elif line in bad_lines or seen.matches[c].column is None:
                    item.setForeground(self.theme.colour(Role.FAINT))
                self.table.setItem(r, c, item)
        self.table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self._say(seen)

    def _say(self, seen: Preview) -> None:
        count, left = len(seen.runs), len(seen.rows) - len(seen.runs)
        rest = f"; {left} with problems are left out" if left else ""
        over = f" Passed over: {', '.join(seen.passed_over)}." if seen.passed_over else ""
        more = f" Shown are the first {MOST_SHOWN}." if len(seen.rows) > MOST_SHOWN else ""
        self.words.setText(seen.missing or f"{count} of {len(seen.rows)} rows can be taken{rest}.{over}{more}")
        said = [p.sentence for p in seen.problems[:5]]
        hidden = len(seen.problems) - len(said)
        self.problems.setText("\n".join([*said, *([f"and {hidden} more"] if hidden else [])]))
        self.problems.setVisible(bool(said))
        self.take.setText(f"Import {counted(count, 'run')}")
        self.take.setEnabled(bool(count) and not seen.missing)

    def _combo(self, place: int, match: Match) -> QComboBox:
        combo = QComboBox()
        combo.setAccessibleName(f"What “{match.heading}” is taken as")
        combo.addItem(PASSED_OVER, None)
        for column in COLUMNS.values():
            combo.addItem(column.heading, column.key)
        combo.setCurrentIndex(0 if match.column is None else combo.findData(match.column.key))
        combo.activated.connect(lambda _: self._match(place, combo.currentData()))
        combo.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.table.setCellWidget(0, place, combo)
        return combo

    def _match(self, place: int, key: str | None) -> None:
        """Take a heading as another column: any other heading taken as it gives way."""
        if self.seen is None:
            return
        heading = self.seen.matches[place].heading
        matches = list(self.seen.matches)
        if key is None:
            matches[place] = Match(heading, None)
        else:
            column = COLUMNS[key]
            for i, other in enumerate(matches):
                if other.column is column and i != place and not column.adds:
                    matches[i] = Match(other.heading, None)
            matches[place] = Match(heading, column, column.units.get(heading_of(heading).unit, 1.0))
        self._fill(preview(self.seen.table, matches, self._taken))

"""Where each design comes from, a view of Compare: the shown design in a sentence, its why in a box, all in a table."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractItemView, QHBoxLayout, QHeaderView, QLineEdit, QTableWidget, QVBoxLayout, QWidget
from PySide6.QtWidgets import QTableWidgetItem as Item

from profiler.explore.lineages import HEADS, NO_WHY, Told
from profiler.study.records.lineage import LINEAGE_WHY, LONGEST_WHY
from profiler.ui.document.document import Document
from profiler.ui.widgets.labels import plain_label, unit_of

MOST_CHANGES = 40  # of a cell's tip; the report has all


class LineagePane(QWidget):
    """The why is typed for the shown design; Enter or leaving the box takes it, as one undo step."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self.sentence, self.why, self.table = plain_label(), QLineEdit(), QTableWidget()
        self._lay_out()
        self.why.editingFinished.connect(lambda: document.change(LINEAGE_WHY, self.why.text().strip()))

    def show_lineages(self, told: Sequence[Told]) -> None:
        """All designs as they were compared; what is typed meanwhile stays."""
        name = self.document.design.name
        shown = next((t for t in told if t.design == name), None)
        self.sentence.setText("" if shown is None else f"{name}: {shown.sentence}")
        if not self.why.hasFocus() or not self.why.isModified():
            self.why.setText(self.document.design.lineage.why)
        self.table.setRowCount(len(told))
        unit = unit_of(self)
        for row, one in enumerate(told):
            tip = unit.told("\n".join(f"{c.what}: {c.before} → {c.now}" for c in (one.changes or ())[:MOST_CHANGES]))
            for column, text in enumerate(one.cells):
                item = Item(unit.told(text))
                item.setTextAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
                item.setToolTip(tip)
                self.table.setItem(row, column, item)
        self.table.resizeRowsToContents()

    def _lay_out(self) -> None:
        self.sentence.setWordWrap(True)
        self.why.setMaxLength(LONGEST_WHY)
        self.why.setAccessibleName(LINEAGE_WHY.label)
        self.why.setToolTip(LINEAGE_WHY.help)
        self.why.setPlaceholderText(NO_WHY)
        row = QHBoxLayout()
        row.addWidget(plain_label("Why this design"))
        row.addWidget(self.why, 1)
        t = self.table
        t.setColumnCount(len(HEADS))
        t.setHorizontalHeaderLabels(HEADS)
        t.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        t.verticalHeader().hide()
        t.setWordWrap(True)
        t.setTabKeyNavigation(False)
        t.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        t.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        t.setAccessibleName("Where each design comes from")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.sentence)
        column.addLayout(row)
        column.addWidget(t, 1)

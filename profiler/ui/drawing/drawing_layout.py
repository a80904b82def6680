"""Where the parts of the drawing page stand: kinds and ways out at the left, options beside, the preview large."""

from collections.abc import Sequence

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QProgressBar,
    QPushButton,
    QSizePolicy,
    QStackedWidget,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from profiler.assess import Finding
from profiler.numbers import counted
from profiler.output.record.output import Output, TableShown
from profiler.pictures.sheet.items import Sheet
from profiler.ui.drawing.output_form import OutputForm
from profiler.ui.widgets.keys import Key, with_keys
from profiler.ui.widgets.labels import bold, plain_label, plain_tip
from profiler.ui.widgets.sheet_view import LARGER, NEXT, PREVIOUS, SMALLER, WHOLE, SheetView
from profiler.ui.widgets.table_view import TableView

KINDS_WIDE, OPTIONS_WIDE = 128, 262
ROW = 26


class Heading(QLabel):
    """One line that ends in dots where it has no room; all of it is its tooltip."""

    def paintEvent(self, event: QPaintEvent) -> None:
        with QPainter(self) as painter:
            words = self.fontMetrics().elidedText(self.text(), Qt.TextElideMode.ElideRight, self.width())
            painter.drawText(self.rect(), Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, words)


class DrawingLayout:
    """The widgets of one page by name; shows what it is told and decides nothing."""

    def __init__(self, page: QWidget, forms: Sequence[OutputForm]) -> None:
        self.kinds = QListWidget()
        self.says, self.heading, self.warning = plain_label(), Heading(), plain_label()
        self.caution = plain_label()
        self.found, self.number, self.about = plain_label(), plain_label(), plain_label()
        self.forms = QStackedWidget()
        self.view, self.table = SheetView("Preview of the sheet"), TableView("Preview of the table")
        self.panes = QStackedWidget()
        self.write, self.print = _button("&Write the file…"), _button("&Print…")
        self.copy_picture, self.copy_table = _button("Cop&y picture"), _button("Copy &table")
        self.write_all = _button("Write &all…")
        self.cancel = _button("Cancel")
        self.back, self.on = _tool("◂", PREVIOUS), _tool("▸", NEXT)
        self.smaller, self.larger, self.fit = _tool("−", SMALLER), _tool("+", LARGER), _tool("Fit", WHOLE)
        self.progress = QProgressBar()
        self.buttons = (self.write, self.print, self.copy_picture, self.copy_table, self.write_all)
        self._fill(forms)
        row = QHBoxLayout()
        row.setSpacing(10)
        row.addWidget(self._left([form.output for form in forms]))
        row.addWidget(self._options())
        row.addLayout(self._preview(), 1)
        column = QVBoxLayout(page)
        column.setContentsMargins(10, 8, 10, 6)
        column.setSpacing(6)
        column.addLayout(row, 1)
        column.addWidget(self._foot())

    def show_kind(self, output: Output, row: int) -> None:
        self.forms.setCurrentIndex(row)
        self.says.setText(f"{output.says}.")
        self.copy_picture.setVisible(not output.tabled)
        self.print.setVisible(not output.tabled)
        self.copy_table.setVisible(output.tabled)
        self.panes.setAccessibleName(f"Preview of the {output.title.lower()}")
        self.show_findings(())

    def show_caution(self, words: str) -> None:
        self.caution.setText(words)

    def show_heading(self, words: str, warning: str) -> None:
        self.heading.setText(words)
        self.heading.setToolTip(plain_tip(words))
        self.warning.setText(warning)
        self.warning.setVisible(bool(warning))

    def show_sheet(self, sheet: Sheet, leaf: str, number: int, of: int) -> None:
        self.panes.setCurrentIndex(0)
        self.view.show_sheet(sheet)
        self.view.setAccessibleDescription(f"{sheet.title}, {leaf} {number} of {of}")
        self.number.setText(f"{leaf} {number} of {of}")
        self.back.setEnabled(number > 1)
        self.on.setEnabled(number < of)
        self._can(True)
        self._show_tools(True, of > 1)

    def show_table(self, table: TableShown) -> None:
        self.panes.setCurrentIndex(1)
        self.table.show_table(table)
        self.about.setText(table.about)
        self.about.setVisible(bool(table.about))
        self.number.setText(counted(len(table.rows), "row"))
        self._can(True)
        self._show_tools(False, False)

    def show_waiting(self) -> None:
        """The preview is being worked out."""
        self.show_trouble("Drawing it…")
        self._can(True)

    def show_trouble(self, sentence: str) -> None:
        """There is nothing to show, nor to write; the words say why."""
        self.panes.setCurrentIndex(0)
        self.view.show_sheet(None, sentence)
        self.view.setAccessibleDescription(sentence)
        self.show_heading("", "")
        self.number.setText("")
        self._can(False)
        self._show_tools(False, False)

    def show_findings(self, findings: Sequence[Finding]) -> None:
        self.found.setText("\n".join(f"{f.severity.value}: {f.text}" for f in findings))
        self.found.setVisible(bool(findings))

    def show_busy(self, busy: bool) -> None:
        self.progress.setValue(0)
        self.progress.setVisible(busy)
        self.cancel.setVisible(busy)
        self.write.setEnabled(not busy)
        self.write_all.setEnabled(not busy)

    def _can(self, there_is_something: bool) -> None:
        for button in (self.write, self.print, self.copy_picture, self.copy_table):
            button.setEnabled(there_is_something)

    def _show_tools(self, sheet: bool, several: bool) -> None:
        for tool in (self.smaller, self.larger, self.fit):
            tool.setVisible(sheet)
        for tool in (self.back, self.on):
            tool.setVisible(several)

    def _fill(self, forms: Sequence[OutputForm]) -> None:
        self.kinds.setAccessibleName("Kinds of output")
        for output in (form.output for form in forms):
            item = QListWidgetItem(output.title)
            item.setToolTip(output.says)
            item.setSizeHint(QSize(60, ROW))
            self.kinds.addItem(item)
        self.kinds.setCurrentRow(0)
        for form in forms:
            self.forms.addWidget(form)
        self.caution.setAccessibleName("Caution")
        for label in (self.says, self.found, self.about, self.caution):
            label.setWordWrap(True)
        for label in (self.says, self.number, self.about, self.caution):
            label.setObjectName("muted")
        for label in (self.found, self.heading):
            label.setTextFormat(Qt.TextFormat.PlainText)
        for label in (self.heading, self.warning):
            bold(label)
        self.progress.setRange(0, 100)
        self.progress.setTextVisible(False)
        self.progress.setFixedSize(140, 8)
        self.progress.setAccessibleName("How far the writing has come")

    def _left(self, outputs: Sequence[Output]) -> QWidget:
        holder = QWidget()
        holder.setFixedWidth(KINDS_WIDE)
        column = QVBoxLayout(holder)
        column.setContentsMargins(0, 0, 0, 0)
        self.kinds.setFixedHeight(ROW * self.kinds.count() + 2 * self.kinds.frameWidth())
        written = [copy.word for output in outputs for copy in output.copies]
        self.write_all.setToolTip(f"{', '.join(written).capitalize()}: each under one name, into a folder")
        column.addWidget(self.kinds)
        column.addStretch(1)
        column.addWidget(self.write_all)
        return holder

    def _options(self) -> QWidget:
        holder = QWidget()
        holder.setFixedWidth(OPTIONS_WIDE)
        column = QVBoxLayout(holder)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addWidget(self.says)
        column.addWidget(self.forms, 1)
        column.addWidget(self.caution)
        column.addWidget(self.found)
        self.write.setObjectName("export")
        column.addWidget(self.write)
        row = QHBoxLayout()
        for button in (self.print, self.copy_picture, self.copy_table):
            row.addWidget(button)
        column.addLayout(row)
        return holder

    def _preview(self) -> QVBoxLayout:
        head = QHBoxLayout()
        self.heading.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        head.addWidget(self.heading, 1)
        head.addWidget(self.warning)
        for part in (self.back, self.number, self.on, self.smaller, self.larger, self.fit):
            head.addWidget(part)
        tables = QFrame()
        inside = QVBoxLayout(tables)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.addWidget(self.about)
        inside.addWidget(self.table, 1)
        self.panes.addWidget(self.view)
        self.panes.addWidget(tables)
        column = QVBoxLayout()
        column.setSpacing(4)
        column.addLayout(head)
        column.addWidget(self.panes, 1)
        return column

    def _foot(self) -> QWidget:
        """How far writing has come."""
        holder = QWidget()
        row = QHBoxLayout(holder)
        row.setContentsMargins(0, 0, 0, 0)
        row.addStretch(1)
        for part in (self.progress, self.cancel):
            part.hide()
            row.addWidget(part)
        return holder


def _button(words: str) -> QPushButton:
    button = QPushButton(words)
    button.setObjectName("plain")
    return button


def _tool(sign: str, key: Key[SheetView]) -> QToolButton:
    """A button that does what a key of the view does."""
    tool = QToolButton()
    tool.setText(sign)
    tool.setToolTip(with_keys(key.words, key.names))
    tool.setAccessibleName(key.words)
    tool.setFixedHeight(24)
    return tool

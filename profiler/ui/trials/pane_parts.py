"""What the panes beside a ledger are put together from: a page of text, buttons, forms whose empty boxes say so."""

from collections.abc import Callable, Sequence

import msgspec
from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from profiler.ui.forms.record_form import RecordForm


def text_page(name: str) -> QTextBrowser:
    browser = QTextBrowser()
    browser.setFrameShape(QFrame.Shape.NoFrame)
    browser.setOpenLinks(False)
    browser.setAccessibleName(name)
    return browser


def plain_button(words: str, do: Callable[[], object]) -> QPushButton:
    button = QPushButton(words)
    button.setObjectName("plain")
    button.clicked.connect(lambda: do())
    return button


def stacked(holder: QWidget, top: QWidget, row: QHBoxLayout) -> None:
    column = QVBoxLayout(holder)
    column.setContentsMargins(6, 6, 6, 6)
    column.addWidget(top, 1)
    column.addLayout(row)


def form_of(kind: type[msgspec.Struct], optional: Sequence[str]) -> RecordForm:
    """A form whose empty boxes mean 'not known'."""
    form = RecordForm(kind, optional=optional)
    for name in optional:
        if name in form.boxes:
            form.boxes[name].setPlaceholderText("–")
    return form


def grid_in(area: QScrollArea) -> QGridLayout:
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    inside = QWidget()
    grid = QGridLayout(inside)
    grid.setContentsMargins(8, 8, 8, 8)
    grid.setVerticalSpacing(5)
    grid.setColumnStretch(1, 1)
    area.setWidget(inside)
    return grid


def add_row(grid: QGridLayout, label: str, part: QWidget) -> None:
    row = grid.rowCount()
    grid.addWidget(QLabel(label), row, 0)
    grid.addWidget(part, row, 1)

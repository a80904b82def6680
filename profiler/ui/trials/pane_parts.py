"""What the panes beside a ledger are put together from: a page of text, buttons, forms whose empty boxes say so."""

from collections.abc import Callable, Iterable
from typing import TypeVar

from PySide6.QtCore import Qt
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

from profiler.output.blocks.as_html import html_of
from profiler.output.blocks.blocks import Block
from profiler.output.blocks.in_unit import blocks_in
from profiler.study import Field, NumberField
from profiler.study.records.trial import Trial
from profiler.ui.forms.record_form import RecordForm
from profiler.ui.widgets.labels import plain_label, unit_of

T = TypeVar("T")

STYLE = """
h3 { font-size: medium; margin: 10px 0 3px 0; } p { margin: 3px 0; } .strong { font-weight: bold; }
td, th { padding: 1px 10px 1px 0; } th { text-align: left; font-weight: normal; }
"""  # of the HTML that blocks become, in a pane


def text_page(name: str) -> QTextBrowser:
    browser = QTextBrowser()
    browser.setFrameShape(QFrame.Shape.NoFrame)
    browser.setOpenLinks(False)
    browser.setAccessibleName(name)
    return browser


def show_blocks(page: QTextBrowser | QLabel, blocks: Iterable[Block]) -> None:
    html = f"<style>{STYLE}</style>{html_of(blocks_in(blocks, unit_of(page)))}"
    if isinstance(page, QLabel):
        page.setTextFormat(Qt.TextFormat.RichText)
        page.setText(html)
    else:
        page.setHtml(html)


def plain_button(words: str, do: Callable[[], object]) -> QPushButton:
    button = QPushButton(words)
    button.setObjectName("plain")
    button.clicked.connect(lambda: do())
    return button


def stacked(holder: QWidget, top: QWidget, *rows: QHBoxLayout) -> None:
    column = QVBoxLayout(holder)
    column.setContentsMargins(6, 6, 6, 6)
    column.addWidget(top, 1)
    for row in rows:
        column.addLayout(row)


def form_of(fields: Iterable[NumberField]) -> RecordForm:
    """A form whose empty boxes mean “not known”."""
    form = RecordForm(fields)
    for field, box in form.boxes.items():
        box.setPlaceholderText("–" if field.empty else "")
    return form


def setting(field: Field[T], value: T) -> tuple[Callable[[Trial], Trial], str]:
    """The edit that sets a field of a trial, and its name."""
    return lambda trial: field.set(trial, value), field.undo_words


def grid_in(area: QScrollArea, name: str) -> QGridLayout:
    area.setAccessibleName(name)
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
    grid.addWidget(plain_label(label), row, 0)
    grid.addWidget(part, row, 1)

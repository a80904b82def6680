"""Every box and button is seen by its border, as painted: 3:1 against what it stands on, in both palettes.

WCAG 2.2, success criterion 1.4.11. The colours themselves are held by tests/pictures/test_sight.py; here is what a
style makes of them, which is another matter: Fusion's own borders have less than 2:1.
"""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QRect
from PySide6.QtWidgets import (
    QApplication,
    QCheckBox,
    QLineEdit,
    QListWidget,
    QPushButton,
    QTableWidget,
    QToolButton,
    QVBoxLayout,
    QWidget,
)
from pytestqt.qtbot import QtBot

from profiler.study.records.duty import SPEED
from profiler.ui.widgets.choice_box import ChoiceBox
from profiler.ui.widgets.number_box import NumberBox
from profiler.ui.widgets.theme import DARK, LIGHT, Theme, dress, rules
from tests.pictures.sight import MARK, contrast

GAP = 8


@pytest.fixture(params=(LIGHT, DARK), ids=lambda theme: theme.name)
def theme(request: pytest.FixtureRequest, qapp: QApplication) -> Iterator[Theme]:
    dress(qapp, request.param)
    yield request.param
    dress(qapp, LIGHT)


def kinds() -> dict[str, QWidget]:
    plain, flat_list = QPushButton("Named plain"), ChoiceBox()
    plain.setObjectName("plain")
    flat_list.addItem("one")
    off = QPushButton("Not now")
    off.setEnabled(False)
    return {
        "button": QPushButton("Bare"), "named button": plain, "disabled button": off, "tool": QToolButton(),
        "text": QLineEdit("text"), "number": NumberBox(SPEED), "list to choose from": flat_list,
        "tick": QCheckBox(""), "list": QListWidget(), "table": QTableWidget(1, 1),
    }  # fmt: skip


def test_every_kind_of_box_and_button_has_a_border_that_is_seen(qtbot: QtBot, theme: Theme) -> None:
    holder, made = QWidget(), kinds()
    qtbot.addWidget(holder)
    holder.setStyleSheet(rules(theme))
    column = QVBoxLayout(holder)
    column.setSpacing(GAP)
    for widget in made.values():
        column.addWidget(widget)
    holder.resize(300, 600)
    holder.show()
    qtbot.waitExposed(holder)
    image = holder.grab().toImage()
    low = {}
    for name, widget in made.items():
        at: QRect = widget.geometry()
        row = at.center().y()
        ground = image.pixelColor(at.left() - GAP // 2, row).name()
        edge = (image.pixelColor(x, row).name() for x in range(at.left(), at.left() + 3))
        best = max(contrast(colour, ground) for colour in edge)
        if best < MARK:
            low[name] = round(best, 2)
    assert low == {}

"""Lists are searched by typing: any part of an entry, nothing chosen before Enter, no letter lost to a shortcut."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMainWindow
from pytestqt.qtbot import QtBot

import profiler
from profiler.assess.quantities.table import Scope, of_scope
from profiler.ui.widgets.choice_box import ChoiceBox

pytestmark = pytest.mark.qt_log_ignore("This plugin does not support")  # raising a list without a screen
LABELS = [quantity.label for quantity in of_scope(Scope.GROOVE)]


@pytest.fixture
def box(qtbot: QtBot) -> Iterator[ChoiceBox]:
    window, made = QMainWindow(), ChoiceBox()
    qtbot.addWidget(window)
    made.addItems(LABELS)
    window.setCentralWidget(made)
    window.show()
    qtbot.waitExposed(window)
    window.activateWindow()
    made.setFocus()
    yield made


def typed(box: ChoiceBox, letters: str) -> list[str]:
    """The entries that are left in the list."""
    QTest.keyClicks(box, letters[0])
    QTest.keyClicks(box.view(), letters[1:])
    return [box.itemText(row) for row in range(box.count()) if not box.view().isRowHidden(row)]


def test_every_entry_that_holds_what_is_typed_anywhere_is_left_and_no_other(box: ChoiceBox) -> None:
    wanted = [label for label in LABELS if "groove" in label.casefold() and "depth" in label.casefold()]
    words = "depth groove" if wanted else LABELS[-1].split()[-1]
    left = typed(box, words)
    assert left == [x for x in LABELS if all(word in x.casefold() for word in words.casefold().split())]
    assert 0 < len(left) < len(LABELS)


def test_enter_takes_the_first_that_is_left_and_escape_what_was_chosen_before(box: ChoiceBox) -> None:
    news: list[int] = []
    box.activated.connect(news.append)
    part = LABELS[-1].casefold()
    typed(box, part)
    assert box.currentIndex() == 0 and news == []
    QTest.keyClick(box.view(), Qt.Key.Key_Escape)
    assert not box.view().isVisible()
    assert box.currentIndex() == 0 and news == [] and box.typed == ""
    typed(box, part)
    QTest.keyClick(box.view(), Qt.Key.Key_Return)
    assert box.currentText() == LABELS[-1] and news == [len(LABELS) - 1]
    assert not any(box.view().isRowHidden(row) for row in range(box.count()))


def test_what_is_in_no_entry_says_so_and_a_letter_less_brings_them_back(box: ChoiceBox) -> None:
    assert typed(box, "qqq") == []
    QTest.keyClick(box.view(), Qt.Key.Key_Return)
    assert box.currentIndex() == 0
    box.hidePopup()
    typed(box, "q")
    QTest.keyClick(box.view(), Qt.Key.Key_Backspace)
    assert not any(box.view().isRowHidden(row) for row in range(box.count()))
    box.hidePopup()


def test_a_letter_is_the_lists_and_no_shortcut(box: ChoiceBox) -> None:
    fired: list[bool] = []
    action = QAction("Corner", box.window())
    action.setShortcut(QKeySequence("C"))
    action.triggered.connect(fired.append)
    box.window().addAction(action)
    typed(box, "c")
    assert fired == [] and box.typed == "c"
    box.hidePopup()
    QApplication.processEvents()


def test_every_list_and_divider_of_the_window_is_made_in_one_way() -> None:
    """So that a new list is searched too, and a new divider moved by keys."""
    ui = Path(profiler.__file__).parent / "ui"
    made = re.compile(r"(?<!class ChoiceBox\()(?<!class Splitter\()\b(QComboBox|QSplitter)\(")
    assert [path.name for path in ui.rglob("*.py") if made.search(path.read_text(encoding="utf-8"))] == []

"""Help: a word is found wherever it stands, marked, brought into view, and walked from place to place."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from profiler.ui.help.help_window import KEYS_PAGE, WORDS, HelpWindow
from profiler.ui.key_sections import key_sections


@pytest.fixture
def help_window(qtbot: QtBot) -> HelpWindow:
    window = HelpWindow(key_sections())
    qtbot.addWidget(window)
    window.show()
    return window


def titles(window: HelpWindow) -> list[str]:
    return [window.list.item(i).text() for i in range(window.list.count())]


def marked(window: HelpWindow) -> list[str]:
    return [mark.cursor.selectedText().lower() for mark in window.text.extraSelections()]


def test_every_place_of_the_word_is_marked_and_the_first_is_in_view(help_window: HelpWindow) -> None:
    QTest.keyClicks(help_window.wanted, "jacket")
    help_window.list.setCurrentRow(titles(help_window).index(WORDS))
    text = help_window.text.toPlainText().lower()
    assert marked(help_window) == ["jacket"] * text.count("jacket") != []
    assert help_window.hits.places[0] == text.index("jacket")
    assert help_window.text.viewport().rect().contains(help_window.text.cursorRect().center())


def test_what_stands_in_a_title_comes_first_and_markup_is_not_found(help_window: HelpWindow) -> None:
    QTest.keyClicks(help_window.wanted, "keys")
    assert titles(help_window)[0] == KEYS_PAGE
    help_window.wanted.setText("cellpadding")
    assert titles(help_window) == [] and "No page holds" in help_window.text.toPlainText()


def test_the_next_hit_follows_on_this_page_and_then_on_the_next(help_window: HelpWindow) -> None:
    QTest.keyClicks(help_window.wanted, "repose")
    first, places = help_window.list.currentRow(), len(help_window.hits.places)
    for place in range(1, places):
        QTest.keyClick(help_window.wanted, Qt.Key.Key_Return)
        assert (help_window.list.currentRow(), help_window.hits.at) == (first, place)
        assert help_window.text.viewport().rect().contains(help_window.text.cursorRect().center())
    QTest.keyClick(help_window, Qt.Key.Key_F3)
    assert (help_window.list.currentRow(), help_window.hits.at) == (first + 1, 0)
    QTest.keyClick(help_window, Qt.Key.Key_F3, Qt.KeyboardModifier.ShiftModifier)
    assert (help_window.list.currentRow(), help_window.hits.at) == (first, places - 1)


def test_on_a_single_page_the_hits_go_round(help_window: HelpWindow) -> None:
    help_window.wanted.setText("middle button")
    assert len(titles(help_window)) == 1 and help_window.hits.at == 0
    help_window.hits.on.click()
    help_window.hits.back.click()
    assert help_window.hits.count.text() == "1 of 1 on this page"


def test_without_a_word_nothing_is_marked(help_window: HelpWindow) -> None:
    help_window.wanted.setText("repose")
    help_window.wanted.clear()
    assert marked(help_window) == [] and help_window.hits.count.text() == "" and not help_window.hits.on.isEnabled()

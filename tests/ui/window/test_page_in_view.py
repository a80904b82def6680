"""Keys and messages belong to the page in view: nothing out of sight changes, a refusal is read where it falls."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QLabel, QLineEdit
from pytestqt.qtbot import QtBot

from profiler.study.files import examples
from profiler.ui.actions import ACTIONS
from profiler.ui.page_stack import DRAWING, PAGES, SHAPE
from profiler.ui.strips.angle import KEYS
from profiler.ui.strips.base import Strip
from tests.ui.hands import Hands

OTHERS = [entry for entry in PAGES if entry is not SHAPE]
ASKS = ("file.", "help.", "study.", "view.next_page", "view.previous_page", "edit.")  # dialogs, other windows and pages
STROKES = sorted({s for a in ACTIONS if not a.id.startswith(ASKS) for s in a.keys} | {n for k in KEYS for n in k.names})


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    hands = Hands(qtbot, tmp_path, monkeypatch, examples.read("graded"))
    hands.choose_knot(1)
    return hands


def press(hands: Hands, stroke: str) -> None:
    """To whatever has the keyboard, as the system would."""
    code = QKeySequence(stroke)[0]
    QTest.keyClick(QApplication.focusWidget() or hands.window, code.key(), code.keyboardModifiers())
    hands.settle()


@pytest.mark.qt_log_ignore("This plugin does not support")  # a letter opens the list that has the keyboard
@pytest.mark.parametrize("entry", OTHERS, ids=lambda entry: entry.title)
def test_no_key_changes_what_is_out_of_view(hands: Hands, entry) -> None:
    hands.window.pages.open(entry)
    before, axis = hands.study, hands.page.pointer.now
    for stroke in STROKES:
        left = QApplication.focusWidget()
        press(hands, "F6")
        press(hands, stroke)
        focused = QApplication.focusWidget()
        assert focused is None or not hands.page.isAncestorOf(focused), stroke
        if hands.study is not before:  # a box, a list or a strip of this page was stepped, or left: that is in view
            changed_by = [w for w in (left, focused) if isinstance(w, QLineEdit | QComboBox | Strip)]
            assert changed_by, stroke
            assert all(hands.window.pages.shown.isAncestorOf(widget) for widget in changed_by), stroke
            hands.document.adopt(before)
        assert (hands.page.pointer.now.axis, hands.page.pointer.now.knot) == (axis.axis, axis.knot), stroke


@pytest.mark.parametrize("entry", PAGES, ids=lambda entry: entry.title)
def test_the_keyboard_is_taken_through_every_part_of_the_page_and_back(hands: Hands, entry) -> None:
    page = hands.window.pages.open(entry)
    hands.settle()
    seen = []
    for _ in range(16):
        press(hands, "F6")
        seen.append(QApplication.focusWidget())
        assert seen[-1] is not None and page.isAncestorOf(seen[-1]) and seen[-1].isVisible()
    assert len(set(seen)) >= 2 and seen[0] in seen[1:]
    press(hands, "Shift+F6")
    assert QApplication.focusWidget() is seen[-2]


def test_zoom_acts_on_the_sheet_where_the_sheet_is_seen(hands: Hands, qtbot: QtBot) -> None:
    page = hands.window.pages.open(DRAWING)
    qtbot.waitUntil(lambda: page.parts.view.sheet is not None)
    axis = hands.page.pointer.now.axis
    hands.do("Zoom in")
    assert page.parts.view.zoomed > 1.0 and hands.page.pointer.now.axis == axis
    hands.do("Whole bowl in view")
    assert page.parts.view.zoomed == 1.0
    assert not hands.action("Corner or one angle").isEnabled() and not hands.action("All findings").isEnabled()
    hands.window.pages.open(SHAPE)
    assert hands.action("Corner or one angle").isEnabled()


def test_an_undo_out_of_view_says_what_it_undid(hands: Hands) -> None:
    hands.key(hands.angle, Qt.Key.Key_Right)
    hands.window.pages.open(OTHERS[0])
    hands.undo()
    assert hands.said.startswith("Undone: ") and hands.steps == 0
    hands.redo()
    assert hands.said.startswith("Redone: ") and hands.steps == 1


@pytest.mark.parametrize("entry", PAGES, ids=lambda entry: entry.title)
def test_what_is_said_is_read_on_every_page_until_the_next_thing_is_done(hands: Hands, entry) -> None:
    hands.window.pages.open(entry)
    hands.document.say("This cannot be done.")
    hands.rest()
    assert hands.said == "This cannot be done."
    seen = [label for label in hands.window.findChildren(QLabel) if label.text() == hands.said and label.isVisible()]
    assert len(seen) == 1, "said once, in one place"
    hands.document.edit_duty(hands.duty.having("speed_rpm", 500.0), "Change the speed")
    hands.settle()
    assert hands.said == ""
    for do in (lambda: hands.window.pages.next_page(), lambda: hands.do("Lengths in inches"), lambda: hands.do("Undo")):
        hands.document.say("This cannot be done.")
        do()
        assert hands.said != "This cannot be done."
        hands.window.message.clear()


def test_a_refusal_on_the_trials_page_is_seen_there(qtbot: QtBot, tmp_path: Path, monkeypatch) -> None:
    hands = Hands(qtbot, tmp_path, monkeypatch, examples.read("trial"))
    page = next(hands.window.pages.open(entry) for entry in PAGES if entry.title == "Trials")
    hands.settle()
    page.parts.ledger.selectRow(0)
    hands.key(page.parts.reason, Qt.Key.Key_Return)
    assert "only with a reason" in hands.said

"""F6 takes the keyboard round the parts of the window, Shift+F6 the other way."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.ui.hands import NONE, SHIFT, Hands


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return Hands(qtbot, tmp_path, monkeypatch)


def parts(hands: Hands) -> list[QWidget]:
    page = hands.page
    forms = [page.forms] if page.forms.isVisible() else []
    return [page.duty_bar, *forms, page.angle, page.section, page.grooves, page.findings]


def part_with_the_keyboard(hands: Hands) -> int:
    focused = QApplication.focusWidget()
    assert focused is not None
    (here,) = [i for i, part in enumerate(parts(hands)) if part is focused or part.isAncestorOf(focused)]
    return here


@pytest.mark.parametrize(("modifiers", "step"), [(NONE, 1), (SHIFT, -1)])
def test_f6_goes_round_all_parts_and_comes_back(hands: Hands, modifiers: Qt.KeyboardModifier, step: int) -> None:
    count = len(parts(hands))
    assert count >= 5
    here = start = part_with_the_keyboard(hands)
    for _ in range(count):
        focused = QApplication.focusWidget()
        assert focused is not None
        hands.key(focused, Qt.Key.Key_F6, modifiers)
        assert part_with_the_keyboard(hands) == (here + step) % count
        here = (here + step) % count
    assert here == start


def test_going_round_changes_nothing(hands: Hands) -> None:
    before = hands.study
    for _ in range(7):
        focused = QApplication.focusWidget()
        assert focused is not None
        hands.key(focused, Qt.Key.Key_F6)
    assert hands.study is before and hands.steps == 0

"""Shop steps in the window: what changes is shown before it is applied, and undo takes it back in one step."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from profiler.ui.page_stack import SHAPE
from profiler.ui.shape.steps_pane import StepsPane
from tests.ui.hands import Hands


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return Hands(qtbot, tmp_path, monkeypatch)


def pane_of(hands: Hands) -> StepsPane:
    page = hands.window.pages.open(SHAPE)
    page.show_steps()
    return page.side.currentWidget()


def test_the_change_is_shown_first_applied_once_and_undone_once(hands: Hands, qtbot: QtBot) -> None:
    before = hands.document.design
    pane = pane_of(hands)
    assert not pane.apply.isEnabled()
    for box, text in zip(pane.boxes.values(), ("5", "0.5", ""), strict=True):
        box.setText(text)
    assert "would change" in pane.sentence.text() and "angle at" in pane.changes.text()
    assert hands.document.design == before
    qtbot.mouseClick(pane.apply, Qt.MouseButton.LeftButton)
    assert hands.document.design != before
    hands.undo()
    assert hands.document.design == before


def test_a_step_that_makes_no_sense_is_refused_in_a_sentence(hands: Hands) -> None:
    pane = pane_of(hands)
    next(iter(pane.boxes.values())).setText("0")
    assert "must lie between" in pane.sentence.text() and not pane.apply.isEnabled()

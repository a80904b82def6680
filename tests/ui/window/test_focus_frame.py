"""The frame round what has the keyboard holds nothing alive."""

from pathlib import Path

import pytest
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QDialog, QWidget
from pytestqt.qtbot import QtBot

from profiler.ui.dialogs import box
from profiler.ui.widgets.focus import FocusFrame
from tests.ui.hands import Hands


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return Hands(qtbot, tmp_path, monkeypatch)


def test_a_frame_holds_no_widget(hands: Hands) -> None:
    """A message box is held by nothing else once it is answered: its frame, going, would delete it and so itself again.

    Seen under random hands on a real display: the program ended in the destructor of the frame.
    """
    frames = hands.window.findChildren(FocusFrame)
    assert frames
    for frame in frames:
        assert frame.watched is not None
        assert not [held for held in vars(frame).values() if isinstance(held, QWidget)]


def test_a_message_box_is_gone_once_it_is_answered(hands: Hands, real_questions: None) -> None:
    """Not kept by the window until that closes, with whatever it shows."""
    before = len(hands.window.children())
    for _ in range(3):
        QTimer.singleShot(20, reject)
        box.agreed(hands.window, "Replace the file?", "It is there already.", "Replace it", "Keep it")
    hands.settle()
    assert len(hands.window.children()) == before


def reject() -> None:
    asked = QApplication.activeModalWidget()
    assert isinstance(asked, QDialog)
    asked.reject()

"""A study file dropped on the window opens, after the question about unsaved changes; nothing else is taken."""

from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QApplication, QLineEdit
from pytestqt.qtbot import QtBot

from profiler.study import read_study, write_study
from profiler.study.files import examples
from profiler.study.records.duty import SPEED
from profiler.ui.dialogs.dialogs import Unsaved
from tests.ui.hands import LEFT, NONE, Hands


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return Hands(qtbot, tmp_path, monkeypatch)


def drop(hands: Hands, *urls: QUrl) -> bool:
    """Whether what is dragged over the window is taken; where it is, it is dropped."""
    data, copy = QMimeData(), Qt.DropAction.CopyAction
    data.setUrls(urls)
    enter = QDragEnterEvent(QPoint(100, 100), copy, data, LEFT, NONE)
    enter.ignore()
    QApplication.sendEvent(hands.window, enter)
    if enter.isAccepted():
        QApplication.sendEvent(hands.window, QDropEvent(QPointF(100.0, 100.0), copy, data, LEFT, NONE))
        hands.settle()
    return enter.isAccepted()


def local(path: Path) -> QUrl:
    return QUrl.fromLocalFile(str(path))


def stored(hands: Hands, name: str = "dropped.bowl") -> Path:
    path = hands.folder / name
    write_study(examples.read("cone"), path)
    return path


@pytest.mark.parametrize("name", ["dropped.bowl", "LOUD.BOWL", "with a space & ünïcode.bowl"])
def test_a_dropped_study_opens(hands: Hands, name: str) -> None:
    path = stored(hands, name)
    assert drop(hands, local(path))
    assert hands.study == read_study(path) and hands.document.path == path and not hands.answers.asked


@pytest.mark.parametrize("choice", list(Unsaved))
def test_unsaved_changes_are_asked_about_before_it_opens(hands: Hands, choice: Unsaved) -> None:
    path, mine = stored(hands), hands.folder / "mine.bowl"
    hands.type_into(hands.page.duty_bar.boxes[SPEED], "655")
    before = hands.study
    hands.answers.answer("ask_unsaved", choice)
    hands.answers.answer("ask_save", mine)
    assert drop(hands, local(path))
    assert hands.answers.asked[0] == "ask_unsaved"
    assert (hands.study == read_study(path)) == (choice is not Unsaved.CANCEL)
    if choice is Unsaved.CANCEL:
        assert hands.study is before
    if choice is Unsaved.SAVE:
        assert read_study(mine) == before


def test_a_broken_study_is_told_and_the_present_one_stays(hands: Hands) -> None:
    path, before = hands.folder / "broken.bowl", hands.study
    path.write_bytes(b"{")
    drop(hands, local(path))
    assert hands.study is before and "broken.bowl" in hands.answers.told[0]


def test_a_study_dropped_on_a_number_is_not_typed_into_it(hands: Hands) -> None:
    boxes = hands.window.findChildren(QLineEdit)
    assert len(boxes) > 20 and not [box for box in boxes if box.acceptDrops()]


def test_other_things_are_not_taken(hands: Hands) -> None:
    path, before = stored(hands), hands.study
    assert not drop(hands)
    assert not drop(hands, local(hands.folder / "notes.txt"))
    assert not drop(hands, local(path), local(path))
    assert not drop(hands, QUrl("https://example.org/dropped.bowl"))
    assert hands.study is before

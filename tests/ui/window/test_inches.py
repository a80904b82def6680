"""Lengths in inches are a choice of display: nothing held, saved or computed changes with it."""

from pathlib import Path

import pytest
from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from profiler.study.files.file import encode_study
from profiler.ui.document.document import Document
from profiler.ui.files.settings import Settings
from profiler.ui.window import Window
from tests.ui.hands import Hands


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return Hands(qtbot, tmp_path, monkeypatch)


def reading(hands: Hands) -> str:
    hands.hover(hands.page.section, QPoint(20, round(hands.page.pointer.now.axis.y(127.0))))
    return " | ".join(label.text() for label in hands.page.readout.findChildren(QLabel))


def test_inches_change_nothing_held(hands: Hands) -> None:
    study, evaluation, data = hands.study, hands.evaluation, encode_study(hands.study)
    hands.do("Lengths in inches")
    assert hands.study is study and hands.evaluation is evaluation and encode_study(hands.study) == data
    assert hands.steps == 0 and not hands.document.modified


def test_inches_show_in_the_read_out_and_go_again(hands: Hands) -> None:
    before = reading(hands)
    hands.do("Lengths in inches")
    assert " in" in reading(hands) and " mm" not in reading(hands)
    hands.do("Lengths in inches")
    assert reading(hands) == before


def test_an_edit_made_while_inches_are_shown_is_the_same_edit(hands: Hands) -> None:
    end = hands.place(140.0, 20.0)
    hands.drag_knot(1, end)
    in_mm = hands.design
    hands.undo()
    hands.do("Lengths in inches")
    hands.drag_knot(1, end)
    assert hands.design == in_mm


def test_the_choice_is_remembered(hands: Hands, qtbot: QtBot) -> None:
    hands.do("Lengths in inches")
    settings = Settings.in_file(hands.folder / "settings.ini")
    other = Window(Document(hands.study), settings)
    qtbot.addWidget(other)
    assert other.menus.actions["view.inches"].isChecked()

"""The menu of recent files: latest first, none twice, ten at most, only those still there."""

from pathlib import Path

import pytest
from PySide6.QtGui import QAction
from pytestqt.qtbot import QtBot

from profiler.study import read_study, write_study
from profiler.study.files import examples
from profiler.study.records.duty import SPEED
from profiler.ui.dialogs.dialogs import Unsaved
from profiler.ui.files.recent import MOST, RecentMenu, recent_files, remember
from tests.ui.hands import Hands


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return Hands(qtbot, tmp_path, monkeypatch)


def stored(folder: Path, name: str) -> Path:
    path = folder / f"{name}.bowl"
    write_study(examples.read("cone"), path)
    return path


def entries(hands: Hands) -> list[QAction]:
    menu = hands.action("Recent files").menu()
    assert isinstance(menu, RecentMenu)
    menu.aboutToShow.emit()
    return menu.actions()


def test_opened_and_saved_files_come_first_and_none_twice(hands: Hands) -> None:
    one, two, three = (stored(hands.folder, name) for name in ("one", "two", "three"))
    for path in (one, two, one):
        assert hands.window.filing.open_path(path)
    hands.answers.answer("ask_save", three)
    hands.do("Save as…")
    assert recent_files(hands.window.settings) == [three, one, two]
    assert [a.text().split(" – ")[0] for a in entries(hands)] == ["&1 three.bowl", "&2 one.bowl", "&3 two.bowl"]


def test_a_file_that_is_gone_is_no_longer_offered(hands: Hands) -> None:
    one, two = stored(hands.folder, "one"), stored(hands.folder, "two")
    for path in (one, two):
        hands.window.filing.open_path(path)
    one.unlink()
    assert len(entries(hands)) == 1 and recent_files(hands.window.settings) == [two]


def test_ten_are_kept_at_most(hands: Hands) -> None:
    paths = [hands.folder / f"{i}.bowl" for i in range(MOST + 5)]
    for path in paths:
        remember(hands.window.settings, path)
    assert recent_files(hands.window.settings) == paths[: -MOST - 1 : -1]


def test_without_files_the_menu_says_so(hands: Hands) -> None:
    (entry,) = entries(hands)
    assert entry.text() == "No files yet" and not entry.isEnabled()


def test_an_ampersand_in_a_name_is_shown_and_is_no_shortcut(hands: Hands) -> None:
    hands.window.filing.open_path(stored(hands.folder, "this & that"))
    assert entries(hands)[0].text().startswith("&1 this && that.bowl")


def test_a_broken_file_is_not_remembered(hands: Hands) -> None:
    path = hands.folder / "broken.bowl"
    path.write_bytes(b"{")
    assert not hands.window.filing.open_path(path)
    assert recent_files(hands.window.settings) == [] and "broken.bowl" in hands.answers.told[0]


def test_choosing_one_asks_about_unsaved_changes_first(hands: Hands) -> None:
    path = stored(hands.folder, "one")
    remember(hands.window.settings, path)
    hands.type_into(hands.page.duty_bar.boxes[SPEED], "655")
    before = hands.study
    hands.answers.answer("ask_unsaved", Unsaved.CANCEL)
    entries(hands)[0].trigger()
    assert hands.study is before
    hands.answers.answer("ask_unsaved", Unsaved.DISCARD)
    entries(hands)[0].trigger()
    assert hands.study == read_study(path) and hands.document.path == path

"""Settings: every key the program stores stands in one table, with its type; what is stored wrongly is the default."""

from pathlib import Path

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from profiler.ui.files import settings
from profiler.ui.files.settings import Family, Setting, Settings
from profiler.ui.page_stack import DRAWING
from profiler.ui.widgets.theme import LIGHT, dress
from tests.ui.hands import Hands

SETTINGS = tuple(s for s in vars(settings).values() if isinstance(s, Setting))
FAMILIES = tuple(f for f in vars(settings).values() if isinstance(f, Family))


@pytest.fixture
def light_again():
    yield
    dress(QApplication.instance(), LIGHT)


def test_these_are_all_settings_there_are() -> None:
    assert {s.key: type(s.default) for s in SETTINGS} == {
        "dark": bool, "inches": bool, "text_size": str, "window/place": str, "window/page": str,
        "folder": str, "recent": list, "export/folder": str, "export/kind": str,
    }  # fmt: skip
    assert [family.prefix for family in FAMILIES] == ["export", "output", "split"]
    assert all(s.meaning for s in (*SETTINGS, *FAMILIES))


def test_a_session_stores_nothing_that_is_not_in_the_table(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, light_again: None
) -> None:
    hands = Hands(qtbot, tmp_path, monkeypatch)
    for words in ("Dark colours", "Lengths in inches"):
        hands.do(words)
    hands.answers.answer("ask_save", tmp_path / "a.bowl")
    hands.do("Save as…")
    hands.window.exporting.write(tmp_path / "a.dxf", values={"full": "full"})
    qtbot.waitUntil(lambda: not hands.window.exporting.busy, timeout=30_000)
    for form in hands.window.pages.open(DRAWING).forms:
        for option in form.output.options:
            form.changed.emit(option.key, option.usual if isinstance(option.usual, float) else "said otherwise")
    hands.window.pages.open_titled("Trials")
    hands.window.menus.actions["view.text_size"].menu().choose(110)
    hands.window.let_go()
    stored = hands.window.settings.keys
    assert {s.key for s in SETTINGS} <= set(stored)
    named = {s.key for s in SETTINGS}
    others = [key for key in stored if key not in named]
    assert {key.split("/")[0] for key in others} == {family.prefix for family in FAMILIES}


@pytest.mark.parametrize("setting", SETTINGS, ids=lambda s: s.key)
def test_what_was_put_is_read_back_with_its_type(tmp_path: Path, setting: settings.Setting) -> None:
    value = {bool: True, str: "a, “b” = c; %d", list: ["/one", "/two, three"]}[type(setting.default)]
    first = Settings.in_file(tmp_path / "s.ini")
    assert first.get(setting) == setting.default and not first.has(setting)
    first.put(setting, value)
    first.sync()
    again = Settings.in_file(tmp_path / "s.ini").get(setting)
    assert again == value and type(again) is type(setting.default)


@pytest.mark.parametrize("setting", SETTINGS, ids=lambda s: s.key)
def test_what_is_stored_wrongly_still_has_its_type(tmp_path: Path, setting: settings.Setting) -> None:
    store = QSettings(str(tmp_path / "s.ini"), QSettings.Format.IniFormat)
    for odd in ("7", "[[", "@Invalid()"):
        store.setValue(setting.key, odd)
        assert type(Settings(store).get(setting)) is type(setting.default)


def test_a_folder_that_is_gone_is_the_users_own(tmp_path: Path) -> None:
    remembered = Settings.in_file(tmp_path / "s.ini")
    assert remembered.folder(settings.FOLDER) == Path.home()
    remembered.put(settings.FOLDER, str(tmp_path))
    assert remembered.folder(settings.FOLDER) == tmp_path
    remembered.put(settings.FOLDER, str(tmp_path / "gone"))
    assert remembered.folder(settings.FOLDER) == Path.home()

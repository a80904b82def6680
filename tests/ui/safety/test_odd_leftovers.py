"""The recovery folder as a disk, another program or a bad day may leave it: no thing in it hides the others."""

import json
import os
import sys
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication, QComboBox
from pytestqt.qtbot import QtBot

from profiler.study import BowlFileError, write_study
from profiler.study.files import examples
from profiler.ui import app
from profiler.ui.dialogs import questions
from profiler.ui.dialogs.questions import Fate, LeftoversDialog
from profiler.ui.document.safekeeping import Safekeeping
from profiler.ui.files import folders, recovery
from profiler.ui.files.recovery import Leftover, Session, leftovers, when_text
from tests.ui.hands import Hands

STUDY = examples.read("cone")
FIRST, LAST = "0001-01-01T00:00:00", "9999-12-31T23:59:59.999999"


def copy_in(folder: Path, name: str) -> Path:
    write_study(STUDY, folder / f"{name}.bowl")
    return folder / f"{name}.bowl"


def note(folder: Path, **said: object) -> Path:
    copy = copy_in(folder, "odd")
    copy.with_suffix(".json").write_text(json.dumps(said), encoding="utf-8")
    return copy


def raw_note(folder: Path, data: bytes) -> Path:
    copy = copy_in(folder, "odd")
    copy.with_suffix(".json").write_bytes(data)
    return copy


def made(folder: Path, name: str, make: Callable[[Path], object], with_copy: bool = True) -> Path:
    if with_copy:
        copy_in(folder, "odd")
    make(folder / name)
    return folder / "odd.bowl"


def of_time(folder: Path, seconds: float) -> Path:
    copy = copy_in(folder, "odd")
    os.utime(copy, (seconds, seconds))
    return copy


ODD: dict[str, Callable[[Path], Path]] = {
    **{f"a note of {when}{zone}": lambda folder, when=when + zone: note(folder, when=when, title="A title")
       for when in (FIRST, LAST) for zone in ("", "Z", "+14:00", "-14:00")},
    **{f"a note that is {data!r}"[:40]: lambda folder, data=data: raw_note(folder, data)
       for data in (b"", b"[]", b"null", b"{", b"\xff\xfe", b"[" * 100_000, b'{"title": 3, "original": [], "when": {}}',
                    b'{"when": "yesterday"}', b'{"when": 1e300}', b'{"when": "2026-02-30T00:00:00"}')},
    "a note of a place that is none": lambda folder: note(folder, original="a\0b", title="A title"),
    "a note without end": lambda folder: note(folder, title="word\n" * 10_000, original="/x" * 10_000),
    "a note that is a folder": lambda folder: made(folder, "odd.json", Path.mkdir),
    "a folder named like a copy": lambda folder: made(folder, "odd.bowl", Path.mkdir, False),
    "a folder named like a copy, not empty": lambda folder: made(
        folder, "odd.bowl", lambda path: (path.mkdir(), (path / "x").touch()), False
    ),
    "a copy cut short": lambda folder: made(folder, "odd.bowl", lambda path: path.write_bytes(b'{"format": '), False),
    "an empty copy": lambda folder: made(folder, "odd.bowl", Path.touch, False),
    "a lock that is a folder": lambda folder: made(folder, "odd.lock", Path.mkdir),
    "a lock cut short": lambda folder: made(
        folder, "odd.lock", lambda path: (path.touch(), os.utime(path, (time.time() - 3600,) * 2))
    ),
    "a copy older than every calendar": lambda folder: of_time(folder, -(10.0**11)),
    "a copy of a year far ahead": lambda folder: of_time(folder, 10.0**11),
}  # fmt: skip
if sys.platform != "win32":
    ODD["a copy that is a pipe"] = lambda folder: made(folder, "odd.bowl", os.mkfifo, False)
    ODD["a note that is a pipe"] = lambda folder: made(folder, "odd.json", os.mkfifo)
    ODD["a copy that is a broken link"] = lambda folder: made(
        folder, "odd.bowl", lambda path: path.symlink_to("nowhere"), False
    )


@pytest.fixture
def folder(qapp: QApplication, tmp_path: Path) -> Path:
    made_here = tmp_path / "recovery"
    made_here.mkdir()
    return made_here


@pytest.mark.parametrize("oddity", ODD)
def test_whatever_is_odd_each_copy_is_offered_with_what_is_known(folder: Path, qtbot: QtBot, oddity: str) -> None:
    odd, sound = ODD[oddity](folder), [copy_in(folder, name) for name in ("a", "z")]
    found = leftovers(folder)
    assert {each.copy for each in found} == {odd, *sound}
    assert [bool(each.trouble) for each in found] == sorted(bool(each.trouble) for each in found)  # sound ones first
    dialog = LeftoversDialog(None, found, None)
    qtbot.addWidget(dialog)
    assert list(dialog.fates.values()).count(Fate.OPEN) == 1  # one that can be opened
    for each in found:
        assert each.title and when_text(each) and each.title.isprintable()
        assert each.trouble or each.opened().study == STUDY
        assert each.trouble or each.title in (STUDY.title, "A title") or len(each.title) <= recovery.LONGEST_WORDS
        each.keep()
    again = leftovers(folder)
    assert {each.copy for each in again} == {odd, *sound}
    for each in again:
        if each.copy in sound:
            each.throw_away()
        else:
            each.keep()
    assert not any(copy.exists() for copy in sound)


def test_what_a_note_says_well_is_known_whatever_it_says_ill(folder: Path) -> None:
    note(folder, when="never", title="The good title", original="/studies/mine.bowl")
    (found,) = leftovers(folder)
    assert found.title == "The good title" and found.original == Path("/studies/mine.bowl")
    assert when_text(found) != "at an unknown time"  # that of the file
    found.keep()


def test_what_cannot_be_opened_is_not_offered_to_be(folder: Path, qtbot: QtBot) -> None:
    ODD["a copy cut short"](folder)
    found = leftovers(folder)
    dialog = LeftoversDialog(None, found, None)
    qtbot.addWidget(dialog)
    (box,) = dialog.findChildren(QComboBox)
    assert [box.itemData(i) for i in range(box.count())] == [Fate.KEEP, Fate.THROW_AWAY]
    found[0].throw_away()
    assert list(folder.iterdir()) == []


def test_a_folder_that_is_not_empty_is_not_thrown_away_and_it_is_said(folder: Path) -> None:
    ODD["a folder named like a copy, not empty"](folder)
    (found,) = leftovers(folder)
    with pytest.raises(BowlFileError, match=r"odd\.bowl could not be discarded"):
        found.throw_away()
    assert (folder / "odd.bowl" / "x").exists()


def test_copy_and_note_are_for_their_owner_alone(folder: Path) -> None:
    folder.chmod(0o755)
    session = Session(folder)
    session.keep(STUDY, None)
    if sys.platform != "win32":
        modes = {path.suffix: path.stat().st_mode & 0o777 for path in folder.iterdir() if path.suffix != ".lock"}
        assert modes == {".bowl": 0o600, ".json": 0o600} and folder.stat().st_mode & 0o777 == 0o700
    session.drop()
    session.end()
    assert list(folder.iterdir()) == []


def test_a_note_whose_copy_is_gone_is_swept(folder: Path) -> None:
    note(folder, title="of nothing").unlink()
    assert leftovers(folder) == [] and list(folder.iterdir()) == []


# a folder that cannot be looked into


def refused(*_: object) -> None:
    raise PermissionError(13, "Permission denied")


def test_a_folder_that_may_not_be_read_is_said_in_a_sentence(
    folder: Path, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    hands = Hands(qtbot, tmp_path, monkeypatch)
    keeper = Safekeeping(hands.document, Session(folder))
    monkeypatch.setattr(folders, "recovery", lambda: folder)
    with monkeypatch.context() as patch:
        patch.setattr(Path, "iterdir", refused)
        app._offer_leftovers(hands.window, keeper, None)
    assert hands.said == f"Unsaved work cannot be looked for in {folder}: permission denied."
    keeper.end()


def test_what_could_not_be_thrown_away_is_said(
    folder: Path, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    ODD["a folder named like a copy, not empty"](folder)
    sound = copy_in(folder, "sound")
    hands = Hands(qtbot, tmp_path, monkeypatch)
    keeper = Safekeeping(hands.document, Session(folder))
    monkeypatch.setattr(folders, "recovery", lambda: folder)
    monkeypatch.setattr(questions, "ask_leftovers", lambda _, found, __: dict.fromkeys(found, Fate.THROW_AWAY))
    app._offer_leftovers(hands.window, keeper, None)
    assert "odd.bowl could not be discarded" in hands.said and not sound.exists()
    keeper.end()


# a clock that runs backwards


def test_a_clock_that_runs_backwards_loses_nothing(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    now, found = time.time(), list[Leftover]()
    for step in (0.0, -3600.0, -1e9, -1e12, 1e12):
        monkeypatch.setattr(recovery.time, "time", lambda step=step: now + step)
        session = Session(folder)
        session.keep(STUDY, None)
        session.end()
    monkeypatch.undo()
    found = leftovers(folder)
    assert len(found) == 5 and all(each.opened().study == STUDY for each in found)
    assert when_text(found[0]) != when_text(found[-1])
    assert datetime.now(UTC).year >= 2026 or found  # whatever this computer's clock says
    for each in found:
        each.throw_away()
    assert leftovers(folder) == []

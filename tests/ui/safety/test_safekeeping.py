"""Recovery copies: soon after a change, beside and never over; gone once saved; offered after a session died."""

import subprocess
import sys
from pathlib import Path

import pytest
from msgspec.structs import replace
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from profiler.study import BowlFileError, Study, read_study, write_study
from profiler.study.files import examples
from profiler.ui import app
from profiler.ui.dialogs import questions
from profiler.ui.dialogs.questions import Fate
from profiler.ui.document.document import Document
from profiler.ui.document.safekeeping import Safekeeping
from profiler.ui.files import folders
from profiler.ui.files.recovery import Leftover, Session, leftovers
from tests.ui.hands import Hands

SETTLE_MS, LONGEST_MS = 60, 400
DYING_SESSION = """
import sys, time
from pathlib import Path
from profiler.study import read_study
from profiler.ui.files.recovery import Session
session = Session(Path(sys.argv[1]))
session.keep(read_study(Path(sys.argv[2])), Path(sys.argv[3]) if len(sys.argv) > 3 else None)
print(session.copy, flush=True)
time.sleep(60)
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "recovery"


@pytest.fixture
def document(qapp: object, tmp_path: Path) -> Document:
    path = tmp_path / "mine.bowl"
    write_study(examples.read("cone"), path)
    return Document(read_study(path), path)


def kept(document: Document, folder: Path) -> Safekeeping:
    return Safekeeping(document, Session(folder), SETTLE_MS, LONGEST_MS)


def change(document: Document, speed: float = 655.0) -> None:
    document.edit_duty(replace(document.duty, speed_rpm=speed), "Speed")
    document.flush()


def die(folder: Path, study: Path, original: Path | None = None) -> Path:
    """The copy left by another program that was killed while it had unsaved work."""
    words = [sys.executable, "-c", DYING_SESSION, str(folder), str(study), *([str(original)] if original else [])]
    with subprocess.Popen(words, stdout=subprocess.PIPE, text=True) as session:
        try:
            assert session.stdout is not None
            copy = Path(session.stdout.readline().strip())
            assert leftovers(folder) == [] and copy.is_file()  # its owner lives: not offered
        finally:
            session.kill()
    return copy


# while the program runs


def test_a_copy_is_made_once_the_hand_rests_and_the_file_is_left_alone(document: Document, folder: Path) -> None:
    assert document.path is not None
    before = document.path.read_bytes()
    keeper = kept(document, folder)
    change(document)
    assert not keeper.session.copy.exists()
    QTest.qWait(3 * SETTLE_MS)
    assert read_study(keeper.session.copy) == document.study
    assert document.path.read_bytes() == before
    assert sorted(p.name for p in document.path.parent.iterdir()) == ["mine.bowl", "recovery"]
    keeper.end()


def test_changes_without_a_rest_are_kept_all_the_same_after_a_while(document: Document, folder: Path) -> None:
    keeper = kept(document, folder)
    for i in range(3 * LONGEST_MS // SETTLE_MS):
        change(document, 600.0 + i)
        QTest.qWait(SETTLE_MS // 3)
        if keeper.session.copy.exists():
            break
    assert keeper.session.copy.exists()
    keeper.end()


def test_saving_takes_the_copy_away(document: Document, folder: Path) -> None:
    keeper = kept(document, folder)
    change(document)
    assert keeper.keep_now() and keeper.session.copy.exists()
    assert document.path is not None
    document.save(document.path)
    assert not keeper.session.copy.exists() and not keeper.keep_now()
    keeper.end()


def test_undoing_every_change_takes_the_copy_away(document: Document, folder: Path) -> None:
    keeper = kept(document, folder)
    change(document)
    keeper.keep_now()
    document.undo_stack.undo()
    document.flush()
    assert not keeper.session.copy.exists()
    keeper.end()


def test_a_clean_end_leaves_nothing(document: Document, folder: Path) -> None:
    keeper = kept(document, folder)
    change(document)
    keeper.keep_now()
    keeper.end()
    assert list(folder.iterdir()) == []


def test_why_no_copy_can_be_kept_is_said_once(
    document: Document, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    keeper, said = kept(document, folder), []
    keeper.failed.connect(said.append)
    monkeypatch.setattr("os.fsync", _full)
    for speed in (655.0, 660.0):
        change(document, speed)
        QTest.qWait(3 * SETTLE_MS)
    assert len(said) == 1 and "no space left" in said[0] and not keeper.session.copy.exists()
    monkeypatch.undo()
    change(document, 665.0)
    QTest.qWait(3 * SETTLE_MS)
    assert read_study(keeper.session.copy) == document.study
    keeper.end()


def test_a_name_that_is_no_text_does_not_stop_the_copy(document: Document, folder: Path) -> None:
    session = Session(folder)
    session.keep(document.study, Path("/studies/caf\udce9.bowl"))
    assert read_study(session.copy) == document.study
    session.drop()
    session.end()


# after a session died


def test_the_copy_of_a_killed_session_is_found_and_its_lock_taken_over(folder: Path, tmp_path: Path) -> None:
    original = tmp_path / "mine.bowl"
    write_study(examples.read("cone"), original)
    copy = die(folder, original, original)
    (found,) = leftovers(folder)
    assert found.copy == copy and found.original == original and found.opened().study == examples.read("cone")
    assert leftovers(folder) == []  # held: no other window offers it meanwhile
    found.keep()
    (again,) = leftovers(folder)
    again.throw_away()
    assert leftovers(folder) == [] and list(folder.iterdir()) == []


def test_a_copy_that_cannot_be_read_is_told_in_a_sentence(folder: Path, tmp_path: Path) -> None:
    folder.mkdir()
    (folder / "half.bowl").write_bytes(b'{"format": ')
    (found,) = leftovers(folder)
    with pytest.raises(BowlFileError, match=r"half\.bowl"):
        found.opened()
    found.throw_away()


@pytest.fixture
def places(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, folder: Path) -> Path:
    monkeypatch.setattr(folders, "recovery", lambda: folder)
    return folder


def offer(hands: Hands, keeper: Safekeeping, fate: Fate, patch: pytest.MonkeyPatch) -> int:
    """How many copies are offered at this start."""
    offered: list[Leftover] = []

    def ask(_: object, found: list[Leftover], opened: Path | None) -> dict[Leftover, Fate]:
        offered.extend(found)
        return dict.fromkeys(found, fate)

    patch.setattr(questions, "ask_leftovers", ask)
    app._offer_leftovers(hands.window, keeper, None)
    return len(offered)


@pytest.mark.parametrize("fate", list(Fate))
def test_unsaved_work_is_offered_and_dealt_with_as_chosen(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, places: Path, fate: Fate
) -> None:
    original, unsaved = tmp_path / "mine.bowl", tmp_path / "unsaved.bowl"
    write_study(examples.read("cone"), original)
    before = original.read_bytes()
    work: Study = examples.read("upright")
    write_study(work, unsaved)
    die(places, unsaved, original)
    hands = Hands(qtbot, tmp_path, monkeypatch)
    keeper = kept(hands.document, places)
    assert offer(hands, keeper, fate, monkeypatch) == 1
    if fate is Fate.OPEN:
        assert hands.study == work and hands.document.modified and hands.document.path is None
        assert hands.window.windowTitle().startswith("mine.bowl")
        assert read_study(keeper.session.copy) == work  # safe again before the old copy goes
    else:
        assert hands.study == examples.read(examples.DEFAULT) and not hands.document.modified
    assert original.read_bytes() == before
    assert offer(hands, keeper, Fate.KEEP, monkeypatch) == (1 if fate is Fate.KEEP else 0)
    keeper.end()


def test_what_cannot_be_kept_anew_stays_where_it_was(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, places: Path
) -> None:
    unsaved = tmp_path / "unsaved.bowl"
    write_study(examples.read("upright"), unsaved)
    copy = die(places, unsaved)
    hands = Hands(qtbot, tmp_path, monkeypatch)
    keeper = kept(hands.document, places)
    with monkeypatch.context() as patch:
        patch.setattr("os.fsync", _full)
        assert offer(hands, keeper, Fate.OPEN, patch) == 1
    assert hands.study == examples.read("upright") and "no space left" in hands.said
    assert read_study(copy) == hands.study and not keeper.session.copy.exists()
    assert offer(hands, keeper, Fate.KEEP, monkeypatch) == 1
    keeper.end()


def test_without_unsaved_work_nothing_is_asked(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, places: Path
) -> None:
    hands = Hands(qtbot, tmp_path, monkeypatch)
    keeper = kept(hands.document, places)
    change(hands.document)
    keeper.keep_now()
    assert offer(hands, keeper, Fate.THROW_AWAY, monkeypatch) == 0  # its own copy is nobody's leftover
    assert keeper.session.copy.exists()
    keeper.end()


def _full(_: int) -> None:
    raise OSError(28, "No space left on device")


def test_a_name_with_unusual_but_valid_letters_keeps_its_place(tmp_path: Path) -> None:
    """A no-break space is not printable, and yet it is text."""
    session = Session(tmp_path)
    place = Path("/studies/Entwurf\u00a01 – größer.bowl")
    session.keep(examples.read("cone"), place)
    session.end()
    (left,) = leftovers(tmp_path)
    assert left.original == place
    left.keep()

"""What happens to a file behind the window's back is said plainly, and neither the file's nor the window's is lost."""

import errno
import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from profiler.study import Study, read_study, write_study
from profiler.study.files import examples
from profiler.study.records.duty import SPEED
from profiler.ui.dialogs import questions
from profiler.ui.dialogs.dialogs import Unsaved
from profiler.ui.dialogs.questions import Changed, Shared
from profiler.ui.files import folders
from tests.ui.hands import Hands

OTHER_WINDOW = """
import sys, time
from pathlib import Path
from profiler.ui.files.claims import Claim
claim = Claim(Path(sys.argv[1]))
print(claim.take(Path(sys.argv[2])), flush=True)
time.sleep(60)
"""
THEIRS = examples.read("upright")


class Case:
    """A window on a file, with unsaved changes; the questions are answered and noted."""

    def __init__(self, hands: Hands, patch: pytest.MonkeyPatch) -> None:
        self.hands, self.patch, self.asked = hands, patch, list[str]()
        self.path = hands.folder / "mine.bowl"
        write_study(examples.read("cone"), self.path)
        assert hands.window.filing.open_path(self.path)
        self.change()
        for name in ("ask_changed", "ask_gone", "ask_shared_open", "ask_shared_save"):
            self.answer(name, None)

    def answer(self, name: str, value: object) -> None:
        def answered(*_: object) -> object:
            assert value is not None, f"{name} was asked"
            self.asked.append(name)
            return value

        self.patch.setattr(questions, name, answered)

    def change(self, speed: str = "655") -> Study:
        self.hands.type_into(self.hands.page.duty_bar.boxes[SPEED], speed)
        return self.hands.study

    def look(self) -> None:
        """The window is come back to."""
        self.hands.window.filing.look_outside()
        self.hands.settle()

    @property
    def held(self) -> Study:
        return read_study(self.path)


@pytest.fixture
def case(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Case:
    return Case(Hands(qtbot, tmp_path, monkeypatch), monkeypatch)


@contextmanager
def other_window(path: Path) -> Iterator[subprocess.Popen[str]]:
    """Another process that has the file open."""
    words = [sys.executable, "-c", OTHER_WINDOW, str(folders.claims()), str(path)]
    with subprocess.Popen(words, stdout=subprocess.PIPE, text=True) as other:
        try:
            assert other.stdout is not None and other.stdout.readline().strip() == "None"
            yield other
        finally:
            other.kill()


# changed by somebody else


def test_a_changed_file_is_noticed_when_the_window_is_come_back_to_and_asked_about_once(case: Case) -> None:
    case.look()
    assert not case.asked
    write_study(THEIRS, case.path)
    case.answer("ask_changed", Changed.NOT_NOW)
    case.look()
    case.look()
    assert case.asked == ["ask_changed"] and case.held == THEIRS and case.hands.document.modified


def test_a_file_changed_once_more_is_asked_about_once_more(case: Case) -> None:
    case.answer("ask_changed", Changed.NOT_NOW)
    for study in (THEIRS, examples.read("faulty")):
        write_study(study, case.path)
        case.look()
        case.look()
    assert case.asked == ["ask_changed", "ask_changed"]


def test_coming_back_to_the_window_is_what_makes_it_look(case: Case) -> None:
    write_study(THEIRS, case.path)
    case.answer("ask_changed", Changed.NOT_NOW)
    QApplication.sendEvent(case.hands.window, QEvent(QEvent.Type.ActivationChange))
    assert not case.asked  # never from inside the event
    case.hands.settle()
    assert case.asked == ["ask_changed"]


def test_a_window_that_was_closed_looks_no_more(case: Case) -> None:
    case.hands.do("Save")
    write_study(THEIRS, case.path)
    QApplication.sendEvent(case.hands.window, QEvent(QEvent.Type.ActivationChange))
    case.hands.answers.answer("ask_unsaved", Unsaved.DISCARD)
    case.hands.window.close()
    case.hands.settle()
    assert not case.asked


def test_a_file_only_touched_is_not_asked_about(case: Case) -> None:
    os.utime(case.path, (1e9, 1e9))
    case.look()
    assert not case.asked


@pytest.mark.parametrize("choice", list(Changed))
def test_saving_over_a_changed_file_asks_first(case: Case, choice: Changed) -> None:
    mine, elsewhere = case.hands.study, case.hands.folder / "elsewhere.bowl"
    write_study(THEIRS, case.path)
    case.answer("ask_changed", choice)
    case.hands.answers.answer("ask_save", elsewhere)
    case.hands.do("Save")
    assert case.asked == ["ask_changed"]
    assert case.held == (mine if choice is Changed.SAVE_OVER else THEIRS)
    assert elsewhere.exists() == (choice is Changed.SAVE_AS)
    if choice is Changed.SAVE_AS:
        assert read_study(elsewhere) == mine
    assert case.hands.document.modified == (choice is Changed.NOT_NOW)
    if choice is Changed.RELOAD:
        assert case.hands.study == THEIRS
        case.hands.undo()  # theirs is one step: mine comes back
    assert case.hands.study == mine


def unseen(case: Case) -> Study:
    """Somebody else changes the file, and neither its time nor its size tells."""
    status, mine = case.path.stat(), case.path.read_bytes()
    theirs = mine.replace(b'"speed_rpm": 580.0', b'"speed_rpm": 581.0')
    assert theirs != mine
    case.path.write_bytes(theirs)
    os.utime(case.path, ns=(status.st_atime_ns, status.st_mtime_ns))
    return case.held


@pytest.mark.parametrize("words", ["Save", "Save as…", "Save a copy"])
def test_before_saving_it_is_what_the_file_holds_that_counts(case: Case, words: str) -> None:
    theirs = unseen(case)
    case.look()
    assert not case.asked  # coming back to the window only looks at time and size
    case.answer("ask_changed", Changed.NOT_NOW)
    case.hands.answers.answer("ask_save", case.path)
    case.hands.window.filing.save_copy() if words == "Save a copy" else case.hands.do(words)
    assert case.asked == ["ask_changed"] and case.held == theirs and case.hands.document.modified


def test_a_window_without_changes_is_not_left_while_the_file_holds_something_else(case: Case) -> None:
    case.hands.do("Save")
    case.path.write_bytes(case.path.read_bytes().replace(b'"speed_rpm": 655.0', b'"speed_rpm": 580.0'))
    unseen(case)
    case.hands.answers.answer("ask_unsaved", Unsaved.CANCEL)
    assert not case.hands.window.filing.may_leave()


# deleted by somebody else


@pytest.mark.parametrize("choice", [Changed.SAVE_OVER, Changed.SAVE_AS, Changed.NOT_NOW])
def test_a_deleted_file_is_said_and_can_be_written_again(case: Case, choice: Changed) -> None:
    mine, elsewhere = case.hands.study, case.hands.folder / "elsewhere.bowl"
    case.path.unlink()
    case.answer("ask_gone", choice)
    case.hands.answers.answer("ask_save", elsewhere)
    case.look()
    assert case.asked == ["ask_gone"] and case.hands.study == mine
    assert case.path.exists() == (choice is Changed.SAVE_OVER)
    assert elsewhere.exists() == (choice is Changed.SAVE_AS)
    assert case.hands.document.modified == (choice is Changed.NOT_NOW)


def test_a_saved_study_whose_file_is_gone_counts_as_unsaved_when_it_is_left(case: Case) -> None:
    case.hands.do("Save")
    case.path.unlink()
    case.hands.answers.answer("ask_unsaved", Unsaved.CANCEL)
    case.hands.do("New study…")
    assert case.hands.answers.asked[-1] == "ask_unsaved" and case.hands.document.path == case.path


# open in another window


@pytest.mark.parametrize("choice", list(Shared))
def test_opening_a_file_of_another_window_asks_first(case: Case, choice: Shared) -> None:
    other = case.hands.folder / "other.bowl"
    write_study(THEIRS, other)
    before = case.hands.study
    case.answer("ask_shared_open", choice)
    with other_window(other):
        assert case.hands.window.filing.open_path(other) == (choice is not Shared.CANCEL)
    assert case.asked == ["ask_shared_open"]
    assert case.hands.study == (before if choice is Shared.CANCEL else THEIRS)
    if choice is Shared.COPY:
        assert case.hands.document.path is None and case.hands.document.name == "other copy.bowl"


@pytest.mark.parametrize("choice", list(Shared))
def test_saving_over_a_file_of_another_window_asks_first(case: Case, choice: Shared) -> None:
    other, elsewhere, names = case.hands.folder / "other.bowl", case.hands.folder / "elsewhere.bowl", list[Path]()
    write_study(THEIRS, other)
    mine = case.hands.study
    names += [other] if choice is not Shared.COPY else [elsewhere, other]
    case.patch.setattr("profiler.ui.dialogs.dialogs.ask_save", lambda *_: names.pop())
    case.answer("ask_shared_save", choice)
    with other_window(other):
        case.hands.do("Save as…")
    assert case.asked == ["ask_shared_save"]
    assert read_study(other) == (mine if choice is Shared.GO_ON else THEIRS)
    assert elsewhere.exists() == (choice is Shared.COPY)


@pytest.mark.parametrize("choice", list(Shared))
def test_starting_on_a_file_of_another_window_asks_too(case: Case, choice: Shared) -> None:
    case.hands.do("Save")
    mine = case.hands.study
    case.hands.window.filing.leave()
    case.answer("ask_shared_open", choice)
    with other_window(case.path):
        case.hands.window.filing.arrive()
        assert case.asked == ["ask_shared_open"]
        case.change("660")
        if choice is Shared.GO_ON:
            case.hands.do("Save")  # it was agreed to: not asked again
    assert (case.hands.document.path == case.path) == (choice is Shared.GO_ON)
    assert (case.held == mine) == (choice is not Shared.GO_ON)


def test_saving_a_copy_onto_its_own_file_is_saving(case: Case) -> None:
    case.hands.answers.answer("ask_save", case.path)
    assert case.hands.window.filing.save_copy()
    assert case.held == case.hands.study and not case.hands.document.modified
    case.look()
    assert not case.asked


def test_the_claim_of_a_window_that_was_killed_is_taken_over(case: Case) -> None:
    other = case.hands.folder / "other.bowl"
    write_study(THEIRS, other)
    with other_window(other) as killed:
        killed.kill()
        killed.wait()
        assert case.hands.window.filing.open_path(other)
    assert not case.asked and case.hands.document.path == other


# a place that cannot be written


def full(*_: object) -> None:
    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


def read_only(*_: object, **__: object) -> None:
    raise OSError(errno.EROFS, os.strerror(errno.EROFS))


def fill_the_disk(patch: pytest.MonkeyPatch) -> str:
    patch.setattr(os, "fsync", full)
    return os.strerror(errno.ENOSPC).lower()


def lock_the_folder(patch: pytest.MonkeyPatch) -> str:
    patch.setattr("profiler.study.files.disk._opened_beside", read_only)
    return os.strerror(errno.EROFS).lower()


def protect_the_file(patch: pytest.MonkeyPatch) -> str:
    patch.setattr(os, "access", lambda *_: False)
    return "write-protected"


@pytest.mark.parametrize("spoil", [fill_the_disk, lock_the_folder, protect_the_file])
def test_a_place_that_cannot_be_written_is_said_and_loses_nothing(
    case: Case, spoil: Callable[[pytest.MonkeyPatch], str]
) -> None:
    mine, old = case.hands.study, case.path.read_bytes()
    with pytest.MonkeyPatch.context() as patch:
        words = spoil(patch)
        case.hands.do("Save")
    (sentence,) = case.hands.answers.told
    assert "mine.bowl" in sentence and words in sentence and "Nothing is lost" in sentence
    assert case.path.read_bytes() == old and not list(case.hands.folder.glob(".mine*"))
    assert case.hands.study is mine and case.hands.document.modified
    case.hands.do("Save")
    assert case.held == mine and not case.hands.document.modified

"""Ends nobody chose in the window: unsaved work is in the copy whatever ends the program, and no question waits."""

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtCore import QObject
from PySide6.QtGui import QSessionManager
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from shiboken6 import Shiboken

from profiler.study import BowlFileError, read_study, write_study
from profiler.study.files import examples
from profiler.study.records.duty import SPEED
from profiler.ui import app
from profiler.ui.dialogs.dialogs import Unsaved
from profiler.ui.document.safekeeping import SETTLE_MS, Safekeeping
from profiler.ui.endings import BY_SIGNAL, NAMES, Endings
from profiler.ui.files.recovery import Session
from tests.tiers import kept
from tests.ui.hands import Hands
from tests.ui.safety.test_started import said, started

POSIX = pytest.mark.skipif(sys.platform == "win32", reason="ends otherwise there")
ACTS = ("change", "change_in_a_busy_slot", "change_under_a_question")
SIGNALS = [name for name in NAMES if hasattr(signal, name)]


@pytest.fixture
def mine(tmp_path: Path) -> Path:
    path = tmp_path / "mine.bowl"
    write_study(examples.read("cone"), path)
    return path


# the program itself


@POSIX
@pytest.mark.parametrize(
    ("name", "act"),
    kept(
        [(name, act) for name in SIGNALS for act in ACTS],
        [("SIGTERM", "change_in_a_busy_slot")],
    ),
)
def test_a_signal_ends_the_program_with_a_copy_and_without_a_question(
    tmp_path: Path, mine: Path, name: str, act: str
) -> None:
    before, number = mine.read_bytes(), getattr(signal, name)
    handler = signal.signal(number, signal.SIG_DFL)  # whoever started the tests in the background ignores some
    with started(tmp_path / "home", act, mine) as program:
        signal.signal(number, handler)
        said(program, "changed")
        program.send_signal(number)
        rest = said(program, "ended")
        assert program.wait() == BY_SIGNAL + number and "interrupted" not in rest
        assert program.stderr is not None
        (line,) = program.stderr.read().splitlines()
        assert line == f"bowl-profiler: ended by {name}. Unsaved changes are kept; the next start offers them."
    assert mine.read_bytes() == before
    with started(tmp_path / "home", "tell", mine) as program:
        assert "study mine.bowl 655.0 True None" in said(program, "done")


@POSIX
def test_a_signal_without_unsaved_work_leaves_nothing(tmp_path: Path, mine: Path) -> None:
    with started(tmp_path / "home", "tell", mine) as program:
        said(program, "done")
        program.send_signal(signal.SIGTERM)
        assert program.wait() == BY_SIGNAL + signal.SIGTERM
    assert not list((tmp_path / "home").rglob("*.bowl"))


@POSIX
@pytest.mark.long
def test_what_the_starter_ignored_stays_ignored(tmp_path: Path, mine: Path) -> None:
    handler = signal.signal(signal.SIGHUP, signal.SIG_IGN)  # as nohup does; a child takes it over
    try:
        with started(tmp_path / "home", "tell", mine) as program:
            said(program, "done")
            program.send_signal(signal.SIGHUP)
            with pytest.raises(TimeoutError):
                _wait(program, 1.0)
    finally:
        signal.signal(signal.SIGHUP, handler)


def _wait(program: subprocess.Popen[str], seconds: float) -> None:
    try:
        program.wait(seconds)
    except subprocess.TimeoutExpired:
        raise TimeoutError from None


# the session's end


class Case:
    def __init__(self, hands: Hands) -> None:
        self.hands = hands
        self.keeper = Safekeeping(hands.document, Session(hands.folder / "recovery"))
        self.endings = Endings(lambda: app._keep_all(self.keeper))
        self.endings.unasked_changed.connect(hands.window.leave_unasked)
        hands.document.undo_stack.indexChanged.connect(self.endings.go_on)
        qapp = QApplication.instance()
        assert isinstance(qapp, QApplication)
        self.endings.listen(qapp)

    def change(self, speed: str = "655") -> None:
        self.hands.type_into(self.hands.page.duty_bar.boxes[SPEED], speed)

    def log_out(self) -> None:
        """The signal by which Qt hands on the session manager's word; nobody here reads its argument."""
        qapp = QApplication.instance()
        assert isinstance(qapp, QApplication)
        nobody = QObject()
        qapp.commitDataRequest.emit(Shiboken.wrapInstance(Shiboken.getCppPointer(nobody)[0], QSessionManager))

    def end(self) -> None:
        self.endings.close()
        self.keeper.end()


@pytest.fixture
def case(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    made = Case(Hands(qtbot, tmp_path, monkeypatch))
    yield made
    made.end()


def test_logging_out_keeps_the_work_and_closes_without_a_question(case: Case) -> None:
    case.change()
    case.log_out()
    assert read_study(case.keeper.session.copy) == case.hands.study
    assert case.hands.window.close()  # ask_unsaved would have raised


def test_what_is_being_typed_is_kept_too(case: Case) -> None:
    case.hands.type_into(case.hands.page.duty_bar.boxes[SPEED], "655", then=None)
    case.log_out()
    assert read_study(case.keeper.session.copy).duty.speed_rpm == 655.0
    assert case.hands.window.close()


def test_a_log_out_in_the_midst_of_a_drag_keeps_it_as_it_stands(case: Case) -> None:
    hands = case.hands
    before = hands.knots
    with hands.dragging(hands.angle, hands.handle(1), hands.place(hands.knots[1].height_mm, 12.0)):
        case.log_out()
        assert read_study(case.keeper.session.copy).design.wall.knots == hands.knots != before
        assert hands.window.close()


def test_after_a_log_out_that_was_called_off_questions_are_asked_again(case: Case) -> None:
    case.change()
    case.log_out()
    case.change("660")
    case.hands.answers.answer("ask_unsaved", Unsaved.CANCEL)
    assert not case.hands.window.close() and case.hands.answers.asked == ["ask_unsaved"]


def test_where_no_copy_can_be_kept_nothing_ends_and_it_is_said(case: Case, monkeypatch: pytest.MonkeyPatch) -> None:
    case.change()
    told: list[str] = []
    case.endings.failed.connect(told.append)

    def full(*_: object) -> None:
        raise BowlFileError("copy.bowl cannot be written: no space left on device.")

    monkeypatch.setattr(Session, "keep", full)
    case.log_out()
    os.kill(os.getpid(), signal.SIGTERM)
    QTest.qWait(50)
    assert len(told) == 2 and all("no space left" in words for words in told)
    assert not case.endings.unasked


# a busy hand


@pytest.mark.long  # 8 s by the clock; test_safekeeping says the same of a shorter wait
def test_however_busy_the_hand_no_edit_is_older_than_five_seconds_before_it_is_kept(case: Case) -> None:
    """An edit every 0.2 s or slower, for longer than twice the longest wait: rest never comes.

    Counted in edits, of which 5 s hold 25 at most: a computer under load makes fewer in the time.
    """
    hands, most, unkept = case.hands, 0, 0
    for edit in range(38):
        speed = 600.0 + edit
        assert hands.document.change(SPEED, speed)
        QTest.qWait(200)
        copy = case.keeper.session.copy
        kept = read_study(copy).duty.speed_rpm if copy.exists() else 599.0
        unkept = round(speed - kept)
        most = max(most, unkept)
    assert SETTLE_MS > 200 and 2 < most < 25

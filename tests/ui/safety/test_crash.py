"""Whatever goes wrong unforeseen, wherever: the log is written, the work is kept beside, one question is asked."""

import faulthandler
import logging
import sys
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QMessageLogContext, QTimer, QtMsgType
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from profiler.study import read_study
from profiler.ui import app, crash
from profiler.ui.crash import TopHandler
from profiler.ui.dialogs import questions
from profiler.ui.dialogs.questions import Trouble
from profiler.ui.document.safekeeping import Safekeeping
from profiler.ui.files.recovery import Session
from tests.ui.hands import Hands

FAULT = "a fault made on purpose"


class Desk:
    """A window with its top handler, as the program starts it; the question is answered, and counted."""

    def __init__(self, hands: Hands, folder: Path) -> None:
        self.hands = hands
        self.log = folder / "log" / "bowl-profiler.log"
        self.keeper = Safekeeping(hands.document, Session(folder / "recovery"))
        self.asked: list[str] = []
        self.there: list[tuple[bool, bool]] = []  # log and copy, at the time of the question
        self.meanwhile: Callable[[], object] = lambda: None
        self.handler = TopHandler(self.log.parent, self.keeper.keep_now, self._ask)
        self.handler.install()

    @property
    def copy(self) -> Path:
        return self.keeper.session.copy

    def _ask(self, words: str, details: str) -> None:
        self.asked.append(words)
        self.there.append((FAULT in self.log.read_text(encoding="utf-8"), self.copy.exists()))
        self.meanwhile()
        assert "Traceback" in details


@pytest.fixture
def desk(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Desk]:
    for module in (sys, threading):
        monkeypatch.setattr(module, "excepthook", module.excepthook)  # put back after the test
    monkeypatch.setattr(crash, "qInstallMessageHandler", lambda handler: None)
    monkeypatch.setattr(faulthandler, "enable", lambda file: file.close())
    loggers = logging.getLogger(), crash.log
    before = [list(logger.handlers) for logger in loggers]
    hands = Hands(qtbot, tmp_path, monkeypatch)
    hands.document.edit_duty(replace(hands.duty, speed_rpm=655.0), "Speed")
    hands.settle()
    desk = Desk(hands, tmp_path)
    yield desk
    for logger, handlers in zip(loggers, before, strict=True):
        for handler in set(logger.handlers) - set(handlers):
            logger.removeHandler(handler)
            handler.close()
    desk.keeper.end()


def fail() -> None:
    raise RuntimeError(FAULT)


def in_a_slot(desk: Desk) -> None:
    QTimer.singleShot(0, fail)
    desk.hands.settle()


def in_a_thread(desk: Desk) -> None:
    thread = threading.Thread(target=fail)
    thread.start()
    thread.join()


def in_a_picture(desk: Desk) -> None:
    desk.hands.page.section.picture = lambda scene: fail()
    desk.hands.page.section.grab()


@pytest.mark.parametrize("trouble", [in_a_slot, in_a_thread, in_a_picture])
def test_the_log_and_the_copy_are_there_before_the_one_question(desk: Desk, trouble: Callable[[Desk], None]) -> None:
    trouble(desk)
    desk.hands.settle()
    assert len(desk.asked) == 1 and desk.there == [(True, True)]
    assert FAULT in desk.asked[0] and "A recovery copy of the study was made." in desk.asked[0]
    assert str(desk.log.parent) in desk.asked[0]
    assert read_study(desk.copy) == desk.hands.study and desk.hands.window.isVisible()


def test_a_picture_that_fails_with_every_repaint_is_asked_about_once(desk: Desk) -> None:
    for _ in range(5):
        in_a_picture(desk)
        desk.hands.settle()
    assert len(desk.asked) == 1


def test_trouble_during_the_question_is_only_logged(desk: Desk) -> None:
    desk.meanwhile = lambda: in_a_slot(desk)
    in_a_slot(desk)
    desk.hands.settle()
    assert len(desk.asked) == 1
    assert desk.log.read_text(encoding="utf-8").count(f"RuntimeError: {FAULT}") == 2


def test_trouble_that_comes_back_at_once_is_not_asked_about_again(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    """A timer or a mouse that fails each time would else bury the window in questions."""
    for _ in range(5):
        in_a_slot(desk)
    assert len(desk.asked) == 1 and desk.log.read_text(encoding="utf-8").count(f"RuntimeError: {FAULT}") == 5
    monkeypatch.setattr(crash, "QUIET_S", 0.0)
    in_a_slot(desk)
    assert len(desk.asked) == 2


def test_other_trouble_is_asked_about(desk: Desk) -> None:
    in_a_slot(desk)
    QTimer.singleShot(0, lambda: {}["another fault"])
    desk.hands.settle()
    assert len(desk.asked) == 2 and "KeyError" in desk.asked[1]


def test_the_copy_is_made_on_the_spot_and_not_a_moment_later(desk: Desk) -> None:
    try:
        fail()
    except RuntimeError as error:
        desk.handler.caught(RuntimeError, error, error.__traceback__)
    assert desk.copy.exists() and not desk.asked
    desk.hands.settle()
    assert desk.asked


def test_when_qt_gives_up_the_copy_is_made_at_once(desk: Desk) -> None:
    desk.handler._log_qt(QtMsgType.QtWarningMsg, QMessageLogContext(), "a warning")
    assert not desk.copy.exists()
    desk.handler._log_qt(QtMsgType.QtFatalMsg, QMessageLogContext(), "no more")
    assert desk.copy.exists()
    log = desk.log.read_text(encoding="utf-8")
    assert "Qt: a warning" in log and "Qt: no more" in log and "The window library failed" in log


def test_trouble_in_the_midst_of_a_drag_lets_go_of_the_knot(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(questions, "ask_trouble", lambda *_: Trouble.GO_ON)
    desk.hands.document.begin("Drag")
    app._ask_trouble(desk.hands.window, "words", "details")
    assert not desk.hands.document.in_gesture


def test_without_unsaved_changes_the_question_says_so(desk: Desk) -> None:
    desk.hands.undo()
    in_a_thread(desk)
    desk.hands.settle()
    assert "The study has no unsaved changes." in desk.asked[0] and not desk.copy.exists()


def test_trouble_with_the_copy_itself_is_said_in_the_question(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(desk.handler, "_keep", fail)
    in_a_thread(desk)
    desk.hands.settle()
    assert len(desk.asked) == 1 and "No recovery copy could be made" in desk.asked[0]


@pytest.mark.parametrize("choice", list(Trouble))
def test_the_choices_do_what_they_say(desk: Desk, monkeypatch: pytest.MonkeyPatch, choice: Trouble) -> None:
    elsewhere, left = desk.hands.folder / "elsewhere.bowl", []
    monkeypatch.setattr(questions, "ask_trouble", lambda *_: choice)
    monkeypatch.setattr(QApplication, "exit", left.append)
    desk.hands.answers.answer("ask_save", elsewhere)
    app._ask_trouble(desk.hands.window, "words", "details")
    assert left == ([app.TROUBLED] if choice is Trouble.QUIT else [])
    assert elsewhere.exists() == (choice is Trouble.SAVE_COPY)
    if choice is Trouble.SAVE_COPY:
        assert read_study(elsewhere) == desk.hands.study and desk.hands.document.path is None

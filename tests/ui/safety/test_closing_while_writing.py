"""The window closed while files are written: asked, and then all of them are there, or what is left out is said."""

import threading
from pathlib import Path

import pytest
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from profiler.output import writing
from profiler.output.record.output import Made
from profiler.output.writing import Target
from profiler.ui.dialogs import questions
from profiler.ui.dialogs.questions import Writing
from tests.ui.hands import Hands

COUNT = 3


class Case:
    """A window in which three files are being written, each when it is let."""

    def __init__(self, hands: Hands, patch: pytest.MonkeyPatch) -> None:
        self.hands, self.let, self.asked = hands, threading.Semaphore(0), 0
        self.files = [hands.folder / f"{number}.csv" for number in range(COUNT)]
        self._patch = patch

        def export(path: Path, e: object, request: object, kind: str) -> list[Made]:
            assert self.let.acquire(timeout=20)
            path.write_text("whole")
            return [Made(path, "a table")]

        patch.setattr(writing, "export", export)
        exporting = hands.window.exporting
        exporting.start([Target(path, "table", exporting.request()) for path in self.files])

    def answer(self, value: Writing) -> None:
        def asked(_: object) -> Writing:
            self.asked += 1
            return value

        self._patch.setattr(questions, "ask_writing", asked)

    @property
    def there(self) -> int:
        return sum(path.exists() for path in self.files)

    def write(self, count: int) -> None:
        before = self.there
        self.let.release(count)
        for _ in range(200):
            if self.there >= min(before + count, COUNT):
                break
            QTest.qWait(10)
        QTest.qWait(100)


@pytest.fixture
def case(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    made = Case(Hands(qtbot, tmp_path, monkeypatch), monkeypatch)
    yield made
    made.let.release(COUNT)


def test_the_window_waits_until_all_are_there(case: Case) -> None:
    case.answer(Writing.FINISH)
    window = case.hands.window
    assert not window.close() and window.isVisible() and "closes when" in case.hands.said
    case.write(1)
    assert window.isVisible()
    case.write(2)
    assert case.there == COUNT and not window.isVisible() and case.asked == 1


def test_the_rest_is_left_out_where_that_is_chosen(case: Case) -> None:
    case.answer(Writing.GIVE_UP)
    window = case.hands.window
    assert not window.close()
    case.write(1)
    assert case.there == 1 and not window.isVisible() and "Cancelled" in case.hands.window.message.text.text()


def test_a_window_that_is_not_closed_after_all_goes_on_writing(case: Case) -> None:
    case.answer(Writing.STAY)
    window = case.hands.window
    assert not window.close() and not window.close()
    case.write(COUNT)
    assert case.there == COUNT and window.isVisible() and case.asked == 2
    assert window.close()


def test_files_that_were_done_while_the_question_stood_need_no_waiting(
    case: Case, monkeypatch: pytest.MonkeyPatch
) -> None:
    def asked(_: object) -> Writing:
        case.write(COUNT)
        return Writing.FINISH

    monkeypatch.setattr(questions, "ask_writing", asked)
    assert case.hands.window.close() and case.there == COUNT


def test_a_session_that_ends_waits_for_no_answer(case: Case) -> None:
    case.hands.window.leave_unasked(True)
    case.let.release(1)
    threading.Timer(0.3, case.let.release).start()  # for the file that may be in hand when the end comes
    assert case.hands.window.close()
    assert 1 <= case.there <= 2  # the one in hand, whole; and no thread is left to write more

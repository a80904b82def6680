"""The questions themselves, by mouse and by keys: each button gives its answer, Enter and Escape the safe one."""

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest
from PySide6.QtCore import Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QDialog, QMessageBox, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from profiler.assess.checks.check_fit import SPINNING_CAUTION
from profiler.ui.dialogs import dialogs, questions
from profiler.ui.dialogs.dialogs import Unsaved
from profiler.ui.dialogs.questions import Changed, Fate, Shared, Trouble
from profiler.ui.files.claims import Owner
from profiler.ui.files.recovery import Leftover, Note, Session

pytestmark = [
    pytest.mark.usefixtures("real_questions"),
    pytest.mark.qt_log_ignore("This plugin does not support"),  # raising a window without a screen
]
OWNER = Owner(17, "")

# question, the answer of each button, what Enter takes, what Escape takes
QUESTIONS = {
    "unsaved": (
        lambda w: dialogs.ask_unsaved(w, "a.bowl"),
        {"Save": Unsaved.SAVE, "Do not save": Unsaved.DISCARD, "Cancel": Unsaved.CANCEL},
        Unsaved.SAVE, Unsaved.CANCEL,
    ),
    "replace": (
        lambda w: dialogs.ask_replace(w, "a.dxf", Path("/there")),
        {"Replace it": True, "Keep it": False},
        False, False,
    ),
    "shrink": (
        lambda w: dialogs.ask_shrink(w, "A1", "A4"),
        {"Print it smaller": True, "Do not print": False},
        False, False,
    ),
    "changed": (
        lambda w: questions.ask_changed(w, "a.bowl"),
        {"Load the file from disk": Changed.RELOAD, "Save as…": Changed.SAVE_AS, "Overwrite": Changed.SAVE_OVER,
         "Not now": Changed.NOT_NOW},
        Changed.RELOAD, Changed.NOT_NOW,
    ),
    "gone": (
        lambda w: questions.ask_gone(w, "a.bowl", Path("/there")),
        {"Save it there again": Changed.SAVE_OVER, "Save as…": Changed.SAVE_AS, "Not now": Changed.NOT_NOW},
        Changed.SAVE_OVER, Changed.NOT_NOW,
    ),
    "shared, opened": (
        lambda w: questions.ask_shared_open(w, "a.bowl", OWNER),
        {"Open a copy": Shared.COPY, "Open it all the same": Shared.GO_ON, "Cancel": Shared.CANCEL},
        Shared.COPY, Shared.CANCEL,
    ),
    "shared, saved": (
        lambda w: questions.ask_shared_save(w, "a.bowl", OWNER),
        {"Save as…": Shared.COPY, "Overwrite": Shared.GO_ON, "Cancel": Shared.CANCEL},
        Shared.COPY, Shared.CANCEL,
    ),
    "trouble": (
        lambda w: questions.ask_trouble(w, "ValueError: odd", "Traceback"),
        {"Continue": Trouble.GO_ON, "Save a copy…": Trouble.SAVE_COPY, "Quit": Trouble.QUIT},
        Trouble.GO_ON, Trouble.GO_ON,
    ),
}  # fmt: skip
BUTTONS = [(name, words) for name, (_, answers, _, _) in QUESTIONS.items() for words in answers]


@pytest.fixture
def parent(qtbot: QtBot) -> QWidget:
    widget = QWidget()
    qtbot.addWidget(widget)
    widget.show()
    return widget


def meet(act: Callable[[QDialog], object]) -> list[str]:
    """Do this to the dialog that is about to open; what went wrong meanwhile, since nothing is raised through it."""
    wrong: list[str] = []

    def at_last() -> None:
        dialog = QApplication.activeModalWidget()
        try:
            assert isinstance(dialog, QDialog), dialog
            act(dialog)
        except Exception as error:
            wrong.append(repr(error))
        finally:
            if isinstance(dialog, QDialog) and dialog.isVisible():
                wrong.append("it was still open")
                dialog.reject()

    QTimer.singleShot(0, at_last)
    return wrong


def button(box: QDialog, words: str) -> QPushButton:
    return next(b for b in box.findChildren(QPushButton) if b.text().replace("&", "") == words)


@pytest.mark.parametrize(("name", "words"), BUTTONS)
def test_a_click_on_a_button_gives_its_answer(parent: QWidget, name: str, words: str) -> None:
    ask, answers, _, _ = QUESTIONS[name]
    wrong = meet(lambda box: QTest.mouseClick(button(box, words), Qt.MouseButton.LeftButton))
    assert ask(parent) == answers[words] and wrong == []


@pytest.mark.parametrize(("name", "words"), BUTTONS)
def test_a_button_is_reached_by_keys(parent: QWidget, name: str, words: str) -> None:
    ask, answers, _, _ = QUESTIONS[name]

    def tab_to_it(box: QDialog) -> None:
        for _ in range(len(answers) + 2):
            if button(box, words).hasFocus():
                break
            QTest.keyClick(box.focusWidget() or box, Qt.Key.Key_Tab)
        QTest.keyClick(button(box, words), Qt.Key.Key_Space)

    wrong = meet(tab_to_it)
    assert ask(parent) == answers[words] and wrong == []


@pytest.mark.parametrize("name", QUESTIONS)
@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Escape])
def test_enter_takes_what_loses_nothing_and_escape_leaves_things_as_they_are(
    parent: QWidget, name: str, key: Qt.Key
) -> None:
    ask, _, enter, escape = QUESTIONS[name]
    wrong = meet(lambda box: QTest.keyClick(box, key))
    assert ask(parent) == (enter if key is Qt.Key.Key_Return else escape) and wrong == []


@pytest.mark.parametrize("name", QUESTIONS)
def test_closing_a_question_is_escape(parent: QWidget, name: str) -> None:
    ask, _, _, escape = QUESTIONS[name]
    wrong = meet(lambda box: box.close())
    assert ask(parent) == escape and wrong == []


def test_a_name_is_shown_as_it_is_and_never_as_markup(parent: QWidget) -> None:
    seen: list[str] = []

    def read(box: QDialog) -> None:
        assert isinstance(box, QMessageBox) and box.textFormat() is Qt.TextFormat.PlainText
        seen.append(box.text())
        box.close()

    wrong = meet(read)
    dialogs.ask_unsaved(parent, "<b>bold</b>.bowl")
    assert wrong == [] and "<b>bold</b>.bowl" in seen[0]


def test_an_error_and_the_caution_are_told_until_they_are_clicked_away(parent: QWidget) -> None:
    said: list[tuple[str, str]] = []

    def read(box: QDialog) -> None:
        assert isinstance(box, QMessageBox)
        said.append((box.windowTitle(), box.text()))
        QTest.mouseClick(button(box, "OK"), Qt.MouseButton.LeftButton)

    wrong = meet(read)
    dialogs.tell_error(parent, "Not saved", "The disk is full.")
    wrong += meet(read)
    dialogs.tell_about(parent)
    assert wrong == [] and said[0] == ("Not saved", "The disk is full.")
    assert SPINNING_CAUTION.text in said[1][1]


# recovery copies


@pytest.fixture
def found(tmp_path: Path, qapp: QApplication) -> list[Leftover]:
    """Two copies: of a file, and of a study that was never saved."""
    made = []
    for title, original in (("Wide", tmp_path / "wide.bowl"), ("", None)):
        session = Session(tmp_path / "copies")
        note = Note(None if original is None else str(original), title, datetime(2026, 1, 2, 3, 4, tzinfo=UTC))
        made.append(Leftover(session.copy, note, session._lock))
    return made


def test_leaving_the_question_keeps_every_copy(parent: QWidget, found: list[Leftover]) -> None:
    wrong = meet(lambda box: QTest.keyClick(box, Qt.Key.Key_Escape))
    assert questions.ask_leftovers(parent, found, None) == dict.fromkeys(found, Fate.KEEP) and wrong == []


def test_the_latest_copy_is_proposed_and_opening_one_keeps_the_other(parent: QWidget, found: list[Leftover]) -> None:
    def turn_round(box: QDialog) -> None:
        first, second = box.findChildren(QComboBox)
        assert (first.currentData(), second.currentData()) == (Fate.OPEN, Fate.KEEP)
        QTest.keyClick(second, Qt.Key.Key_Up)
        assert (first.currentData(), second.currentData()) == (Fate.KEEP, Fate.OPEN)
        QTest.keyClick(first, Qt.Key.Key_End)
        QTest.mouseClick(button(box, "Apply"), Qt.MouseButton.LeftButton)

    wrong = meet(turn_round)
    assert questions.ask_leftovers(parent, found, None) == {found[0]: Fate.THROW_AWAY, found[1]: Fate.OPEN}
    assert wrong == []


def test_where_a_file_was_asked_for_only_its_copy_is_proposed(
    parent: QWidget, found: list[Leftover], tmp_path: Path
) -> None:
    def accept(box: QDialog) -> None:
        box.accept()

    wrong = meet(accept)
    assert Fate.OPEN not in questions.ask_leftovers(parent, found, tmp_path / "other.bowl").values()
    wrong += meet(accept)
    assert questions.ask_leftovers(parent, found, tmp_path / "wide.bowl")[found[0]] is Fate.OPEN
    assert wrong == []

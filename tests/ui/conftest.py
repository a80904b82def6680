"""What holds for every test of the window: one look everywhere, no question left open, nothing left over.

pytest-qt gives `qapp` and `qtbot`; it also turns exceptions in slots and Qt's own warnings into failures.
"""

from collections.abc import Callable, Iterator

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QLocale, QStandardPaths
from PySide6.QtWidgets import QApplication, QFileDialog, QInputDialog, QMessageBox

QUESTIONS = {
    QMessageBox: ("about", "critical", "exec", "information", "question", "warning"),
    QFileDialog: (
        "getExistingDirectory",
        "getExistingDirectoryUrl",
        "getOpenFileName",
        "getOpenFileNames",
        "getOpenFileUrl",
        "getOpenFileUrls",
        "getSaveFileName",
        "getSaveFileUrl",
    ),
    QInputDialog: ("getDouble", "getInt", "getItem", "getMultiLineText", "getText"),
}


@pytest.fixture(scope="session", autouse=True)
def same_look_everywhere(qapp: QApplication) -> None:
    """Leave out what differs between machines: native style, number format, the user's settings."""
    QStandardPaths.setTestModeEnabled(True)
    QLocale.setDefault(QLocale.c())
    qapp.setStyle("Fusion")


REAL = {dialog: {name: getattr(dialog, name) for name in names} for dialog, names in QUESTIONS.items()}


@pytest.fixture
def real_questions(no_open_question: None, monkeypatch: pytest.MonkeyPatch) -> None:
    """The dialogs themselves, for tests that answer them by mouse and keys."""
    for dialog, names in REAL.items():
        for name, function in names.items():
            monkeypatch.setattr(dialog, name, function)


@pytest.fixture(autouse=True)
def no_open_question(monkeypatch: pytest.MonkeyPatch) -> None:
    """Fail where a modal dialog would wait for ever; a test that expects one replaces it with its answer."""
    for dialog, names in QUESTIONS.items():
        for name in names:
            monkeypatch.setattr(dialog, name, refuse(f"{dialog.__name__}.{name}"))


def refuse(name: str) -> Callable[..., None]:
    def asked(*arguments: object, **options: object) -> None:
        raise AssertionError(f"{name} was called and would wait for an answer: {arguments}")

    return asked


@pytest.fixture(autouse=True)
def nothing_left_over(qapp: QApplication) -> Iterator[None]:
    """Carry out deleteLater() now: outside an event loop Qt would keep the objects into the next tests."""
    yield
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)

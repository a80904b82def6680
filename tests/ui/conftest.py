"""What holds for every test of the window: one look everywhere, no question left open, nothing left over.

pytest-qt gives `qapp` and `qtbot`; it also turns exceptions in slots and Qt's own warnings into failures.
"""

from collections.abc import Callable, Iterator
from threading import Lock

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QLocale, QStandardPaths
from PySide6.QtWidgets import QApplication, QFileDialog, QInputDialog, QMessageBox

from profiler.assess.evaluate import evaluation
from profiler.assess.flow.flow_stage import Flow
from profiler.assess.shape.shape_stage import Shape

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


@pytest.fixture(autouse=True)
def asked_once(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every window opens on the same few studies: what a stage answers is kept from test to test.

    A stage is a function of its arguments and nothing else (`tests/laws/bowl/test_evaluate.py`). Not in the long tier,
    which measures memory and kills programs.
    """
    if request.node.get_closest_marker("long") is None:
        for stage, kept in KEPT.items():
            monkeypatch.setattr(evaluation, stage, kept)


class Kept:
    """A stage that remembers: by value what has one, by identity what another stage has answered."""

    def __init__(self, stage: Callable[..., object]) -> None:
        self._stage = stage
        self._known: dict[object, tuple[object, object]] = {}
        self._one_at_a_time = Lock()  # the worker asks too

    def __call__(self, *given: object) -> object:
        key = tuple(id(a) if isinstance(a, Shape | Flow) else a for a in given)
        known = self._known.get(key)
        if known is None:
            known = given, self._stage(*given)  # what is given stays, so that no other has its identity
            with self._one_at_a_time:
                while len(self._known) >= MOST_KEPT:
                    self._known.pop(next(iter(self._known)))
                self._known[key] = known
        return known[1]


MOST_KEPT = 60  # of each stage: a map's fifty duties are some megabytes
KEPT = {stage: Kept(getattr(evaluation, stage)) for stage in ("shape_of", "flow_of", "catch_of", "spin_of")}

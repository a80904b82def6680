"""Starts the window. Imports here are what a first paint needs; the rest loads when it is used."""

import os
import sys
import time
from pathlib import Path

from PySide6.QtCore import QEvent, QLocale, QObject, QTimer
from PySide6.QtWidgets import QApplication, QWidget

from profiler.study import BowlFileError
from profiler.study.files.examples import DEFAULT, read
from profiler.study.files.file import read_stamped
from profiler.ui.crash import TopHandler
from profiler.ui.dialogs import questions
from profiler.ui.document.document import Document
from profiler.ui.document.safekeeping import Safekeeping
from profiler.ui.endings import Endings
from profiler.ui.files import folders
from profiler.ui.files.recovery import Leftover, Session, leftovers
from profiler.ui.files.settings import Settings
from profiler.ui.menus import finish_typing
from profiler.ui.widgets.theme import LIGHT, dress
from profiler.ui.window import Window
from profiler.ui.window_place import text_scaled

TROUBLED = 3  # exit code after trouble the designer wanted to leave
FIRST_PAINT = "BOWL_PROFILER_FIRST_PAINT"  # set to time how long a start takes: see tests/benchmarks


def run(path: Path | None) -> int:
    """Open the window on a study, or on the default example. Returns the exit code."""
    remembered = Settings.of_user()
    with text_scaled(remembered):
        app = QApplication(sys.argv[:1])
    app.setApplicationName("bowl-profiler")
    app.setApplicationDisplayName("Bowl Profiler")
    QLocale.setDefault(QLocale.c())
    dress(app, LIGHT)
    notes: tuple[str, ...] = ()
    try:
        if path is None:
            study = read(DEFAULT)
        else:
            study, _, notes = read_stamped(path)
    except BowlFileError as error:
        print(error, file=sys.stderr)
        return 2
    document = Document(study, path, example=path is None)
    window = Window(document, remembered)
    keeper = Safekeeping(document, Session(folders.recovery()))
    keeper.failed.connect(document.say)
    trouble = TopHandler(folders.log(), keeper.keep_now, lambda words, details: _ask_trouble(window, words, details))
    trouble.install()
    endings = Endings(lambda: _keep_all(keeper))
    endings.failed.connect(document.say)
    endings.unasked_changed.connect(window.leave_unasked)
    document.undo_stack.indexChanged.connect(endings.go_on)
    endings.listen(app)
    watch = _FirstPaint(window.page.section) if os.environ.get(FIRST_PAINT) else None
    if watch is None:
        window.as_left()
    window.show()
    if watch is None:
        QTimer.singleShot(200, lambda: _begin(window, keeper, path, notes))
    code = app.exec()
    endings.close()
    window.let_go()
    keeper.end(leave_copy=code == TROUBLED or endings.unasked)
    document.undo_stack.clear()  # when it is destroyed it says so, and there may be no menus left to hear it
    return code


def _keep_all(keeper: Safekeeping) -> bool:
    """What is being typed too."""
    finish_typing()
    return keeper.keep_now()


def _begin(window: Window, keeper: Safekeeping, opened: Path | None, notes: tuple[str, ...]) -> None:
    window.filing.arrive(notes)
    _offer_leftovers(window, keeper, opened)


def _offer_leftovers(window: Window, keeper: Safekeeping, opened: Path | None) -> None:
    """Unsaved work of sessions that died: open it, keep it for later, or throw it away."""
    try:
        found = [left for left in leftovers(folders.recovery()) if left.copy != keeper.session.copy]
    except BowlFileError as error:
        window.document.say(str(error))
        return
    if not found:
        return
    fates = questions.ask_leftovers(window, found, opened)
    for leftover, fate in fates.items():
        opened_now = fate is questions.Fate.OPEN and _recovered(window, keeper, leftover)
        if opened_now or fate is questions.Fate.THROW_AWAY:
            _throw_away(window, leftover)
        else:
            leftover.keep()


def _throw_away(window: Window, leftover: Leftover) -> None:
    try:
        leftover.throw_away()
    except BowlFileError as error:
        window.document.say(str(error))


def _recovered(window: Window, keeper: Safekeeping, leftover: Leftover) -> bool:
    """Whether the leftover is in the window and has a copy of this session; else the old one must stay."""
    try:
        return window.filing.recover(leftover) and keeper.keep_now()
    except BowlFileError as error:
        window.document.say(str(error))
        return False


def _ask_trouble(window: Window, words: str, details: str) -> None:
    window.document.commit()  # a drag ends where a question stands in the way
    answer = questions.ask_trouble(window, words, details)
    if answer is questions.Trouble.SAVE_COPY:
        window.filing.save_copy()
    elif answer is questions.Trouble.QUIT:
        QApplication.exit(TROUBLED)


class _FirstPaint(QObject):
    """Tells the system's monotonic time of a widget's first paint, in seconds, and ends the program."""

    def __init__(self, widget: QWidget) -> None:
        super().__init__()
        widget.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Paint:
            watched.removeEventFilter(self)
            QTimer.singleShot(0, self._tell)
        return False

    def _tell(self) -> None:
        print(f"{time.monotonic():.6f}", flush=True)
        QApplication.quit()

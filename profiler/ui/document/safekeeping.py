"""Autosave beside, never over: a recovery copy soon after each change, gone once the study is saved or given up.

However busy the hand, no change is older than 5 s before it is kept: 3 s after the first one, and 2 s for a computer
that is slow to come to it and to write. Writing takes some milliseconds, once in 3 s, in the window's own thread.
"""

import threading
from pathlib import Path

from PySide6.QtCore import QObject, QTimer, Signal

from profiler.study import BowlFileError, Study
from profiler.ui.document.document import Document
from profiler.ui.files.recovery import Session

SETTLE_MS = 1_000  # after the last change
LONGEST_MS = 3_000  # while changes go on


class Safekeeping(QObject):
    """Watches a document and keeps its recovery copy. `failed` says, once, why no copy can be kept."""

    failed = Signal(str)

    def __init__(
        self, document: Document, session: Session, settle_ms: int = SETTLE_MS, longest_ms: int = LONGEST_MS
    ) -> None:
        super().__init__()
        self.session = session
        self._document = document
        self._kept: Study | None = None
        self._complained = False
        self._writing = threading.Lock()
        self._settle, self._longest = self._timer(settle_ms), self._timer(longest_ms)
        document.evaluated.connect(self._changed)
        document.saved_changed.connect(self._changed)
        self._changed()

    def keep_now(self) -> bool:
        """Write the copy if there is anything unsaved; whether there is one now. Any thread may ask.

        Raises BowlFileError.
        """
        with self._writing:
            if not self._document.modified:
                return False
            study = self._document.own_study
            if study is not self._kept:
                self.session.keep(study, self._original)
                self._kept = study
        return True

    def end(self, leave_copy: bool = False) -> None:
        """The study was saved or given up, and the window closes; or its copy stays for the next start."""
        self._rest()
        if not leave_copy:
            self._drop()
        self.session.end()

    @property
    def _original(self) -> Path | None:
        return self._document.path or self._document.suggested

    def _changed(self, _: object = None) -> None:
        if not self._document.modified:
            self._rest()
            self._drop()
        elif self._document.own_study is not self._kept:
            self._settle.start()
            if not self._longest.isActive():
                self._longest.start()

    def _due(self) -> None:
        self._rest()
        try:
            self.keep_now()
            self._complained = False
        except BowlFileError as error:
            self._longest.start()  # room may have been made by then
            if not self._complained:
                self._complained = True
                self.failed.emit(f"No recovery copy can be kept: {error} Save the study yourself, soon and often.")

    def _rest(self) -> None:
        self._settle.stop()
        self._longest.stop()

    def _drop(self) -> None:
        with self._writing:
            self.session.drop()
            self._kept = None

    def _timer(self, ms: int) -> QTimer:
        timer = QTimer(self)
        timer.setSingleShot(True)
        timer.setInterval(ms)
        timer.timeout.connect(self._due)
        return timer

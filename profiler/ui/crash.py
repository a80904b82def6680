"""The top handler: whatever goes wrong unforeseen is logged, the work is kept beside, then one question is asked.

The question is asked by the window's own thread, a moment later, never from inside a paint event or another thread;
while it is being asked further trouble is only logged.
"""

import faulthandler
import logging
import sys
import threading
import traceback
from collections.abc import Callable
from logging.handlers import RotatingFileHandler
from pathlib import Path
from types import TracebackType

from PySide6.QtCore import QMessageLogContext, QObject, Qt, QtMsgType, Signal, qInstallMessageHandler

log = logging.getLogger("profiler")
MOST_LOG_BYTES = 1_000_000


class TopHandler(QObject):
    """`keep` writes the recovery copy and says whether there is one; `ask` gets a sentence and the details."""

    _caught = Signal(str)

    def __init__(self, folder: Path, keep: Callable[[], bool], ask: Callable[[str, str], object]) -> None:
        super().__init__()
        self._folder = folder
        self._keep = keep
        self._ask = ask
        self._asking = False
        self._caught.connect(self._tell, Qt.ConnectionType.QueuedConnection)

    def install(self) -> None:
        """Take over what nobody else catches, here, in threads and in Qt; write it to the log folder."""
        self._open_log()
        sys.excepthook = self.caught
        threading.excepthook = lambda a: self.caught(a.exc_type, a.exc_value, a.exc_traceback)
        qInstallMessageHandler(_log_qt)
        log.addHandler(_Heard(self._caught.emit))

    def caught(self, kind: type[BaseException], error: BaseException | None, trace: TracebackType | None) -> None:
        """Log, keep the work, then have the question asked."""
        if issubclass(kind, KeyboardInterrupt):
            sys.__excepthook__(kind, error or kind(), trace)
            return
        details = "".join(traceback.format_exception(kind, error, trace))
        log.error("unforeseen: %s", details)
        self._caught.emit(details)

    def _tell(self, details: str) -> None:
        if self._asking:
            return
        self._asking = True
        try:
            kept = self._kept()
            words = f"{details.strip().splitlines()[-1]}\n\n{kept} The log lies in {self._folder}."
            self._ask(words, details)
        finally:
            self._asking = False

    def _kept(self) -> str:
        try:
            made = self._keep()
        except Exception as error:  # trouble while keeping may not hide the trouble there was
            log.error("no recovery copy: %s", error)
            return f"No recovery copy could be made: {error} Save the study elsewhere now."
        return "A recovery copy of the study was made." if made else "The study has no unsaved changes."

    def _open_log(self) -> None:
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            file = RotatingFileHandler(
                self._folder / "bowl-profiler.log", maxBytes=MOST_LOG_BYTES, backupCount=2, encoding="utf-8", delay=True
            )
            file.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(name)s: %(message)s"))
            logging.getLogger().addHandler(file)
            faulthandler.enable((self._folder / "faults.log").open("a", encoding="utf-8"))
        except OSError as error:
            log.warning("no log can be written: %s", error)


class _Heard(logging.Handler):
    """Hears of faults caught where they happened, in a picture or a question, and logged with their trace."""

    def __init__(self, tell: Callable[[str], object]) -> None:
        super().__init__(logging.ERROR)
        self._told = tell

    def emit(self, record: logging.LogRecord) -> None:
        error = record.exc_info[1] if record.exc_info else None
        if error is not None:
            self._told("".join(traceback.format_exception(error)))


def _log_qt(kind: QtMsgType, context: QMessageLogContext, message: str) -> None:
    level = logging.INFO if kind in (QtMsgType.QtDebugMsg, QtMsgType.QtInfoMsg) else logging.WARNING
    log.log(level, "Qt: %s", message)

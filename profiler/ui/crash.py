"""The top handler: whatever goes wrong unforeseen is logged, the work is kept beside, then one question is asked.

Log and copy are made on the spot, in whatever thread: the next instant may be too late. The question is asked by the
window's own thread, a moment later, never from inside a paint event; while it is being asked further trouble is only
logged and kept, and trouble of the same place is not asked about again and again.
"""

import faulthandler
import logging
import sys
import threading
import time
import traceback
from collections.abc import Callable
from logging.handlers import RotatingFileHandler
from pathlib import Path
from types import TracebackType

from PySide6.QtCore import QMessageLogContext, QObject, Qt, QtMsgType, Signal, qInstallMessageHandler

log = logging.getLogger("profiler")
MOST_LOG_BYTES = 1_000_000
QUIET_S = 30.0  # after an answer, trouble of the same place is only logged


class TopHandler(QObject):
    """`keep` writes the recovery copy and says whether there is one; `ask` gets a sentence and the details."""

    _caught = Signal(str, str)  # details, what became of the copy

    def __init__(self, folder: Path, keep: Callable[[], bool], ask: Callable[[str, str], object]) -> None:
        super().__init__()
        self._folder = folder
        self._keep = keep
        self._ask = ask
        self._asking = False
        self._answered: dict[tuple[str, ...], float] = {}
        self._caught.connect(self._tell, Qt.ConnectionType.QueuedConnection)

    def install(self) -> None:
        """Take over what nobody else catches, here, in threads and in Qt; write it to the log folder."""
        self._open_log()
        sys.excepthook = self.caught
        threading.excepthook = lambda a: self.caught(a.exc_type, a.exc_value, a.exc_traceback)
        qInstallMessageHandler(self._log_qt)
        log.addHandler(_Heard(self._handle))

    def caught(self, kind: type[BaseException], error: BaseException | None, trace: TracebackType | None) -> None:
        """Log, keep the work, then have the question asked."""
        if issubclass(kind, KeyboardInterrupt):
            sys.__excepthook__(kind, error or kind(), trace)
            return
        details = "".join(traceback.format_exception(kind, error, trace))
        log.error("unforeseen: %s", details)
        sys.__excepthook__(kind, error or kind(), trace)  # for who started it in a terminal
        self._handle(details)

    def _handle(self, details: str) -> None:
        self._caught.emit(details, self._kept())

    def _tell(self, details: str, kept: str) -> None:
        place = _place(details)
        if self._asking or time.monotonic() - self._answered.get(place, -QUIET_S) < QUIET_S:
            return
        self._asking = True
        try:
            self._ask(f"{details.strip().splitlines()[-1]}\n\n{kept} The log lies in {self._folder}.", details)
        finally:
            self._asking = False
            self._answered[place] = time.monotonic()

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

    def _log_qt(self, kind: QtMsgType, context: QMessageLogContext, message: str) -> None:
        level = logging.INFO if kind in (QtMsgType.QtDebugMsg, QtMsgType.QtInfoMsg) else logging.WARNING
        log.log(level, "Qt: %s", message)
        if kind == QtMsgType.QtFatalMsg:  # Qt ends the program when this returns
            log.error("The window library failed. %s", self._kept())


class _Heard(logging.Handler):
    """Hears of faults caught where they happened, in a picture or a question, and logged with their trace."""

    def __init__(self, tell: Callable[[str], object]) -> None:
        super().__init__(logging.ERROR)
        self._told = tell

    def emit(self, record: logging.LogRecord) -> None:
        error = record.exc_info[1] if record.exc_info else None
        if error is not None:
            self._told("".join(traceback.format_exception(error)))


def _place(details: str) -> tuple[str, ...]:
    """Where the trouble was: the innermost file and line of the traceback, and the kind of error."""
    lines = details.strip().splitlines()
    inner = next((line for line in reversed(lines) if line.startswith("  File ")), "")
    return inner, lines[-1].split(":")[0]

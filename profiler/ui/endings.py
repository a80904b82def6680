"""Ends that nobody chose in the window: Ctrl+C in the terminal, a signal, a terminal closed, the end of the session.

All of them act like the window's X without a question, because nobody may be there to answer: unsaved work goes into
the recovery copy, which the next start offers. Where no copy can be written the program stays, and says why.

A signal never interrupts a slot: its handler does nothing, and its number comes through a socket that the event loop
looks at when it is next idle.
"""

import contextlib
import logging
import signal
import socket
import sys
from collections.abc import Callable

from PySide6.QtCore import QObject, QSocketNotifier, QTimer, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication

from profiler.study import BowlFileError

log = logging.getLogger("profiler")
NAMES = ("SIGINT", "SIGTERM", "SIGHUP", "SIGBREAK")
SIGNALS = tuple(getattr(signal, name) for name in NAMES if hasattr(signal, name))  # no system has all
BY_SIGNAL = 128  # and its number is the exit code, as shells have it
SESSION_MS = 60_000  # a session that has not ended by then was not ended


class Endings(QObject):
    """`keep` writes the recovery copy and says whether there is one; `failed` gets the sentence where it cannot.

    `unasked_changed` says whether the window may now be closed without a question.
    """

    failed = Signal(str)
    unasked_changed = Signal(bool)

    def __init__(self, keep: Callable[[], bool]) -> None:
        super().__init__()
        self.unasked = False
        self._keep = keep
        self._before: dict[signal.Signals, signal._HANDLER] = {}
        self._ear, self._mouth = socket.socketpair()
        self._ear.setblocking(False)
        self._mouth.setblocking(False)
        self._notifier = QSocketNotifier(self._ear.fileno(), QSocketNotifier.Type.Read, self)
        self._notifier.activated.connect(self._heard)
        self._session = QTimer(self)
        self._session.setSingleShot(True)
        self._session.setInterval(SESSION_MS)
        self._session.timeout.connect(self.go_on)

    def listen(self, app: QGuiApplication) -> None:
        """From now on. What the starter of the program has ignored (nohup, a job in the background) stays ignored."""
        signal.set_wakeup_fd(self._mouth.fileno(), warn_on_full_buffer=False)
        for number in SIGNALS:
            if signal.getsignal(number) is not signal.SIG_IGN:
                self._before[number] = signal.signal(number, lambda *_: None)
        app.commitDataRequest.connect(lambda: self.session_ends())  # its argument kills whoever emits it in Python

    def close(self) -> None:
        """Signals do what they did before."""
        for number, handler in self._before.items():
            signal.signal(number, handler)
        self._before.clear()
        signal.set_wakeup_fd(-1)
        self._notifier.setEnabled(False)
        self._session.stop()

    def session_ends(self) -> None:
        """The user logs out or the computer is shut down: what follows closes the window, which asks nothing then."""
        if self._kept() is not None:
            self._let_leave(True)
            self._session.start()

    def go_on(self) -> None:
        """The session did not end after all: the designer works on, or nothing came of it."""
        if self._session.isActive() or self.unasked:
            self._session.stop()
            self._let_leave(False)

    def _heard(self) -> None:
        try:
            number = self._ear.recv(4096)[0]
        except (BlockingIOError, IndexError):
            return
        if self._before and (words := self._kept()) is not None:
            self._let_leave(True)
            _say(f"ended by {signal.Signals(number).name}. {words}")
            QApplication.exit(BY_SIGNAL + number)

    def _let_leave(self, unasked: bool) -> None:
        self.unasked = unasked
        self.unasked_changed.emit(unasked)

    def _kept(self) -> str | None:
        """What became of unsaved work; None where it could not be kept."""
        try:
            made = self._keep()
        except (BowlFileError, OSError) as error:
            sentence = f"Not ended, because no recovery copy can be kept: {error}"
            log.warning("%s", sentence)
            _say(sentence)
            self.failed.emit(sentence)
            return None
        return "Unsaved changes are kept; the next start offers them." if made else "Nothing was unsaved."


def _say(sentence: str) -> None:
    """To whoever started it in a terminal, which may be gone."""
    with contextlib.suppress(OSError, ValueError, AttributeError):
        print(f"bowl-profiler: {sentence}", file=sys.stderr, flush=True)

"""The only worker thread: long questions are answered beside the window, the newest of a kind wins.

A job is a pure function that takes a Progress and returns a value. It runs on one thread, in the order asked; asking
again under the same key cancels what runs or waits under it. While a gesture lasts the work stands still at its next
step, so that a drag is never slowed. Answers arrive in the window's own thread.
"""

import logging
import threading
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TypeVar

from PySide6.QtCore import QObject, Qt, Signal

from ..progress import Cancelled, Progress

log = logging.getLogger(__name__)
Answer = TypeVar("Answer")


@dataclass(eq=False, slots=True)
class _Job:
    key: str
    work: Callable[[Progress], object]
    done: Callable[[object], None]
    progressed: Callable[[float], None]
    failed: Callable[[str], None]
    cancelled: threading.Event = field(default_factory=threading.Event)


class Jobs(QObject):
    """Owned by the window; `close` ends the thread."""

    _finished = Signal(object, object, str)  # _Job, answer, why it failed
    _advanced = Signal(object, float)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._lock = threading.Condition()
        self._waiting: list[_Job] = []
        self._running: _Job | None = None
        self._paused = False
        self._closed = False
        self._thread: threading.Thread | None = None
        self._finished.connect(self._finish, Qt.ConnectionType.QueuedConnection)
        self._advanced.connect(self._advance, Qt.ConnectionType.QueuedConnection)

    def ask(
        self,
        key: str,
        work: Callable[[Progress], Answer],
        done: Callable[[Answer], None],
        progressed: Callable[[float], None] = lambda share: None,
        failed: Callable[[str], None] = lambda sentence: None,
    ) -> None:
        """Answer this question instead of any earlier one of its key. Callbacks run in the window's thread.

        A ValueError of the work is a sentence for `failed`; any other exception is logged and told there too.
        """
        job = _Job(key, work, done, progressed, failed)  # type: ignore[arg-type]
        with self._lock:
            self._drop(key)
            self._waiting.append(job)
            if self._thread is None and not self._closed:
                self._thread = threading.Thread(target=self._loop, name="questions", daemon=True)
                self._thread.start()
            self._lock.notify_all()

    def cancel(self, key: str) -> None:
        with self._lock:
            self._drop(key)
            self._lock.notify_all()

    def pause(self, on: bool) -> None:
        """Stand still at the next step while something is dragged."""
        with self._lock:
            self._paused = on
            self._lock.notify_all()

    @property
    def busy(self) -> bool:
        with self._lock:
            return bool(self._waiting) or self._running is not None

    def close(self) -> None:
        """Give up everything and end the thread."""
        with self._lock:
            self._closed = True
            for job in self._waiting:
                job.cancelled.set()
            self._waiting.clear()
            if self._running is not None:
                self._running.cancelled.set()
            self._lock.notify_all()
        if self._thread is not None:
            self._thread.join()
            self._thread = None

    def _drop(self, key: str) -> None:
        for job in [j for j in self._waiting if j.key == key]:
            job.cancelled.set()
            self._waiting.remove(job)
        if self._running is not None and self._running.key == key:
            self._running.cancelled.set()

    def _loop(self) -> None:
        while True:
            with self._lock:
                while not self._closed and (not self._waiting or self._paused):
                    self._lock.wait()
                if not self._waiting:
                    return  # closed
                job = self._running = self._waiting.pop(0)
            answer, why = self._work(job)
            with self._lock:
                self._running = None
                wanted = not (self._closed or job.cancelled.is_set())
            if wanted:
                self._finished.emit(job, answer, why)

    def _work(self, job: _Job) -> tuple[object, str]:
        try:
            return job.work(Progress(lambda share: self._step(job, share))), ""
        except Cancelled:
            job.cancelled.set()
        except ValueError as reason:
            return None, str(reason)
        except Exception as error:
            log.exception("a question could not be answered")
            return None, f"This could not be worked out ({error}); see the log."
        return None, ""

    def _step(self, job: _Job, share: float) -> None:
        with self._lock:
            while self._paused and not job.cancelled.is_set() and not self._closed:
                self._lock.wait()
        if job.cancelled.is_set():
            raise Cancelled
        self._advanced.emit(job, share)

    def _finish(self, job: _Job, answer: object, why: str) -> None:
        if job.cancelled.is_set():
            return
        if why:
            job.failed(why)
        else:
            job.done(answer)

    def _advance(self, job: _Job, share: float) -> None:
        if not job.cancelled.is_set():
            job.progressed(share)

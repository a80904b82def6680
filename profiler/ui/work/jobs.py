"""The only worker thread: long questions are answered beside the window, the newest of a kind wins.

A job is a pure function that takes a Progress and returns a value. It runs on one thread, in the order asked; asking
again under the same key cancels what runs or waits under it. While a gesture lasts the work stands still at its next
step, so that a drag is never slowed. Answers arrive in the window's own thread.

The thread lives as long as there is work, and it never touches Qt: what it has to say is left in a list that the
window's thread looks through. Nor may Python look for cyclic garbage in it: see garbage.py.
"""

import logging
import threading
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TypeVar

from PySide6.QtCore import QObject, QTimer

from profiler.progress import Cancelled, Progress
from profiler.ui.work import garbage

log = logging.getLogger(__name__)
Answer = TypeVar("Answer")
LOOK_MS = 10


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

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._lock = threading.Condition()
        self._waiting: list[_Job] = []
        self._running: _Job | None = None
        self._paused = False
        self._closed = False
        self._thread: threading.Thread | None = None
        self._idle = True
        self._news: list[tuple[_Job, Callable[[], None]]] = []
        self._look = QTimer(self)
        self._look.setInterval(LOOK_MS)
        self._look.timeout.connect(self._tell)

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
        if self._closed:
            return
        job = _Job(key, work, done, progressed, failed)  # type: ignore[arg-type]
        with self._lock:
            self._drop(key)
            self._waiting.append(job)
            at_work = self._thread is not None and not self._idle
            self._lock.notify_all()
        if not at_work:
            self._start()

    def cancel(self, key: str) -> None:
        with self._lock:
            self._drop(key)
            self._lock.notify_all()

    def pause(self, on: bool) -> None:
        """Stand still at the next step while something is dragged; looking for garbage can wait as well."""
        if on != self._paused and not self._closed:
            garbage.hold() if on else garbage.release()
        with self._lock:
            self._paused = on
            self._lock.notify_all()

    @property
    def busy(self) -> bool:
        with self._lock:
            return bool(self._waiting or self._news) or self._running is not None

    def close(self) -> None:
        """Give up everything and end the thread."""
        self.pause(False)
        with self._lock:
            self._closed = True
            for job in self._waiting:
                job.cancelled.set()
            self._waiting.clear()
            if self._running is not None:
                self._running.cancelled.set()
            self._lock.notify_all()
        self._end()
        self._news.clear()

    def _start(self) -> None:
        """Have a thread at work; one that just ran out of work is replaced."""
        self._end()
        garbage.hold()
        self._idle = False
        self._thread = threading.Thread(target=self._loop, name="questions", daemon=True)
        self._thread.start()
        self._look.start()

    def _end(self) -> None:
        """Wait for the thread, which has nothing left to do."""
        self._look.stop()
        if self._thread is not None:
            self._thread.join()
            self._thread = None
            garbage.release()

    def _drop(self, key: str) -> None:
        for job in [j for j in self._waiting if j.key == key]:
            job.cancelled.set()
            self._waiting.remove(job)
        if self._running is not None and self._running.key == key:
            self._running.cancelled.set()
        for job, _ in self._news:  # answered, but not yet told
            if job.key == key:
                job.cancelled.set()

    def _loop(self) -> None:
        while (job := self._next()) is not None:
            tell = self._work(job)
            with self._lock:
                self._running = None
                self._news.append((job, tell))
                del job, tell  # what they hold may be a page: the last to let go of it must be the window's thread

    def _next(self) -> _Job | None:
        with self._lock:
            while self._waiting and self._paused and not self._closed:
                self._lock.wait()
            self._running = self._waiting.pop(0) if self._waiting else None
            self._idle = self._running is None  # from here on the thread only ends
            return self._running

    def _work(self, job: _Job) -> Callable[[], None]:
        """Do it; returns what the window's thread is to call."""
        try:
            answer = job.work(Progress(lambda share: self._step(job, share)))
        except Cancelled:
            job.cancelled.set()
            return lambda: None
        except ValueError as reason:
            words = str(reason)
        except Exception as error:
            log.exception("a question could not be answered")
            words = f"This could not be worked out ({error}); see the log."
        else:
            return lambda: job.done(answer)
        return lambda: job.failed(words)

    def _step(self, job: _Job, share: float) -> None:
        with self._lock:
            while self._paused and not job.cancelled.is_set() and not self._closed:
                self._lock.wait()
            if job.cancelled.is_set():
                raise Cancelled
            self._news.append((job, lambda: job.progressed(share)))

    def _tell(self) -> None:
        """In the window's thread: pass on what the worker left, and let go of it when it has nothing left to do."""
        with self._lock:
            news, self._news = self._news, []
        if self._idle:
            self._end()
        garbage.collect_if_due()
        for job, tell in news:
            if not job.cancelled.is_set():
                tell()

"""Which study file is open in which window, so that two windows do not overwrite each other unawares.

A claim is a lock file in the user's own folder, named after the study's real path; nothing is left beside the study.
The lock of a program that died is taken over.
"""

import hashlib
import os
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QLockFile, QSysInfo


@dataclass(frozen=True, slots=True)
class Owner:
    """Who has a file open: a process, here or on another computer."""

    process: int
    computer: str

    def __str__(self) -> str:
        here = self.computer in ("", QSysInfo.machineHostName())
        return f"process {self.process}" if here else f"process {self.process} on {self.computer}"


class Claim:
    """This window's hold on the one file it has open."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._lock: QLockFile | None = None

    def owner(self, path: Path) -> Owner | None:
        """The other process that has the file open, or None."""
        lock = self._lock_of(path)
        if lock is None:
            return None
        if lock.tryLock(0):
            lock.unlock()
            return None
        return _other_owner(lock)

    def take(self, path: Path | None) -> Owner | None:
        """Let go of the file held and hold this one; its owner where another process has it."""
        lock = None if path is None else self._lock_of(path)
        if lock is not None and self._lock is not None and lock.fileName() == self._lock.fileName():
            return None
        self.release()
        if lock is None:
            return None
        if lock.tryLock(0):
            self._lock = lock
            return None
        return _other_owner(lock)

    def release(self) -> None:
        if self._lock is not None:
            self._lock.unlock()
            self._lock = None

    def _lock_of(self, path: Path) -> QLockFile | None:
        """None where the folder cannot be made: then no window can tell another."""
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
        except OSError:
            return None
        key = os.path.normcase(os.path.realpath(path))
        name = hashlib.sha256(os.fsencode(key)).hexdigest()[:32]
        lock = QLockFile(str(self._folder / f"{name}.lock"))
        lock.setStaleLockTime(0)  # age alone says nothing: a window may be open for days
        return lock


def _other_owner(lock: QLockFile) -> Owner | None:
    """Who holds a lock that was refused; None where that is this very process, or nobody could lock there at all."""
    if lock.error() != QLockFile.LockError.LockFailedError:
        return None
    process, computer, _ = lock.getLockInfo()
    return Owner(process, computer) if process not in (0, os.getpid()) else None

"""Recovery copies on the disk: one of each running session, and those that sessions which died left behind.

A copy is a whole study file in the user's own folder with a note beside it: where the study came from, its title, when.
The session's lock tells whether its program still runs. When a copy is written is decided in `safekeeping`.
"""

import contextlib
import uuid
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import msgspec
from PySide6.QtCore import QLockFile

from profiler.study import Study, write_study
from profiler.study.files.disk import PART
from profiler.study.files.file import SUFFIX, Opened, read_stamped, write_whole

NOTE, LOCK = ".json", ".lock"


class Note(msgspec.Struct, frozen=True):
    """What stands beside a copy."""

    original: str | None = None
    title: str = ""
    when: datetime | None = None


@dataclass(frozen=True, slots=True)
class Leftover:
    """A copy whose session died; held, so that no other window offers it, until it is let go of."""

    copy: Path
    note: Note
    lock: QLockFile

    @property
    def original(self) -> Path | None:
        """The study file it was a changed version of."""
        return Path(self.note.original) if self.note.original else None

    def opened(self) -> Opened:
        """Raises BowlFileError."""
        return read_stamped(self.copy)

    def throw_away(self) -> None:
        """For good."""
        _remove(self.copy)
        self.lock.unlock()

    def keep(self) -> None:
        """Leave it for another time."""
        self.lock.unlock()


class Session:
    """The recovery copy of this run of the program."""

    def __init__(self, folder: Path) -> None:
        self.copy = folder / f"{uuid.uuid4().hex}{SUFFIX}"
        with contextlib.suppress(OSError):  # writing the copy will then say why it cannot be
            folder.mkdir(parents=True, exist_ok=True)
        self._lock = _lock_of(self.copy)
        self._lock.tryLock(0)

    def keep(self, study: Study, original: Path | None) -> None:
        """Write the copy. Raises BowlFileError; the last copy is then still whole."""
        write_study(study, self.copy)
        note = Note(_place(original), study.title, datetime.now().astimezone())
        write_whole(self.copy.with_suffix(NOTE), msgspec.json.encode(note))

    def drop(self) -> None:
        """There is nothing to recover."""
        _remove(self.copy)

    def end(self) -> None:
        """The program ends as it should; a copy still there is kept for the next start."""
        self._lock.unlock()


def leftovers(folder: Path) -> list[Leftover]:
    """The copies of sessions that died, latest first; each is held and must be thrown away or kept."""
    found = []
    for copy in sorted(folder.glob(f"*{SUFFIX}")) if folder.is_dir() else []:
        lock = _lock_of(copy)
        if lock.tryLock(0):
            found.append(Leftover(copy, _note(copy), lock))
    _sweep(folder)
    return sorted(found, key=lambda each: _when(each).timestamp(), reverse=True)


def when_text(leftover: Leftover) -> str:
    """The time of a copy, as a clock on this computer shows it."""
    return f"{_when(leftover).astimezone():%Y-%m-%d %H:%M}"


def _when(leftover: Leftover) -> datetime:
    try:
        return leftover.note.when or datetime.fromtimestamp(leftover.copy.stat().st_mtime).astimezone()
    except OSError:
        return datetime.fromtimestamp(0).astimezone()


def _lock_of(copy: Path) -> QLockFile:
    lock = QLockFile(str(copy.with_suffix(LOCK)))
    lock.setStaleLockTime(0)  # only a dead owner's lock is taken over, however old a living one's is
    return lock


def _place(original: Path | None) -> str | None:
    """The file's place as text; None for a name that is no text, which a POSIX system allows."""
    if original is None:
        return None
    place = str(original.absolute())
    try:
        place.encode()
    except UnicodeEncodeError:
        return None
    return place


def _note(copy: Path) -> Note:
    try:
        return msgspec.json.decode(copy.with_suffix(NOTE).read_bytes(), type=Note)
    except (OSError, ValueError, RecursionError):
        return Note()


def _remove(copy: Path) -> None:
    """The copy, its note, and what was being written when its session died."""
    with contextlib.suppress(OSError):
        for path in (copy, copy.with_suffix(NOTE), *copy.parent.glob(f".{copy.stem}*{PART}")):
            path.unlink(missing_ok=True)


def _sweep(folder: Path) -> None:
    """Take away what sessions without a copy left behind."""
    for lock_path in folder.glob(f"*{LOCK}"):
        copy = lock_path.with_suffix(SUFFIX)
        lock = _lock_of(copy)
        if not copy.exists() and lock.tryLock(0):
            _remove(copy)
            lock.unlock()

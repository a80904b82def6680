"""Recovery copies on the disk: one of each running session, and those that sessions which died left behind.

A copy is a whole study file in the user's own folder with a note beside it: where the study came from, its title, when.
The session's lock tells whether its program still runs. When a copy is written is decided in `safekeeping`. Whatever
lies in the folder, each copy is offered by itself with what can be learnt of it: none hides another.
"""

import contextlib
import stat
import time
import uuid
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import msgspec
from PySide6.QtCore import QLockFile

from profiler.study import BowlFileError, Study, write_study
from profiler.study.files.disk import OWN_PART, private_folder, read_whole, reason
from profiler.study.files.file import SUFFIX, Opened, read_stamped, write_whole

NOTE, LOCK = ".json", ".lock"
LONGEST_WORDS = 200  # of a title or a place in a note, which anybody may have written
UNREADABLE_LOCK_S = 60.0  # a lock that names no owner for so long was cut short when its owner died


class Note(msgspec.Struct, frozen=True):
    """What stands beside a copy."""

    original: str | None = None
    title: str = ""
    when: datetime | None = None


@dataclass(frozen=True, slots=True)
class Leftover:
    """A copy whose session died; held, so that no other window offers it, until it is let go of.

    `trouble` says why it cannot be opened; empty where it can.
    """

    copy: Path
    note: Note
    lock: QLockFile
    trouble: str = ""

    @property
    def original(self) -> Path | None:
        """The study file it was a changed version of."""
        return Path(self.note.original) if self.note.original else None

    @property
    def title(self) -> str:
        """By which it may be known again: of its file alone where nothing else is known."""
        return self.note.title or (self.copy.name if self.trouble else "untitled")

    def opened(self) -> Opened:
        """Raises BowlFileError."""
        return read_stamped(self.copy)

    def throw_away(self) -> None:
        """For good. Raises BowlFileError where it lies there all the same; it is let go of in any case."""
        try:
            _remove(self.copy)
            if self.copy.exists():
                self.copy.rmdir() if self.copy.is_dir() else self.copy.unlink()
        except OSError as error:
            raise BowlFileError(f"{self.copy} could not be discarded: {reason(error)}.") from None
        finally:
            self.lock.unlock()

    def keep(self) -> None:
        """Leave it for another time."""
        self.lock.unlock()


class Session:
    """The recovery copy of this run of the program."""

    def __init__(self, folder: Path) -> None:
        self.copy = folder / f"{uuid.uuid4().hex}{SUFFIX}"
        with contextlib.suppress(OSError):  # writing the copy will then say why it cannot be
            private_folder(folder)
        self._lock = _lock_of(self.copy)
        self._lock.tryLock(0)

    def keep(self, study: Study, original: Path | None) -> None:
        """Write the copy. Raises BowlFileError; the last copy is then still whole."""
        write_study(study, self.copy, private=True)
        note = Note(_place(original), study.title, _calendar(time.time()))
        write_whole(self.copy.with_suffix(NOTE), msgspec.json.encode(note), private=True)

    def drop(self) -> None:
        """There is nothing to recover."""
        _remove(self.copy)

    def end(self) -> None:
        """The program ends as it should; a copy still there is kept for the next start."""
        self._lock.unlock()


def leftovers(folder: Path) -> list[Leftover]:
    """The copies of sessions that died, latest first; each is held and must be thrown away or kept.

    Raises BowlFileError where the folder cannot be looked into.
    """
    names = _names(folder)
    found = [
        _leftover(copy, lock)
        for copy in sorted(folder / name for name in names if name.endswith(SUFFIX))
        if (lock := _free_lock(copy)) is not None
    ]
    _sweep(folder, names)
    return sorted(found, key=_age)


def when_text(leftover: Leftover) -> str:
    """The time of a copy, as a clock on this computer shows it."""
    when = _when(leftover)
    return "at an unknown time" if when is None else f"{when:%Y-%m-%d %H:%M}"


def _leftover(copy: Path, lock: QLockFile) -> Leftover:
    """With what its note says, else what the copy itself does."""
    note = _note(copy)
    try:
        study = read_stamped(copy).study
    except BowlFileError as error:
        return Leftover(copy, note, lock, str(error))
    return Leftover(copy, note if note.title else Note(note.original, study.title, note.when), lock)


def _age(leftover: Leftover) -> tuple[bool, float]:
    """To sort by: what can be opened first, the latest first, those of an unknown time last."""
    when = _when(leftover)
    return bool(leftover.trouble), float("inf") if when is None else -when.timestamp()


def _when(leftover: Leftover) -> datetime | None:
    """In this computer's time; None where neither note nor file tells one that a calendar has."""
    for said in (leftover.note.when, _changed(leftover.copy)):
        with contextlib.suppress(OSError, ValueError, OverflowError):  # the first and the last day there is
            if said is not None and said.astimezone().timestamp():
                return said.astimezone()
    return None


def _changed(path: Path) -> datetime | None:
    try:
        return _calendar(path.stat().st_mtime)
    except OSError:
        return None


def _calendar(seconds: float) -> datetime | None:
    """The time of a clock; None where it stands before or after every calendar."""
    try:
        return datetime.fromtimestamp(seconds).astimezone()
    except (OSError, ValueError, OverflowError):
        return None


def _names(folder: Path) -> list[str]:
    try:
        return [path.name for path in folder.iterdir()]
    except FileNotFoundError:
        return []
    except OSError as error:
        raise BowlFileError(f"Unsaved work cannot be looked for in {folder}: {reason(error)}.") from None


def _free_lock(copy: Path) -> QLockFile | None:
    """The lock of a copy without a living owner, held wherever it can be; None while the owner lives."""
    lock = _lock_of(copy)
    if lock.tryLock(0):
        return lock
    if lock.error() is not QLockFile.LockError.LockFailedError:
        return lock  # nobody could lock there: the copy is offered all the same
    owner, _, _ = lock.getLockInfo()
    if owner:
        return None
    with contextlib.suppress(OSError):
        status = copy.with_suffix(LOCK).stat()
        if stat.S_ISREG(status.st_mode) and abs(time.time() - status.st_mtime) < UNREADABLE_LOCK_S:
            return None  # it may be just being written
    lock.removeStaleLockFile()
    lock.tryLock(0)
    return lock


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
    """Each thing the note says, as far as it says it."""
    try:
        raw = msgspec.json.decode(read_whole(copy.with_suffix(NOTE))[0])
    except (BowlFileError, ValueError, RecursionError):
        return Note()
    said = raw if isinstance(raw, dict) else {}
    original, title = said.get("original"), said.get("title")
    return Note(
        original if isinstance(original, str) and "\0" not in original else None,
        _plain(title) if isinstance(title, str) else "",
        _time(said.get("when")),
    )


def _time(said: object) -> datetime | None:
    try:
        return msgspec.convert(said, datetime)
    except msgspec.ValidationError:
        return None


def _plain(words: str) -> str:
    """On one line, and not without end."""
    return "".join(c if c.isprintable() else " " for c in words[:LONGEST_WORDS]).strip()


def _remove(copy: Path) -> None:
    """The copy, its note, and what was being written when its session died."""
    parts = copy.parent.glob(f".{copy.stem}*")
    for path in (copy, copy.with_suffix(NOTE), *(p for p in parts if OWN_PART.fullmatch(p.name))):
        with contextlib.suppress(OSError):
            path.unlink(missing_ok=True)


def _sweep(folder: Path, names: list[str]) -> None:
    """Take away what sessions without a copy left behind."""
    held = set(names)
    for name in names:
        copy = folder / Path(name).with_suffix(SUFFIX)
        lost = name.endswith((LOCK, NOTE)) and copy.name not in held
        if lost and (lock := _free_lock(copy)) is not None:
            _remove(copy)
            lock.unlock()

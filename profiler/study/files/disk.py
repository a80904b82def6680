"""Bytes onto the disk and back: whole or not at all, with a stamp by which a later change of the file is noticed.

What the bytes mean is in `file`.
"""

import contextlib
import hashlib
import os
import re
import secrets
import stat
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

MOST_BYTES = 64 * 1024 * 1024
MOST_SMALL_BYTES = 4 * 1024 * 1024  # of a list of drills, machines, materials or headings
PART = ".part"
STRAY_S = 3600.0  # a temporary file this old was left by a program that was killed while it wrote
LONGEST_PREFIX = 40  # letters of the name in that of its temporary file, which may not be longer than 255 bytes
LONGEST_NAME = 255  # bytes of a file's name: the most that the usual file systems take
OWN_PART = re.compile(r"\..+\.[0-9a-f]{8}\.part", re.DOTALL)  # ours, not another program's half-loaded file
NEW_FILE, PRIVATE_FILE, PRIVATE_FOLDER = 0o666, 0o600, 0o700  # of the first the system takes away what its umask says


class BowlFileError(ValueError):
    """A file that cannot be read or written, as one sentence for the designer."""


@dataclass(frozen=True, slots=True)
class Stamp:
    """By which the bytes of a file are known again. Its time and size are quick to ask; the digest decides."""

    changed_ns: int
    size: int
    digest: bytes

    def agrees(self, status: os.stat_result) -> bool:
        return (status.st_mtime_ns, status.st_size) == (self.changed_ns, self.size)


def read_whole(path: Path) -> tuple[bytes, Stamp]:
    """All bytes of a plain file of at most 64 MB, and their stamp. Raises BowlFileError."""
    try:
        if path.is_dir():
            raise BowlFileError(f"{path.name} is a folder, not a study file.")
        if not stat.S_ISREG(path.stat().st_mode):
            raise BowlFileError(f"{path.name} is not a plain file.")
        with path.open("rb") as file:
            status = os.fstat(file.fileno())
            data = file.read(MOST_BYTES + 1)
    except FileNotFoundError:
        raise BowlFileError(f"There is no file {path}.") from None
    except OSError as error:
        raise BowlFileError(f"{path.name} cannot be read: {reason(error)}.") from None
    if len(data) > MOST_BYTES:
        raise BowlFileError(f"{path.name} is larger than 64 MB: it is not a study of this program.")
    return data, _stamp(status, data)


def read_small(path: Path, what: str) -> bytes | None:
    """All bytes of one of the user's own lists; None where there is none. Raises BowlFileError."""
    try:
        size = path.stat().st_size
    except FileNotFoundError:
        return None
    except OSError as error:
        raise BowlFileError(f"{path.name} cannot be read: {reason(error)}.") from None
    if size > MOST_SMALL_BYTES:
        raise BowlFileError(f"{path.name} holds {size} bytes; {what} of at most {MOST_SMALL_BYTES} is read.")
    return read_whole(path)[0]


def write_whole(path: Path, data: bytes, private: bool = False) -> Stamp:
    """Atomic write: a temporary file beside the target, flushed to disk, then put in its place.

    Symbolic links are followed, so that the file they point to changes. The file's mode is kept, its owner and group
    where the system lets us; a new file has what the umask leaves. `private`: for the user's eyes alone, always.
    A file of several names (hard links) changes under all of them: see `_write_through`. A write-protected file stays.
    Raises BowlFileError; the old file is then untouched.
    """
    try:
        target = Path(os.path.realpath(path))
        present = _present(path, target)
        temporary, handle = _opened_beside(target, NEW_FILE if present is None and not private else PRIVATE_FILE)
    except OSError as error:
        raise BowlFileError(f"{path.name} cannot be written in {path.parent}: {reason(error)}.") from None
    except ValueError as error:  # a NUL in the name
        raise BowlFileError(f"{path.name!a} cannot be the name of a file: {error}.") from None
    try:
        status = _filled(handle, data)
        if present is not None and present.st_nlink > 1 and not private:
            status = _write_through(path, target, temporary, data)
        else:
            if present is not None and not private:
                _take_owner_and_mode(temporary, present)
            temporary.replace(target)
    except OSError as error:
        raise BowlFileError(f"{path.name} cannot be written: {reason(error)}.") from None
    finally:
        _gone(temporary)  # there only if it did not take the target's place
    _settle(target)
    _sweep(target.parent)
    return _stamp(status, data)


def private_folder(folder: Path) -> None:
    """Make it, or make it so: the user's own, closed to others. Raises OSError."""
    folder.mkdir(mode=PRIVATE_FOLDER, parents=True, exist_ok=True)
    if os.name == "posix" and stat.S_IMODE(folder.stat().st_mode) != PRIVATE_FOLDER:
        folder.chmod(PRIVATE_FOLDER)


def reason(error: OSError) -> str:
    """The system's words for what went wrong, to go on a sentence."""
    return (error.strerror or str(error)).lower().rstrip(".")


def shown_name(path: Path) -> str:
    """The file's name as text that can be shown and written anywhere, also where its bytes are no text."""
    return os.fsencode(path.name).decode("utf-8", "replace")


def _stamp(status: os.stat_result, data: bytes) -> Stamp:
    return Stamp(status.st_mtime_ns, len(data), hashlib.sha256(data).digest())


def _present(path: Path, target: Path) -> os.stat_result | None:
    """What is to be replaced; None for a new file. Raises BowlFileError for what may not be."""
    length = len(os.fsencode(target.name))
    if length > LONGEST_NAME:
        words = f"{len(target.name)} letters, {length} bytes; a file's name has at most {LONGEST_NAME} bytes"
        raise BowlFileError(f"{target.name[:LONGEST_PREFIX]}… cannot be written: its name has {words}.")
    try:
        status = target.stat()
    except FileNotFoundError:
        return None
    if not (stat.S_ISREG(status.st_mode) and os.access(target, os.W_OK)):
        raise BowlFileError(f"{path.name} is write-protected or not a plain file; it is left alone.")
    return status


def _opened_beside(target: Path, mode: int) -> tuple[Path, int]:
    """A new file in the target's folder, open for writing. The system itself takes the umask off the mode."""
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0) | getattr(os, "O_CLOEXEC", 0)
    while True:
        temporary = target.with_name(f".{target.name[:LONGEST_PREFIX]}.{secrets.token_hex(4)}{PART}")
        with contextlib.suppress(FileExistsError):
            return temporary, os.open(temporary, flags, mode)


def _filled(handle: int, data: bytes) -> os.stat_result:
    """Write it all and have it on the disk."""
    with os.fdopen(handle, "wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())
        return os.fstat(file.fileno())


def _write_through(path: Path, target: Path, beside: Path, data: bytes) -> os.stat_result:
    """Write into a file of several names, since putting another in its place would cut it off from the other names.

    This alone is not whole or nothing; so all of it lies on the disk beside, and stays there if this should fail.
    """
    _settle(target)
    try:
        with target.open("r+b") as file:
            file.write(data)  # first over what is there: the room it takes is already its own
            file.truncate()
            file.flush()
            os.fsync(file.fileno())
            return os.fstat(file.fileno())
    except BaseException as error:  # Ctrl+C in a terminal too
        kept = beside.with_name(beside.name.lstrip(".").removesuffix(PART))
        beside.rename(kept)
        if not isinstance(error, OSError):
            raise
        words = f"{path.name} was not written to its end: {reason(error)}. All of it lies beside it as {kept.name}."
        raise BowlFileError(words) from None


def _take_owner_and_mode(temporary: Path, present: os.stat_result) -> None:
    """Those of the file to be replaced, as far as the system lets us; what it refuses is no reason not to save.

    Where the group cannot be kept, what the group was allowed is not handed to another one.
    """
    mode = stat.S_IMODE(present.st_mode)
    if os.name == "posix":
        with contextlib.suppress(OSError):
            os.chown(temporary, present.st_uid, present.st_gid)
        with contextlib.suppress(OSError):
            os.chown(temporary, -1, present.st_gid)
        with contextlib.suppress(OSError):
            if temporary.stat().st_gid != present.st_gid:
                mode &= ~(stat.S_IRWXG | stat.S_ISGID)
    with contextlib.suppress(OSError):
        temporary.chmod(mode)


def _gone(temporary: Path) -> None:
    with contextlib.suppress(OSError):
        temporary.unlink(missing_ok=True)


def _settle(target: Path) -> None:
    """Have the folder's new entry on the disk too, where the system can be asked for it."""
    if os.name == "posix":
        with contextlib.suppress(OSError):
            folder = os.open(target.parent, os.O_RDONLY)
            try:
                os.fsync(folder)
            finally:
                os.close(folder)


def _sweep(folder: Path) -> None:
    """Take away what programs that were killed while they wrote there left behind, whatever they wrote."""
    latest = time.time() - STRAY_S
    for entry in _entries(folder):
        with contextlib.suppress(OSError):
            if OWN_PART.fullmatch(entry.name) and entry.stat(follow_symlinks=False).st_mtime < latest:
                _gone(Path(entry.path))


def _entries(folder: Path) -> Iterator[os.DirEntry[str]]:
    with contextlib.suppress(OSError), os.scandir(folder) as entries:
        yield from entries

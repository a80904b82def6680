"""Bytes onto the disk and back: whole or not at all, with a stamp by which a later change of the file is noticed.

What the bytes mean is in `file`.
"""

import contextlib
import hashlib
import os
import stat
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

MOST_BYTES = 64 * 1024 * 1024
PART = ".part"
STRAY_S = 3600.0  # a temporary file this old was left by a program that was killed while it wrote
LONGEST_PREFIX = 40  # letters of the name in that of its temporary file, which may not be longer than 255 bytes


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


def write_whole(path: Path, data: bytes) -> Stamp:
    """Atomic write: a temporary file beside the target, flushed to disk, then put in its place.

    Links are followed, so that the file they point to changes; the file's mode is kept. A write-protected file stays.
    Raises BowlFileError; the old file is then untouched.
    """
    target = Path(os.path.realpath(path))
    try:
        if target.exists() and not (target.is_file() and os.access(target, os.W_OK)):
            raise BowlFileError(f"{path.name} is write-protected or not a plain file; it is left alone.")
        handle, name = tempfile.mkstemp(prefix=_prefix(target), suffix=PART, dir=target.parent)
    except OSError as error:
        raise BowlFileError(f"{path.name} cannot be written in {target.parent}: {reason(error)}.") from None
    temporary = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
            status = os.fstat(file.fileno())
        _take_mode(temporary, target)
        temporary.replace(target)
    except OSError as error:
        raise BowlFileError(f"{path.name} cannot be written: {reason(error)}.") from None
    finally:
        temporary.unlink(missing_ok=True)  # there only if it did not take the target's place
    _settle(target)
    _sweep(target)
    return _stamp(status, data)


def reason(error: OSError) -> str:
    """The system's words for what went wrong, to go on a sentence."""
    return (error.strerror or str(error)).lower().rstrip(".")


def _stamp(status: os.stat_result, data: bytes) -> Stamp:
    return Stamp(status.st_mtime_ns, len(data), hashlib.sha256(data).digest())


def _prefix(target: Path) -> str:
    return f".{target.name[:LONGEST_PREFIX]}."


def _take_mode(temporary: Path, target: Path) -> None:
    """The mode of the file to be replaced; some network folders know no modes, which is no reason not to save."""
    with contextlib.suppress(OSError):
        temporary.chmod(stat.S_IMODE(target.stat().st_mode) if target.exists() else 0o644)


def _settle(target: Path) -> None:
    """Have the folder's new entry on the disk too, where the system can be asked for it."""
    if os.name == "posix":
        with contextlib.suppress(OSError):
            folder = os.open(target.parent, os.O_RDONLY)
            try:
                os.fsync(folder)
            finally:
                os.close(folder)


def _sweep(target: Path) -> None:
    """Take away old temporary files of this very target."""
    prefix, latest = _prefix(target), time.time() - STRAY_S
    with contextlib.suppress(OSError):
        for entry in os.scandir(target.parent):
            if entry.name.startswith(prefix) and entry.name.endswith(PART) and entry.stat().st_mtime < latest:
                Path(entry.path).unlink(missing_ok=True)

"""Whether a file is still as it was read or written, or was changed or deleted by somebody else meanwhile."""

from enum import Enum, auto
from pathlib import Path

from profiler.study.files.disk import BowlFileError, Stamp, read_whole


class Outside(Enum):
    """What has become of a file behind the program's back."""

    SAME = auto()
    CHANGED = auto()
    GONE = auto()


def news_of(path: Path, stamp: Stamp, closely: bool = False) -> tuple[Outside, Stamp | None]:
    """What became of the file, and its stamp now (None where it has none).

    Time and size are asked first; only where they differ is the file read, since copying and syncing programs touch
    files without changing them. `closely`: it is read in any case, because time and size may be the same by chance or
    by a program that keeps them; this is how it is asked before the file is written over. A file that cannot be asked
    about, on a network drive that is away, counts as the same: saving there will say what is wrong.
    """
    try:
        status = path.stat()
    except FileNotFoundError:
        return Outside.GONE, None
    except OSError:
        return Outside.SAME, stamp
    if stamp.agrees(status) and not closely:
        return Outside.SAME, stamp
    now = stamp_of(path)
    if now is None:
        return Outside.SAME, stamp
    return (Outside.SAME if now.digest == stamp.digest else Outside.CHANGED), now


def stamp_of(path: Path) -> Stamp | None:
    """The stamp of a file as it lies there; None where it cannot be read."""
    try:
        return read_whole(path)[1]
    except BowlFileError:
        return None

"""The user's folders in which the program keeps what it needs for itself: never beside a study."""

from pathlib import Path

from PySide6.QtCore import QStandardPaths


def recovery() -> Path:
    """Recovery copies."""
    return _place(QStandardPaths.StandardLocation.AppLocalDataLocation) / "recovery"


def log() -> Path:
    """What went wrong."""
    return _place(QStandardPaths.StandardLocation.AppLocalDataLocation) / "log"


def lists() -> Path:
    """Lists the user owns: drills and the like."""
    return _place(QStandardPaths.StandardLocation.AppLocalDataLocation) / "lists"


def claims() -> Path:
    """Which files are open in which window."""
    return _place(QStandardPaths.StandardLocation.StateLocation) / "open"


def _place(which: QStandardPaths.StandardLocation) -> Path:
    """The user's folder of that kind, or the temporary one where the system names none."""
    return Path(QStandardPaths.writableLocation(which) or QStandardPaths.writableLocation(_TEMPORARY))


_TEMPORARY = QStandardPaths.StandardLocation.TempLocation

"""Files opened or saved lately: a menu that shows those which are still there."""

import os
from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QMenu, QWidget

from profiler.ui.files.settings import RECENT, Settings

MOST = 10


def recent_files(settings: Settings) -> list[Path]:
    """Latest first. Another window may have added to them."""
    settings.sync()
    return [Path(text) for text in settings.get(RECENT) if isinstance(text, str)]


def remember(settings: Settings, path: Path) -> None:
    """Put a file first."""
    place = Path(os.path.abspath(path))  # noqa: PTH100  (links are kept as they were chosen)
    _store(settings, [place, *(p for p in recent_files(settings) if p != place)])


class RecentMenu(QMenu):
    """Filled anew each time it opens."""

    def __init__(self, settings: Settings, open_file: Callable[[Path], object], parent: QWidget) -> None:
        super().__init__("&Recent", parent)
        self._settings = settings
        self._open_file = open_file
        self.aboutToShow.connect(self.fill)

    def fill(self) -> None:
        there = [path for path in recent_files(self._settings) if _is_there(path)]
        _store(self._settings, there)
        self.clear()
        for number, path in enumerate(there, 1):
            words = f"{path.name} – {path.parent}".replace("&", "&&")
            action = self.addAction(f"&{number % 10} {words}")
            action.triggered.connect(lambda _=False, path=path: self._open_file(path))
        if not there:
            self.addAction("No files yet").setEnabled(False)


def _store(settings: Settings, paths: list[Path]) -> None:
    settings.put(RECENT, [str(path) for path in paths[:MOST]])


def _is_there(path: Path) -> bool:
    try:
        return path.is_file()
    except (OSError, ValueError):
        return False

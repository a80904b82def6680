"""Export of the section from the window: where it goes, what is said afterwards."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, QSettings, QUrl, Signal
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QWidget

from ..assess.findings import stops
from ..study import BowlFileError
from . import dialogs
from .document import Document


class Exporting(QObject):
    """`written` once a file lies there."""

    written = Signal()

    def __init__(self, document: Document, settings: QSettings, parent: QWidget, folder: Callable[[str], Path]) -> None:
        super().__init__(parent)
        self._document = document
        self._settings = settings
        self._parent = parent
        self._folder = folder
        self._last: Path | None = None

    def ask(self, trouble: str) -> None:
        """Ask where to, and write; `trouble` says why there is no section, where there is none."""
        evaluation = self._document.whole_evaluation
        if evaluation.shape is None:
            words = f"There is no closed section as the design stands. {trouble}"
            dialogs.tell_error(self._parent, "No section to export", words)
            return
        full = bool(self._settings.value("export/full", False, type=bool))
        name = f"{_file_name(self._document.design.name)}.dxf"
        suggestion, count = self._folder("export/folder") / name, stops(evaluation.findings)
        chosen = dialogs.ask_export(self._parent, suggestion, full, count)
        if chosen is None:
            return
        path = chosen[0]
        if not path.exists() or self._is_own(path) or dialogs.ask_replace(self._parent, path.name, path.parent):
            self.write(*chosen)

    def write(self, path: Path, full: bool) -> None:
        from ..output.profile_dxf import write_profile

        evaluation = self._document.whole_evaluation
        assert evaluation.shape is not None
        if self._is_own(path):
            dialogs.tell_error(self._parent, "Not exported", f"{path.name} is the study itself; choose another name.")
            return
        count = stops(evaluation.findings)
        try:
            done = write_profile(path, evaluation.shape, design=evaluation.design.name, stops=count, full=full)
        except BowlFileError as error:
            dialogs.tell_error(self._parent, "Not exported", str(error))
            return
        self._last = path
        self._settings.setValue("export/folder", str(path.parent))
        self._settings.setValue("export/full", full)
        closed = "closed" if done.closed else "NOT closed"
        unchecked = f" NOT CHECKED: {count} stop finding{'' if count == 1 else 's'}." if count else ""
        self._document.say(f"{path.name} written: {done.lines} lines and {done.arcs} arcs, {closed}.{unchecked}")
        self.written.emit()

    def _is_own(self, path: Path) -> bool:
        own = self._document.path
        return own is not None and path.resolve() == own.resolve()

    def show_in_folder(self) -> None:
        if self._last is not None:
            QDesktopServices.openUrl(QUrl.fromLocalFile(str(self._last.parent)))


def _file_name(text: str) -> str:
    plain = "".join(c if c.isalnum() or c in " -_" else "" for c in text).strip().replace(" ", "-").lower()
    return plain or "section"

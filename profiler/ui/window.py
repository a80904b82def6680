"""The main window: menus, the page, the file the document lives in, export and closing."""

from pathlib import Path

from PySide6.QtCore import QSettings, QUrl
from PySide6.QtGui import QCloseEvent, QDesktopServices
from PySide6.QtWidgets import QApplication, QHBoxLayout, QMainWindow, QMessageBox, QPushButton, QWidget

from .. import __version__
from ..assess.check_fit import SPINNING_CAUTION
from ..assess.findings import stops
from ..study import BowlFileError, Study, edits
from . import actions, dialogs
from .document import Document
from .shape_page import ShapePage
from .strips.angle import AngleStrip
from .theme import DARK, LIGHT, dress


class Window(QMainWindow):
    def __init__(self, document: Document, settings: QSettings | None = None) -> None:
        super().__init__()
        self.document = document
        self.settings = settings or QSettings()
        self.theme = LIGHT
        self.page: ShapePage = ShapePage(document)
        self.setCentralWidget(self.page)
        self.actions_by_words = actions.build(self)
        self._corner()
        self._written: Path | None = None
        document.saved_changed.connect(self._show_name)
        self.page.ghost_changed.connect(self.actions_by_words["Keep the present curve as a ghost"].setChecked)
        self._show_name()
        self.resize(1280, 720)
        self.setMinimumSize(1024, 600)
        self.page.angle.setFocus()
        if self.settings.value("dark", False, type=bool):
            self.toggle_dark()

    # the file

    def new(self) -> None:
        """A plain cone on the present machine, at once."""
        if self.may_leave():
            machine, duties = self.document.study.machine, self.document.study.duties
            cone = edits.plain_cone("Plain cone", machine.height_mm, machine.lip_radius_mm)
            self.document.adopt(Study(machine, duties, (cone,), title="New study"))
            self.page.fit_again()

    def open(self) -> None:
        if self.may_leave() and (path := dialogs.ask_open(self, self._folder())) is not None:
            self.open_path(path)

    def open_path(self, path: Path) -> bool:
        try:
            self.document.load(path)
        except BowlFileError as error:
            dialogs.tell_error(self, "This file cannot be opened", str(error))
            return False
        self.page.fit_again()
        return True

    def save(self) -> bool:
        if self.document.path is None:
            return self.save_as()
        return self._save_to(self.document.path)

    def save_as(self) -> bool:
        path = dialogs.ask_save(self, self._folder() / self.document.name)
        return path is not None and self._save_to(path)

    def may_leave(self) -> bool:
        """Whether the present study may be left: unchanged, saved, or given up by the designer."""
        self.document.commit()
        if not self.document.modified:
            return True
        choice = dialogs.ask_unsaved(self, self.document.name)
        if choice is dialogs.Unsaved.SAVE:
            return self.save()
        return choice is dialogs.Unsaved.DISCARD

    def closeEvent(self, event: QCloseEvent) -> None:
        actions.finish_typing()
        if self.may_leave():
            event.accept()
        else:
            event.ignore()

    # export

    def export(self) -> None:
        shape = self.document.whole_evaluation.shape
        if shape is None:
            reason = self.page.scene().trouble
            dialogs.tell_error(
                self, "No section to export", f"There is no closed section as the design stands. {reason}"
            )
            return
        full = bool(self.settings.value("export/full", False, type=bool))
        name = f"{_file_name(self.document.design.name)}.dxf"
        chosen = dialogs.ask_export(self, self._folder("export/folder") / name, full)
        if chosen is not None:
            self.export_to(*chosen)

    def export_to(self, path: Path, full: bool) -> None:
        from ..output.profile_dxf import write_profile

        evaluation = self.document.whole_evaluation
        assert evaluation.shape is not None
        if self.document.path is not None and path.resolve() == self.document.path.resolve():
            dialogs.tell_error(self, "Not exported", f"{path.name} is the study itself; choose another name.")
            return
        count = stops(evaluation.findings)
        try:
            done = write_profile(path, evaluation.shape, design=evaluation.design.name, stops=count, full=full)
        except BowlFileError as error:
            dialogs.tell_error(self, "Not exported", str(error))
            return
        self._written = path
        self.settings.setValue("export/folder", str(path.parent))
        self.settings.setValue("export/full", full)
        closed = "closed" if done.closed else "NOT closed"
        unchecked = f" NOT CHECKED: {count} stop findings." if count else ""
        self.document.say(f"{path.name} written: {done.lines} lines and {done.arcs} arcs, {closed}.{unchecked}")
        self.page.findings.offer("Show in folder", self.show_in_folder)

    def show_in_folder(self) -> None:
        if self._written is not None:
            QDesktopServices.openUrl(QUrl.fromLocalFile(str(self._written.parent)))

    # the rest

    def add_knot(self) -> None:
        cursor = self.page.pointer.now.cursor_mm
        knots = self.document.design.wall.knots
        height, angle = AngleStrip.widest_gap(knots) if cursor is None else (round(cursor, 1), 0.0)
        self.page.add_knot(height, angle)

    def zoom(self, factor: float) -> None:
        axis = self.page.pointer.now.axis
        self.page.pointer.zoom(factor, 0.5 * (axis.top + axis.bottom))

    def toggle_dark(self) -> None:
        self.theme = LIGHT if self.theme is DARK else DARK
        app = QApplication.instance()
        if isinstance(app, QApplication):
            dress(app, self.theme)
        self.actions_by_words["Dark colours"].setChecked(self.theme is DARK)
        self.settings.setValue("dark", self.theme is DARK)
        self.page.show_theme(self.theme)

    def about(self) -> None:
        QMessageBox.about(
            self,
            "Bowl Profiler",
            f"<b>Bowl Profiler {__version__}</b><p>Shapes the wall of a spinning bowl against the angle at which a moving "
            f"slurry comes to rest.</p><p>{SPINNING_CAUTION.text}</p><p>{SPINNING_CAUTION.source}.</p>",
        )

    def _save_to(self, path: Path) -> bool:
        try:
            self.document.save(path)
        except BowlFileError as error:
            dialogs.tell_error(self, "Not saved", str(error))
            return False
        self.settings.setValue("folder", str(path.parent))
        self.document.say(f"{path.name} saved.")
        return True

    def _folder(self, key: str = "folder") -> Path:
        if self.document.path is not None and key == "folder":
            return self.document.path.parent
        stored = Path(str(self.settings.value(key, "", type=str)))
        return stored if str(stored) != "." and stored.is_dir() else Path.home()

    def _corner(self) -> None:
        self.export_button = QPushButton("Export section…")
        self.export_button.setObjectName("export")
        self.export_button.clicked.connect(self.export)
        holder = QWidget(self.menuBar())  # without a parent it would be gone with this function
        row = QHBoxLayout(holder)
        row.setContentsMargins(0, 2, 8, 2)
        row.addWidget(self.export_button)
        self.menuBar().setCornerWidget(holder)

    def _show_name(self, _: object = None) -> None:
        self.setWindowTitle(f"{self.document.name}[*] – Bowl Profiler")
        self.setWindowModified(self.document.modified)


def _file_name(text: str) -> str:
    plain = "".join(c if c.isalnum() or c in " -_" else "" for c in text).strip().replace(" ", "-").lower()
    return plain or "section"

"""The main window: menus, pages, what is dropped on it, how it closes. Not here: `filing`, `exporting`."""

from pathlib import Path

from PySide6.QtCore import QEvent, QSettings, Qt, QTimer
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QApplication, QHBoxLayout, QLineEdit, QMainWindow, QMessageBox, QPushButton, QWidget

from profiler import __version__
from profiler.assess.checks.check_fit import SPINNING_CAUTION
from profiler.pictures.basics.lengths import INCHES, MILLIMETRES
from profiler.study.files.file import SUFFIX
from profiler.ui import actions
from profiler.ui.document.document import Document
from profiler.ui.document.filing import Filing
from profiler.ui.drawing.exporting import Exporting
from profiler.ui.files import folders
from profiler.ui.files.claims import Claim
from profiler.ui.files.recent import RecentMenu
from profiler.ui.help.help_window import START, HelpWindow
from profiler.ui.page_stack import PageStack
from profiler.ui.shape.shape_page import ShapePage
from profiler.ui.strips.angle import AngleStrip
from profiler.ui.widgets.theme import DARK, LIGHT, dress


class Window(QMainWindow):
    def __init__(self, document: Document, settings: QSettings | None = None) -> None:
        super().__init__()
        self.document = document
        self.settings = settings or QSettings()
        self.theme = LIGHT
        self.page: ShapePage = ShapePage(document)
        self.pages: PageStack = PageStack(document, self.page)
        self.setCentralWidget(self.pages)
        self.page.take_jobs(self.pages.jobs)
        self.filing: Filing = Filing(document, self.settings, Claim(folders.claims()), self, self._renewed)
        self.exporting = Exporting(document, self.settings, self, self.filing.folder, self.pages.jobs)
        self.pages.exporting = self.exporting
        self.actions_by_words = actions.build(self)
        self.actions_by_words["Recent files"].setMenu(RecentMenu(self.settings, self.filing.open_instead, self))
        self._corner()
        self._help: HelpWindow | None = None
        self.setAcceptDrops(True)
        for box in self.findChildren(QLineEdit):
            box.setAcceptDrops(False)  # a file dropped on a word is a file, not its name as text
        document.saved_changed.connect(self._show_name)
        self.page.ghost_changed.connect(self.actions_by_words["Keep the present curve as a ghost"].setChecked)
        self.exporting.written.connect(self._offer_folder)
        self._show_name()
        self.resize(1280, 720)
        self.setMinimumSize(1024, 600)
        self.page.angle.setFocus()
        if self.settings.value("dark", False, type=bool):
            self.toggle_dark()
        if self.settings.value("inches", False, type=bool):
            self.toggle_inches()

    # the file and the drawing, by the names the menus use

    def new(self) -> None:
        self.filing.new()

    def open(self) -> None:
        self.filing.open()

    def open_path(self, path: Path) -> bool:
        return self.filing.open_path(path)

    def save(self) -> bool:
        return self.filing.save()

    def save_as(self) -> bool:
        return self.filing.save_as()

    def may_leave(self) -> bool:
        return self.filing.may_leave()

    def export(self) -> None:
        self.exporting.ask(self.page.scene().trouble)

    def print(self) -> None:
        self.pages.open("Drawing").print_shown()  # type: ignore[attr-defined]  # made from the table of pages

    # what comes from outside

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if _dropped(event) is not None:
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        path = _dropped(event)
        if path is not None:
            event.acceptProposedAction()
            # a moment later: whence it was dragged is not kept waiting for an answer
            QTimer.singleShot(0, self, lambda: self.filing.open_instead(path))

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.ActivationChange and self.isActiveWindow() and self.isVisible():
            QTimer.singleShot(0, self, self._look_outside)

    def closeEvent(self, event: QCloseEvent) -> None:
        actions.finish_typing()
        if not self.may_leave():
            event.ignore()
            return
        self.filing.leave()
        self.pages.jobs.close()
        if self._help is not None:
            self._help.close()
        event.accept()

    # the rest of the menus

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
        self.pages.show_theme(self.theme)

    def toggle_inches(self) -> None:
        """Lengths in inches or millimetres: a matter of display alone."""
        inches = self.page.pointer.now.lengths is MILLIMETRES
        self.page.show_lengths(INCHES if inches else MILLIMETRES)
        self.actions_by_words["Lengths in inches"].setChecked(inches)
        self.settings.setValue("inches", inches)

    def help(self, title: str = START) -> None:
        if self._help is None:
            self._help = HelpWindow(self)
        self._help.show_page(title)

    def lessons(self) -> None:
        self.pages.open("Shape")
        self.page.show_lessons()

    def size_classes(self) -> None:
        self.pages.open("Shape")
        self.page.show_sizes()

    def ask_backwards(self) -> None:
        self.pages.open("Shape")
        self.page.show_ask()

    def about(self) -> None:
        what = "Shapes the wall of a spinning bowl against the angle at which a moving slurry comes to rest."
        QMessageBox.about(
            self,
            "Bowl Profiler",
            f"<b>Bowl Profiler {__version__}</b><p>{what}</p><p>{SPINNING_CAUTION.text}</p>"
            f"<p>{SPINNING_CAUTION.source}.</p>",
        )

    def _look_outside(self) -> None:
        if self.isVisible() and QApplication.activeModalWidget() is None:
            self.filing.look_outside()

    def _offer_folder(self) -> None:
        self.page.findings.offer("Show in folder", self.exporting.show_in_folder)

    def _renewed(self) -> None:
        self.page.show_forms()
        self.page.fit_again()

    def _corner(self) -> None:
        self.export_button = QPushButton("Export section…")
        self.export_button.setObjectName("export")
        self.export_button.clicked.connect(self.export)
        holder = QWidget(self.menuBar())  # without a parent it would be gone with this function
        row = QHBoxLayout(holder)
        row.setContentsMargins(0, 2, 8, 2)
        row.setSpacing(14)
        row.addWidget(self.pages.tabs)
        row.addWidget(self.export_button)
        self.menuBar().setCornerWidget(holder, Qt.Corner.TopRightCorner)

    def _show_name(self, _: object = None) -> None:
        self.setWindowTitle(f"{self.document.name}[*] – Bowl Profiler")
        self.setWindowModified(self.document.modified)


def _dropped(event: QDropEvent) -> Path | None:
    """The one study file that is being dropped, or None."""
    urls = event.mimeData().urls() if event.mimeData().hasUrls() else []
    if len(urls) != 1 or not urls[0].isLocalFile():
        return None
    path = Path(urls[0].toLocalFile())
    return path if path.suffix.lower() == SUFFIX else None

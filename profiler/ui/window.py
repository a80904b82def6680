"""The main window: menus, pages, what is dropped on it, how it closes. Not here: `filing`, `exporting`."""

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, Qt, QTimer
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import (
    QApplication,
    QHBoxLayout,
    QLineEdit,
    QMainWindow,
    QMenuBar,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from profiler.pictures.basics.lengths import INCHES, MILLIMETRES, LengthUnit
from profiler.study import Design
from profiler.study.files.file import SUFFIX
from profiler.ui import window_place
from profiler.ui.actions import ACTIONS
from profiler.ui.dialogs import dialogs, questions
from profiler.ui.dialogs.questions import Writing
from profiler.ui.document.document import Document
from profiler.ui.document.filing import Filing
from profiler.ui.drawing.exporting import Exporting
from profiler.ui.files import folders, settings
from profiler.ui.files.claims import Claim
from profiler.ui.files.recent import RecentMenu
from profiler.ui.files.settings import Settings
from profiler.ui.menus import Menus, finish_typing, tip_of
from profiler.ui.message_line import MessageLine
from profiler.ui.page_stack import MACHINE, ORE, SHAPE, Desk, PageStack
from profiler.ui.shape.forms_page import FormsPage
from profiler.ui.shape.shape_page import ShapePage
from profiler.ui.widgets.canvas import Canvas
from profiler.ui.widgets.labels import tell_again
from profiler.ui.widgets.theme import DARK, LIGHT, Theme, dress, rules
from profiler.ui.work.jobs import Jobs

if TYPE_CHECKING:
    from profiler.ui.help.help_window import HelpWindow


class Window(QMainWindow):
    """What the menus' actions act upon: see `actions.Host`."""

    def __init__(self, document: Document, remembered: Settings | None = None) -> None:
        super().__init__()
        self.document = document
        self.settings = remembered or Settings.of_user()
        self.theme: Theme = LIGHT
        self.jobs = Jobs(self)
        document.gesture_changed.connect(self.jobs.pause)
        self.filing: Filing = Filing(document, self.settings, Claim(folders.claims()), self, self._renewed)
        self.exporting = Exporting(document, self.settings, self, self.jobs)
        self.pages: PageStack = PageStack(self._desk())
        self.page: ShapePage = self.pages.open(SHAPE)
        self._wire_pages()
        self.message = MessageLine(document)
        self._stack_up()
        self._bar = QMenuBar()
        self._bar.setAccessibleName("Menus")
        self.menus = Menus(self._bar, self)
        for news in (self.menus.begun, self.pages.turning):
            news.connect(self.message.clear)
        self.message.cautions_wanted.connect(self.about)
        self.menus.actions["file.recent"].setMenu(RecentMenu(self.settings, self.filing.open_instead, self))
        self.menus.actions["view.text_size"].setMenu(window_place.TextSizeMenu(self.settings, document.say, self))
        self.pages.currentChanged.connect(self._show_page)
        self._seen: set[QWidget] = set()
        self._top()
        self._tell_keys()
        self._help: HelpWindow | None = None
        self._closes_after_writing = self._let_go = False
        self.setAcceptDrops(True)
        for box in self.findChildren(QLineEdit):
            box.setAcceptDrops(False)  # a file dropped on a word is a file, not its name as text
        document.saved_changed.connect(self._show_name)
        self.exporting.written.connect(self._offer_folder)
        self.exporting.done.connect(self._written)
        self._show_name()
        self.setStyleSheet(rules(self.theme))
        self.resize(1280, 720)
        self.setMinimumSize(window_place.LEAST)
        self.page.angle.setFocus()
        if self.settings.get(settings.DARK):
            self.toggle_dark()
        if self.settings.get(settings.INCHES):
            self.toggle_inches()

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
        finish_typing()
        if not (self.filing.may_leave() and self._may_stop_writing()):
            event.ignore()
            return
        self.let_go()
        event.accept()

    def leave_unasked(self, unasked: bool) -> None:
        """Whether it may be closed without a question: unsaved work is then kept beside."""
        self.filing.unasked = unasked

    def as_left(self) -> None:
        """Before it is shown: place, size and page as they were when it was closed last."""
        window_place.restore(self, self.settings)
        self.pages.open_titled(self.settings.get(settings.PAGE))

    def let_go(self) -> None:
        """The window is closed, or the program ends without that: nothing of it goes on."""
        self._keep_place()
        self.filing.leave()
        self.jobs.close()
        if self._help is not None:
            self._help.close()

    # what the menus ask of it

    @property
    def is_dark(self) -> bool:
        return self.theme is DARK

    @property
    def in_inches(self) -> bool:
        return self.pages.lengths is not MILLIMETRES

    def export(self) -> None:
        self.exporting.ask(self.page.scene().trouble)

    def new_study(self) -> None:
        if self.filing.new():
            self.envelope()

    def envelope(self) -> None:
        """Read a machine's envelope from a drawing, beside the page Machine; its bowl as a ghost there and on Shape."""
        from profiler.ui.envelope.envelope_dialog import EnvelopeDialog

        machine = self.pages.open(MACHINE)

        def show_ghost(design: Design) -> None:
            for page in (self.page, machine):
                page.show_ghost(design)

        EnvelopeDialog(self.document, self.jobs, self.theme, show_ghost, self).show()

    def fit_bowl(self) -> None:
        """On the page in view where it can show what remains; else on Shape."""
        shown = self.pages.shown
        (shown if isinstance(shown, FormsPage) else self.pages.open(SHAPE)).fit_bowl()

    def toggle_dark(self) -> None:
        self.theme = LIGHT if self.is_dark else DARK
        app = QApplication.instance()
        if isinstance(app, QApplication):
            dress(app, self.theme)
        self.setStyleSheet(rules(self.theme))
        self.settings.put(settings.DARK, self.is_dark)
        self.pages.show_theme(self.theme)
        self.menus.refresh()

    @property
    def lengths(self) -> LengthUnit:
        """The unit of everything that stands in the window; its dialogs too."""
        return self.pages.lengths

    def toggle_inches(self) -> None:
        """Lengths in inches or millimetres: a matter of display alone."""
        self.pages.show_lengths(MILLIMETRES if self.in_inches else INCHES)
        tell_again(self)
        for canvas in self.findChildren(Canvas):
            canvas.update()
        self.settings.put(settings.INCHES, self.in_inches)
        self.menus.refresh()

    def help(self) -> None:
        from profiler.ui.help.help_window import START

        self._show_help(START)

    def help_keys(self) -> None:
        from profiler.ui.help.help_window import KEYS_PAGE

        self._show_help(KEYS_PAGE)

    def about(self) -> None:
        dialogs.tell_about(self)

    # inside

    def _show_help(self, title: str) -> None:
        from profiler.ui.help.help_window import HelpWindow
        from profiler.ui.key_sections import key_sections

        if self._help is None:
            self._help = HelpWindow(key_sections(), self)
        self._help.show_standing(self.document.duty)
        self._help.show_page(title)

    def _keep_place(self) -> None:
        if not self._let_go:
            self._let_go = True
            window_place.keep(self, self.settings)
            self.settings.put(settings.PAGE, self.pages.title)

    def _show_page(self, _: int) -> None:
        """A page that is new shares its room as it did last time."""
        page = self.pages.shown
        if page not in self._seen:
            self._seen.add(page)
            window_place.restore_splitters(page, self.settings)

    def _tell_keys(self) -> None:
        """Buttons that do what a menu does say by which keys."""
        page = self.page
        buttons: dict[str, QPushButton] = {
            "file.export": self.export_button,
            "view.forms": page.unfold,
            "view.findings": page.findings.count,
        }
        for action in ACTIONS:
            if action.id in buttons:
                buttons[action.id].setToolTip(tip_of(action))

    def _look_outside(self) -> None:
        if self.isVisible() and QApplication.activeModalWidget() is None:
            self.filing.look_outside()

    def _may_stop_writing(self) -> bool:
        """Whether no file is being written any more; else what is wanted is asked, and the window closes after it."""
        if not self.exporting.busy or self.filing.unasked:
            return True
        answer = questions.ask_writing(self)
        if answer is not Writing.STAY and self.exporting.busy:
            self._closes_after_writing = True
            if answer is Writing.GIVE_UP:
                self.exporting.cancel()
            self.document.say("The window closes when the file in hand is written.")
        return answer is not Writing.STAY and not self.exporting.busy

    def _written(self) -> None:
        if self._closes_after_writing:
            self._closes_after_writing = False
            self.close()

    def _offer_folder(self) -> None:
        self.message.offer("Show in folder", self.exporting.show_in_folder)

    def _renewed(self) -> None:
        self.pages.begin_anew()

    def _desk(self) -> Desk:
        return Desk(
            self.document,
            self.jobs,
            self.exporting,
            self.new_study,
            self.envelope,
            self._show_sizes,
            lambda: self.page.groove_looked_at,
            lambda lesson: self.pages.open(SHAPE).begin_lesson(lesson),
            lambda design: self.page.show_ghost(design),
        )

    def _show_sizes(self) -> None:
        self.pages.open(ORE).show_sizes()

    def _wire_pages(self) -> None:
        """What one page asks of another."""
        self.page.sizes_wanted.connect(self._show_sizes)
        self.page.window_wanted.connect(lambda: self.pages.open(ORE).show_window())

    def _stack_up(self) -> None:
        """The pages, and under them the line that belongs to all."""
        whole = QWidget()
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.pages, 1)
        column.addWidget(self.message)
        self.setCentralWidget(whole)

    def _top(self) -> None:
        """Menus, pages and Export beside each other: what is put into a menu bar's corner no screen reader finds."""
        self.export_button = QPushButton("Export section…")
        self.export_button.setObjectName("export")
        self.export_button.clicked.connect(self.export)
        holder = QWidget()
        row = QHBoxLayout(holder)
        row.setContentsMargins(0, 0, 8, 0)
        row.setSpacing(14)
        row.addWidget(self._bar, 1, Qt.AlignmentFlag.AlignVCenter)
        row.addWidget(self.pages.tabs)
        row.addWidget(self.export_button)
        self.setMenuWidget(holder)

    def _show_name(self, _: object = None) -> None:
        self.setWindowTitle(f"{self.document.title}[*] – Bowl Profiler")
        self.setWindowModified(self.document.modified)


def _dropped(event: QDropEvent) -> Path | None:
    """The one study file that is being dropped, or None."""
    urls = event.mimeData().urls() if event.mimeData().hasUrls() else []
    if len(urls) != 1 or not urls[0].isLocalFile():
        return None
    path = Path(urls[0].toLocalFile())
    return path if path.suffix.lower() == SUFFIX else None

"""The pages of the window, one table: Shape is there at once, the others are made when they are first opened."""

from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QPushButton, QStackedWidget, QWidget

from profiler.ui.document.document import Document
from profiler.ui.drawing.exporting import Exporting
from profiler.ui.widgets.theme import LIGHT, Theme
from profiler.ui.work.jobs import Jobs


@dataclass(frozen=True, slots=True)
class PageEntry:
    """Where a page lives; it is imported only when opened, so that the first window is quick."""

    title: str
    module: str
    name: str
    wants_jobs: bool
    wants_exporting: bool = False


ENTRIES: tuple[PageEntry, ...] = (
    PageEntry("Compare", "profiler.ui.compare.compare", "ComparePage", True),
    PageEntry("Ore map", "profiler.ui.ore.ore_map", "OreMapPage", True),
    PageEntry("Why it overturns", "profiler.ui.eddy.overturn", "OverturnPage", False),
    PageEntry("Trials", "profiler.ui.trials.trials", "TrialsPage", True),
    PageEntry("Drawing", "profiler.ui.drawing.drawing", "DrawingPage", True, wants_exporting=True),
)


class PageStack(QStackedWidget):
    """Holds the pages; `tabs` is the row of buttons that turns them."""

    turned = Signal(str)  # title of the page that came into view

    def __init__(self, document: Document, shape_page: QWidget) -> None:
        super().__init__()
        self.document = document
        self.jobs = Jobs(self)
        document.gesture_changed.connect(self.jobs.pause)
        self.exporting: Exporting | None = None  # the window's, once it is there
        self.theme: Theme = LIGHT
        self._made: dict[str, QWidget] = {"Shape": shape_page}
        self.addWidget(shape_page)
        self.titles = ("Shape", *(entry.title for entry in ENTRIES))
        self.tabs = self._tabs()

    def open(self, title: str) -> QWidget:
        """Turn to a page, making it if need be."""
        page = self._made.get(title) or self._make(next(e for e in ENTRIES if e.title == title))
        self.setCurrentWidget(page)
        self._buttons.buttons()[self.titles.index(title)].setChecked(True)
        if title != "Shape":
            _call(page, "show_theme", self.theme)
            _call(page, "activated")
        self.turned.emit(title)
        return page

    def next_page(self, step: int = 1) -> None:
        here = next(t for t, page in self._made.items() if page is self.currentWidget())
        self.open(self.titles[(self.titles.index(here) + step) % len(self.titles)])

    def show_theme(self, theme: Theme) -> None:
        self.theme = theme
        for title, page in self._made.items():
            if title != "Shape":
                _call(page, "show_theme", theme)

    def _make(self, entry: PageEntry) -> QWidget:
        kind = getattr(import_module(entry.module), entry.name)
        words = [self.document, *([self.jobs] if entry.wants_jobs else [])]
        page: QWidget = kind(*words, *([self.exporting] if entry.wants_exporting else []))
        self._made[entry.title] = page
        self.addWidget(page)
        return page

    def _tabs(self) -> QWidget:
        holder = QWidget()
        row = QHBoxLayout(holder)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(2)
        self._buttons = QButtonGroup(holder)
        for title in self.titles:
            button = QPushButton(title)
            button.setObjectName("pageButton")
            button.setCheckable(True)
            button.clicked.connect(lambda _=False, title=title: self.open(title))
            self._buttons.addButton(button)
            row.addWidget(button)
        self._buttons.buttons()[0].setChecked(True)
        return holder


def _call(page: QWidget, name: str, *words: object) -> None:
    method: Callable[..., object] = getattr(page, name)
    method(*words)

"""The pages of the window, one table: Shape is there at once, the others are made when they are first opened."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Generic, TypeVar

from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QPushButton, QStackedWidget, QWidget

from profiler.ui.document.document import Document
from profiler.ui.drawing.exporting import Exporting
from profiler.ui.pages.page import Page
from profiler.ui.shape.shape_page import ShapePage
from profiler.ui.widgets.theme import LIGHT, Theme
from profiler.ui.work.jobs import Jobs

if TYPE_CHECKING:
    from profiler.ui.compare.compare import ComparePage
    from profiler.ui.drawing.drawing import DrawingPage
    from profiler.ui.eddy.eddy_page import EddyPage
    from profiler.ui.find.find_page import FindPage
    from profiler.ui.ore.ore_map import OreMapPage
    from profiler.ui.trials.trials import TrialsPage

Made = TypeVar("Made", bound=Page)
MadeCo = TypeVar("MadeCo", bound=Page, covariant=True)


@dataclass(frozen=True, slots=True)
class Desk:
    """What pages are made from: the document, the worker, and the way out to files."""

    document: Document
    jobs: Jobs
    exporting: Exporting


@dataclass(frozen=True, slots=True, eq=False)
class PageEntry(Generic[MadeCo]):
    """A page that can be turned to; `make` imports it, so that the first window is quick."""

    title: str
    make: Callable[[Desk], MadeCo]


def _compare(desk: Desk) -> "ComparePage":
    from profiler.ui.compare.compare import ComparePage

    return ComparePage(desk.document, desk.jobs)


def _ore_map(desk: Desk) -> "OreMapPage":
    from profiler.ui.ore.ore_map import OreMapPage

    return OreMapPage(desk.document, desk.jobs)


def _eddy(desk: Desk) -> "EddyPage":
    from profiler.ui.eddy.eddy_page import EddyPage

    return EddyPage(desk.document, desk.jobs)


def _find(desk: Desk) -> "FindPage":
    from profiler.ui.find.find_page import FindPage

    return FindPage(desk.document, desk.jobs)


def _trials(desk: Desk) -> "TrialsPage":
    from profiler.ui.trials.trials import TrialsPage

    return TrialsPage(desk.document, desk.jobs)


def _drawing(desk: Desk) -> "DrawingPage":
    from profiler.ui.drawing.drawing import DrawingPage

    return DrawingPage(desk.document, desk.jobs, desk.exporting)


SHAPE = PageEntry("Shape", lambda desk: ShapePage(desk.document, desk.jobs))
DRAWING = PageEntry("Drawing", _drawing)
PAGES: tuple[PageEntry[Page], ...] = (
    SHAPE,
    PageEntry("Compare", _compare),
    PageEntry("Ore map", _ore_map),
    PageEntry("Eddy", _eddy),
    PageEntry("Find", _find),
    PageEntry("Trials", _trials),
    DRAWING,
)


class PageStack(QStackedWidget):
    """Holds the pages; `tabs` is the row of buttons that turns them."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.theme: Theme = LIGHT
        self._desk = desk
        self._made: dict[PageEntry[Page], Page] = {}
        self.tabs = self._tabs()

    def open(self, entry: PageEntry[Made]) -> Made:
        """Turn to a page, making it if need be."""
        page = self._page(entry)
        self.setCurrentWidget(page)
        self._buttons.buttons()[PAGES.index(entry)].setChecked(True)
        page.activated()
        return page

    @property
    def title(self) -> str:
        """Of the page in view."""
        return next(entry.title for entry, page in self._made.items() if page is self.currentWidget())

    def open_titled(self, title: str) -> None:
        """Turn to the page of this name, if there is one."""
        for entry in PAGES:
            if entry.title == title:
                self.open(entry)

    @property
    def shown(self) -> Page:
        """The page in view."""
        page = self.currentWidget()
        assert isinstance(page, Page)
        return page

    def next_page(self, step: int = 1) -> None:
        here = next(place for place, entry in enumerate(PAGES) if self._made.get(entry) is self.currentWidget())
        self.open(PAGES[(here + step) % len(PAGES)])

    def show_theme(self, theme: Theme) -> None:
        self.theme = theme
        for page in self._made.values():
            page.show_theme(theme)

    def _page(self, entry: PageEntry[Made]) -> Made:
        known = self._made.get(entry)
        if known is not None:
            return known  # type: ignore[return-value]  # the very page this entry made
        page = entry.make(self._desk)
        page.setAccessibleName(entry.title)
        if page.theme is not self.theme:
            page.show_theme(self.theme)
        self._made[entry] = page
        self.addWidget(page)
        return page

    def _tabs(self) -> QWidget:
        holder = QWidget()
        row = QHBoxLayout(holder)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(2)
        self._buttons = QButtonGroup(holder)
        for entry in PAGES:
            button = QPushButton(entry.title)
            button.setObjectName("pageButton")
            button.setCheckable(True)
            button.clicked.connect(lambda _=False, entry=entry: self.open(entry))
            self._buttons.addButton(button)
            row.addWidget(button)
        self._buttons.buttons()[0].setChecked(True)
        return holder

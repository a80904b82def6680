"""The pages of the window, one table in the order of the job.

Shape opens first and is there at once; the others are made when they are first opened.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Generic, TypeVar

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QPushButton, QStackedWidget, QWidget

from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit
from profiler.study import Design
from profiler.ui.document.document import Document
from profiler.ui.drawing.exporting import Exporting
from profiler.ui.pages.page import Page
from profiler.ui.shape.shape_page import ShapePage
from profiler.ui.widgets.keys import Gesture
from profiler.ui.widgets.theme import LIGHT, Theme
from profiler.ui.work.jobs import Jobs

if TYPE_CHECKING:
    from profiler.lessons import Lesson
    from profiler.ui.compare.compare import ComparePage
    from profiler.ui.drawing.drawing import DrawingPage
    from profiler.ui.eddy.eddy_page import EddyPage
    from profiler.ui.find.find_page import FindPage
    from profiler.ui.machine.machine_page import MachinePage
    from profiler.ui.ore.ore_page import OrePage
    from profiler.ui.trials.trials import TrialsPage

Made = TypeVar("Made", bound=Page)
MadeCo = TypeVar("MadeCo", bound=Page, covariant=True)


@dataclass(frozen=True, slots=True)
class Desk:
    """What pages are made from: the document, the worker, and what one page asks of another or of the window."""

    document: Document
    jobs: Jobs
    exporting: Exporting
    new_study: Callable[[], None]
    envelope: Callable[[], None]
    show_sizes: Callable[[], None]
    groove: Callable[[], int | None]  # looked at on Shape
    begin_lesson: Callable[["Lesson"], None]
    ghost: Callable[[Design], None]  # drawn faintly in the strips


@dataclass(frozen=True, slots=True, eq=False)
class PageEntry(Generic[MadeCo]):
    """A page that can be turned to; `make` imports it, so that the first window is quick."""

    title: str
    make: Callable[[Desk], MadeCo]


def _compare(desk: Desk) -> "ComparePage":
    from profiler.ui.compare.compare import ComparePage

    return ComparePage(desk.document, desk.jobs, desk.show_sizes)


def _machine(desk: Desk) -> "MachinePage":
    from profiler.ui.machine.machine_page import MachinePage

    return MachinePage(desk.document, desk.new_study, desk.envelope)


def _ore(desk: Desk) -> "OrePage":
    from profiler.ui.ore.ore_page import OrePage

    return OrePage(desk.document, desk.jobs)


def _eddy(desk: Desk) -> "EddyPage":
    from profiler.ui.eddy.eddy_page import EddyPage

    return EddyPage(desk.document, desk.jobs, desk.groove, desk.begin_lesson)


def _find(desk: Desk) -> "FindPage":
    from profiler.ui.find.find_page import FindPage

    return FindPage(desk.document, desk.jobs, desk.ghost)


def _trials(desk: Desk) -> "TrialsPage":
    from profiler.ui.trials.trials import TrialsPage

    return TrialsPage(desk.document, desk.jobs)


def _drawing(desk: Desk) -> "DrawingPage":
    from profiler.ui.drawing.drawing import DrawingPage

    return DrawingPage(desk.document, desk.jobs, desk.exporting)


SHAPE = PageEntry("Shape", lambda desk: ShapePage(desk.document, desk.jobs))
MACHINE = PageEntry("Machine", _machine)
ORE = PageEntry("Ore", _ore)
EDDY = PageEntry("Eddy", _eddy)
COMPARE = PageEntry("Compare", _compare)
DRAWING = PageEntry("Drawing", _drawing)
TRIALS = PageEntry("Trials", _trials)
FIND = PageEntry("Find", _find)
PAGES: tuple[PageEntry[Page], ...] = (MACHINE, ORE, SHAPE, EDDY, FIND, COMPARE, DRAWING, TRIALS)


BUTTONS = (Gesture("Left, Right", "Turn to the page before or after, where its button has the keyboard"),)  # Qt's own


class PageStack(QStackedWidget):
    """Holds the pages; `tabs` is the row of buttons that turns them. `turning` comes before a page says anything."""

    turning = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.theme: Theme = LIGHT
        self.lengths: LengthUnit = MILLIMETRES
        self._desk = desk
        self._made: dict[PageEntry[Page], Page] = {}
        self.tabs = self._tabs()

    def open(self, entry: PageEntry[Made]) -> Made:
        """Turn to a page, making it if need be."""
        page = self._page(entry)
        if page is not self.currentWidget():
            self.turning.emit()
        self.setCurrentWidget(page)
        self._press(entry)
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

    def show_lengths(self, unit: LengthUnit) -> None:
        """Lengths in this unit from now on; nothing held or computed changes."""
        self.lengths = unit
        self._desk.exporting.lengths = unit
        for page in self._made.values():
            page.show_lengths(unit)

    def begin_anew(self) -> None:
        """Another study was opened."""
        for page in self._made.values():
            page.begin_anew()

    def _page(self, entry: PageEntry[Made]) -> Made:
        known = self._made.get(entry)
        if known is not None:
            return known  # type: ignore[return-value]  # the very page this entry made
        page = entry.make(self._desk)
        page.setAccessibleName(entry.title)
        if page.theme is not self.theme:
            page.show_theme(self.theme)
        if self.lengths is not MILLIMETRES:
            page.show_lengths(self.lengths)
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
        self._press(SHAPE)
        return holder

    def _press(self, entry: PageEntry[Page]) -> None:
        """The button of the page in view is down, and the one that Tab leads to; arrows go on from it."""
        pressed = self._buttons.buttons()[PAGES.index(entry)]
        pressed.setChecked(True)
        for button in self._buttons.buttons():
            button.setFocusPolicy(Qt.FocusPolicy.StrongFocus if button is pressed else Qt.FocusPolicy.ClickFocus)

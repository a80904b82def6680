"""Where the window opens and how large: as it was left, as far as the screens of today have that; and its text size.

Text size is a factor on everything, letters, pictures and the room between alike, so that nothing is cut at any size.
Qt takes such a factor at the start only; a size for which the screen has no room is not offered.
"""

import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from PySide6.QtCore import QByteArray, QRect, QSize, Qt
from PySide6.QtGui import QActionGroup, QGuiApplication
from PySide6.QtWidgets import QMainWindow, QMenu, QSplitter, QWidget

from profiler.ui.files import settings
from profiler.ui.files.settings import Settings

LEAST = QSize(1024, 600)  # what every page can be used at
COMFORTABLE = QSize(1280, 760)  # on a screen with less than this all of it is taken
LARGEST = QSize(1920, 1080)  # at first: more stretches the pictures and tells nothing more
SHARE = 0.9  # of the screen, at first
TEXT_SIZES = (90, 100, 110, 125, 150, 175, 200)  # percent
SCALE = "QT_SCALE_FACTOR"  # Qt's own name for a factor on everything


@contextmanager
def text_scaled(remembered: Settings) -> Iterator[None]:
    """While the application is made; programs started from this one later are not scaled with it."""
    before = os.environ.get(SCALE)
    percent = text_size(remembered)
    if percent != 100:
        os.environ[SCALE] = f"{float(before or 1.0) * percent / 100.0:g}"
    try:
        yield
    finally:
        if before is None:
            os.environ.pop(SCALE, None)
        else:
            os.environ[SCALE] = before


def text_size(remembered: Settings) -> int:
    """Percent; what is stored and is none of the sizes is the usual one."""
    stored = remembered.get(settings.TEXT_SIZE)
    return next((size for size in TEXT_SIZES if str(size) == stored), 100)


def has_room(available: QSize, now: int, wanted: int) -> bool:
    """Whether a screen of this logical size at `now` percent holds the least window at `wanted` percent."""
    return available.width() * now >= LEAST.width() * wanted and available.height() * now >= LEAST.height() * wanted


class TextSizeMenu(QMenu):
    """The text sizes, the chosen one ticked; `say` tells when a choice is seen."""

    def __init__(self, remembered: Settings, say: Callable[[str], object], parent: QWidget) -> None:
        super().__init__(parent)
        self._remembered, self._say = remembered, say
        self._now = text_size(remembered)  # what this session was started with
        self._group = QActionGroup(self)
        for percent in TEXT_SIZES:
            made = self._group.addAction(self.addAction(f"{percent} %"))
            made.setCheckable(True)
            made.setData(percent)
        self._group.triggered.connect(lambda made: self.choose(made.data()))
        self.setToolTipsVisible(True)
        self.aboutToShow.connect(self.refresh)
        self.refresh()

    def choose(self, percent: int) -> None:
        self._remembered.put(settings.TEXT_SIZE, str(percent))
        self._say(
            f"Text and pictures are shown at {percent} % from the next start." if percent != self._now
            else f"Text and pictures stay at {percent} %."
        )  # fmt: skip

    def refresh(self) -> None:
        """What is ticked, and what this screen has room for."""
        available = self.screen().availableSize()
        for made in self._group.actions():
            percent = made.data()
            made.setChecked(percent == text_size(self._remembered))
            fits = percent <= 100 or has_room(available, self._now, percent)
            made.setEnabled(fits)
            made.setToolTip("" if fits else f"This screen has no room for a window at {percent} %.")


def restore(window: QMainWindow, remembered: Settings) -> None:
    """Before it is shown: as it was left; else fitted to its screen."""
    stored = QByteArray.fromHex(remembered.get(settings.PLACE).encode("ascii", "ignore"))
    if stored.isEmpty() or not window.restoreGeometry(stored):
        _fit(window)
    screen = QGuiApplication.screenAt(window.geometry().center()) or window.screen()  # it has none of its own yet
    available = screen.availableGeometry()
    window.setMinimumSize(LEAST.boundedTo(available.size()))
    if not window.isMaximized() and not available.contains(window.geometry()):
        window.setGeometry(_inside(window.geometry(), available))
    if not has_room(available.size(), 100, 100) and text_size(remembered) > 100:
        remembered.put(settings.TEXT_SIZE, "100")


def keep(window: QMainWindow, remembered: Settings) -> None:
    remembered.put(settings.PLACE, bytes(window.saveGeometry().toHex().data()).decode("ascii"))
    for splitter in _named_splitters(window):
        remembered.put(settings.SPLIT.of(splitter.objectName()), ",".join(map(str, splitter.sizes())))


def restore_splitters(part: QWidget, remembered: Settings) -> None:
    """Of a page that has just been made."""
    for splitter in _named_splitters(part):
        stored = remembered.get(settings.SPLIT.of(splitter.objectName())).split(",")
        if len(stored) == splitter.count() and all(size.isdigit() for size in stored):
            splitter.setSizes([int(size) for size in stored])


def _named_splitters(part: QWidget) -> list[QSplitter]:
    return [splitter for splitter in part.findChildren(QSplitter) if splitter.objectName()]


def _fit(window: QMainWindow) -> None:
    available = window.screen().availableGeometry()
    if available.width() < COMFORTABLE.width() or available.height() < COMFORTABLE.height():
        window.setGeometry(available)
        window.setWindowState(Qt.WindowState.WindowMaximized)
        return
    size = (available.size() * SHARE).boundedTo(LARGEST).expandedTo(LEAST)
    place = QRect(available.topLeft(), size)
    place.moveCenter(available.center())
    window.setGeometry(place)


def _inside(place: QRect, available: QRect) -> QRect:
    """The same place, no larger than the screen and moved onto it."""
    size = place.size().boundedTo(available.size())
    left = min(max(place.left(), available.left()), available.left() + available.width() - size.width())
    top = min(max(place.top(), available.top()), available.top() + available.height() - size.height())
    return QRect(left, top, size.width(), size.height())

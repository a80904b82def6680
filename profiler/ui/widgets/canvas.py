"""A canvas for one picture: draws what a function gives for its size, and tells where it is pointed at."""

import logging
from collections.abc import Callable

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from profiler.pictures.basics.display import Picture, Role
from profiler.pictures.basics.lengths import pictured
from profiler.ui.widgets.labels import Tells, unit_of
from profiler.ui.widgets.painter import paint
from profiler.ui.widgets.theme import LIGHT, Theme

log = logging.getLogger(__name__)

WORKING = "Being worked out…"

Draw = Callable[[float, float], Picture]


class Canvas(Tells, QWidget):
    hovered = Signal(object)  # (x, y) px, or None when the pointer leaves
    clicked = Signal(float, float)
    double_clicked = Signal(float, float)

    def __init__(self, name: str, parent: QWidget | None = None, empty: str = "") -> None:
        super().__init__(parent)
        self.theme: Theme = LIGHT
        self.failure = ""
        self.empty = empty  # what stands there until there is a picture
        self._draw: Draw | None = None
        self._faded = False
        self.setMouseTracking(True)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setAccessibleName(name)
        self.setMinimumSize(160, 100)

    def show_picture(self, draw: Draw | None, theme: Theme, faded: bool = False) -> None:
        """`faded` for a picture that waits to be brought up to date."""
        self._draw, self.theme, self._faded = draw, theme, faded
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """An exception must not leave here with a live painter: it would take the program down."""
        with QPainter(self) as painter:
            painter.fillRect(self.rect(), self.theme.colour(Role.PAPER))
            try:
                if self._draw is None:
                    self._paint_empty(painter)
                else:
                    picture = pictured(self._draw(float(self.width()), float(self.height())), unit_of(self))
                    paint(painter, picture, self.theme, self._faded)
                self.failure = ""
            except Exception as error:
                if str(error) != self.failure:
                    log.exception("a picture could not be painted")
                self.failure = str(error)
                painter.setOpacity(1.0)
                painter.setPen(self.theme.colour(Role.STOP))
                words = "This picture could not be drawn; see the log."
                painter.drawText(self.rect(), Qt.AlignmentFlag.AlignCenter, words)

    def _paint_empty(self, painter: QPainter) -> None:
        painter.setPen(self.theme.colour(Role.FAINT))
        flags = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
        painter.drawText(self.rect().adjusted(12, 12, -12, -12), flags, self.empty)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self.hovered.emit((event.position().x(), event.position().y()))

    def leaveEvent(self, event: QEvent) -> None:
        self.hovered.emit(None)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton:
            self.clicked.emit(event.position().x(), event.position().y())

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton:
            self.double_clicked.emit(event.position().x(), event.position().y())

"""The frame round what has the keyboard: one for the whole program, the same round boxes, buttons, tables, pictures.

Marks that a style makes are many and some hardly to be seen; so nothing else in the program draws one.
"""

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPalette, QRegion
from PySide6.QtWidgets import QApplication, QSplitter, QWidget
from shiboken6 import isValid

THICK_PX = 2
FOLLOWED = (QEvent.Type.Move, QEvent.Type.Resize, QEvent.Type.Show, QEvent.Type.Hide, QEvent.Type.ZOrderChange)


class FocusFrame(QWidget):
    """Round a widget where there is room beside it, else within it. Only its line is painted, and takes no mouse.

    It holds no widget. An answered message box may be held by nothing but what a frame inside it holds: the frame,
    deleted, would let go of the box, and the box would delete its frame a second time, which ends the program.
    """

    def __init__(self, watched: QWidget, host: QWidget) -> None:
        super().__init__(host)
        self._over = False
        self.setObjectName("focusFrame")
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        between: QWidget | None = watched
        while between is not None and between is not host:
            between.installEventFilter(self)
            between = between.parentWidget()
        self.place()

    @property
    def watched(self) -> QWidget | None:
        """What has the keyboard, while the frame is round it."""
        return None if self._over else QApplication.focusWidget()

    def end(self) -> None:
        """The keyboard has left: what is still to come round the widget shows it no more."""
        self._over = True
        self.hide()
        self.deleteLater()

    def place(self) -> None:
        watched, host = self.watched, self.parentWidget()
        if watched is None or host is None or not (host.isAncestorOf(watched) and watched.isVisible()):
            self.hide()
            return
        around = QRect(watched.mapTo(host, QPoint(0, 0)), watched.size())
        around = around.adjusted(-THICK_PX, -THICK_PX, THICK_PX, THICK_PX) & host.rect()
        self.setGeometry(around)
        inside = self.rect().adjusted(THICK_PX, THICK_PX, -THICK_PX, -THICK_PX)
        self.setMask(QRegion(self.rect()) - QRegion(inside))
        self.raise_()
        self.show()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() in FOLLOWED:
            self.place()
        return False

    def paintEvent(self, event: QPaintEvent) -> None:
        with QPainter(self) as painter:
            painter.fillRect(self.rect(), self.palette().color(QPalette.ColorRole.Highlight))


class FocusFrames(QObject):
    """Takes the frame to whatever gets the keyboard, in windows and dialogs alike."""

    def __init__(self, app: QApplication) -> None:
        super().__init__(app)
        self._frame: FocusFrame | None = None
        app.focusChanged.connect(self._follow)

    def _follow(self, _: QWidget | None, now: QWidget | None) -> None:
        old, self._frame = self._frame, None
        if old is not None and isValid(old):
            old.end()
        host = None if now is None or now.isWindow() else now.parentWidget()
        while isinstance(host, QSplitter):  # which would take the frame for one more of its parts
            host = host.parentWidget()
        if now is not None and host is not None and now.window().windowType() is not Qt.WindowType.Popup:
            self._frame = FocusFrame(now, host)


def show_focus(app: QApplication) -> None:
    """From now on, once for an application."""
    if app.findChild(FocusFrames) is None:
        FocusFrames(app)

"""A view of one sheet: fitted, enlarged about the pointer or the middle, moved by dragging or with the arrow keys."""

import logging

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QImage,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPixmap,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QWidget

from profiler.pictures.basics.display import Role
from profiler.pictures.basics.palette import SHEET_PAPER
from profiler.pictures.sheet.items import Sheet
from profiler.pictures.sheet.plain import Plain, plain
from profiler.ui.widgets.keys import Gesture, Key, after_a_colon, answered, keyed, section
from profiler.ui.widgets.sheet_painter import paint_sheet
from profiler.ui.widgets.theme import LIGHT, Theme

log = logging.getLogger(__name__)

MARGIN = 10.0
STEP = 1.25
MOST = 16.0
NUDGE = 60.0  # px an arrow key moves the sheet
MM_PER_INCH = 25.4

LARGER: Key["SheetView"] = keyed("Larger", lambda v: v.zoom(STEP), "+", "=")
SMALLER: Key["SheetView"] = keyed("Smaller", lambda v: v.zoom(1.0 / STEP), "-")
WHOLE: Key["SheetView"] = keyed("The whole sheet", lambda v: v.fit(), "0")
PREVIOUS: Key["SheetView"] = keyed("Previous sheet", lambda v: v.turn(-1), "PgUp")
NEXT: Key["SheetView"] = keyed("Next sheet", lambda v: v.turn(1), "PgDown")
KEYS: tuple[Key["SheetView"], ...] = (
    LARGER, SMALLER, WHOLE, PREVIOUS, NEXT,
    Key("Move an enlarged sheet", (
        ("Left", lambda v: v.push(NUDGE, 0.0)), ("Right", lambda v: v.push(-NUDGE, 0.0)),
        ("Up", lambda v: v.push(0.0, NUDGE)), ("Down", lambda v: v.push(0.0, -NUDGE)),
    )),
)  # fmt: skip
MOUSE = (
    Gesture("Wheel", "Larger or smaller about the pointer"),
    Gesture("Drag", "Move an enlarged sheet"),
    Gesture("Double-click", "The whole sheet"),
)


class SheetView(QWidget):
    """Paper is white in either theme. The sheet is painted once per size and kept as a pixmap."""

    turned = Signal(int)  # so many sheets on or back

    def __init__(self, name: str) -> None:
        super().__init__()
        self.theme: Theme = LIGHT
        self.sheet: Sheet | None = None
        self.words = ""
        self.failure = ""
        self._plain: Plain | None = None
        self._zoom = 1.0
        self._shift = QPointF()
        self._grip: QPointF | None = None
        self._pixmap: QPixmap | None = None
        self.setAccessibleName(name)
        self.setMinimumSize(300, 200)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        rows = section(name, KEYS, MOUSE).rows
        self.setToolTip("\n".join(after_a_colon(*row) for row in rows))

    @property
    def zoomed(self) -> float:
        """How many times larger than fitted."""
        return self._zoom

    def show_sheet(self, sheet: Sheet | None, words: str = "") -> None:
        """A sheet, or words that say why there is none."""
        if sheet is None or self.sheet is None or (sheet.width, sheet.height) != (self.sheet.width, self.sheet.height):
            self._zoom, self._shift = 1.0, QPointF()
        if sheet is not self.sheet:
            self._plain = None
        self.sheet, self.words = sheet, words
        self._again()

    def show_theme(self, theme: Theme) -> None:
        self.theme = theme
        self._again()

    def fit(self) -> None:
        self._zoom, self._shift = 1.0, QPointF()
        self._again()

    def zoom(self, factor: float, about: QPointF | None = None) -> None:
        """Enlarge about a point of the view (its middle), which stays where it is."""
        new = min(max(self._zoom * factor, 1.0), MOST)
        middle = QPointF(0.5 * self.width(), 0.5 * self.height())
        from_middle = (about or middle) - middle
        self._move(from_middle - (from_middle - self._shift) * (new / self._zoom), new)

    def turn(self, by: int) -> None:
        """Ask for another sheet."""
        self.turned.emit(by)

    def push(self, right_px: float, down_px: float) -> None:
        """Move an enlarged sheet by so much."""
        self._move(self._shift + QPointF(right_px, down_px), self._zoom)

    @property
    def px_per_mm(self) -> float:
        if self.sheet is None:
            return 1.0
        wide = (self.width() - 2.0 * MARGIN) / self.sheet.width
        return max(min(wide, (self.height() - 2.0 * MARGIN) / self.sheet.height), 0.05) * self._zoom

    def corner(self) -> QPointF:
        """Where the sheet's upper left corner lies, px; without a sheet, where an empty one's would."""
        scale = self.px_per_mm
        size = QPointF() if self.sheet is None else QPointF(self.sheet.width * scale, self.sheet.height * scale)
        return QPointF(0.5 * self.width(), 0.5 * self.height()) + self._shift - size * 0.5

    def picture(self, dots_per_inch: float) -> QImage | None:
        """The whole sheet as an image, for other programs."""
        if self.sheet is None:
            return None
        scale = dots_per_inch / MM_PER_INCH
        image = QImage(round(self.sheet.width * scale), round(self.sheet.height * scale), QImage.Format.Format_RGB32)
        image.fill(QColor(SHEET_PAPER))
        image.setDotsPerMeterX(round(1000.0 * scale))
        image.setDotsPerMeterY(round(1000.0 * scale))
        with QPainter(image) as painter:
            painter.scale(scale, scale)
            paint_sheet(painter, self.sheet)
        return image

    def paintEvent(self, event: QPaintEvent) -> None:
        """An exception must not leave here with a live painter: it would take the program down."""
        with QPainter(self) as painter:
            painter.fillRect(self.rect(), QColor(self.theme.window))
            words = self.words
            if self.sheet is not None:
                try:
                    self._pixmap = self._pixmap or self._drawn(self.sheet)
                    painter.drawPixmap(0, 0, self._pixmap)
                    self.failure = words = ""
                except Exception as error:
                    log.exception("a sheet could not be painted")
                    self.failure = str(error)
                    words = "This sheet could not be drawn; see the log."
            painter.setPen(self.theme.colour(Role.TEXT))
            room = self.rect().adjusted(40, 20, -40, -20)
            painter.drawText(room, Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap, words)
            if self.hasFocus():
                painter.setPen(QColor(self.theme.accent))
                painter.drawRect(self.rect().adjusted(0, 0, -1, -1))

    def _drawn(self, sheet: Sheet) -> QPixmap:
        ratio = self.devicePixelRatio()
        pixmap = QPixmap(self.size() * ratio)
        pixmap.setDevicePixelRatio(ratio)
        pixmap.fill(QColor(self.theme.window))
        self._plain = self._plain or plain(sheet)
        with QPainter(pixmap) as painter:
            painter.translate(self.corner())
            painter.scale(self.px_per_mm, self.px_per_mm)
            painter.fillRect(QRectF(0.0, 0.0, sheet.width, sheet.height), QColor(SHEET_PAPER))
            paint_sheet(painter, sheet, self._plain)
        return pixmap

    def _again(self) -> None:
        self._pixmap = None
        self.update()

    def _move(self, shift: QPointF, zoom: float) -> None:
        """Show so much of the sheet at this place; it cannot be pushed out of the view."""
        self._zoom = zoom
        scale = self.px_per_mm
        wide, high = (self.sheet.width * scale, self.sheet.height * scale) if self.sheet else (0.0, 0.0)
        most_x = max(0.5 * (wide - self.width()) + MARGIN, 0.0)
        most_y = max(0.5 * (high - self.height()) + MARGIN, 0.0)
        self._shift = QPointF(min(max(shift.x(), -most_x), most_x), min(max(shift.y(), -most_y), most_y))
        self._again()

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._move(self._shift, self._zoom)

    def wheelEvent(self, event: QWheelEvent) -> None:
        turned = event.angleDelta().y()
        if turned:
            self.zoom(STEP if turned > 0 else 1.0 / STEP, event.position())
        event.accept()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not answered(self, KEYS, event):
            super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton:
            self._grip = event.position() - self._shift

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._grip is not None and self._zoom > 1.0:
            self._move(event.position() - self._grip, self._zoom)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        self._grip = None

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        self.fit()

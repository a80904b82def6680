"""A view of one sheet: fitted, enlarged with the wheel about the pointer, moved by dragging."""

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QMouseEvent, QPainter, QPaintEvent, QPixmap, QWheelEvent
from PySide6.QtWidgets import QWidget

from ...pictures.display import Role
from ...pictures.sheet.items import Sheet
from ..sheet_painter import PAPER, paint_sheet
from ..theme import LIGHT, Theme

MARGIN = 14.0
STEP = 1.25
MOST = 12.0


class SheetView(QWidget):
    """Paper is white in either theme. The sheet is painted once per size and kept as a pixmap."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self.theme: Theme = LIGHT
        self.sheet: Sheet | None = None
        self.words = ""
        self._zoom = 1.0
        self._shift = QPointF()
        self._grip: QPointF | None = None
        self._kept: tuple[object, ...] = ()
        self._pixmap = QPixmap()
        self.setAccessibleName(name)
        self.setMinimumSize(300, 200)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setToolTip("Wheel: larger or smaller. Drag: move. Double click: fit.")

    def show_sheet(self, sheet: Sheet | None, words: str = "") -> None:
        """A sheet, or words that say why there is none."""
        if sheet is None or self.sheet is None or (sheet.width, sheet.height) != (self.sheet.width, self.sheet.height):
            self.fit()
        self.sheet, self.words = sheet, words
        self.update()

    def show_theme(self, theme: Theme) -> None:
        self.theme = theme
        self._kept = ()
        self.update()

    def fit(self) -> None:
        self._zoom, self._shift = 1.0, QPointF()
        self.update()

    def zoom(self, factor: float, about: QPointF) -> None:
        """Enlarge about a point of the view, which stays where it is."""
        new = min(max(self._zoom * factor, 1.0), MOST)
        middle = QPointF(0.5 * self.width(), 0.5 * self.height())
        self._shift = about - middle - (about - middle - self._shift) * (new / self._zoom)
        self._zoom = new
        if new == 1.0:
            self._shift = QPointF()
        self.update()

    @property
    def px_per_mm(self) -> float:
        if self.sheet is None:
            return 1.0
        wide = (self.width() - 2.0 * MARGIN) / self.sheet.width
        return max(min(wide, (self.height() - 2.0 * MARGIN) / self.sheet.height), 0.05) * self._zoom

    def corner(self) -> QPointF:
        """Where the sheet's upper left corner lies, px."""
        assert self.sheet is not None
        scale = self.px_per_mm
        size = QPointF(self.sheet.width * scale, self.sheet.height * scale)
        return QPointF(0.5 * self.width(), 0.5 * self.height()) + self._shift - size * 0.5

    def paintEvent(self, event: QPaintEvent) -> None:
        with QPainter(self) as painter:
            painter.fillRect(self.rect(), QColor(self.theme.window))
            if self.sheet is None:
                painter.setPen(self.theme.colour(Role.TEXT))
                painter.drawText(self.rect(), Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap, self.words)
                return
            key = (self.sheet, self.size(), self._zoom, self._shift.toTuple(), self.devicePixelRatio())
            if key != self._kept:
                self._pixmap = self._drawn(self.sheet)
                self._kept = key
            painter.drawPixmap(0, 0, self._pixmap)

    def _drawn(self, sheet: Sheet) -> QPixmap:
        ratio = self.devicePixelRatio()
        pixmap = QPixmap(self.size() * ratio)
        pixmap.setDevicePixelRatio(ratio)
        pixmap.fill(QColor(self.theme.window))
        with QPainter(pixmap) as painter:
            corner, scale = self.corner(), self.px_per_mm
            painter.translate(corner)
            painter.scale(scale, scale)
            painter.fillRect(0, 0, round(sheet.width), round(sheet.height), QColor(PAPER))
            paint_sheet(painter, sheet)
        return pixmap

    def wheelEvent(self, event: QWheelEvent) -> None:
        self.zoom(STEP if event.angleDelta().y() > 0 else 1.0 / STEP, event.position())

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton:
            self._grip = event.position() - self._shift

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._grip is not None and self._zoom > 1.0:
            self._shift = event.position() - self._grip
            self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        self._grip = None

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        self.fit()

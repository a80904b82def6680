"""What all strips share: painting a picture safely, the crosshair, zoom by wheel, panning by middle button."""

import logging

from PySide6.QtCore import QEvent, QPoint, QRect, Qt
from PySide6.QtGui import QFocusEvent, QHelpEvent, QMouseEvent, QPainter, QPaintEvent, QWheelEvent
from PySide6.QtWidgets import QApplication, QToolTip, QWidget

from profiler.assess.quantities.table import quantity
from profiler.physics.slurry.overturn import State
from profiler.pictures.basics.display import Picture, Role
from profiler.pictures.basics.lengths import MILLIMETRES, pictured
from profiler.pictures.basics.state_marks import SHORT_WORDS
from profiler.pictures.strips.scene import Scene
from profiler.ui.widgets.keys import Gesture, Key
from profiler.ui.widgets.labels import Tells
from profiler.ui.widgets.painter import paint
from profiler.ui.widgets.pointer import Pointer
from profiler.ui.widgets.spoken import announce
from profiler.ui.widgets.theme import LIGHT, Theme

log = logging.getLogger(__name__)

STALE_WORDS = "before the last change"
STALE_ROOM_PX, STALE_DOWN_PX = 140, 4

STEP_MM, LEAP_MM = 1.0, 10.0  # of the crosshair

KEYS: tuple[Key["Strip"], ...] = (
    Key(
        f"Read the wall {LEAP_MM:g} mm above or below",
        (("PgUp", lambda s: s.look(LEAP_MM)), ("PgDown", lambda s: s.look(-LEAP_MM))),
    ),
    Key(
        f"Read the wall {STEP_MM:g} mm above or below",
        (("Shift+PgUp", lambda s: s.look(STEP_MM)), ("Shift+PgDown", lambda s: s.look(-STEP_MM))),
    ),
)
MOUSE = (
    Gesture("Wheel", "Zoom along the height"),
    Gesture("Middle button", "Drag to move along the height"),
)


class Strip(Tells, QWidget):
    """Shows one picture of a scene. Subclasses say which, and take the mouse further."""

    title = ""
    description = ""

    def __init__(self, pointer: Pointer, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.pointer = pointer
        self.scene: Scene | None = None
        self.theme: Theme = LIGHT
        self.failure = ""
        self._pan_from: QPoint | None = None
        self.setMouseTracking(True)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setAccessibleName(self.title)
        self.setAccessibleDescription(self.description)

    def show_scene(self, scene: Scene, theme: Theme) -> None:
        self.scene = scene
        self.theme = theme
        self._tell(changed=True)
        self.update()

    def spoken_choice(self, scene: Scene) -> str:
        """What is chosen, with its values, for who hears the window; empty where nothing is."""
        e, number = scene.shown, scene.groove
        if number is None or e is None or e.flow is None or not 0 < number <= len(e.flow.groove_state[0]):
            return ""
        shown = quantity(self.pointer.now.quantity)
        values = shown.get(e)
        value = f", {shown.label} {shown.text(float(values[number - 1]))}" if number <= len(values) else ""
        return f"groove {number}, {SHORT_WORDS[State(int(e.flow.groove_state[0][number - 1]))]}{value}"

    def step(self, by: int) -> bool:
        """Choose the groove so many above; False where there is none."""
        e = self.scene.shown if self.scene else None
        middles = [] if e is None or e.shape is None else e.shape.mouths.middle.tolist()
        if middles:
            groove = min(max((self.pointer.now.groove or 0) + by, 1), len(middles))
            self.pointer.point(groove=groove, cursor_mm=middles[groove - 1])
            self.pointer.show_height(middles[groove - 1])
        return bool(middles)

    def look(self, by_mm: float) -> bool:
        """Move the crosshair, from the middle of what is seen where there is none yet; no further than the wall."""
        if self.scene is None:
            return False
        axis, now = self.scene.axis, self.pointer.now.cursor_mm
        height = axis.height(0.5 * (axis.top + axis.bottom)) if now is None else now + by_mm
        height = min(max(height, 0.0), self.scene.design.wall.height_mm)
        self.pointer.point(cursor_mm=height)
        self.pointer.show_height(height)
        return True

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self._tell()

    def _tell(self, changed: bool = False) -> None:
        """Put what is chosen into the name, where the keyboard is, and say what keys have `changed` in it."""
        if self.scene is not None and self.hasFocus():
            choice = self.scene.lengths.told(self.spoken_choice(self.scene))
            name = ": ".join(words for words in (self.title, choice) if words)
            if name != self.accessibleName():
                self.setAccessibleName(name)
                if changed and not QApplication.mouseButtons():  # a drag would say every step of it
                    announce(self, choice)

    def picture(self, scene: Scene) -> Picture:
        raise NotImplementedError

    def present_part(self, scene: Scene) -> Picture | None:
        """What stays true over a faded picture, if anything."""
        return None

    def paintEvent(self, event: QPaintEvent) -> None:
        """An exception must not leave here with a live painter: it would take the program down."""
        with QPainter(self) as painter:
            painter.fillRect(self.rect(), self.theme.colour(Role.PAPER))
            if self.scene is None:
                return
            try:
                picture = pictured(self.picture(self.scene), self.scene.lengths)
                paint(painter, picture, self.theme, self.fades and self.scene.stale)
                if self.fades and self.scene.stale:
                    self._paint_stale(painter, self.scene)
                if self.scene.stale and (part := self.present_part(self.scene)) is not None:
                    paint(painter, part, self.theme)
                if self.says_trouble and self.scene.trouble:
                    self._paint_trouble(painter, self.scene.lengths.told(self.scene.trouble))
                self.failure = ""
            except Exception as error:
                if str(error) != self.failure:
                    log.exception("a strip could not be painted")
                self.failure = str(error)
                painter.setPen(self.theme.colour(Role.STOP))
                painter.drawText(
                    self.rect(), Qt.AlignmentFlag.AlignCenter, "This picture could not be drawn; see the log."
                )

    fades = True
    says_trouble = False

    def _paint_trouble(self, painter: QPainter, sentence: str) -> None:
        """Why the design as it stands cannot be drawn: in a box in the free upper left, beside the faded picture."""
        flags = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap
        if self.scene is not None and self.scene.shown is not None:
            sentence = f"{sentence}\n\nDrawn: {STALE_WORDS}."
        wide = min(self.width() - 28, max(190, int(0.36 * self.width())))
        room = painter.boundingRect(QRect(22, 44, wide - 16, self.height()), flags, sentence)
        box = room.adjusted(-8, -6, 8, 6)
        painter.fillRect(box, self.theme.colour(Role.PAPER))
        painter.setPen(self.theme.colour(Role.STOP))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(box)
        painter.drawText(room, flags, sentence)

    def tip_at(self, x: float, y: float) -> str:
        """What the mark at this place is; empty where there is none, and the strip's own words serve."""
        return ""

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            words = self.tip_at(float(event.pos().x()), float(event.pos().y()))
            if words:
                lengths = MILLIMETRES if self.scene is None else self.scene.lengths
                QToolTip.showText(event.globalPos(), lengths.told(words), self)
                return True
        return super().event(event)

    def _paint_stale(self, painter: QPainter, scene: Scene) -> None:
        """That the faded picture is an older one's, where there is room to say it."""
        if scene.shown is None or self.says_trouble or self.width() < STALE_ROOM_PX:
            return
        words = QRect(0, round(scene.axis.top) + STALE_DOWN_PX, self.width(), 18)
        painter.setPen(self.theme.colour(Role.FAINT))
        painter.drawText(words, Qt.AlignmentFlag.AlignCenter, STALE_WORDS)

    def wheelEvent(self, event: QWheelEvent) -> None:
        self.pointer.zoom(1.2 ** (event.angleDelta().y() / 120.0), event.position().y())
        event.accept()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.MiddleButton:
            self._pan_from = event.position().toPoint()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._pan_from is not None:
            now = event.position().toPoint()
            self.pointer.move(now.y() - self._pan_from.y())
            self._pan_from = now
        if self.scene is not None:
            height = self.scene.axis.height(event.position().y())
            inside = 0.0 <= height <= self.scene.design.wall.height_mm
            self.pointer.point(cursor_mm=height if inside else None)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.MiddleButton:
            self._pan_from = None

    def leaveEvent(self, event: QEvent) -> None:
        self.pointer.point(cursor_mm=None)

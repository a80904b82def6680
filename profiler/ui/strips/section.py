"""The section strip: grooves are chosen here, and moved along the wall by dragging."""

from PySide6.QtCore import QPointF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent

from profiler.pictures.basics.display import Picture
from profiler.pictures.strips import section_strip
from profiler.pictures.strips.scene import Scene
from profiler.study.records.design import GROOVE_SHIFT
from profiler.ui.strips.base import KEYS as READING
from profiler.ui.strips.base import Strip
from profiler.ui.widgets.keys import Gesture, Key, answered, keyed, spoken

SLACK_PX = 4.0

KEYS: tuple[Key["SectionStrip"], ...] = (
    Key("Choose the groove above or below", (("Up", lambda s: s.step(1)), ("Down", lambda s: s.step(-1)))),
    Key(
        f"Move the chosen groove along the wall by {GROOVE_SHIFT.step:g} mm",
        (("Shift+Up", lambda s: s.shift(GROOVE_SHIFT.step)), ("Shift+Down", lambda s: s.shift(-GROOVE_SHIFT.step))),
    ),
    keyed("Take a drag back", lambda s: s.let_go(keep=False), "Esc"),
    *READING,
)
MOUSE = (
    Gesture("Click a groove", "Choose it"),
    Gesture("Drag a groove", "Move it along the wall; Ctrl moves by tenths of a step, Esc takes it back"),
)


class SectionStrip(Strip):
    title = "Section"
    description = f"Half section of the bowl in its seat with the predicted slurry surface. {spoken(KEYS)}"
    says_trouble = True
    drag_began = Signal()
    dragged = Signal(int, float)  # the groove's place in the rule, how far along the wall from there, mm
    drag_ended = Signal(bool)

    def __init__(self, *args: object) -> None:
        super().__init__(*args)  # type: ignore[arg-type]
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._held: tuple[int, float, float] | None = None  # place, shift at the start, length along the wall held
        self._press = QPointF()
        self._moving = False

    def picture(self, scene: Scene) -> Picture:
        scale = section_strip.radius_scale(scene, self.width())
        return section_strip.section_strip(scene, scale, self.width(), self.height())

    def mousePressEvent(self, event: QMouseEvent) -> None:
        super().mousePressEvent(event)
        shape = self.scene.shown.shape if self.scene and self.scene.shown else None
        if event.button() != Qt.MouseButton.LeftButton or shape is None or self.scene is None:
            return
        height = self.scene.axis.height(event.position().y())
        mouths = shape.mouths
        hit = [i for i in range(len(mouths)) if mouths.lower[i] <= height <= mouths.upper[i]]
        self.pointer.point(groove=hit[0] + 1 if hit else None)
        if hit:
            place = int(shape.place[hit[0]])
            shift = GROOVE_SHIFT.at(place).get(self.scene.design)
            self._held = (place, shift, float(shape.wall.length_at(height)))
            self._press, self._moving = event.position(), False

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        super().mouseMoveEvent(event)
        if self._held is None or self.scene is None or self.scene.shown is None or self.scene.shown.shape is None:
            return
        if not self._moving and abs(event.position().y() - self._press.y()) < SLACK_PX:
            return
        if not self._moving:
            self._moving = True
            self.setFocus()
            self.drag_began.emit()
        place, shift, length = self._held
        fine = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
        height = min(max(self.scene.axis.height(event.position().y()), 0.0), self.scene.shown.shape.height)
        moved = float(self.scene.shown.shape.wall.length_at(height)) - length
        self.dragged.emit(place, GROOVE_SHIFT.snapped(shift + moved, fine))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        super().mouseReleaseEvent(event)
        if event.button() == Qt.MouseButton.LeftButton:
            self.let_go(keep=True)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not answered(self, KEYS, event):
            super().keyPressEvent(event)

    def shift(self, by_mm: float) -> bool:
        """The chosen groove along the wall, as one step to undo; False where none is chosen."""
        shape = self.scene.shown.shape if self.scene and self.scene.shown else None
        number = self.pointer.now.groove
        if shape is None or self.scene is None or number is None or not 0 < number <= len(shape.mouths) or self._moving:
            return False
        place = int(shape.place[number - 1])
        self.drag_began.emit()
        self.dragged.emit(place, GROOVE_SHIFT.nearest(GROOVE_SHIFT.at(place).get(self.scene.design) + by_mm))
        self.drag_ended.emit(True)
        return True

    def let_go(self, keep: bool) -> bool:
        """End a drag; False where none is under way."""
        moving, self._moving, self._held = self._moving, False, None
        if moving:
            self.drag_ended.emit(keep)
        return moving

"""The magnified groove, with a handle under its mouth: dragged, it proposes another angle of the wall."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QApplication, QWidget

from profiler.physics.slurry.overturn import State
from profiler.pictures.basics.state_marks import SHORT_WORDS
from profiler.pictures.eddy.groove_picture import GrooveScene, angle_from, groove_picture, handle_at
from profiler.study.records.design import KNOT_ANGLE
from profiler.ui.widgets.canvas import Canvas
from profiler.ui.widgets.keys import SIZES, Gesture, Key, answered, keyed, spoken
from profiler.ui.widgets.spoken import announce
from profiler.ui.widgets.theme import Theme

TITLE = "Groove, magnified"
GRIP_PX = 16.0
STEP_DEG = 0.5


def _arrows(held: str, times: float) -> Key["GrooveCanvas"]:
    step = STEP_DEG * times
    return Key(
        f"Open or close the wall by {step:g}°",
        ((f"{held}Right", lambda c: c.turn_by(step)), (f"{held}Left", lambda c: c.turn_by(-step))),
    )


KEYS: tuple[Key["GrooveCanvas"], ...] = (
    *(_arrows(held, times) for held, times in SIZES),
    keyed("Cancel the trial", lambda c: c.give_up(), "Esc"),
)
MOUSE = (Gesture("Drag the handle under the mouth", "Turn the wall there, on trial: the study stays as it is"),)


class GrooveCanvas(Canvas):
    turned = Signal(float)  # degrees
    rested = Signal()  # the hand has let go
    given_up = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(TITLE, parent)
        self.setAccessibleDescription(spoken(KEYS))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumSize(360, 300)
        self.scene: GrooveScene | None = None
        self.angle_deg = float("nan")
        self._held: float | None = None  # degrees between the wall and where it was taken hold of

    def show_scene(self, scene: GrooveScene | None, angle_deg: float, theme: Theme, faded: bool = False) -> None:
        self.scene, self.angle_deg = scene, angle_deg
        self._tell()
        self.show_picture(None if scene is None else lambda w, h: groove_picture(scene, w, h), theme, faded)

    def turn_by(self, step_deg: float) -> bool:
        if self.angle_deg != self.angle_deg:
            return False
        self.turned.emit(KNOT_ANGLE.nearest(self.angle_deg + step_deg, abs(step_deg) < STEP_DEG))
        self.rested.emit()
        return True

    def give_up(self) -> None:
        self.given_up.emit()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        super().mousePressEvent(event)
        if event.button() == Qt.MouseButton.LeftButton and self._over_handle(event):
            self._held = self._under(event) - self.angle_deg

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        super().mouseMoveEvent(event)
        self.setCursor(Qt.CursorShape.SizeHorCursor if self._over_handle(event) else Qt.CursorShape.ArrowCursor)
        if self._held is not None:
            angle = KNOT_ANGLE.snapped(self._under(event) - self._held)
            if angle != self.angle_deg:
                self.turned.emit(angle)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        super().mouseReleaseEvent(event)
        if event.button() == Qt.MouseButton.LeftButton and self._held is not None:
            self._held = None
            self.rested.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not answered(self, KEYS, event):
            super().keyPressEvent(event)

    def _tell(self) -> None:
        """Groove, wall and state in the name; what keys changed in it is said."""
        flow = None if self.scene is None else self.scene.e.flow
        name = TITLE
        if self.scene is not None and flow is not None:
            state = SHORT_WORDS[State(int(flow.groove_state[0][self.scene.groove - 1]))]
            name = f"{TITLE}: groove {self.scene.groove}, wall {KNOT_ANGLE.text(self.angle_deg)}°, {state}"
        if name != self.accessibleName():
            self.setAccessibleName(name)
            if self.hasFocus() and not QApplication.mouseButtons():
                announce(self, name.removeprefix(f"{TITLE}: "))

    def _over_handle(self, event: QMouseEvent) -> bool:
        at = None if self.scene is None else handle_at(self.scene, self.width(), self.height())
        if at is None or self._held is not None:
            return self._held is not None
        return max(abs(event.position().x() - at[0]), abs(event.position().y() - at[1])) <= GRIP_PX

    def _under(self, event: QMouseEvent) -> float:
        if self.scene is None:
            return float("nan")
        x, y = event.position().x(), event.position().y()
        return angle_from(self.scene, self.width(), self.height(), x, y)

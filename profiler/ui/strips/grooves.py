"""The groove strip: one row per groove with the chosen quantity."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QWidget

from ...assess.quantities import quantity
from ...pictures import groove_strip
from ...pictures.display import Picture
from ...pictures.scene import Scene
from ..pointer import Pointer
from .base import Strip


class GrooveStrip(Strip):
    title = "Grooves"
    description = "One row per groove: number, state and the chosen quantity. Up and Down choose a groove."

    def __init__(self, pointer: Pointer, parent: QWidget | None = None) -> None:
        super().__init__(pointer, parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def picture(self, scene: Scene) -> Picture:
        return groove_strip.groove_strip(scene, quantity(self.pointer.now.quantity), self.width(), self.height())

    def mousePressEvent(self, event: QMouseEvent) -> None:
        super().mousePressEvent(event)
        if event.button() == Qt.MouseButton.LeftButton and self.scene is not None:
            self.pointer.point(groove=groove_strip.row_at(self.scene, event.position().y()))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        shape = self.scene.shown.shape if self.scene and self.scene.shown else None
        step = {Qt.Key.Key_Up: 1, Qt.Key.Key_Down: -1}.get(Qt.Key(event.key()))
        if step is None or shape is None or not len(shape.mouths):
            super().keyPressEvent(event)
            return
        now = self.pointer.now.groove or 0
        chosen = min(max(now + step, 1), len(shape.mouths))
        self.pointer.point(groove=chosen, cursor_mm=float(shape.mouths.middle[chosen - 1]))

"""The section strip."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QMouseEvent

from ...pictures import section_strip
from ...pictures.display import Picture
from ...pictures.scene import Scene
from .base import Strip


class SectionStrip(Strip):
    title = "Section"
    description = "Half section of the bowl in its seat with the predicted slurry surface"

    def picture(self, scene: Scene) -> Picture:
        scale = section_strip.radius_scale(scene, self.width())
        return section_strip.section_strip(scene, scale, self.width(), self.height())

    def mousePressEvent(self, event: QMouseEvent) -> None:
        super().mousePressEvent(event)
        if event.button() == Qt.MouseButton.LeftButton and self.scene and self.scene.shown and self.scene.shown.shape:
            height = self.scene.axis.height(event.position().y())
            mouths = self.scene.shown.shape.mouths
            hit = [i + 1 for i in range(len(mouths)) if mouths.lower[i] <= height <= mouths.upper[i]]
            self.pointer.point(groove=hit[0] if hit else None)

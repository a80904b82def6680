"""The gutter: height scale and state tape."""

from ...pictures import gutter
from ...pictures.display import Picture
from ...pictures.scene import Scene
from .base import Strip


class GutterStrip(Strip):
    title = "Heights and states"
    description = "Height scale in millimetres and a tape with the state of the wall at each height"

    def picture(self, scene: Scene) -> Picture:
        return gutter.gutter(scene, self.width(), self.height())

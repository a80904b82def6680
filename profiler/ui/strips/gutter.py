"""The gutter: height scale, ore ladder and state tape."""

from ...pictures import gutter
from ...pictures.display import Picture
from ...pictures.ladder import ladder_width
from ...pictures.scene import Scene
from ..theme import Theme
from .base import Strip

WIDTH_PX = 62


class GutterStrip(Strip):
    title = "Heights and states"
    description = (
        "Height scale, a tape with the state of the wall at each height, and beside it one narrow tape for every "
        "duty of "
        "the ore window"
    )

    def show_scene(self, scene: Scene, theme: Theme) -> None:
        """Widen by a column per duty of the ore window."""
        duties = () if scene.ladder is None else scene.ladder.duties
        self.setFixedWidth(WIDTH_PX + round(ladder_width(len(duties))))
        names = "\n".join(f"{i}  {duty.name}" for i, duty in enumerate(duties, 1))
        self.setToolTip(f"Ore window:\n{names}" if names else "")
        super().show_scene(scene, theme)

    def picture(self, scene: Scene) -> Picture:
        return gutter.gutter(scene, self.width(), self.height())

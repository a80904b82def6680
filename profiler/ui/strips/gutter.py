"""The gutter: height scale, ore ladder and state tape."""

from PySide6.QtWidgets import QWidget

from profiler.pictures.basics.display import Picture
from profiler.pictures.basics.state_marks import ENTRY_WORDS
from profiler.pictures.strips import gutter_strip
from profiler.pictures.strips.ladder import ladder_width
from profiler.pictures.strips.scene import Scene
from profiler.ui.strips.base import Strip
from profiler.ui.widgets.labels import plain_tip
from profiler.ui.widgets.pointer import Pointer
from profiler.ui.widgets.theme import Theme

WIDTH_PX = 62


class GutterStrip(Strip):
    title = "Heights and states"
    description = (
        "Height scale, a tape with the state of the wall at each height, and beside it one narrow tape for every "
        "duty of "
        "the ore window"
    )

    def __init__(self, pointer: Pointer, parent: QWidget | None = None) -> None:
        super().__init__(pointer, parent)
        self._names: tuple[str, ...] | None = None

    def show_scene(self, scene: Scene, theme: Theme) -> None:
        """Widen by a column per duty of the ore window."""
        names = () if scene.ladder is None else tuple(duty.name for duty in scene.ladder.duties)
        if names != self._names:
            self._names = names
            self.setFixedWidth(WIDTH_PX + round(ladder_width(len(names))))
            self.setToolTip(plain_tip(_tip(names)))
        super().show_scene(scene, theme)

    def picture(self, scene: Scene) -> Picture:
        return gutter_strip.gutter(scene, self.width(), self.height())


def _tip(duties: tuple[str, ...]) -> str:
    """What the tapes are: one for the shown duty, before it one for each duty of the ore window."""
    lines = ["The wide tape: state of the wall at each height under the shown duty.", ENTRY_WORDS]
    if duties:
        lines += ["", "Narrow tapes, the same under each duty of the ore window:"]
        lines += [f"{i}  {name}" for i, name in enumerate(duties, 1)]
        lines.append("Upright strokes: three strong overturn, two weak, one matched, none sheltered.")
    return "\n".join(lines)

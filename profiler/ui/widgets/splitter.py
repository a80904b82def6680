"""Two parts of a page that share its room; the divider between them moves by the mouse and by arrow keys."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QSplitter, QSplitterHandle

from profiler.ui.widgets.keys import Key, answered

STEP_PX = 20

KEYS: tuple[Key["Divider"], ...] = (
    Key(
        "Move the divider between two parts",
        (
            ("Left", lambda d: d.move_by(-STEP_PX)),
            ("Right", lambda d: d.move_by(STEP_PX)),
            ("Up", lambda d: d.move_by(-STEP_PX)),
            ("Down", lambda d: d.move_by(STEP_PX)),
        ),
    ),
)


class Divider(QSplitterHandle):
    def __init__(self, way: Qt.Orientation, parent: QSplitter) -> None:
        super().__init__(way, parent)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setAccessibleName("Divider, moved by arrow keys")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not answered(self, KEYS, event):
            super().keyPressEvent(event)

    def move_by(self, pixels: int) -> None:
        """As far as both parts have room."""
        now = self.x() if self.orientation() is Qt.Orientation.Horizontal else self.y()
        self.moveSplitter(now + pixels)


class Splitter(QSplitter):
    def createHandle(self) -> QSplitterHandle:
        return Divider(self.orientation(), self)

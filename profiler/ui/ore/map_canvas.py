"""The ore map as the keyboard goes over it: arrows move the point that is read, Enter takes it as the duty."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget

from profiler.ui.widgets.canvas import Canvas
from profiler.ui.widgets.keys import Deed, Gesture, Key, answered, keyed, spoken

FAR = 10  # lines of the map for a stroke with Shift

WAYS = (("Right", 0, 1), ("Left", 0, -1), ("Up", 1, 0), ("Down", -1, 0))  # rows upward, columns to the right


def _arrows(words: str, held: str, lines: int) -> Key["MapCanvas"]:
    def step(up: int, right: int) -> Deed["MapCanvas"]:
        return lambda canvas: canvas.step(lines * up, lines * right)

    return Key(words, tuple((f"{held}{name}", step(up, right)) for name, up, right in WAYS))


KEYS: tuple[Key["MapCanvas"], ...] = (
    _arrows("Read the next point of the map", "", 1),
    _arrows(f"Read the point {FAR} lines on", "Shift+", FAR),
    keyed("Take the point that is read as the duty", lambda canvas: canvas.take(), "Return", "Enter"),
)
MOUSE = (Gesture("Double-click a point", "Take it as the duty"),)


class MapCanvas(Canvas):
    stepped = Signal(int, int)  # lines upward, lines to the right
    taken = Signal()

    def __init__(self, parent: QWidget | None = None, empty: str = "") -> None:
        super().__init__("Ore map", parent, empty)
        self.setAccessibleDescription(spoken(KEYS))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not answered(self, KEYS, event):
            super().keyPressEvent(event)

    def step(self, up: int, right: int) -> None:
        self.stepped.emit(up, right)

    def take(self) -> None:
        self.taken.emit()

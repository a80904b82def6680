"""The groove strip: one row per groove with the chosen quantity; opened, it widens to the chosen groove's card."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QWheelEvent
from PySide6.QtWidgets import QWidget

from profiler.assess.quantities.table import quantity
from profiler.pictures.basics.display import Picture
from profiler.pictures.basics.state_marks import ENTRY_WORDS
from profiler.pictures.strips import card_strip, groove_strip
from profiler.pictures.strips.scene import Scene
from profiler.ui.strips.base import Strip
from profiler.ui.widgets.keys import Gesture, Key, answered, keyed, spoken
from profiler.ui.widgets.pointer import Pointer
from profiler.ui.widgets.theme import Theme

ROWS_PX, CARD_PX = 224, 400
SCROLL_PX = 48.0  # for one notch of the wheel
PAGE = 0.8  # of the card's height in sight
FAR_PX = 1e9  # beyond any card's end

KEYS: tuple[Key["GrooveStrip"], ...] = (
    Key("Choose the groove above or below", (("Up", lambda s: s.step(1)), ("Down", lambda s: s.step(-1)))),
    keyed("Open the chosen groove's card, or close it", lambda s: s.turn_card(), "Return", "Enter"),
    keyed("Close the card", lambda s: s.close_card(), "Esc"),
    Key(
        "Scroll the card by a page",
        (("PgUp", lambda s: s.scroll_card(-PAGE * s.height())), ("PgDown", lambda s: s.scroll_card(PAGE * s.height()))),
    ),
    Key(
        "Scroll the card to its ends",
        (("Home", lambda s: s.scroll_card(-FAR_PX)), ("End", lambda s: s.scroll_card(FAR_PX))),
    ),
)
MOUSE = (Gesture("Double-click a row", "Open the groove's card; the wheel scrolls it, a double click closes it"),)


class GrooveStrip(Strip):
    card_turned = Signal(bool)
    title = "Grooves"
    description = f"One row per groove: number, state and the chosen quantity. {spoken(KEYS)}"

    def __init__(self, pointer: Pointer, parent: QWidget | None = None) -> None:
        super().__init__(pointer, parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.card_open = False
        self._scrolled = 0.0
        self._card_of: int | None = None
        self.setMinimumWidth(ROWS_PX)
        self.setToolTip(f"A row per groove: number, state, bar and value of the chosen quantity.\n{ENTRY_WORDS}")

    def picture(self, scene: Scene) -> Picture:
        if self.card_open:
            return card_strip.card(scene, self.width(), self.height(), self._scrolled).picture
        return groove_strip.groove_strip(scene, quantity(self.pointer.now.quantity), self.width(), self.height())

    def open_card(self, on: bool) -> None:
        """Widen to the card of the chosen groove, or go back to the rows."""
        if on and self.pointer.now.groove is None and self._grooves():
            self.step(1)
        self.card_open = on
        self._scrolled = 0.0
        self.setMinimumWidth(CARD_PX if on else ROWS_PX)
        self.card_turned.emit(on)
        self.update()

    def show_scene(self, scene: Scene, theme: Theme) -> None:
        if scene.groove != self._card_of:
            self._card_of, self._scrolled = scene.groove, 0.0
        super().show_scene(scene, theme)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        super().mousePressEvent(event)
        if event.button() == Qt.MouseButton.LeftButton and self.scene is not None and not self.card_open:
            self.pointer.point(groove=groove_strip.row_at(self.scene, event.position().y()))

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton and (self.card_open or self.pointer.now.groove is not None):
            self.open_card(not self.card_open)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if not self.card_open:
            super().mouseMoveEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        if self.card_open:
            self.scroll_card(-event.angleDelta().y() / 120.0 * SCROLL_PX)
            event.accept()
        else:
            super().wheelEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not answered(self, KEYS, event):
            super().keyPressEvent(event)

    # what keys do; False where there is nothing to do it to

    def turn_card(self) -> bool:
        if self._grooves():
            self.open_card(not self.card_open)
            return True
        return False

    def close_card(self) -> bool:
        was_open = self.card_open
        if was_open:
            self.open_card(False)
        return was_open

    def scroll_card(self, by: float) -> bool:
        """The card, by so many pixels, no further than its ends."""
        if not self.card_open or self.scene is None:
            return False
        tall = card_strip.card(self.scene, self.width(), self.height()).tall
        self._scrolled = min(max(self._scrolled + by, 0.0), max(tall - self.height(), 0.0))
        self.update()
        return True

    def _middles(self) -> list[float]:
        """Heights of the grooves shown, mm."""
        shape = self.scene.shown.shape if self.scene and self.scene.shown else None
        return [] if shape is None else shape.mouths.middle.tolist()

    def _grooves(self) -> int:
        return len(self._middles())

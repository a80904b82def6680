"""The angle strip: knots are dragged here, the curve is the designer's.

An arrow key moves a knot's height by ten of the field's steps (1 mm) and its angle by one (0.05 degrees); Shift makes
either ten times as much and Ctrl a tenth, so that Ctrl with an arrow gives each single step of the height (0.1 mm).
"""

import itertools
from collections.abc import Callable
from math import hypot

from PySide6.QtCore import QPointF, Qt, Signal
from PySide6.QtGui import QContextMenuEvent, QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QMenu, QWidget

from profiler.pictures.basics.axis import HeightAxis
from profiler.pictures.basics.display import Picture
from profiler.pictures.strips import angle_strip
from profiler.pictures.strips.angle_strip import AngleScale, Handle
from profiler.pictures.strips.scene import Scene
from profiler.study import Knot
from profiler.study.records.design import KNOT_ANGLE, KNOT_HEIGHT
from profiler.ui.strips.base import KEYS as READING
from profiler.ui.strips.base import Strip
from profiler.ui.widgets.keys import SIZES, Gesture, Key, answered, carried_out, keyed, spoken
from profiler.ui.widgets.pointer import Pointer

REACH_PX = 11.0
SLACK_PX = 3.0  # a press that moves less is a click
MARGIN_PX = 12.0

_BY_KEY = QContextMenuEvent.Reason.Keyboard

UP_MM = 10.0 * KNOT_HEIGHT.step  # of an arrow key
RIGHT_DEG = KNOT_ANGLE.step


def _arrows(held: str, times: float) -> tuple[Key["AngleStrip"], ...]:
    """The arrow keys while this key is held down: heights and angles by so many times the usual."""
    up, right, fine = UP_MM * times, RIGHT_DEG * times, times < 1.0

    def move(up_mm: float, right_deg: float) -> Callable[["AngleStrip"], bool]:
        return lambda strip: strip.nudge(up_mm, right_deg, fine)

    return (
        Key(
            f"Move the chosen knot by {up:g} mm",
            ((f"{held}Up", move(up, 0.0)), (f"{held}Down", move(-up, 0.0))),
        ),
        Key(
            f"Turn the chosen knot by {right:g}°",
            ((f"{held}Left", move(0.0, -right)), (f"{held}Right", move(0.0, right))),
        ),
    )


KEYS: tuple[Key["AngleStrip"], ...] = (
    Key(
        "Go from knot to knot, then leave the strip",
        (("Tab", lambda s: s.walk(1)), ("Shift+Tab", lambda s: s.walk(-1))),
    ),
    *(row for held, times in SIZES for row in _arrows(held, times)),
    keyed("Add a knot in the widest gap", lambda s: s.add_in_widest_gap(), "Ins"),
    keyed("Delete the chosen knot", lambda s: s.delete_chosen(), "Del", "Backspace"),
    keyed("Take a drag back", lambda s: s.let_go(keep=False), "Esc"),
    *READING,
)
MOUSE = (
    Gesture("Drag a knot", "Move it; Shift keeps to one axis, Ctrl moves by tenths of a step, Esc takes it back"),
    Gesture("Double-click", "Add a knot"),
    Gesture("Right button", "Add, delete, corner or one angle"),
)


class AngleStrip(Strip):
    """Proposes; the page decides. Heights in mm, angles in degrees."""

    title = "Wall angle"
    description = f"Wall angle against height with the repose band. {spoken(KEYS)}"
    drag_began = Signal(int, bool)
    dragged = Signal(int, object, object, bool)  # knot, height or None, angle or None, leaving
    drag_ended = Signal(bool)  # whether to keep it
    add_wanted = Signal(float, float)
    delete_wanted = Signal(int)
    corner_wanted = Signal(int)
    nudged = Signal(int, float, float, bool, bool)  # knot, up mm, right degrees, leaving, fine

    def __init__(self, pointer: Pointer, parent: QWidget | None = None) -> None:
        super().__init__(pointer, parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._scale = AngleScale(-5.0, 35.0, MARGIN_PX, 200.0)
        self._held: Handle | None = None
        self._press = QPointF()
        self._grip = QPointF()
        self._moving = False

    def spoken_choice(self, scene: Scene) -> str:
        knots = scene.design.wall.knots
        if scene.knot is None or not 0 <= scene.knot < len(knots):
            return ""
        knot = knots[scene.knot]
        leaving = "" if knot.leaving_deg is None else f", leaving at {knot.leaving_deg:g}°"
        return f"knot {scene.knot + 1} of {len(knots)}, {knot.height_mm:g} mm, {knot.angle_deg:g}°{leaving}"

    def picture(self, scene: Scene) -> Picture:
        return angle_strip.angle_strip(scene, self.scale(), self.width(), self.height())

    def tip_at(self, x: float, y: float) -> str:
        return "" if self.scene is None else angle_strip.tip_at(self.picture(self.scene), x, y)

    def present_part(self, scene: Scene) -> Picture | None:
        return angle_strip.present_part(scene, self.scale(), self.width(), self.height())

    def scale(self) -> AngleScale:
        """The angle scale; it keeps still while a knot is held."""
        if self.scene is not None and self._held is None:
            low, high = angle_strip.angle_range(self.scene)
            self._scale = AngleScale(low, high, MARGIN_PX, self.width() - MARGIN_PX)
        return self._scale

    def handle_at(self, at: QPointF) -> Handle | None:
        if self.scene is None:
            return None
        found = angle_strip.handles(self.scene, self.scale())
        now = (self.pointer.now.knot, self.pointer.now.leaving)  # of two on one spot the chosen one

        def far(h: Handle) -> tuple[float, bool]:
            return hypot(h.x - at.x(), h.y - at.y()), (h.knot, h.leaving) != now

        near = min(found, key=far, default=None)
        return near if near is not None and hypot(near.x - at.x(), near.y - at.y()) <= REACH_PX else None

    def mousePressEvent(self, event: QMouseEvent) -> None:
        super().mousePressEvent(event)
        if event.button() != Qt.MouseButton.LeftButton:
            return
        handle = self.handle_at(event.position())
        self.pointer.point(knot=None if handle is None else handle.knot, leaving=handle is not None and handle.leaving)
        if handle is not None:
            self._held, self._moving = handle, False
            self._press = event.position()
            self._grip = event.position() - QPointF(handle.x, handle.y)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._held is None:
            super().mouseMoveEvent(event)
            over = self.handle_at(event.position()) is not None
            self.setCursor(Qt.CursorShape.OpenHandCursor if over else Qt.CursorShape.CrossCursor)
            return
        self._drag(self._held, event)
        super().mouseMoveEvent(event)  # the crosshair follows the edit: one repaint for both

    def _drag(self, held: Handle, event: QMouseEvent) -> None:
        away = event.position() - self._press
        if not self._moving and hypot(away.x(), away.y()) < SLACK_PX:
            return
        if not self._moving:
            self._moving = True
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
            self.drag_began.emit(held.knot, held.leaving)
        if self.scene is not None:
            self._drag_to(held, self.scene.axis, event.position() - self._grip, away, event.modifiers())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        super().mouseReleaseEvent(event)
        if event.button() == Qt.MouseButton.LeftButton:
            self.let_go(keep=True)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton and self.handle_at(event.position()) is None and self.scene:
            self.let_go(keep=True)
            height = self.scene.axis.height(event.position().y())
            self.add_wanted.emit(KNOT_HEIGHT.snapped(height), self.scale().angle(event.position().x()))

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        if self.scene is None:
            return
        handle = self._chosen_handle() if event.reason() is _BY_KEY else self.handle_at(QPointF(event.pos()))
        menu = QMenu(self)
        if handle is None:
            height = KNOT_HEIGHT.snapped(self.scene.axis.height(event.pos().y()))
            angle = self.scale().angle(event.pos().x())
            words = self.scene.lengths.told(f"Add a knot at {height:g} mm")
            menu.addAction(words, lambda: self.add_wanted.emit(height, angle))
        else:
            self.pointer.point(knot=handle.knot, leaving=handle.leaving)
            corner = self.scene.design.wall.knots[handle.knot].is_corner
            word = "Make it one angle again" if corner else "Make it a corner"
            menu.addAction(word, lambda: self.corner_wanted.emit(handle.knot))
            menu.addAction("Delete this knot", lambda: self.delete_wanted.emit(handle.knot))
        menu.popup(event.globalPos())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not answered(self, KEYS, event):
            super().keyPressEvent(event)

    def focusNextPrevChild(self, forward: bool) -> bool:
        """Tab comes this way and no other."""
        return carried_out(self, KEYS, "Tab" if forward else "Shift+Tab") or super().focusNextPrevChild(forward)

    # what keys do; False where there is nothing to do it to

    def walk(self, step: int) -> bool:
        """Choose the next handle from the floor up, or the one before; False past the last."""
        if self.scene is None:
            return False
        order = [(h.knot, h.leaving) for h in angle_strip.handles(self.scene, self.scale())]
        now = (self.pointer.now.knot, self.pointer.now.leaving)
        place = order.index(now) if now in order else (-1 if step > 0 else len(order))
        place += step
        if not 0 <= place < len(order):
            return False
        self.pointer.point(knot=order[place][0], leaving=order[place][1])
        return True

    def nudge(self, up_mm: float, right_deg: float, fine: bool) -> bool:
        knot = self._chosen()
        if knot is not None:
            self.nudged.emit(knot, up_mm, right_deg, self.pointer.now.leaving, fine)
        return knot is not None

    def add_in_widest_gap(self) -> bool:
        if self.scene is not None:
            self.add_wanted.emit(*self.widest_gap(self.scene.design.wall.knots))
        return self.scene is not None

    def delete_chosen(self) -> bool:
        knot = self._chosen()
        if knot is not None:
            self.delete_wanted.emit(knot)
        return knot is not None

    def let_go(self, keep: bool) -> bool:
        """End a drag; False where none is under way."""
        moving, self._moving, self._held = self._moving, False, None
        self.setCursor(Qt.CursorShape.CrossCursor)
        if moving:
            self.drag_ended.emit(keep)
        return moving

    def _chosen(self) -> int | None:
        knot = self.pointer.now.knot
        return knot if knot is not None and self.scene and knot < len(self.scene.design.wall.knots) else None

    def _chosen_handle(self) -> Handle | None:
        now = self.pointer.now.knot, self.pointer.now.leaving
        found = () if self.scene is None else angle_strip.handles(self.scene, self.scale())
        return next((handle for handle in found if (handle.knot, handle.leaving) == now), None)

    def _drag_to(
        self, held: Handle, axis: HeightAxis, at: QPointF, away: QPointF, modifiers: Qt.KeyboardModifier
    ) -> None:
        fine = bool(modifiers & Qt.KeyboardModifier.ControlModifier)
        height: float | None = KNOT_HEIGHT.snapped(axis.height(at.y()), fine)
        angle: float | None = KNOT_ANGLE.nearest(self._scale.angle(at.x()), fine)
        if modifiers & Qt.KeyboardModifier.ShiftModifier:
            if abs(away.x()) >= abs(away.y()):
                height = None
            else:
                angle = None
        self.dragged.emit(held.knot, height, angle, held.leaving)

    @staticmethod
    def widest_gap(knots: tuple[Knot, ...]) -> tuple[float, float]:
        below, above = max(itertools.pairwise(knots), key=lambda p: p[1].height_mm - p[0].height_mm)
        return round(0.5 * (below.height_mm + above.height_mm), 1), 0.5 * (below.leaving + above.angle_deg)

"""Walks over every page, pane and dialog: each control has a name, and the keyboard is seen wherever Tab takes it."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import chain

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QAccessible, QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QAbstractScrollArea,
    QAbstractSlider,
    QApplication,
    QComboBox,
    QLabel,
    QLineEdit,
    QMenuBar,
    QPlainTextEdit,
    QPushButton,
    QScrollBar,
    QStyle,
    QStyleOptionComboBox,
    QTabBar,
    QTabWidget,
    QTextEdit,
    QWidget,
)

from profiler.pictures.basics.display import FloatArray
from profiler.ui.drawing.drawing_layout import Heading
from profiler.ui.page_stack import SHAPE
from profiler.ui.strips.base import Strip
from profiler.ui.widgets.canvas import Canvas
from profiler.ui.widgets.focus import THICK_PX, FocusFrame
from profiler.ui.window import Window
from tests.pictures.sight import MARK
from tests.ui.everywhere import dialogs, one_window, views
from tests.ui.window.test_layout import cut, everything, name, outside, overlapping

pytestmark = pytest.mark.qt_log_ignore("This plugin does not support")  # raising a window without a screen
CONTROLS = (
    QAbstractButton, QLineEdit, QComboBox, QAbstractItemView, QAbstractSlider, QTextEdit, QPlainTextEdit, QTabBar,
    QTabWidget, QMenuBar,
    Canvas, Strip,
)  # fmt: skip
MOST_STOPS = 90  # of Tab on one page


@pytest.fixture(scope="module")
def window(qapp: QApplication, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Window]:
    with one_window(tmp_path_factory.mktemp("everywhere")) as made:
        yield made


def controls(root: QWidget) -> list[QWidget]:
    """What takes the mouse or the keyboard there, but for the inner parts of Qt's own widgets."""
    found = [w for w in root.findChildren(QWidget) if w.isVisible() and not w.objectName().startswith("qt_")]
    taking = [w for w in found if isinstance(w, CONTROLS) or w.focusPolicy() & Qt.FocusPolicy.TabFocus]
    parts = [w for w in taking if isinstance(w, QScrollBar) or isinstance(w.parent(), QAbstractItemView | QComboBox)]
    return [w for w in taking if w not in parts]


def told(widget: QWidget, what: QAccessible.Text) -> str:
    return QAccessible.queryAccessibleInterface(widget).text(what)


def nameless(widget: QWidget) -> bool:
    """By Qt's own interface; there the name of a list is what is chosen in it, so its own is its description."""
    if isinstance(widget, QComboBox):
        return not widget.accessibleName() or widget.accessibleName() not in told(widget, QAccessible.Text.Description)
    if isinstance(widget, QTabBar) and isinstance(widget.parent(), QTabWidget):
        return nameless(widget.parentWidget())
    return not told(widget, QAccessible.Text.Name).strip()


def brightness(window: QWidget, rect: QRect) -> FloatArray:
    """Relative luminance of each pixel, by the formula of WCAG 2.2."""
    image = window.grab(rect).toImage().convertToFormat(QImage.Format.Format_RGB32)
    rows = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), image.bytesPerLine() // 4, 4)
    c = rows[:, : image.width(), 2::-1].astype(float) / 255.0
    linear = np.where(c <= 0.04045, c / 12.92, ((c + 0.055) / 1.055) ** 2.4)
    return np.asarray(linear @ np.array([0.2126, 0.7152, 0.0722]))


def frame_of(widget: QWidget) -> FocusFrame | None:
    frames = widget.window().findChildren(FocusFrame)
    return next((f for f in frames if f.watched is widget and f.isVisible() and f.width() > THICK_PX), None)


def framed_share(widget: QWidget) -> float:
    """Pixels that the keyboard's frame turns by 3:1 or more, over the length of the widget's edge in sight."""
    window, frame = widget.window(), frame_of(widget)
    if frame is None:
        return 0.0
    at = QRect(frame.mapTo(window, QPoint(0, 0)), frame.size()) & window.rect()
    visible = frame.visibleRegion().boundingRect()
    with_it = brightness(window, at)
    frame.hide()
    without = brightness(window, at)
    frame.show()
    ratio = (np.maximum(with_it, without) + 0.05) / (np.minimum(with_it, without) + 0.05)
    return float((ratio >= MARK).sum()) / max(2 * (visible.width() + visible.height()), 1)


def stops_of(root: QWidget) -> Iterator[QWidget]:
    """Whatever Tab leads to in this part of a window, once each."""
    seen: list[QWidget] = []
    start = next((w for w in controls(root) if w.isEnabled() and w.focusPolicy() & Qt.FocusPolicy.TabFocus), None)
    if start is None:
        return
    start.setFocus(Qt.FocusReason.TabFocusReason)
    for _ in range(MOST_STOPS):
        now = QApplication.focusWidget()
        if now is None or (now in seen and not isinstance(now, Strip)):  # a strip walks its knots first
            return
        if root.isAncestorOf(now) and now not in seen:
            yield now
        seen.append(now)
        QTest.keyClick(now, Qt.Key.Key_Tab)


@dataclass
class Walked:
    """What one walk over all of it has found: a line for each thing that is wrong, and how many were looked at."""

    nameless: list[str] = field(default_factory=list)
    unseen: list[str] = field(default_factory=list)
    kept: list[str] = field(default_factory=list)
    stuck: list[str] = field(default_factory=list)
    controls: int = 0
    stops: int = 0
    kinds: set[object] = field(default_factory=set)

    def look(self, title: str, root: QWidget) -> None:
        here = controls(root)
        self.controls += len(here)
        self.nameless += [f"{title}: {type(w).__name__} in {type(w.parent()).__name__}" for w in here if nameless(w)]
        tables = [view for view in root.findChildren(QAbstractItemView) if view.tabKeyNavigation()]
        self.kept += [f"{title}: {table.accessibleName()}" for table in tables]
        for area in root.findChildren(QAbstractScrollArea):
            inside = any(w.focusPolicy() & Qt.FocusPolicy.TabFocus for w in controls(area))
            scrolls = area.isVisible() and area.verticalScrollBar().maximum() > 0
            if scrolls and not inside and not area.focusPolicy() & Qt.FocusPolicy.TabFocus:
                self.stuck.append(f"{title}: {type(area).__name__} {area.accessibleName()}")
        root.window().activateWindow()
        for widget in stops_of(root):
            self.stops += 1
            self._stop_at(title, widget)

    def _stop_at(self, title: str, widget: QWidget) -> None:
        """Each kind of control is looked at once, everything else asked whether the frame is there."""
        kind = (type(widget), widget.objectName())
        share = 1.0 if kind in self.kinds and frame_of(widget) is not None else framed_share(widget)
        self.kinds.add(kind)
        if share < 0.8:
            self.unseen.append(f"{title}: {type(widget).__name__} {widget.accessibleName()!r} {share:.2f}")


@pytest.fixture(scope="module")
def walked(window: Window) -> Walked:
    found = Walked()
    for title, root in chain(views(window), dialogs(window)):
        found.look(title, root)
    return found


def test_every_control_of_every_page_pane_and_dialog_has_a_name(walked: Walked) -> None:
    assert walked.controls > 350 and walked.nameless == []


def test_the_keyboard_is_seen_wherever_tab_takes_it(walked: Walked) -> None:
    """That the frame's colour is seen on every ground, in both palettes, is held by `test_sight`."""
    assert walked.stops > 200 and len(walked.kinds) > 25 and walked.unseen == []


def test_tab_leaves_every_table_and_every_scrolled_pane_can_be_scrolled_by_keys(walked: Walked) -> None:
    assert walked.kept == [] and walked.stuck == []


def test_the_frame_follows_what_it_is_round_and_takes_no_mouse(window: Window) -> None:
    window.activateWindow()
    window.pages.open(SHAPE)
    box = window.page.quantity
    box.setFocus()
    QApplication.processEvents()
    frame = frame_of(box)
    assert frame is not None
    assert frame.testAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
    before = frame.x()
    window.resize(1500, 720)
    for _ in range(3):
        QApplication.processEvents()
    assert frame.x() > before and frame.geometry().contains(box.geometry().adjusted(0, 0, -1, -1))
    window.resize(1280, 720)
    window.page.angle.setFocus()
    QApplication.processEvents()
    assert not frame.isVisible()


def short_of_room(widget: QWidget) -> bool:
    """A button or list whose words are wider than it is; a list of names may be, and shows them in its tooltip."""
    if isinstance(widget, QComboBox):
        words = widget.currentText()
        room = (
            widget.style()
            .subControlRect(
                QStyle.ComplexControl.CC_ComboBox, combo_option(widget), QStyle.SubControl.SC_ComboBoxEditField, widget
            )
            .width()
        )
        return widget.fontMetrics().horizontalAdvance(words) > room and not widget.toolTip()
    return isinstance(widget, QPushButton) and widget.width() < widget.sizeHint().width()


def combo_option(combo: QComboBox) -> QStyleOptionComboBox:
    option = QStyleOptionComboBox()
    combo.initStyleOption(option)
    return option


@pytest.mark.parametrize("size", ((1024, 600), (1366, 615)), ids=lambda s: f"{s[0]}x{s[1]}")
def test_on_no_page_is_anything_cut_or_laid_over_its_neighbour(window: Window, size: tuple[int, int]) -> None:
    """The least the window is made for, and a broad low one."""
    window.resize(*size)
    found = []
    for title, root in views(window):
        for _ in range(3):
            QApplication.processEvents()
        parts = everything(root)
        found += [f"{title}, outside: {line}" for line in outside(root)]
        found += [f"{title}, over: {line}" for line in overlapping(root)]
        labels = [w for w in parts if isinstance(w, QLabel) and not w.wordWrap() and w.text() and not w.pixmap()]
        plain = [w for w in labels if w.textFormat() is Qt.TextFormat.PlainText and not isinstance(w, Heading)]
        found += [f"{title}, cut: {name(w)}" for w in plain if cut(w)]
        found += [f"{title}, short: {name(w)}" for w in parts if short_of_room(w)]
        if (window.width(), window.height()) != size:
            found.append(f"{title} makes the window {window.width()}x{window.height()}")
    window.resize(1280, 720)
    assert found == []

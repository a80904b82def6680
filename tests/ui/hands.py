"""A designer's hands in tests: a real window, real mouse and keys; what came of it is asked of the document."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QAction, QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from profiler.assess import Evaluation
from profiler.pictures.strips import angle_strip
from profiler.study import Design, Duty, Knot, Study
from profiler.study.files import examples
from profiler.ui.actions import ACTIONS
from profiler.ui.dialogs import dialogs
from profiler.ui.document.document import REST_MS, Document
from profiler.ui.files.settings import Settings
from profiler.ui.forms.group import Group
from profiler.ui.forms.pane import FormsPane
from profiler.ui.menus import finish_typing
from profiler.ui.page_stack import MACHINE, ORE, SHAPE
from profiler.ui.shape.forms_page import FormsPage
from profiler.ui.strips.angle import AngleStrip
from profiler.ui.widgets.theme import LIGHT, dress
from profiler.ui.window import Window

NONE, SHIFT, CTRL = (
    Qt.KeyboardModifier.NoModifier,
    Qt.KeyboardModifier.ShiftModifier,
    Qt.KeyboardModifier.ControlModifier,
)
LEFT = Qt.MouseButton.LeftButton
FORMS = {
    MACHINE: ("Machine", "Body", "Spinning"),
    ORE: ("Slurry and duty",),
    SHAPE: ("Wall curve", "Grooves", "Water holes and catch"),
}


class Hands:
    """One window on one study. Heights in mm, angles in degrees, distances on the screen in pixels."""

    def __init__(
        self, qtbot: QtBot, folder: Path, patch: pytest.MonkeyPatch, study: Study | None = None, size=(1280, 720)
    ) -> None:
        self.answers = Answers(patch)
        self.folder = folder
        app = QApplication.instance()
        assert isinstance(app, QApplication)
        if app.palette().window().color().name() != LIGHT.window:
            dress(app, LIGHT)
        settings = Settings.in_file(folder / "settings.ini")
        self.qtbot = qtbot
        self.document = Document(study or examples.read(examples.DEFAULT))
        self.window = Window(self.document, settings)
        qtbot.addWidget(self.window, before_close_func=leave)
        self.window.resize(*size)
        self.window.show()
        qtbot.waitExposed(self.window)
        self.window.activateWindow()
        self.settle()

    # what there is

    @property
    def page(self):
        return self.window.page

    @property
    def angle(self) -> AngleStrip:
        return self.page.angle

    @property
    def study(self) -> Study:
        return self.document.study

    @property
    def design(self) -> Design:
        return self.document.design

    @property
    def duty(self) -> Duty:
        return self.document.duty

    @property
    def knots(self) -> tuple[Knot, ...]:
        return self.design.wall.knots

    @property
    def evaluation(self) -> Evaluation:
        return self.document.evaluation

    @property
    def steps(self) -> int:
        """How many things can be undone."""
        return self.document.undo_stack.index()

    @property
    def said(self) -> str:
        """What the program says, in the line under every page; nothing where that is not seen."""
        return self.window.message.text.text() if self.window.message.text.isVisible() else ""

    @property
    def worst(self) -> str:
        """The worst finding, in the line above."""
        return self.page.findings.text.text()

    def handle(self, knot: int, leaving: bool = False) -> QPoint:
        """Where a knot's handle is drawn."""
        found = angle_strip.handles(self.angle.scene, self.angle.scale())
        at = next(h for h in found if (h.knot, h.leaving) == (knot, leaving))
        return QPoint(round(at.x), round(at.y))

    def place(self, height_mm: float, angle_deg: float) -> QPoint:
        """Where a height and an angle lie in the angle strip."""
        return QPoint(round(self.angle.scale().x(angle_deg)), round(self.page.pointer.now.axis.y(height_mm)))

    # what hands do

    def settle(self) -> None:
        """Let happen what waits for the next turn of the event loop: the evaluation in sight, and its pictures."""
        for _ in range(2):
            QApplication.processEvents()

    def rest(self) -> None:
        """Let happen what waits for a quiet moment too: the stages out of sight."""
        self.settle()
        self.document.flush()
        self.settle()

    def hold_still(self) -> None:
        """Keep the mouse where it is until words and numbers have caught up with a drag."""
        QTest.qWait(2 * REST_MS)

    def press(self, widget: QWidget, at: QPoint, modifiers: Qt.KeyboardModifier = NONE) -> None:
        QTest.mousePress(widget, LEFT, modifiers, at)

    def move(self, widget: QWidget, at: QPoint, modifiers: Qt.KeyboardModifier = NONE, held: bool = True) -> None:
        """One mouse move; Qt's own helper knows no keys held meanwhile."""
        buttons = LEFT if held else Qt.MouseButton.NoButton
        place = QPointF(at), QPointF(widget.mapToGlobal(at))
        event = QMouseEvent(QEvent.Type.MouseMove, *place, Qt.MouseButton.NoButton, buttons, modifiers)
        QApplication.sendEvent(widget, event)

    def release(self, widget: QWidget, at: QPoint, modifiers: Qt.KeyboardModifier = NONE) -> None:
        QTest.mouseRelease(widget, LEFT, modifiers, at)
        self.settle()

    def drag(self, widget: QWidget, start: QPoint, end: QPoint, modifiers: Qt.KeyboardModifier = NONE) -> None:
        """Press, a few moves, release."""
        with self.dragging(widget, start, end, modifiers):
            pass

    @contextmanager
    def dragging(
        self, widget: QWidget, start: QPoint, end: QPoint, modifiers: Qt.KeyboardModifier = NONE
    ) -> Iterator[None]:
        """The same, with the button still held inside the block."""
        self.press(widget, start, modifiers)
        for i in range(1, 5):
            self.move(widget, start + (end - start) * i / 4, modifiers)
            QApplication.processEvents()
        yield
        self.release(widget, end, modifiers)

    def drag_knot(self, knot: int, end: QPoint, modifiers: Qt.KeyboardModifier = NONE, leaving: bool = False) -> None:
        self.drag(self.angle, self.handle(knot, leaving), end, modifiers)

    def choose_knot(self, knot: int, leaving: bool = False) -> None:
        """A click on its handle."""
        at = self.handle(knot, leaving)
        self.press(self.angle, at)
        self.release(self.angle, at)

    def click(self, widget: QWidget, at: QPoint | None = None) -> None:
        QTest.mouseClick(widget, LEFT, NONE, at or widget.rect().center())
        self.settle()

    def double_click(self, widget: QWidget, at: QPoint) -> None:
        self.press(widget, at)
        QTest.mouseRelease(widget, LEFT, NONE, at)
        QTest.mouseDClick(widget, LEFT, NONE, at)
        self.settle()

    def hover(self, widget: QWidget, at: QPoint) -> None:
        self.move(widget, at, held=False)
        self.settle()

    def key(self, widget: QWidget, key: Qt.Key, modifiers: Qt.KeyboardModifier = NONE) -> None:
        QTest.keyClick(widget, key, modifiers)
        self.settle()

    def type_into(self, box: QLineEdit, text: str, then: Qt.Key | None = Qt.Key.Key_Return) -> None:
        """Replace what the box shows."""
        box.setFocus()
        write(box, text)
        if then is not None:
            QTest.keyClick(box, then)
        self.settle()

    def do(self, words: str) -> None:
        """Choose an entry of the menus, by its words."""
        self.action(words).trigger()
        self.settle()

    def action(self, words: str) -> QAction:
        return self.window.menus.actions[next(a.id for a in ACTIONS if a.words.replace("&", "") == words)]

    def forms_with(self, title: str) -> FormsPane:
        """Turn to the page on which this group of forms stands, as a person does by its button."""
        entry = next(entry for entry, groups in FORMS.items() if title in groups)
        self.click(next(b for b in self.window.pages.tabs.findChildren(QPushButton) if b.text() == entry.title))
        page = self.window.pages.open(entry)
        panes = page.forms if isinstance(page, FormsPage) else (page.forms,)
        return next(pane for pane in panes if title in {group.title for group in pane.groups})

    def open_form(self, title: str) -> Group:
        """Turn to the page of this group of forms, and open it there."""
        pane = self.forms_with(title)
        group = next(group for group in pane.groups if group.title == title)
        pane.open(group)
        self.settle()
        return group

    def undo(self) -> None:
        self.do("Undo")

    def redo(self) -> None:
        self.do("Redo")


def leave(window: Window) -> None:
    """Before the window is taken down: what is still being typed counts as done, so that nothing is asked."""
    finish_typing()
    window.document.flush()
    window.document.adopt(window.document.study)


def write(box: QLineEdit, text: str) -> None:
    """Replace what the box shows, key by key; what is on no key is pasted."""
    box.selectAll()
    QTest.keyClick(box, Qt.Key.Key_Delete)
    if text.isascii():
        QTest.keyClicks(box, text)
    else:
        QApplication.clipboard().setText(text)
        box.paste()


class Answers:
    """Answers the window's questions instead of a person, and keeps what it told."""

    def __init__(self, patch: pytest.MonkeyPatch) -> None:
        self._patch = patch
        self.told: list[str] = []
        self.asked: list[str] = []
        self.noted: list[str] = []
        patch.setattr(dialogs, "tell_note", lambda parent, title, sentence: self.noted.append(sentence))
        patch.setattr(dialogs, "tell_error", lambda parent, title, sentence: self.told.append(sentence))
        questions = ("ask_unsaved", "ask_open", "ask_save", "ask_export", "ask_replace", "ask_output", "ask_folder")
        for name in (
            *questions,
            "ask_shrink",
            "ask_table",
            "ask_drawing",
            "ask_profile",
            "ask_new_study",
            "tell_about",
        ):
            patch.setattr(dialogs, name, self._unexpected(name))

    def answer(self, name: str, value: object) -> None:
        """Answer this question with this value from now on."""

        def answered(*_: object) -> object:
            self.asked.append(name)
            return value

        self._patch.setattr(dialogs, name, answered)

    @staticmethod
    def _unexpected(name: str):
        def asked(*arguments: object) -> None:
            raise AssertionError(f"{name} was asked and would wait for an answer: {arguments}")

        return asked

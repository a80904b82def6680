"""The window's actions as one table: menu, words, keys, what they do. Menus and the shortcut sheet are made from it."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QApplication, QLineEdit, QMenu

from profiler.ui.help.help_window import KEYS
from profiler.ui.widgets.number_box import NumberBox

if TYPE_CHECKING:
    from profiler.ui.window import Window


@dataclass(frozen=True, slots=True)
class Entry:
    menu: str
    words: str
    keys: str
    do: Callable[["Window"], object]
    tip: str = ""
    checkable: bool = False


ENTRIES: tuple[Entry, ...] = (
    Entry("&File", "&New study", "Ctrl+N", lambda w: w.new(), "Start from a plain cone on the same machine"),
    Entry("&File", "&Open…", "Ctrl+O", lambda w: w.open()),
    Entry("&File", "&Recent files", "", lambda w: None),
    Entry("&File", "&Save", "Ctrl+S", lambda w: w.save()),
    Entry("&File", "Save &as…", "Ctrl+Shift+S", lambda w: w.save_as()),
    Entry("&File", "Save a &copy…", "", lambda w: w.filing.save_copy(), "Elsewhere; the window stays with its file"),
    Entry("&File", "&Export section…", "Ctrl+Shift+E", lambda w: w.export(), "The section as DXF for the shop"),
    Entry("&File", "&Drawings and tables…", "Ctrl+Shift+D", lambda w: w.pages.open("Drawing"), "See, write, copy"),
    Entry("&File", "&Print…", "Ctrl+P", lambda w: w.print(), "What the Drawing page shows, at true scale"),
    Entry("&File", "&Close", "Ctrl+Q", lambda w: w.close()),
    Entry("&Curve", "&Add a knot", "", lambda w: w.add_knot(), "In the widest gap, or at the crosshair"),
    Entry("&Curve", "&Delete the chosen knot", "", lambda w: w.page.delete_knot(w.page.pointer.now.knot)),
    Entry("&Curve", "&Corner or one angle", "C", lambda w: w.page.toggle_corner(w.page.pointer.now.knot)),
    Entry("&Curve", "&Keep the present curve as a ghost", "K", lambda w: w.page.toggle_ghost(), checkable=True),
    Entry("&View", "&Fit the bowl", "Ctrl+0", lambda w: w.page.fit_again()),
    Entry("&View", "Zoom &in", "Ctrl++", lambda w: w.zoom(1.25)),
    Entry("&View", "Zoom &out", "Ctrl+-", lambda w: w.zoom(0.8)),
    Entry("&View", "Fo&rms", "F9", lambda w: w.page.unfold.click()),
    Entry("&View", "All f&indings", "F8", lambda w: w.page.findings.count.toggle()),
    Entry("&View", "Next p&art of the window", "F6", lambda w: w.page.next_part()),
    Entry("&View", "P&revious part of the window", "Shift+F6", lambda w: w.page.next_part(False)),
    Entry("&View", "Next pa&ge", "Ctrl+PgDown", lambda w: w.pages.next_page()),
    Entry("&View", "Previous &page", "Ctrl+PgUp", lambda w: w.pages.next_page(-1)),
    Entry("&View", "Lengths in in&ches", "", lambda w: w.toggle_inches(), checkable=True),
    Entry("&View", "&Dark colours", "", lambda w: w.toggle_dark(), checkable=True),
    Entry("&Study", "&Lessons", "", lambda w: w.lessons(), "Six short lessons, each on a study of its own"),
    Entry("&Study", "&Ask backwards", "Ctrl+B", lambda w: w.ask_backwards(), "Which value makes a number what I want?"),
    Entry("&Study", "Size &classes…", "", lambda w: w.size_classes(), "The shown duty's feed by sieve, or one d50"),
    Entry("&Help", "&Help", "F1", lambda w: w.help()),
    Entry("&Help", "&Keys and mouse", "", lambda w: w.help(KEYS)),
    Entry("&Help", "&About and cautions", "", lambda w: w.about()),
)  # fmt: skip


def finish_typing() -> None:
    """Take what is being typed, as leaving its box would: what is saved or drawn is what is seen."""
    focused = QApplication.focusWidget()
    if isinstance(focused, QLineEdit):
        focused.clearFocus()
        if isinstance(focused, NumberBox):
            focused.setFocus()


def build(window: "Window") -> dict[str, QAction]:
    """Fill the menu bar; the actions by their words without mnemonics."""
    made: dict[str, QAction] = {}
    menus: dict[str, QMenu] = {}
    for entry in ENTRIES:
        menu = menus.get(entry.menu)
        if menu is None:
            menu = menus[entry.menu] = window.menuBar().addMenu(entry.menu)
            if entry.menu == "&File":
                menus["&Edit"] = window.menuBar().addMenu("&Edit")
        action = QAction(entry.words, window)
        if entry.keys:
            action.setShortcut(QKeySequence(entry.keys))
        if entry.tip:
            action.setToolTip(entry.tip)
            action.setStatusTip(entry.tip)
        action.setCheckable(entry.checkable)
        action.triggered.connect(lambda _=False, do=entry.do: _carry_out(window, do))
        menu.addAction(action)
        made[entry.words.replace("&", "")] = action
    undo = window.document.undo_stack.createUndoAction(window, "Undo")
    undo.setShortcut(QKeySequence(QKeySequence.StandardKey.Undo))
    redo = window.document.undo_stack.createRedoAction(window, "Redo")
    redo.setShortcuts([QKeySequence("Ctrl+Y"), QKeySequence("Ctrl+Shift+Z")])
    stack, held = window.document.undo_stack, window.document.gesture_changed
    held.connect(lambda on: undo.setEnabled(not on and stack.canUndo()))  # what is held is let go first
    held.connect(lambda on: redo.setEnabled(not on and stack.canRedo()))
    menus["&Edit"].addAction(undo)
    menus["&Edit"].addAction(redo)
    return made | {"Undo": undo, "Redo": redo}


def _carry_out(window: "Window", do: Callable[["Window"], object]) -> None:
    finish_typing()
    do(window)

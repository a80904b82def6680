"""The menu bar, made from the table of actions; ticks and what is possible follow by asking the table's getters."""

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QApplication, QLineEdit, QMenu, QMenuBar

from profiler.ui.actions import ACTIONS, Action, Host
from profiler.ui.widgets.keys import with_keys
from profiler.ui.widgets.labels import menu_words


def finish_typing() -> None:
    """Take what is being typed, as leaving its box would: what is saved or drawn is what is seen."""
    focused = QApplication.focusWidget()
    if isinstance(focused, QLineEdit):
        focused.clearFocus()
        if focused.isVisible():  # a name typed over a list goes when it is left
            focused.setFocus()


class Menus(QObject):
    """Owned by the menu bar. `actions` by their ids."""

    begun = Signal()  # an action is about to be carried out

    def __init__(self, bar: QMenuBar, host: Host) -> None:
        super().__init__(bar)
        self._host = host
        self.actions: dict[str, QAction] = {}
        menus: dict[str, QMenu] = {}
        for action in ACTIONS:
            menu = menus.get(action.menu)
            if menu is None:
                menu = menus[action.menu] = bar.addMenu(action.menu)
                menu.aboutToShow.connect(self.refresh)
            made = self.actions[action.id] = self._made(action)
            menu.addAction(made)
        document = host.document
        for news in (document.gesture_changed, document.undo_stack.indexChanged):
            news.connect(self.refresh)
        host.page.ghost_changed.connect(self.refresh)
        host.pages.currentChanged.connect(self.refresh)
        self.refresh()

    def refresh(self, _: object = None) -> None:
        """What is ticked, possible and said, asked anew."""
        for action in ACTIONS:
            made = self.actions[action.id]
            if action.ticked is not None:
                made.setChecked(action.ticked(self._host))
            if action.enabled is not None:
                made.setEnabled(action.enabled(self._host))
            if action.more is not None:
                more = self._host.pages.lengths.told(action.more(self._host))
                made.setText(f"{action.words} {menu_words(more)}".strip())

    def _made(self, action: Action) -> QAction:
        made = QAction(action.words, self)
        made.setShortcuts([QKeySequence(stroke) for stroke in action.keys])
        made.setToolTip(tip_of(action))
        made.setStatusTip(action.tip)
        made.setCheckable(action.ticked is not None)
        made.triggered.connect(lambda: self._carry_out(action))
        return made

    def _carry_out(self, action: Action) -> None:
        self.begun.emit()
        finish_typing()
        if action.do is not None:
            action.do(self._host)
        self.refresh()


def tip_of(action: Action) -> str:
    """For a button that does the same, too."""
    return with_keys(action.tip or action.plain, action.keys)

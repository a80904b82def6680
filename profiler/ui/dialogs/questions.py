"""The questions asked where work could be lost, each a function that returns a choice: tests can answer them."""

from collections.abc import Sequence
from enum import Enum, auto
from pathlib import Path

from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QHeaderView,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from profiler.ui.dialogs import box
from profiler.ui.files.claims import Owner
from profiler.ui.files.recovery import Leftover, when_text
from profiler.ui.widgets.choice_box import ChoiceBox
from profiler.ui.widgets.labels import plain_label, plain_tip


class Changed(Enum):
    """What to do about a file that others changed or deleted."""

    SAVE_OVER = auto()
    SAVE_AS = auto()
    RELOAD = auto()
    NOT_NOW = auto()


class Shared(Enum):
    """What to do about a file that another window has open."""

    GO_ON = auto()
    COPY = auto()
    CANCEL = auto()


class Writing(Enum):
    """What to do about files that are still being written when the window is closed."""

    FINISH = auto()
    GIVE_UP = auto()
    STAY = auto()


class Fate(Enum):
    """What to do with a recovery copy."""

    KEEP = "Keep for later"
    OPEN = "Open as unsaved"
    THROW_AWAY = "Discard"


class Trouble(Enum):
    """What to do after the program went wrong."""

    GO_ON = auto()
    SAVE_COPY = auto()
    QUIT = auto()


def ask_changed(parent: QWidget, name: str) -> Changed:
    text = (
        f"{name} was changed outside this window since it was opened or saved here. Saving would overwrite that. "
        "Loading the file from disk is one undo step: what you have here can be brought back."
    )
    offers = (
        (Changed.RELOAD, "Load the file from disk"),
        (Changed.SAVE_AS, "Save as…"),
        (Changed.SAVE_OVER, "Overwrite"),
        (Changed.NOT_NOW, "Not now"),
    )
    return _changed(parent, "Changed outside", text, offers, Changed.RELOAD)


def ask_gone(parent: QWidget, name: str, folder: Path) -> Changed:
    text = (
        f"{name} was deleted, renamed or moved outside this window: it is not in {folder} any more. "
        "The study is whole in this window, and only here."
    )
    offers = ((Changed.SAVE_OVER, "Save it there again"), (Changed.SAVE_AS, "Save as…"), (Changed.NOT_NOW, "Not now"))
    return _changed(parent, "Deleted outside", text, offers, Changed.SAVE_OVER)


def _changed(parent: QWidget, title: str, text: str, offers: Sequence[tuple[Changed, str]], enter: Changed) -> Changed:
    return box.choose(parent, title, text, offers, enter=enter, escape=Changed.NOT_NOW, icon=box.Icon.Warning)


def ask_shared_open(parent: QWidget, name: str, owner: Owner) -> Shared:
    return _shared(parent, name, owner, "Open a copy", "Open it all the same")


def ask_shared_save(parent: QWidget, name: str, owner: Owner) -> Shared:
    return _shared(parent, name, owner, "Save as…", "Overwrite")


def _shared(parent: QWidget, name: str, owner: Owner, copy: str, go_on: str) -> Shared:
    text = f"{name} is open in another window ({owner}): saving here would overwrite what is saved there."
    offers = ((Shared.COPY, copy), (Shared.GO_ON, go_on), (Shared.CANCEL, "Cancel"))
    title = "Open in another window"
    return box.choose(parent, title, text, offers, enter=Shared.COPY, escape=Shared.CANCEL, icon=box.Icon.Warning)


def ask_writing(parent: QWidget) -> Writing:
    text = "Files are still being written. Each is there whole or not at all."
    offers = (
        (Writing.FINISH, "Write them, then close"),
        (Writing.GIVE_UP, "Leave out the rest and close"),
        (Writing.STAY, "Cancel"),
    )
    title = "Files are being written"
    return box.choose(parent, title, text, offers, enter=Writing.FINISH, escape=Writing.STAY, icon=box.Icon.Warning)


def ask_trouble(parent: QWidget | None, text: str, details: str) -> Trouble:
    offers = ((Trouble.SAVE_COPY, "Save a copy…"), (Trouble.QUIT, "Quit"), (Trouble.GO_ON, "Continue"))
    title = "Something went wrong in the program"
    return box.choose(
        parent, title, text, offers, enter=Trouble.GO_ON, escape=Trouble.GO_ON, icon=box.Icon.Critical, details=details
    )


def ask_leftovers(parent: QWidget, found: Sequence[Leftover], opened: Path | None) -> dict[Leftover, Fate]:
    """What to do with each recovery copy; at most one is opened. Leaving the dialog keeps them all."""
    dialog = LeftoversDialog(parent, found, opened)
    if dialog.exec() != QDialog.DialogCode.Accepted:
        return dict.fromkeys(found, Fate.KEEP)
    return dialog.fates


class LeftoversDialog(QDialog):
    """Unsaved work of sessions that did not end as they should: a row each, and what to do with it."""

    def __init__(self, parent: QWidget, found: Sequence[Leftover], opened: Path | None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Unsaved work was found")
        self._found = tuple(found)
        self._boxes: list[QComboBox] = []
        column = QVBoxLayout(self)
        text = plain_label(
            "The program ended before these studies were saved. Opening one shows it as unsaved; its file stays as it "
            "is until you overwrite it."
        )
        text.setWordWrap(True)
        column.addWidget(text)
        column.addWidget(self._table(_proposed(self._found, opened)))
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel)
        buttons.button(QDialogButtonBox.StandardButton.Ok).setText("Apply")
        buttons.button(QDialogButtonBox.StandardButton.Cancel).setText("Keep all for later")
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        column.addWidget(buttons)
        self.resize(760, 180 + 30 * min(len(self._found), 8))

    @property
    def fates(self) -> dict[Leftover, Fate]:
        return {each: box.currentData() for each, box in zip(self._found, self._boxes, strict=True)}

    def put(self, row: int, fate: Fate) -> None:
        """Choose for one row; opening one keeps any other that was to be opened."""
        for other, combo in enumerate(self._boxes):
            if other != row and fate is Fate.OPEN and combo.currentData() is Fate.OPEN:
                combo.setCurrentIndex(combo.findData(Fate.KEEP))
        self._boxes[row].setCurrentIndex(self._boxes[row].findData(fate))

    def _table(self, proposed: Leftover | None) -> QTableWidget:
        heads = ("Study", "Of the file", "Last change", "What to do")
        table = QTableWidget(len(self._found), len(heads))
        table.setHorizontalHeaderLabels(heads)
        table.verticalHeader().hide()
        table.setAccessibleName("Unsaved studies found")
        table.setTabKeyNavigation(False)
        table.setEditTriggers(QTableWidget.EditTrigger.NoEditTriggers)
        for row, each in enumerate(self._found):
            place = "never saved" if each.original is None else str(each.original)
            if each.trouble:
                place = f"cannot be opened: {each.trouble}"
            for number, words in enumerate((each.title, place, when_text(each))):
                item = QTableWidgetItem(words)
                item.setToolTip(plain_tip(words))
                table.setItem(row, number, item)
            table.setCellWidget(row, 3, self._box(row, each))
            self.put(row, Fate.OPEN if each is proposed else Fate.KEEP)
        table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        table.horizontalHeader().setSectionResizeMode(1, QHeaderView.ResizeMode.Stretch)
        return table

    def _box(self, row: int, leftover: Leftover) -> QComboBox:
        box = ChoiceBox()
        box.setAccessibleName(f"What to do with {leftover.title}")
        for fate in (Fate.OPEN, Fate.KEEP, Fate.THROW_AWAY):
            if fate is not Fate.OPEN or not leftover.trouble:
                box.addItem(fate.value, fate)
        box.activated.connect(lambda index: self.put(row, box.itemData(index)))
        self._boxes.append(box)
        return box


def _proposed(found: Sequence[Leftover], opened: Path | None) -> Leftover | None:
    """The latest copy, unless a file was asked for: then only that file's."""
    sound = [each for each in found if not each.trouble]
    if opened is None:
        return sound[0] if sound else None
    return next((each for each in sound if each.original == opened.absolute()), None)

"""The questions asked where work could be lost, each a function that returns a choice: tests can answer them."""

from collections.abc import Sequence
from enum import Enum, auto
from pathlib import Path
from typing import TypeVar

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QHeaderView,
    QLabel,
    QMessageBox,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from profiler.ui.files.claims import Owner
from profiler.ui.files.recovery import Leftover, when_text

Choice = TypeVar("Choice", bound=Enum)


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


class Fate(Enum):
    """What to do with a recovery copy."""

    KEEP = "Keep for later"
    OPEN = "Open as unsaved"
    THROW_AWAY = "Throw away"


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
    return choose(parent, "Changed outside", text, offers)


def ask_gone(parent: QWidget, name: str, folder: Path) -> Changed:
    text = (
        f"{name} was deleted, renamed or moved outside this window: it is not in {folder} any more. "
        "The study is whole in this window, and only here."
    )
    offers = ((Changed.SAVE_OVER, "Save it there again"), (Changed.SAVE_AS, "Save as…"), (Changed.NOT_NOW, "Not now"))
    return choose(parent, "Deleted outside", text, offers)


def ask_shared_open(parent: QWidget, name: str, owner: Owner) -> Shared:
    text = f"{name} is open in another window ({owner}): saving here would overwrite what is saved there."
    offers = (
        (Shared.COPY, "Open a copy"),
        (Shared.GO_ON, "Open it all the same"),
        (Shared.CANCEL, "Cancel"),
    )
    return choose(parent, "Open in another window", text, offers)


def ask_shared_save(parent: QWidget, name: str, owner: Owner) -> Shared:
    text = f"{name} is open in another window ({owner}): saving here would overwrite what is saved there."
    offers = ((Shared.COPY, "Save as…"), (Shared.GO_ON, "Overwrite"), (Shared.CANCEL, "Cancel"))
    return choose(parent, "Open in another window", text, offers)


def ask_trouble(parent: QWidget | None, text: str, details: str) -> Trouble:
    offers = ((Trouble.GO_ON, "Continue"), (Trouble.SAVE_COPY, "Save a copy…"), (Trouble.QUIT, "Quit"))
    return choose(parent, "Something went wrong in the program", text, offers, Trouble.GO_ON, details)


def ask_leftovers(parent: QWidget, found: Sequence[Leftover], opened: Path | None) -> dict[Leftover, Fate]:
    """What to do with each recovery copy; at most one is opened. Leaving the dialog keeps them all."""
    dialog = LeftoversDialog(parent, found, opened)
    if dialog.exec() != QDialog.DialogCode.Accepted:
        return dict.fromkeys(found, Fate.KEEP)
    return dialog.fates


def choose(
    parent: QWidget | None,
    title: str,
    text: str,
    offers: Sequence[tuple[Choice, str]],
    escape: Choice | None = None,
    details: str = "",
) -> Choice:
    """A plain question with a button per choice: the first is the default, the last (or `escape`) is Escape's."""
    box = QMessageBox(QMessageBox.Icon.Warning, title, text, QMessageBox.StandardButton.NoButton, parent)
    box.setTextFormat(Qt.TextFormat.PlainText)
    box.setDetailedText(details)
    given_up = offers[-1][0] if escape is None else escape
    buttons = []
    for choice, words in offers:
        button = box.addButton(words, QMessageBox.ButtonRole.ActionRole)
        buttons.append((button, choice))
        if choice is given_up:
            box.setEscapeButton(button)
    box.setDefaultButton(buttons[0][0])
    box.exec()
    return next((choice for button, choice in buttons if button == box.clickedButton()), given_up)


class LeftoversDialog(QDialog):
    """Unsaved work of sessions that did not end as they should: a row each, and what to do with it."""

    def __init__(self, parent: QWidget, found: Sequence[Leftover], opened: Path | None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Unsaved work was found")
        self._found = tuple(found)
        self._boxes: list[QComboBox] = []
        column = QVBoxLayout(self)
        text = QLabel(
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
        for other, box in enumerate(self._boxes):
            if other != row and fate is Fate.OPEN and box.currentData() is Fate.OPEN:
                box.setCurrentIndex(box.findData(Fate.KEEP))
        self._boxes[row].setCurrentIndex(self._boxes[row].findData(fate))

    def _table(self, proposed: Leftover | None) -> QTableWidget:
        heads = ("Study", "Of the file", "Last change", "What to do")
        table = QTableWidget(len(self._found), len(heads))
        table.setHorizontalHeaderLabels(heads)
        table.verticalHeader().hide()
        table.setAccessibleName("Unsaved studies found")
        table.setEditTriggers(QTableWidget.EditTrigger.NoEditTriggers)
        for row, each in enumerate(self._found):
            place = "never saved" if each.original is None else str(each.original)
            for number, words in enumerate((each.note.title or "untitled", place, when_text(each))):
                item = QTableWidgetItem(words)
                item.setToolTip(words)
                table.setItem(row, number, item)
            table.setCellWidget(row, 3, self._box(row, each))
            self.put(row, Fate.OPEN if each is proposed else Fate.KEEP)
        table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        table.horizontalHeader().setSectionResizeMode(1, QHeaderView.ResizeMode.Stretch)
        return table

    def _box(self, row: int, leftover: Leftover) -> QComboBox:
        box = QComboBox()
        box.setAccessibleName(f"What to do with {leftover.note.title or 'untitled'}")
        for fate in (Fate.OPEN, Fate.KEEP, Fate.THROW_AWAY):
            box.addItem(fate.value, fate)
        box.activated.connect(lambda index: self.put(row, box.itemData(index)))
        self._boxes.append(box)
        return box


def _proposed(found: Sequence[Leftover], opened: Path | None) -> Leftover | None:
    """The latest copy, unless a file was asked for: then only that file's."""
    if opened is None:
        return found[0] if found else None
    return next((each for each in found if each.original == opened.absolute()), None)

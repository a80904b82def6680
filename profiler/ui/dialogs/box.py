"""The one place a message box is built: a sentence, a button for each choice, what Enter takes and what Escape.

Enter takes what loses nothing; Escape, and closing the box, leave things as they are.
"""

from collections.abc import Sequence
from typing import TypeVar

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton, QMessageBox, QWidget

Choice = TypeVar("Choice")
Icon = QMessageBox.Icon


def choose(
    parent: QWidget | None,
    title: str,
    text: str,
    offers: Sequence[tuple[Choice, str]],
    *,
    enter: Choice,
    escape: Choice,
    icon: Icon = Icon.Question,
    details: str = "",
) -> Choice:
    """What was chosen of these, each with the words on its button."""
    box = _box(parent, title, text, icon)
    box.setDetailedText(details)
    buttons: list[tuple[QAbstractButton, Choice]] = []
    for choice, words in offers:
        button = box.addButton(words, _role(choice == enter, choice == escape))
        buttons.append((button, choice))
        if choice == enter:
            box.setDefaultButton(button)
        if choice == escape:
            box.setEscapeButton(button)
    box.exec()
    return next((choice for button, choice in buttons if button is box.clickedButton()), escape)


def agreed(parent: QWidget, title: str, text: str, offer: str, stay: str) -> bool:
    """Whether the offer was taken; to leave things as they are is Enter's choice too."""
    return choose(parent, title, text, ((True, offer), (False, stay)), enter=False, escape=False)


def tell(parent: QWidget, title: str, text: str, icon: Icon = Icon.Warning, rich: bool = False) -> None:
    """Say it, until it is clicked away. `rich`: the text is markup of the program's own, never a file's name."""
    box = _box(parent, title, text, icon)
    if rich:
        box.setTextFormat(Qt.TextFormat.RichText)
    box.addButton(QMessageBox.StandardButton.Ok)
    box.exec()


def _box(parent: QWidget | None, title: str, text: str, icon: Icon) -> QMessageBox:
    box = QMessageBox(icon, title, text, QMessageBox.StandardButton.NoButton, parent)
    box.setTextFormat(Qt.TextFormat.PlainText)  # a file may be named like markup
    return box


def _role(enter: bool, escape: bool) -> QMessageBox.ButtonRole:
    """Where this system puts the button."""
    if escape:
        return QMessageBox.ButtonRole.RejectRole
    return QMessageBox.ButtonRole.AcceptRole if enter else QMessageBox.ButtonRole.ActionRole

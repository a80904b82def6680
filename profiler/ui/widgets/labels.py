"""Labels and tooltips. Names are the designer's: they are shown as typed, never read as markup.

Qt reads any text that looks like markup as such where nothing else is said, so every label is made here.
"""

from html import escape

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QWidget


def plain_label(text: str = "", parent: QWidget | None = None) -> QLabel:
    """A label of plain text."""
    label = QLabel(text, parent)
    label.setTextFormat(Qt.TextFormat.PlainText)
    return label


def marked_up(text: str = "") -> QLabel:
    """A label of the program's own markup; whatever a designer typed has to be escaped in it."""
    label = QLabel()
    label.setTextFormat(Qt.TextFormat.RichText)
    label.setText(text)
    return label


def menu_words(name: str) -> str:
    """A name as an entry of a menu: & marks a key there."""
    return name.replace("&", "&&")


def plain_tip(text: str) -> str:
    """A tooltip that may hold names."""
    return f"<p style='white-space: pre-wrap'>{escape(text)}</p>" if "<" in text or "&" in text else text

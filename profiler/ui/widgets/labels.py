"""Labels and tooltips. Names are the designer's: they are shown as typed, never read as markup.

Qt reads any text that looks like markup as such where nothing else is said, so every label is made here. That is also
why lengths in labels are turned into inches here: what speaks hands over millimetres and need not know.
"""

from html import escape

from PySide6.QtCore import Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QLabel, QWidget

from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit


def unit_of(widget: QWidget | None) -> LengthUnit:
    """In which unit the window the widget stands in shows lengths: as its nearest holder that knows."""
    while widget is not None:
        known = getattr(widget, "lengths", None)
        if isinstance(known, LengthUnit):
            return known
        widget = widget.parentWidget()
    return MILLIMETRES


class TextLabel(QLabel):
    """Shows the lengths of its text in the unit of its window; it may be told its text before it stands in one."""

    def __init__(self, text: str = "", parent: QWidget | None = None) -> None:
        super().__init__(text, parent)
        self._said = text

    def setText(self, text: str) -> None:
        self._said = text
        super().setText(unit_of(self).told(text) if "mm" in text else text)

    def clear(self) -> None:
        self.setText("")

    def tell_again(self) -> None:
        """The same text, where the unit may be another now."""
        if "mm" in self._said:
            self.setText(self._said)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.tell_again()


def tell_again(holder: QWidget) -> None:
    """Every label within, where the unit of lengths was changed."""
    for label in holder.findChildren(TextLabel):
        label.tell_again()


def plain_label(text: str = "", parent: QWidget | None = None) -> QLabel:
    """A label of plain text."""
    label = TextLabel(text, parent)
    label.setTextFormat(Qt.TextFormat.PlainText)
    return label


def marked_up(text: str = "") -> QLabel:
    """A label of the program's own markup; whatever a designer typed has to be escaped in it."""
    label = TextLabel()
    label.setTextFormat(Qt.TextFormat.RichText)
    label.setText(text)
    return label


def menu_words(name: str) -> str:
    """A name as an entry of a menu: & marks a key there."""
    return name.replace("&", "&&")


def plain_tip(text: str) -> str:
    """A tooltip that may hold names."""
    return f"<p style='white-space: pre-wrap'>{escape(text)}</p>" if "<" in text or "&" in text else text

"""Labels and tooltips. Names are the designer's: they are shown as typed, never read as markup.

Qt reads any text that looks like markup as such where nothing else is said, so every label is made here. That is also
why lengths in labels are turned into inches here: what speaks hands over millimetres and need not know. So it is with
the tip and the name of whatever is a `Tells`.
"""

from html import escape
from typing import TYPE_CHECKING

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


if TYPE_CHECKING:
    _Widget = QWidget
else:
    _Widget = object


class Tells(_Widget):
    """Goes before a widget's own kind: its tip and names are told in the unit of the window it comes to stand in."""

    def setToolTip(self, text: str) -> None:
        self._keep("setToolTip", text)

    def setAccessibleName(self, text: str) -> None:
        self._keep("setAccessibleName", text)

    def setAccessibleDescription(self, text: str) -> None:
        self._keep("setAccessibleDescription", text)

    def tell_again(self) -> None:
        """The same, where the unit may be another now."""
        for put, text in self._handed_over().items():
            if "mm" in text:
                getattr(super(), put)(unit_of(self).labelled(text))

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.tell_again()

    def _keep(self, put: str, text: str) -> None:
        self._handed_over()[put] = text
        getattr(super(), put)(unit_of(self).labelled(text) if "mm" in text else text)

    def _handed_over(self) -> dict[str, str]:
        """What was handed over last, by who puts it."""
        kept: dict[str, str] = self.__dict__.setdefault("_handed", {})
        return kept


class TextLabel(Tells, QLabel):
    """Shows the lengths of its text in the unit of its window; it may be told its text before it stands in one."""

    def __init__(self, text: str = "", parent: QWidget | None = None) -> None:
        super().__init__(text, parent)
        self._said = text

    def setText(self, text: str) -> None:
        self._said = text
        super().setText(self._in(unit_of(self)) if "mm" in text else text)

    def clear(self) -> None:
        self.setText("")

    def tell_again(self) -> None:
        super().tell_again()
        if "mm" in self._said:
            self.setText(self._said)

    def _in(self, unit: LengthUnit) -> str:
        return unit.told(self._said)


class HeadLabel(TextLabel):
    """Says what a box beside it is, or its unit alone: where it names mm, the box is in the unit of the window."""

    def _in(self, unit: LengthUnit) -> str:
        return unit.labelled(self._said)


def tell_again(holder: QWidget) -> None:
    """Everything within that shows lengths, where their unit was changed."""
    for widget in holder.findChildren(QWidget):
        if isinstance(widget, Tells):
            widget.tell_again()


def plain_label(text: str = "", parent: QWidget | None = None) -> QLabel:
    """A label of plain text."""
    label = TextLabel(text, parent)
    label.setTextFormat(Qt.TextFormat.PlainText)
    return label


def bold(label: QLabel) -> QLabel:
    """The same label, its text bold from now on: a title, or what must not be overlooked."""
    font = label.font()
    font.setBold(True)
    label.setFont(font)
    return label


def head_label(text: str = "") -> QLabel:
    """The label of a box of lengths, or its unit."""
    label = HeadLabel(text)
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

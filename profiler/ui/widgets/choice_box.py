"""A choice from a list: a box that tells its name, and a list that is narrowed by typing any part of an entry."""

from PySide6.QtCore import QEvent, QLocale, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QComboBox, QFrame, QLabel, QStyledItemDelegate, QStyleOptionComboBox, QWidget

from profiler.ui.widgets.keys import Gesture, Key, carried_out, keyed, stroke_of
from profiler.ui.widgets.labels import Tells, plain_label, unit_of

GAP_PX = 4
HELD = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier | Qt.KeyboardModifier.MetaModifier


def _shorter(box: "ChoiceBox") -> None:
    box.narrow(box.typed[:-1])


KEYS: tuple[Key["ChoiceBox"], ...] = (keyed("Take a letter back", _shorter, "Backspace"),)
MOUSE = (Gesture("Letters typed", "Open the list with only the entries that hold them, anywhere in their words"),)


class ChoiceBox(Tells, QComboBox):
    """Letters open the list and narrow it, so that none changes what is chosen before Enter.

    Entries `of_lengths` are the program's own words, whose lengths are shown in the unit of the window. A designer's
    names are no such: what looks like a length in a name is none.
    """

    def __init__(self, parent: QWidget | None = None, of_lengths: bool = False) -> None:
        super().__init__(parent)
        self._of_lengths = of_lengths
        self.typed: str = ""
        self._open_px = 0  # height of the list as Qt opened it
        self._telling: QStyledItemDelegate | None = None  # of the list's entries, once they are told in another unit
        self._shown: QLabel | None = None  # with the list, which is made when it is first opened

    def setAccessibleName(self, name: str) -> None:
        """By some screen readers' rules the name of such a box is what is chosen in it: so its own stands twice."""
        super().setAccessibleName(name)
        self.setAccessibleDescription(name)

    def shown(self, entry: str) -> str:
        """An entry as it is seen: its lengths in the unit of the window; `itemText` has it as it was added."""
        return unit_of(self).labelled(entry) if self._of_lengths else entry

    def tell_again(self) -> None:
        super().tell_again()
        if self._of_lengths and self._telling is None and not unit_of(self).is_mm:
            self._telling = _Told(self)
            self.setItemDelegate(self._telling)
        self.update()

    def initStyleOption(self, option: QStyleOptionComboBox) -> None:
        super().initStyleOption(option)
        option.currentText = self.shown(option.currentText)

    def narrow(self, typed: str) -> None:
        """Only the entries that hold every word of this, the first of them chosen in the list."""
        self.typed = typed
        wanted = typed.casefold().split()
        entries = [self.shown(self.itemText(row)).casefold() for row in range(self.count())]
        fitting = [row for row, entry in enumerate(entries) if all(word in entry for word in wanted)]
        view = self.view()
        for row in range(self.count()):
            view.setRowHidden(row, row not in fitting)  # type: ignore[attr-defined]  # a list view's
        if fitting and typed:
            view.setCurrentIndex(self.model().index(fitting[0], self.modelColumn(), self.rootModelIndex()))
        if self._shown is not None:
            self._shown.setText(typed if fitting else f"{typed}: no such entry")
            self._shown.adjustSize()
            self._fold(sum(view.sizeHintForRow(row) for row in fitting) + self._shown.height() + 2 * GAP_PX)
            at = view.rect().bottomRight() - self._shown.rect().bottomRight()
            self._shown.move(at.x() - GAP_PX, at.y() - GAP_PX)
            self._shown.setVisible(bool(typed))
            self._shown.raise_()

    def showPopup(self) -> None:
        if self._shown is None:
            self._shown = _typed_label(self.view())
            self.view().installEventFilter(self)
        super().showPopup()
        self._open_px = self.view().window().height()

    def _fold(self, rows_px: int) -> None:
        """Make the list as high as its entries and what is typed: below the box, or above it for want of room."""
        around = self.view().window()
        around.resize(around.width(), min(rows_px + around.height() - self.view().height(), self._open_px))
        below = self.mapToGlobal(self.rect().bottomLeft())
        if below.y() + around.height() > self.screen().availableGeometry().bottom():
            below = self.mapToGlobal(self.rect().topLeft()) - around.rect().bottomLeft()
        around.move(below)

    def event(self, event: QEvent) -> bool:
        """A letter is the list's, and no shortcut of the window's, while the list has the keyboard."""
        if _overriding(event, begun=False):
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if self.count() and _letters(event, begun=False):
            self.showPopup()
            self.narrow(event.text())
        else:
            super().keyPressEvent(event)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Keys that the open list gets; closed, in whatever way, it is whole again."""
        if event.type() == QEvent.Type.Hide and self.typed:
            self.narrow("")
        if _overriding(event, begun=bool(self.typed)):
            event.accept()
            return True
        if event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent) and self.view().isVisible():
            if _letters(event, begun=bool(self.typed)):
                self.narrow(self.typed + event.text())
                return True
            return bool(self.typed) and carried_out(self, KEYS, stroke_of(event))
        return super().eventFilter(watched, event)


class _Told(QStyledItemDelegate):
    """An entry of the open list as its box shows it."""

    def __init__(self, box: ChoiceBox) -> None:
        super().__init__(box)
        self._box = box

    def displayText(self, value: object, locale: QLocale | QLocale.Language) -> str:
        return self._box.shown(super().displayText(value, locale))


def _overriding(event: QEvent, begun: bool) -> bool:
    return event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent) and _letters(event, begun)


def _letters(event: QKeyEvent, begun: bool) -> bool:
    """Whether this types; a space opens a list, and belongs to what is typed only after a letter."""
    text = event.text()
    return bool(text) and text.isprintable() and not event.modifiers() & HELD and (begun or not text.isspace())


def _typed_label(view: QWidget) -> QLabel:
    """What is being typed, in a corner of the list."""
    label = plain_label("", view)
    label.setFrameShape(QFrame.Shape.Box)
    label.setAutoFillBackground(True)
    label.setMargin(3)
    label.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
    label.hide()
    return label

"""Where a word stands in the help page shown: all places marked, one of them in view, and the way to the next."""

from PySide6.QtGui import QColor, QPalette, QTextCursor
from PySide6.QtWidgets import QHBoxLayout, QTextBrowser, QTextEdit, QToolButton, QWidget

from profiler.ui.widgets.keys import with_keys
from profiler.ui.widgets.labels import plain_label

ONWARD, BACKWARD = ("F3", "Return", "Enter"), ("Shift+F3", "Shift+Return", "Shift+Enter")
FAINT = 70  # of 255: all places but the one in view


class Hits(QWidget):
    """Belongs to a browser; the two buttons walk the hits, and are wired by who knows the other pages."""

    def __init__(self, browser: QTextBrowser, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._browser = browser
        self._found: list[QTextCursor] = []
        self._at = 0
        self.count = plain_label()
        self.count.setObjectName("muted")
        self.back = _button("▴", "Previous hit", BACKWARD)
        self.on = _button("▾", "Next hit", ONWARD)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(2)
        row.addWidget(self.count, 1)
        row.addWidget(self.back)
        row.addWidget(self.on)
        self.show_word("")

    @property
    def places(self) -> list[int]:
        """Where in the page's text the word begins."""
        return [cursor.selectionStart() for cursor in self._found]

    @property
    def at(self) -> int:
        return self._at

    def show_word(self, word: str, last: bool = False) -> None:
        """Mark a word wherever it stands, and bring its first place into view, or its last."""
        self._found = self._find(word) if word else []
        self._at = len(self._found) - 1 if last and self._found else 0
        for button in (self.back, self.on):
            button.setEnabled(bool(word))
        self._show(word)

    def step(self, by: int) -> bool:
        """To the next place, or the one before; False where the page has none further that way."""
        if not 0 <= self._at + by < len(self._found):
            return False
        self._at += by
        self._show("")
        return True

    def _find(self, word: str) -> list[QTextCursor]:
        found = []
        cursor = self._browser.document().find(word)
        while not cursor.isNull():
            found.append(QTextCursor(cursor))
            cursor = self._browser.document().find(word, cursor)
        return found

    def _show(self, word: str) -> None:
        palette = self._browser.palette()
        marks = [_mark(c, palette, i == self._at) for i, c in enumerate(self._found)]
        self._browser.setExtraSelections(marks)
        if self._found:
            here = QTextCursor(self._found[self._at])
            here.setPosition(here.selectionStart())
            self._browser.setTextCursor(here)
            self._browser.ensureCursorVisible()
            self.count.setText(f"{self._at + 1} of {len(self._found)} on this page")
        else:
            self.count.setText("nothing on this page" if word else "")


def _mark(cursor: QTextCursor, palette: QPalette, in_view: bool) -> QTextEdit.ExtraSelection:
    mark = QTextEdit.ExtraSelection()
    colour = QColor(palette.color(QPalette.ColorRole.Highlight))
    form = mark.format
    if in_view:
        form.setForeground(palette.color(QPalette.ColorRole.HighlightedText))
    else:
        colour.setAlpha(FAINT)
    form.setBackground(colour)
    mark.format = form
    mark.cursor = cursor
    return mark


def _button(sign: str, name: str, strokes: tuple[str, ...]) -> QToolButton:
    button = QToolButton()
    button.setText(sign)
    button.setAccessibleName(name)
    button.setToolTip(with_keys(name, strokes))
    button.setAutoRaise(True)
    return button

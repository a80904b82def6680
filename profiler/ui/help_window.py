"""Help inside the program: a page per quantity from the quantities table, the glossary, the keys, the cautions."""

from html import escape
from importlib.resources import files

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QListWidget, QSplitter, QTextBrowser, QVBoxLayout, QWidget

from ..assess.check_fit import SPINNING_CAUTION
from ..assess.glossary import GLOSSARY, MEANINGS
from ..assess.quantities import QUANTITIES, Quantity, Scope

START = "How to begin"
KEYS = "Keys and mouse"
WORDS = "Words"
CAUTIONS = "Cautions and limits"

SCOPE_WORDS = {Scope.WALL: "along the wall", Scope.GROOVE: "of each groove", Scope.BOWL: "of the bowl"}


_KEY_ROWS = (
    ("Drag a knot", "Move it; Shift keeps to one axis, Ctrl moves by tenths of a step, Esc takes it back"),
    ("Double-click the curve, Insert", "Add a knot"),
    ("Delete", "Delete the chosen knot"),
    ("Tab, Shift+Tab", "Walk the knots in the wall angle strip, then leave it"),
    ("Up, Down", "Move the chosen knot by 1 mm (Shift: 10 mm, Ctrl: 0.01 mm)"),
    ("Left, Right", "Turn the chosen knot by 0.05° (Shift: 0.5°, Ctrl: 0.005°)"),
    ("C", "Make the chosen knot a corner, or one angle again"),
    ("K", "Keep the present curve as a ghost, or let it go"),
    ("Drag a groove in the section", "Move it along the wall"),
    ("Up, Down in the groove strip", "Choose a groove"),
    ("Up, Down in a number", "One step (Shift: ten steps, Ctrl: a tenth)"),
    ("Drag a number's name sideways", "Change it; one drag is one undo step"),
    ("Wheel, middle button", "Zoom and move along the height; Ctrl+0 fits the bowl"),
    ("F6, Shift+F6", "Next or previous part of the window"),
    ("F8, F9, F1", "All findings, forms, help"),
    ("Ctrl+Z, Ctrl+Y", "Undo, redo"),
    ("Ctrl+N, Ctrl+O, Ctrl+S, Ctrl+Shift+E", "New, open, save, export"),
)


class HelpWindow(QWidget):
    """A window of its own, left open beside the work."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self.setWindowTitle("Help – Bowl Profiler")
        self.resize(760, 520)
        self._pages = pages()
        self.wanted = QLineEdit()
        self.wanted.setPlaceholderText("Find")
        self.wanted.setAccessibleName("Find in help")
        self.list = QListWidget()
        self.list.setAccessibleName("Help pages")
        self.text = QTextBrowser()
        self.wanted.textChanged.connect(self._fill)
        self.list.currentTextChanged.connect(lambda title: self.text.setHtml(self._pages.get(title, "")))
        left = QWidget()
        column = QVBoxLayout(left)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.wanted)
        column.addWidget(self.list)
        split = QSplitter()
        split.addWidget(left)
        split.addWidget(self.text)
        split.setSizes([240, 520])
        row = QHBoxLayout(self)
        row.addWidget(split)
        self._fill("")

    def show_page(self, title: str = START) -> None:
        self.wanted.clear()
        found = self.list.findItems(title, Qt.MatchFlag.MatchExactly)
        if found:
            self.list.setCurrentItem(found[0])
        self.show()
        self.raise_()
        self.activateWindow()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Escape, Qt.Key.Key_F1):
            self.close()
        else:
            super().keyPressEvent(event)

    def _fill(self, wanted: str) -> None:
        word = wanted.strip().lower()
        titles = [t for t, page in self._pages.items() if word in t.lower() or word in page.lower()]
        self.list.clear()
        self.list.addItems(titles)
        if titles:
            self.list.setCurrentRow(0)


def pages() -> dict[str, str]:
    """Title and HTML of every page, in reading order."""
    made = {START: f"<h2>{START}</h2>{_prose('begin')}", KEYS: _keys(), WORDS: _words(), CAUTIONS: _cautions()}
    return made | {page_title(q): _quantity(q) for q in QUANTITIES}


def page_title(q: Quantity) -> str:
    return f"{q.label} ({SCOPE_WORDS[q.scope]})"


def _keys() -> str:
    rows = "".join(f"<tr><td><b>{escape(k)}</b>&nbsp;&nbsp;</td><td>{escape(v)}</td></tr>" for k, v in _KEY_ROWS)
    return f"<h2>{KEYS}</h2><table cellpadding='3'>{rows}</table>"


def _words() -> str:
    rows = "".join(f"<p><b>{escape(t.word)}</b><br>{escape(t.meaning)}</p>" for t in GLOSSARY)
    return f"<h2>{WORDS}</h2>{rows}"


def _cautions() -> str:
    source = escape(SPINNING_CAUTION.source)
    return f"<h2>{CAUTIONS}</h2><p>{escape(SPINNING_CAUTION.text)}</p><p>{source}.</p>{_prose('cautions')}"


def _prose(name: str) -> str:
    return (files("profiler.data") / "help" / f"{name}.html").read_text(encoding="utf-8")


def _quantity(q: Quantity) -> str:
    rows = (
        ("Is", MEANINGS.get(q.key, "")),
        ("Unit", q.unit or "none"),
        ("Equation", q.equation),
        ("Source", q.source),
        ("Limits", q.limits),
    )
    body = "".join(f"<tr><td><b>{k}</b>&nbsp;&nbsp;</td><td>{escape(v)}</td></tr>" for k, v in rows if v)
    return f"<h2>{escape(page_title(q))}</h2><table cellpadding='4'>{body}</table>"

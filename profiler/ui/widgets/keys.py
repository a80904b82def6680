"""A key is one record: its strokes, what they do in words, and the doing. Who answers it and the help read the same.

Strokes are written as `QKeySequence` writes them for every system: "Up", "Ctrl+Up", "Esc", "PgDown", "F6".
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QKeySequence

Owner = TypeVar("Owner", contravariant=True)  # what a strip answers, each kind of strip does
Deed = Callable[[Owner], bool | None]  # False: not now, the stroke goes on to who else may want it

UNDO, REDO = ("Ctrl+Z",), ("Ctrl+Y", "Ctrl+Shift+Z")
COPY, PASTE = ("Ctrl+C", "Ctrl+Ins"), ("Ctrl+V", "Shift+Ins")
SIZES = (("", 1.0), ("Shift+", 10.0), ("Ctrl+", 0.1))  # key held down, and how many times its usual an arrow key moves


@dataclass(frozen=True, slots=True)
class Key(Generic[Owner]):
    """Strokes that belong together in the help, each with what it does to the widget that has the keyboard."""

    words: str
    strokes: tuple[tuple[str, Deed[Owner]], ...]

    @property
    def names(self) -> tuple[str, ...]:
        return tuple(name for name, _ in self.strokes)


@dataclass(frozen=True, slots=True)
class Gesture:
    """What a mouse does, for the help; the widget itself watches the mouse."""

    how: str
    words: str


@dataclass(frozen=True, slots=True)
class KeySection:
    """What the help says of one part of the window: rows of how and what."""

    where: str
    rows: tuple[tuple[str, str], ...]


def keyed(words: str, do: Deed[Owner], *strokes: str) -> Key[Owner]:
    """Strokes that all do the same."""
    return Key(words, tuple((stroke, do) for stroke in strokes))


def answered(owner: Owner, keys: Sequence[Key[Owner]], event: QKeyEvent) -> bool:
    """Do what the table says of this key; whether it says anything and it could be done."""
    return carried_out(owner, keys, stroke_of(event))


def carried_out(owner: Owner, keys: Sequence[Key[Owner]], stroke: str) -> bool:
    """The same for a stroke that comes by another way than a key event."""
    found = (do for each in keys for name, do in each.strokes if name == stroke)
    do = next(found, None)
    return do is not None and do(owner) is not False


def stroke_of(event: QKeyEvent) -> str:
    """The key with what is held down beside it; the number pad's arrows are arrows, and + needs no Shift named."""
    key = event.key()  # a number: letters such as € are no member of Qt.Key
    held = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
    text = QKeySequence(key).toString()
    if len(text) == 1 and not text.isalpha():
        held &= ~Qt.KeyboardModifier.ShiftModifier  # which sign needs Shift differs between keyboards
    return QKeySequence(held.value | key).toString()


def section(where: str, keys: Sequence[Key[Owner]] = (), mouse: Sequence[Gesture] = ()) -> KeySection:
    """What the help says of a part of the window: the mouse first."""
    by_mouse = tuple((each.how, each.words) for each in mouse)
    return KeySection(where, by_mouse + tuple((shown(k.names), k.words) for k in keys))


def shown(strokes: Iterable[str]) -> str:
    """Strokes as this system writes them."""
    return ", ".join(QKeySequence(stroke).toString(QKeySequence.SequenceFormat.NativeText) for stroke in strokes)


def spoken(keys: Sequence[Key[Owner]]) -> str:
    """The table as sentences, for who hears the window."""
    return " ".join(f"{after_a_colon(shown(each.names), each.words)}." for each in keys)


def after_a_colon(how: str, words: str) -> str:
    return f"{how}: {words[:1].lower()}{words[1:]}"


def with_keys(words: str, strokes: Iterable[str]) -> str:
    """Words for a tooltip, with the keys that do the same in brackets."""
    keys = shown(strokes)
    return f"{words} ({keys})" if keys else words

"""Whatever hands do, in any order: nothing breaks, and everything can be undone back to the beginning."""

import random
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from profiler.study.files import examples
from profiler.study.files.file import decode_study, encode_study
from tests.tiers import kept
from tests.ui.hands import CTRL, LEFT, NONE, SHIFT, Hands

FEW, MANY = 80, 1500
KEYS = (
    Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Delete, Qt.Key.Key_Insert,
    Qt.Key.Key_Escape, Qt.Key.Key_Tab, Qt.Key.Key_C, Qt.Key.Key_K, Qt.Key.Key_F8, Qt.Key.Key_F9,
)  # fmt: skip
NUMBERS = ("0", "1", "7,5", "12.5", "-3", "90", "640", "1e9", "x", "")


class Monkey:
    """Acts at random, by a seed, on whatever part of the window it reaches."""

    def __init__(self, hands: Hands, seed: int) -> None:
        self.hands = hands
        self.chance = random.Random(seed)
        self.trail: list[str] = []
        self.acts: tuple[Callable[[], object], ...] = (
            self.press, self.move, self.move, self.move, self.release, self.double_click, self.key, self.key,
            self.undo, self.redo, self.type_number, self.choose, self.mend, self.new_knot_numbers,
        )  # fmt: skip

    def act(self) -> None:
        do = self.chance.choice(self.acts)
        self.trail.append(do.__name__)
        do()
        QApplication.processEvents()

    @property
    def strip(self):
        return self.chance.choice(self.hands.page.strips[1:])

    @property
    def modifiers(self) -> Qt.KeyboardModifier:
        return self.chance.choice((NONE, NONE, SHIFT, CTRL))

    def somewhere(self, strip) -> QPoint:
        """A handle, more often than not."""
        if strip is self.hands.angle and self.chance.random() < 0.6:
            knot = self.chance.randrange(len(self.hands.knots))
            leaving = self.hands.knots[knot].is_corner and self.chance.random() < 0.5
            return self.hands.handle(knot, leaving)
        return QPoint(self.chance.randrange(strip.width()), self.chance.randrange(strip.height()))

    def press(self) -> None:
        strip = self.strip
        self.hands.press(strip, self.somewhere(strip), self.modifiers)

    def move(self) -> None:
        strip = self.strip
        self.hands.move(strip, self.somewhere(strip), self.modifiers)

    def release(self) -> None:
        for strip in self.hands.page.strips[1:]:
            QTest.mouseRelease(strip, LEFT, NONE, self.somewhere(strip))

    def double_click(self) -> None:
        QTest.mouseDClick(self.hands.angle, LEFT, NONE, self.somewhere(self.hands.angle))

    def key(self) -> None:
        QTest.keyClick(self.chance.choice(self.hands.page.strips[1:]), self.chance.choice(KEYS), self.modifiers)

    def undo(self) -> None:
        self.hands.action("Undo").trigger()

    def redo(self) -> None:
        self.hands.action("Redo").trigger()

    def type_number(self) -> None:
        box = self.chance.choice(list(self.hands.page.duty_bar.boxes.values()))
        then = self.chance.choice((Qt.Key.Key_Return, Qt.Key.Key_Tab, Qt.Key.Key_Up, Qt.Key.Key_Escape, None))
        self.hands.type_into(box, self.chance.choice(NUMBERS), then)

    def choose(self) -> None:
        combo = self.chance.choice((self.hands.page.duty_bar.design, self.hands.page.duty_bar.duty))
        QTest.keyClick(combo, self.chance.choice((Qt.Key.Key_Up, Qt.Key.Key_Down)))

    def mend(self) -> None:
        self.hands.page._remedy(self.chance.choice([None, *self.hands.evaluation.findings]))

    def new_knot_numbers(self) -> None:
        table = self.hands.page.forms.wall.table
        if table.isVisible():
            row, column = self.chance.randrange(table.rowCount()), self.chance.randrange(3)
            table.item(row, column).setText(self.chance.choice(NUMBERS))


def let_loose(hands: Hands, seed: int, acts: int) -> None:
    before = encode_study(hands.study)
    monkey = Monkey(hands, seed)
    for _ in range(acts):
        monkey.act()
        assert not [s.failure for s in hands.page.strips if s.failure], monkey.trail[-10:]
    monkey.release()
    hands.settle()
    assert decode_study(encode_study(hands.study), "now") == hands.study
    while hands.document.undo_stack.canUndo():
        hands.document.undo_stack.undo()
    hands.settle()
    now = decode_study(encode_study(hands.study), "now")
    then = decode_study(before, "then")
    assert (now.machine, now.duties, now.designs) == (then.machine, then.duties, then.designs), monkey.trail


@pytest.mark.parametrize("seed", kept(range(4), [1]))
def test_any_hands_break_nothing(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, seed: int) -> None:
    let_loose(Hands(qtbot, tmp_path, monkeypatch, examples.read(examples.names()[seed])), seed, FEW)


@pytest.mark.long
@pytest.mark.parametrize("seed", range(100, 112))
def test_any_hands_break_nothing_for_long(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, seed: int
) -> None:
    let_loose(Hands(qtbot, tmp_path, monkeypatch), seed, MANY)

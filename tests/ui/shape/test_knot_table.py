"""The knots as a table: exact numbers, and the way to them without a mouse."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from profiler.numbers import read
from tests.ui.hands import Hands, write

HEIGHT, ANGLE, LEAVING = 0, 1, 2


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return Hands(qtbot, tmp_path, monkeypatch)


def table(hands: Hands):
    return hands.page.forms.wall.table


def enter(hands: Hands, knot: int, column: int, text: str, then: Qt.Key = Qt.Key.Key_Return) -> None:
    """Open the cell with F2, replace its text, leave it by a key."""
    cells = table(hands)
    cells.setFocus()
    cells.setCurrentCell(len(hands.knots) - 1 - knot, column)
    QTest.keyClick(cells, Qt.Key.Key_F2)
    editor = cells.viewport().findChild(QLineEdit)
    assert editor is not None, "the cell cannot be edited"
    write(editor, text)
    QTest.keyClick(editor, then)
    hands.settle()


def shown(hands: Hands, knot: int, column: int) -> str:
    return table(hands).item(len(hands.knots) - 1 - knot, column).text()


def test_the_lip_is_the_top_row_as_in_the_strips(hands: Hands) -> None:
    assert [table(hands).item(row, HEIGHT).text() for row in range(4)] == ["330.0", "225.0", "115.0", "0.0"]


@pytest.mark.parametrize(
    ("text", "value"), [("12,5", 12.5), ("12.5", 12.5), (" 12.345 ", 12.345), ("\u22123", -3.0), ("-3", -3.0)]
)
def test_an_angle_is_taken_exactly_as_typed(hands: Hands, text: str, value: float) -> None:
    enter(hands, 1, ANGLE, text)
    assert hands.knots[1].angle_deg == value
    assert hands.steps == 1
    assert "-" not in shown(hands, 1, ANGLE) and read(shown(hands, 1, ANGLE)).value == value


@pytest.mark.parametrize("text", ["137,25", "137.25"])
def test_a_height_is_taken_exactly_as_typed(hands: Hands, text: str) -> None:
    enter(hands, 1, HEIGHT, text)
    assert hands.knots[1].height_mm == 137.25 and hands.steps == 1


@pytest.mark.parametrize("column", [HEIGHT, ANGLE])
def test_nonsense_is_refused_with_one_sentence_and_nothing_changed(hands: Hands, column: int) -> None:
    before, old = hands.study, shown(hands, 1, column)
    for text in ("steep", "1.2.3", "1.234,5", "nan", "inf", "1e999", "12 %", "1_0", ""):
        hands.document.say("")
        enter(hands, 1, column, text)
        assert hands.study is before and hands.steps == 0, text
        assert shown(hands, 1, column) == old, text
        assert hands.said.endswith("nothing was changed.") and hands.said.count(". ") == 0, text


def test_an_angle_beyond_its_bounds_is_refused_with_the_bounds(hands: Hands) -> None:
    before = hands.study
    for text in ("90", "-61", "1e6"):
        hands.document.say("")
        enter(hands, 1, ANGLE, text)
        assert hands.study is before
        assert "\u221260.00 and 85.00" in hands.said


def test_two_knots_at_one_height_are_refused_with_the_way_out(hands: Hands) -> None:
    before = hands.study
    enter(hands, 1, HEIGHT, "225")
    assert hands.study is before and hands.steps == 0
    assert "corner" in hands.said
    assert shown(hands, 1, HEIGHT) == "115.0"


@pytest.mark.parametrize(
    ("knot", "text", "word"), [(0, "5", "floor"), (1, "250", "between"), (3, "200", "above 225 mm")]
)
def test_a_height_that_would_change_the_order_is_refused(hands: Hands, knot: int, text: str, word: str) -> None:
    before = hands.study
    enter(hands, knot, HEIGHT, text)
    assert hands.study is before
    assert word in hands.said and "inf" not in hands.said


def test_the_lips_height_stretches_the_bowl(hands: Hands) -> None:
    enter(hands, 3, HEIGHT, "340")
    assert hands.evaluation.shape.height == 340.0
    assert hands.evaluation.shape.lip_radius == pytest.approx(217.6, abs=1e-9)
    assert "340" in " ".join(f.text for f in hands.evaluation.findings)  # taller than the machine takes


def test_a_leaving_angle_makes_a_corner_and_emptying_it_takes_the_corner_away(hands: Hands) -> None:
    enter(hands, 1, LEAVING, "9,5")
    assert (hands.knots[1].angle_deg, hands.knots[1].leaving_deg) == (21.0, 9.5)
    enter(hands, 1, LEAVING, "")
    assert hands.knots[1].leaving_deg is None
    assert hands.steps == 2


def test_the_arriving_angle_of_a_corner_is_typed_without_moving_the_leaving_one(hands: Hands) -> None:
    enter(hands, 1, LEAVING, "9.5")
    enter(hands, 1, ANGLE, "20")
    assert (hands.knots[1].angle_deg, hands.knots[1].leaving_deg) == (20.0, 9.5)


def test_the_ends_are_no_corners(hands: Hands) -> None:
    before = hands.study
    enter(hands, 3, LEAVING, "4")
    assert hands.study is before and "corner" in hands.said.lower()
    assert shown(hands, 3, LEAVING) == ""


def test_escape_leaves_the_cell_as_it_was(hands: Hands) -> None:
    before = hands.study
    enter(hands, 1, ANGLE, "3", then=Qt.Key.Key_Escape)
    assert hands.study is before and shown(hands, 1, ANGLE) == "21.00"


def test_table_and_strip_choose_the_same_knot(hands: Hands) -> None:
    table(hands).setFocus()
    table(hands).setCurrentCell(1, ANGLE)
    assert hands.page.pointer.now.knot == 2
    hands.choose_knot(1)
    assert table(hands).currentRow() == 2


def test_a_number_written_but_not_entered_is_taken_when_the_study_is_saved(hands: Hands) -> None:
    hands.answers.answer("ask_save", hands.folder / "typed.bowl")
    cells = table(hands)
    cells.setFocus()
    cells.setCurrentCell(2, ANGLE)
    QTest.keyClick(cells, Qt.Key.Key_F2)
    editor = cells.viewport().findChild(QLineEdit)
    write(editor, "18.5")
    hands.do("Save")
    assert hands.knots[1].angle_deg == 18.5
    assert '"angle_deg": 18.5' in (hands.folder / "typed.bowl").read_text()


def test_while_a_knot_is_dragged_the_table_follows(hands: Hands) -> None:
    with hands.dragging(hands.angle, hands.handle(1), hands.place(115.0, 22.0)):
        hands.hold_still()
        assert float(shown(hands, 1, ANGLE)) == hands.knots[1].angle_deg != 21.0

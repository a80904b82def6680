"""What else may happen while a knot is held: undo, deleting, another study, ends that cannot be joined."""

from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from pytestqt.qtbot import QtBot

from profiler.study import Hold
from profiler.study.edits import design_edits as edits
from profiler.study.files import examples
from profiler.study.records.design import KNOT_LOCKED
from tests.ui.hands import CTRL, Hands


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return Hands(qtbot, tmp_path, monkeypatch)


def test_undo_waits_until_a_held_knot_is_let_go(hands: Hands) -> None:
    hands.drag_knot(2, hands.place(225.0, 12.0))
    with hands.dragging(hands.angle, hands.handle(1), hands.place(150.0, 22.0)):
        held = hands.study
        hands.key(hands.angle, Qt.Key.Key_Z, CTRL)
        assert hands.study is held and hands.document.in_gesture
    assert hands.steps == 2
    hands.key(hands.angle, Qt.Key.Key_Z, CTRL)
    assert hands.steps == 1


def test_deleting_the_held_knot_leaves_nothing_to_drag(hands: Hands) -> None:
    hands.choose_knot(2)
    with hands.dragging(hands.angle, hands.handle(2), hands.place(200.0, 12.0)):
        hands.key(hands.angle, Qt.Key.Key_Delete)
        hands.key(hands.angle, Qt.Key.Key_Delete)
        for x in range(40, 200, 40):
            hands.move(hands.angle, QPoint(x, x))
    hands.undo()
    assert hands.steps == 0 and len(hands.knots) == 4


def test_another_study_opened_while_a_knot_is_held_is_not_dragged(hands: Hands) -> None:
    with hands.dragging(hands.angle, hands.handle(1), hands.place(150.0, 22.0)):
        hands.document.adopt(examples.read("upright"))
        hands.settle()
        before = hands.study
        hands.move(hands.angle, QPoint(60, 60))
        hands.move(hands.angle, QPoint(90, 200))
    assert hands.study is before and hands.steps == 0


def test_where_held_ends_cannot_be_joined_the_drag_stops_at_the_last_that_could_and_says_why(hands: Hands) -> None:
    shape = hands.evaluation.shape
    design = edits.held(hands.design, Hold.BOTH, shape.lip_radius, shape.floor_radius)
    for knot in (0, 2, 3):
        design = KNOT_LOCKED.at(knot).set(design, True)
    hands.document.edit_design(design, "Hold and lock")
    hands.settle()
    with hands.dragging(hands.angle, hands.handle(1), hands.place(115.0, 25.0)):
        hands.settle()
        assert hands.knots[1].angle_deg == 21.0
        assert "locked" in hands.said

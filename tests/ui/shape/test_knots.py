"""Shaping the curve in the angle strip, by mouse and by keys."""

from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QContextMenuEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMenu
from pytestqt.qtbot import QtBot

from profiler.study import Hold
from profiler.study.edits import design_edits as edits
from profiler.units import DEGREE
from tests.ui.hands import CTRL, NONE, SHIFT, Hands

ANGLE_STEP, HEIGHT_STEP = 0.05, 0.1
ARROWS = [
    (Qt.Key.Key_Up, 1.0, 0.0),
    (Qt.Key.Key_Down, -1.0, 0.0),
    (Qt.Key.Key_Right, 0.0, ANGLE_STEP),
    (Qt.Key.Key_Left, 0.0, -ANGLE_STEP),
]


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return Hands(qtbot, tmp_path, monkeypatch)


def on_grid(value: float, step: float) -> bool:
    return abs(value / step - round(value / step)) < 1e-6


# dragging


def test_dragging_a_knot_is_one_undo_step(hands: Hands) -> None:
    hands.drag_knot(1, hands.place(150.0, 22.0))
    assert hands.steps == 1
    assert hands.knots[1].height_mm == pytest.approx(150.0, abs=1.0)
    assert hands.knots[1].angle_deg == pytest.approx(22.0, abs=0.2)


def test_undoing_a_drag_gives_an_equal_study_and_redoing_gives_the_drag_back(hands: Hands) -> None:
    before = hands.study
    hands.drag_knot(1, hands.place(150.0, 22.0))
    after = hands.study
    hands.undo()
    assert hands.study == before != after
    hands.redo()
    assert hands.study == after


def test_every_drag_is_a_step_of_its_own_with_a_speaking_name(hands: Hands) -> None:
    hands.drag_knot(1, hands.place(150.0, 22.0))
    hands.drag_knot(2, hands.place(230.0, 12.0))
    assert hands.steps == 2
    assert hands.document.undo_stack.undoText() == "Move a knot"


def test_while_a_knot_is_dragged_the_evaluation_follows(hands: Hands) -> None:
    before = hands.evaluation.flow.groove_state.copy()
    with hands.dragging(hands.angle, hands.handle(1), hands.place(115.0, 26.0)):
        assert hands.document.in_gesture
        assert hands.steps == 0
        assert (hands.evaluation.flow.groove_state != before).any()
        assert hands.page.section.scene.shown is hands.evaluation


def test_moving_the_bottom_knot_leaves_the_held_lip_where_it_is_and_moves_the_floor(hands: Hands) -> None:
    lip, floor = hands.evaluation.shape.lip_radius, hands.evaluation.shape.floor_radius
    hands.drag_knot(0, hands.place(0.0, 37.0))
    assert hands.evaluation.shape.lip_radius == pytest.approx(lip, abs=1e-9)
    assert abs(hands.evaluation.shape.floor_radius - floor) > 3.0


def test_with_the_floor_held_the_lip_moves_instead(hands: Hands) -> None:
    shape = hands.evaluation.shape
    hands.document.edit_design(edits.held(hands.design, Hold.FLOOR, shape.lip_radius, shape.floor_radius), "Hold")
    hands.settle()
    lip, floor = hands.evaluation.shape.lip_radius, hands.evaluation.shape.floor_radius
    hands.drag_knot(2, hands.place(225.0, 13.0))
    assert hands.evaluation.shape.floor_radius == pytest.approx(floor, abs=1e-9)
    assert hands.evaluation.shape.lip_radius > lip + 3.0


def test_with_both_ends_held_the_other_knots_turn_by_one_common_angle(hands: Hands) -> None:
    shape = hands.evaluation.shape
    hands.document.edit_design(edits.held(hands.design, Hold.BOTH, shape.lip_radius, shape.floor_radius), "Hold")
    hands.settle()
    before, floor = hands.knots, hands.design.wall.floor_radius_mm
    hands.drag_knot(1, hands.place(115.0, 24.0))
    turned = [a.angle_deg - b.angle_deg for a, b in zip(hands.knots, before, strict=True)]
    assert turned[1] == pytest.approx(3.0, abs=0.2)
    assert turned[0] == pytest.approx(turned[2]) == pytest.approx(turned[3])
    assert turned[0] < 0.0
    assert hands.evaluation.shape.lip_radius == pytest.approx(217.6, abs=1e-9)
    assert hands.evaluation.shape.floor_radius == pytest.approx(floor, abs=1e-6)


def test_with_shift_a_drag_keeps_to_the_axis_it_goes_farther_along(hands: Hands) -> None:
    hands.drag_knot(1, hands.handle(1) + QPoint(40, 12), SHIFT)
    assert hands.knots[1].height_mm == 115.0
    assert hands.knots[1].angle_deg > 19.0
    hands.undo()
    hands.drag_knot(1, hands.handle(1) + QPoint(12, -40), SHIFT)
    assert hands.knots[1].angle_deg == 21.0
    assert hands.knots[1].height_mm > 140.0


def test_a_drag_lands_on_the_steps_of_its_fields(hands: Hands) -> None:
    for aside in ((7, 0), (13, -5), (-22, 9), (31, 17)):
        hands.drag_knot(1, hands.handle(1) + QPoint(*aside))
        assert on_grid(hands.knots[1].angle_deg, ANGLE_STEP) and on_grid(hands.knots[1].height_mm, HEIGHT_STEP)
    assert hands.steps == 4


def test_with_ctrl_it_lands_on_tenths_of_the_steps(hands: Hands) -> None:
    between = []
    for aside in range(5, 30, 8):
        hands.drag_knot(1, hands.handle(1) + QPoint(aside, -aside), CTRL)
        knot = hands.knots[1]
        assert on_grid(knot.angle_deg, ANGLE_STEP / 10) and on_grid(knot.height_mm, HEIGHT_STEP / 10)
        between.append(not on_grid(knot.angle_deg, ANGLE_STEP) and not on_grid(knot.height_mm, HEIGHT_STEP))
        hands.undo()
    assert any(between)


def test_escape_cancels_a_drag_and_leaves_no_undo_step(hands: Hands) -> None:
    before = hands.study
    start = hands.handle(1)
    with hands.dragging(hands.angle, start, hands.place(150.0, 25.0)):
        assert hands.study != before
        hands.key(hands.angle, Qt.Key.Key_Escape)
        assert hands.study == before
        hands.move(hands.angle, start + QPoint(30, 30))  # the button is still held: nothing more happens
        assert hands.study == before
    assert hands.study == before
    assert hands.steps == 0 and not hands.document.in_gesture


def test_a_click_on_a_knot_chooses_it_and_changes_nothing(hands: Hands) -> None:
    before = hands.study
    hands.choose_knot(2)
    assert hands.page.pointer.now.knot == 2
    assert hands.study is before and hands.steps == 0


def test_a_knot_dragged_back_to_where_it_was_leaves_no_step(hands: Hands) -> None:
    before = hands.study
    start = hands.handle(1)
    hands.press(hands.angle, start)
    for at in (QPoint(30, 0), QPoint(30, 30), QPoint(0, 0)):
        hands.move(hands.angle, start + at)
        QApplication.processEvents()
    hands.release(hands.angle, start)
    assert hands.study == before and hands.steps == 0


def test_the_angle_scale_keeps_still_while_a_knot_is_held(hands: Hands) -> None:
    before = hands.angle.scale()
    with hands.dragging(hands.angle, hands.handle(0), hands.place(0.0, 34.9)):
        assert hands.angle.scale() == before
    assert hands.angle.scale() != before


def test_end_knots_keep_their_heights_when_dragged(hands: Hands) -> None:
    hands.drag_knot(0, hands.place(60.0, 20.0))
    hands.drag_knot(3, hands.place(250.0, 3.0))
    assert (hands.knots[0].height_mm, hands.knots[3].height_mm) == (0.0, 330.0)


def test_a_knot_stops_short_of_its_neighbours(hands: Hands) -> None:
    hands.drag_knot(1, hands.place(320.0, 17.0))
    assert hands.knots[1].height_mm == pytest.approx(224.9)
    assert hands.evaluation.shape is not None or hands.page.scene().trouble


def test_the_right_button_drags_nothing(hands: Hands) -> None:
    before = hands.study
    at = hands.handle(1)
    QTest.mousePress(hands.angle, Qt.MouseButton.RightButton, NONE, at)
    hands.move(hands.angle, at + QPoint(40, 0), held=False)
    QTest.mouseRelease(hands.angle, Qt.MouseButton.RightButton, NONE, at)
    for menu in hands.angle.findChildren(QMenu):
        menu.close()
    assert hands.study is before


# adding and taking away


def test_a_double_click_adds_a_knot_on_the_curve(hands: Hands) -> None:
    at = hands.place(60.0, 5.0)
    height = hands.page.pointer.now.axis.height(at.y())
    before = float(hands.evaluation.shape.wall.angle_at(height)) / DEGREE
    hands.double_click(hands.angle, at)
    assert hands.steps == 1 and len(hands.knots) == 5
    assert hands.knots[1].height_mm == pytest.approx(height, abs=0.051)
    after = float(hands.evaluation.shape.wall.angle_at(height)) / DEGREE
    assert after == pytest.approx(before, abs=0.5 * ANGLE_STEP + 0.01)  # the angle lands on its step
    assert hands.page.pointer.now.knot == 1
    hands.undo()
    assert len(hands.knots) == 4


def test_adding_at_the_height_of_a_knot_is_refused_and_points_to_the_corner(hands: Hands) -> None:
    hands.double_click(hands.angle, QPoint(hands.place(0.0, 2.0).x(), hands.handle(1).y()))
    if len(hands.knots) == 4:  # the pixel lies on the knot's height to 0.1 mm
        assert "corner" in hands.said
    before = hands.study
    hands.page.edits.add_knot(115.0, 3.0)
    assert "corner" in hands.said and hands.study is before


@pytest.mark.parametrize("key", [Qt.Key.Key_Delete, Qt.Key.Key_Backspace])
def test_delete_takes_the_chosen_knot_away(hands: Hands, key: Qt.Key) -> None:
    hands.choose_knot(1)
    hands.key(hands.angle, key)
    assert [k.height_mm for k in hands.knots] == [0.0, 225.0, 330.0]
    assert hands.steps == 1 and hands.page.pointer.now.knot is None


def test_the_end_knots_cannot_be_deleted_and_a_sentence_says_so(hands: Hands) -> None:
    before = hands.study
    for knot in (0, 3):
        hands.choose_knot(knot)
        hands.key(hands.angle, Qt.Key.Key_Delete)
        assert "cannot be deleted" in hands.said
    assert hands.study is before and hands.steps == 0


def test_insert_adds_a_knot_in_the_widest_gap(hands: Hands) -> None:
    hands.angle.setFocus()
    hands.key(hands.angle, Qt.Key.Key_Insert)
    assert [k.height_mm for k in hands.knots] == [0.0, 57.5, 115.0, 225.0, 330.0]


@pytest.mark.qt_log_ignore("This plugin does not support")  # popups without a screen
def test_the_menu_of_the_right_button_adds_deletes_and_makes_corners(hands: Hands) -> None:
    def chosen(at: QPoint, words: str) -> None:
        QApplication.sendEvent(
            hands.angle, QContextMenuEvent(QContextMenuEvent.Reason.Mouse, at, hands.angle.mapToGlobal(at))
        )
        menu = hands.angle.findChildren(QMenu)[-1]
        next(a for a in menu.actions() if words in a.text()).trigger()
        menu.close()
        hands.settle()

    chosen(hands.place(60.0, 2.0), "Add a knot")
    assert len(hands.knots) == 5
    chosen(hands.handle(1), "corner")
    assert hands.knots[1].is_corner
    chosen(hands.handle(1), "one angle")
    assert not hands.knots[1].is_corner
    chosen(hands.handle(1), "Delete")
    assert len(hands.knots) == 4


# corners


def test_a_corner_has_two_handles_that_are_dragged_apart(hands: Hands) -> None:
    hands.choose_knot(1)
    hands.key(hands.angle, Qt.Key.Key_C)
    assert hands.knots[1].leaving_deg == 21.0
    hands.drag_knot(1, hands.place(115.0, 4.0), leaving=True)
    assert hands.knots[1].angle_deg == 21.0
    assert hands.knots[1].leaving_deg == pytest.approx(4.0, abs=0.2)
    hands.drag_knot(1, hands.place(115.0, 24.0))
    assert hands.knots[1].angle_deg == pytest.approx(24.0, abs=0.2)
    assert hands.knots[1].leaving_deg == pytest.approx(4.0, abs=0.2)
    assert hands.steps == 3


def test_a_corner_moves_as_one_in_height(hands: Hands) -> None:
    hands.choose_knot(1)
    hands.key(hands.angle, Qt.Key.Key_C)
    hands.drag_knot(1, QPoint(hands.handle(1).x(), hands.place(160.0, 0.0).y()), leaving=False)
    assert hands.knots[1].height_mm == pytest.approx(160.0, abs=1.0)
    assert hands.knots[1].is_corner


def test_the_corner_key_takes_the_corner_away_again(hands: Hands) -> None:
    hands.choose_knot(1)
    hands.key(hands.angle, Qt.Key.Key_C)
    hands.key(hands.angle, Qt.Key.Key_C)
    assert not hands.knots[1].is_corner and hands.knots[1].angle_deg == 21.0


def test_the_ends_cannot_be_corners(hands: Hands) -> None:
    hands.choose_knot(0)
    hands.key(hands.angle, Qt.Key.Key_C)
    assert not hands.knots[0].is_corner and "corner" in hands.said.lower()


# keys


@pytest.mark.parametrize(("modifier", "times"), [(NONE, 1.0), (SHIFT, 10.0), (CTRL, 0.1)])
def test_arrow_keys_move_the_chosen_knot(hands: Hands, modifier: Qt.KeyboardModifier, times: float) -> None:
    """Up and down by 1 mm, left and right by one step; ten times with Shift, a tenth with Ctrl."""
    hands.choose_knot(1)
    for key, up, right in ARROWS:
        hands.key(hands.angle, key, modifier)
        assert hands.knots[1].height_mm == pytest.approx(115.0 + up * times, abs=1e-9)
        assert hands.knots[1].angle_deg == pytest.approx(21.0 + right * times, abs=1e-9)
        assert hands.steps == 1
        hands.undo()
        assert (hands.knots[1].height_mm, hands.knots[1].angle_deg) == (115.0, 21.0)


def test_arrow_keys_stop_at_the_bounds_of_the_field(hands: Hands) -> None:
    hands.document.edit_design(edits.move_knot(hands.design, 1, None, 84.9), "Steep")
    hands.settle()
    hands.choose_knot(1)
    for _ in range(4):
        hands.key(hands.angle, Qt.Key.Key_Right)
    assert hands.knots[1].angle_deg == 85.0
    assert hands.steps == 3


def test_arrow_keys_without_a_chosen_knot_change_nothing(hands: Hands) -> None:
    before = hands.study
    hands.angle.setFocus()
    for key, _, _ in ARROWS:
        hands.key(hands.angle, key)
    assert hands.study is before


def test_tab_walks_the_handles_from_the_floor_up_and_then_leaves(hands: Hands) -> None:
    hands.choose_knot(1)
    hands.key(hands.angle, Qt.Key.Key_C)
    hands.page.pointer.point(knot=None, leaving=False)
    hands.angle.setFocus()
    met = []
    for _ in range(5):
        hands.key(hands.angle, Qt.Key.Key_Tab)
        met.append((hands.page.pointer.now.knot, hands.page.pointer.now.leaving))
    assert met == [(0, False), (1, False), (1, True), (2, False), (3, False)]
    hands.key(hands.angle, Qt.Key.Key_Tab)
    assert not hands.angle.hasFocus()


def test_the_arrow_keys_reach_the_leaving_angle_of_a_corner(hands: Hands) -> None:
    hands.choose_knot(1)
    hands.key(hands.angle, Qt.Key.Key_C)
    hands.choose_knot(1, leaving=True)
    hands.key(hands.angle, Qt.Key.Key_Left)
    assert (hands.knots[1].angle_deg, hands.knots[1].leaving_deg) == (21.0, pytest.approx(20.95))

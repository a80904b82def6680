"""A locked knot refuses every edit, by mouse, key, menu and table, says so and shows it; unlocked it moves again."""

from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from pytestqt.qtbot import QtBot

from profiler.explore.ask import free_numbers
from profiler.pictures.strips import angle_strip
from profiler.study.files import examples
from profiler.study.records.design import KNOT_LOCKED
from profiler.ui.shape.shape_edits import ShapeEdits
from profiler.ui.strips.angle import KEYS
from tests.ui.hands import CTRL, SHIFT, Hands

HELD = {"Ctrl+": CTRL, "Shift+": SHIFT, "": Qt.KeyboardModifier.NoModifier}
ARROWS = {"Up": Qt.Key.Key_Up, "Down": Qt.Key.Key_Down, "Left": Qt.Key.Key_Left, "Right": Qt.Key.Key_Right}


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    study = examples.read("graded")
    hands = Hands(qtbot, tmp_path, monkeypatch, study.having("design", KNOT_LOCKED.at(1).set(study.design, True)))
    hands.choose_knot(1)
    return hands


def refused(hands: Hands, before: object) -> bool:
    said = hands.said
    hands.window.message.clear()
    return hands.study is before and "locked" in said


def test_no_hand_moves_turns_splits_or_deletes_it(hands: Hands) -> None:
    before = hands.study
    hands.drag_knot(1, hands.handle(1) + QPoint(40, 30))
    assert refused(hands, before), "mouse"
    for held, modifiers in HELD.items():
        for name, key in ARROWS.items():
            assert any(f"{held}{name}" in k.names for k in KEYS)
            hands.key(hands.angle, key, modifiers)
            assert refused(hands, before), f"{held}{name}"
    for key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace, Qt.Key.Key_C):
        hands.key(hands.angle, key)
        assert refused(hands, before), key
    hands.do("Delete the chosen knot")
    assert refused(hands, before)
    table = hands.page.forms.wall.table
    for column, text in enumerate(("130", "20", "12")):
        table.item(table.place(1), column).setText(text)
        assert refused(hands, before), column
    assert table.item(table.place(1), 0).text() == "115.0"
    assert hands.steps == 0


def test_it_shows_that_it_is_locked(hands: Hands) -> None:
    wall = hands.page.forms.wall
    assert wall.locked.isChecked() and not any(b.isEnabled() for b in (wall.corner, wall.delete, wall.eased))
    table = wall.table
    assert table.item(table.place(1), 0).font().italic() and not table.item(table.place(2), 0).font().italic()
    assert "locked" in table.item(table.place(1), 0).toolTip()

    def drawn() -> int:
        return len(angle_strip.angle_strip(hands.angle.scene, hands.angle.scale(), 246.0, 532.0).items)

    with_lock = drawn()
    hands.click(wall.locked, QPoint(8, wall.locked.height() // 2))
    assert drawn() == with_lock - 2  # shackle and body of the padlock
    hands.key(hands.angle, Qt.Key.Key_Right)
    assert hands.knots[1].angle_deg > 17.0 and "locked" not in hands.said


def test_nothing_else_turns_it_either(hands: Hands) -> None:
    assert not [f for f in free_numbers(hands.evaluation) if f.field.row == 1]
    assert [f for f in free_numbers(hands.evaluation) if f.field.row == 2]


def test_making_a_corner_leaves_the_wall_as_it_is_and_takes_hold_of_its_leaving_angle(hands: Hands) -> None:
    hands.choose_knot(2)
    before = hands.evaluation.shape.wall
    hands.key(hands.angle, Qt.Key.Key_C)
    after, knot = hands.evaluation.shape.wall, hands.knots[2]
    assert knot.is_corner and knot.leaving_deg == knot.angle_deg == 10.0
    assert (after.radius == before.radius).all() and (after.lower == before.lower).all()
    assert hands.angle.handle_at(hands.handle(2, True).toPointF()).leaving  # both lie on one spot: the chosen is held
    hands.drag_knot(2, hands.handle(2) + QPoint(40, 0), leaving=True)
    assert hands.knots[2].leaving_deg > 10.0 and hands.knots[2].angle_deg == 10.0


@pytest.mark.parametrize("end_px", [-400, 400])
def test_a_dragged_groove_stops_at_its_neighbours_least_land(hands: Hands, end_px: int) -> None:
    mouths, page = hands.evaluation.shape.mouths, hands.page
    for number in (1, 8, 14):
        y = round(page.pointer.now.axis.y(float(mouths.middle[number - 1])))
        hands.drag(page.section, QPoint(200, y), QPoint(200, y + end_px))
        assert "least" in hands.said
        shape, least = hands.evaluation.shape, hands.design.grooves.least_land_mm
        assert shape is not None and float(shape.mouths.lands.min()) >= least - 1e-9
        assert float(shape.mouths.lower_length[0]) >= 0.5 * least - 1e-9
        assert not {"land_narrow", "mouth_near_end", "mouths_overlap"} & {f.code for f in hands.evaluation.findings}
        hands.undo()
    assert isinstance(page.edits, ShapeEdits)

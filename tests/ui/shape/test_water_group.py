"""Water holes, targets and the groove card in the window, by mouse and keys."""

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

from profiler.study import GrainShape, HoleChange, HolePlan, fields_of
from profiler.study.files import examples
from profiler.study.records.duty import FLATNESS, TARGET_SIZE
from profiler.ui.strips.grooves import CARD_PX, ROWS_PX
from tests.ui.hands import Hands


@pytest.fixture
def watered(qtbot, tmp_path, monkeypatch):
    hands = Hands(qtbot, tmp_path, monkeypatch, examples.read("watered"))
    yield hands
    hands.settle()


def opened(hands: Hands):
    group = hands.page.forms.water
    hands.page.forms.open(group)
    hands.settle()
    return group


def test_typing_a_count_is_one_undo_step_and_moves_the_water(watered):
    group = opened(watered)
    before = watered.document.evaluation.flow.water.ring[0].copy()
    watered.type_into(group.plan.boxes[fields_of(HolePlan)["count"]], "40")
    assert watered.design.holes.count == 40
    assert watered.document.undo_stack.count() == 1
    assert (watered.document.evaluation.flow.water.ring[0] != before).any()
    watered.document.undo_stack.undo()
    assert watered.study == examples.read("watered")


def test_a_drill_is_taken_from_the_list(watered):
    group = opened(watered)
    group.drill.setCurrentIndex(group.drill.findData(1.2))
    group.drill.activated.emit(group.drill.currentIndex())
    watered.settle()
    assert watered.design.holes.diameter_mm == 1.2


def test_a_proposal_is_one_undo_step_and_is_told_in_one_sentence(watered):
    told = []
    watered.document.announced.connect(told.append)
    group = opened(watered)
    watered.document.edit_design(replace(watered.design, holes=HolePlan()), "No holes")
    watered.settle()
    QTest.mouseClick(group.propose, Qt.MouseButton.LeftButton)
    watered.settle()
    assert watered.design.holes.is_given
    assert told[-1].startswith("Proposed: ") and told[-1].endswith(".")
    assert watered.document.undo_stack.undoText() == "Take the proposed holes"


def test_a_ring_departs_from_the_plan_and_follows_it_again(watered):
    group = opened(watered)
    watered.page.pointer.point(groove=6)
    watered.settle()
    assert group.isVisible()  # choosing a groove leaves the water form open
    watered.type_into(group.single.boxes[fields_of(HoleChange)["diameter_mm"]], "1.1")
    assert next(c for c in watered.design.holes.changes if c.place == 6).diameter_mm == 1.1
    watered.type_into(group.single.boxes[fields_of(HoleChange)["diameter_mm"]], "")
    assert all(c.diameter_mm is None for c in watered.design.holes.changes if c.place == 6)


def test_the_target_is_part_of_the_duty(watered):
    group = opened(watered)
    watered.type_into(group.catch.boxes[TARGET_SIZE], "30")
    assert watered.duty.target_um == 30.0
    group.shape.setCurrentIndex(group.shape.findData(GrainShape.SPHERE))
    group.shape.activated.emit(group.shape.currentIndex())
    watered.settle()
    assert watered.duty.target_shape is GrainShape.SPHERE
    assert not group.catch.boxes[FLATNESS].isVisible()


def test_the_form_says_what_the_catch_rests_on(watered):
    group = opened(watered)
    watered.document.whole_evaluation  # noqa: B018
    group.show_study(watered.study)
    assert "no recovery follows" in group.contents.text()
    words = group.figures.text().replace("<br>", " ")
    assert all(moment in words for moment in ("Run-up", "Running", "End of cycle", "Water off"))
    assert "The ring flows are settled to 0.0" in words


def test_enter_widens_a_groove_to_its_card_and_escape_takes_it_back(watered):
    strip = watered.page.grooves
    watered.page.pointer.point(groove=4)
    strip.setFocus()
    QTest.keyClick(strip, Qt.Key.Key_Return)
    watered.settle()
    assert strip.card_open and strip.width() >= CARD_PX
    QTest.keyClick(strip, Qt.Key.Key_Up)
    assert watered.page.pointer.now.groove == 5 and strip.card_open
    QTest.keyClick(strip, Qt.Key.Key_Escape)
    watered.settle()
    assert not strip.card_open and strip.minimumWidth() == ROWS_PX


def test_a_double_click_on_a_groove_opens_its_card(watered):
    strip = watered.page.grooves
    shape = watered.document.evaluation.shape
    y = round(watered.page.pointer.now.axis.y(float(shape.mouths.middle[7])))
    QTest.mouseClick(strip, Qt.MouseButton.LeftButton, pos=QPoint(60, y))  # a double click begins with a single one
    QTest.mouseDClick(strip, Qt.MouseButton.LeftButton, pos=QPoint(60, y))
    watered.settle()
    assert strip.card_open and watered.page.pointer.now.groove == 8
    assert strip.failure == ""


def test_the_card_scrolls_by_page_and_wheel(watered):
    strip = watered.page.grooves
    watered.page.pointer.point(groove=2)
    strip.open_card(True)
    watered.qtbot.waitUntil(lambda: watered.page.grooves.scene.shown.catch is not None)  # 80 ms after the last input
    QTest.keyClick(strip, Qt.Key.Key_End)
    end = strip._scrolled
    assert end > 200.0
    QTest.keyClick(strip, Qt.Key.Key_PageUp)
    assert 0.0 < strip._scrolled < end
    QTest.keyClick(strip, Qt.Key.Key_Home)
    assert strip._scrolled == 0.0

"""The forms: one group open at a time, following what is chosen; every number of the study can be typed there."""

from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from profiler.assess.findings.kinds import Kind
from profiler.study import NOT_GIVEN, Duty, GrooveRule, Hold, Placing, SquareTo, fields_of
from profiler.study.records.design import FLOOR_RADIUS, GROOVES_TO, LIP_RADIUS
from profiler.ui.forms.group import Group
from profiler.ui.shape.forms_page import FormsPage
from profiler.ui.widgets.number_box import NumberBox, Scrub
from tests.ui.hands import CTRL, FORMS, Hands


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return Hands(qtbot, tmp_path, monkeypatch)


def opened(hands: Hands) -> list[str]:
    return [g.title for g in hands.page.forms.groups if g.isVisible()]


def head(hands: Hands, title: str):
    return next(b for b in hands.page.forms.heads.buttons() if b.text() == title)


def choose(combo, data: object) -> None:
    """As a person does: open the list, take the entry."""
    index = combo.findData(data)
    assert index >= 0
    combo.setCurrentIndex(index)
    combo.activated.emit(index)


def groove_row(hands: Hands, number: int) -> QPoint:
    middle = float(hands.evaluation.shape.mouths.middle[number - 1])
    return QPoint(60, round(hands.page.pointer.now.axis.y(middle)))


def test_one_group_is_open_at_a_time(hands: Hands) -> None:
    for title in ("Grooves", "Water holes and catch", "Wall curve"):
        hands.click(head(hands, title))
        assert opened(hands) == [title]


def test_every_group_stands_on_one_page_the_one_that_shows_what_it_changes(hands: Hands) -> None:
    for entry, titles in FORMS.items():
        page = hands.window.pages.open(entry)
        panes = page.forms if isinstance(page, FormsPage) else (page.forms,)
        assert [g.title for pane in panes for g in pane.groups] == list(titles)
        assert len(page.strips) >= 2 and all(strip.isVisible() for strip in page.strips)


def test_choosing_a_groove_opens_the_grooves_form_and_choosing_a_knot_the_wall(hands: Hands) -> None:
    assert opened(hands) == ["Wall curve"]
    hands.click(hands.page.grooves, groove_row(hands, 5))
    assert hands.page.pointer.now.groove == 5 and opened(hands) == ["Grooves"]
    hands.choose_knot(1)
    assert opened(hands) == ["Wall curve"]


def test_a_groove_is_chosen_in_the_section_too(hands: Hands) -> None:
    hands.click(hands.page.section, groove_row(hands, 7))
    assert hands.page.pointer.now.groove == 7 and opened(hands) == ["Grooves"]


def test_the_keyboard_walks_the_grooves(hands: Hands) -> None:
    hands.page.grooves.setFocus()
    hands.key(hands.page.grooves, Qt.Key.Key_Up)
    hands.key(hands.page.grooves, Qt.Key.Key_Up)
    assert hands.page.pointer.now.groove == 2
    hands.key(hands.page.grooves, Qt.Key.Key_Down)
    assert hands.page.pointer.now.groove == 1


def boxes_of(group: Group) -> list[NumberBox]:
    return [b for b in group.findChildren(NumberBox) if b.isVisible() and b.isEnabled() and b.value is not None]


@pytest.mark.parametrize("title", ["Wall curve", "Grooves", "Body", "Slurry and duty", "Machine"])
def test_every_number_of_a_form_is_taken_as_typed_and_changes_nothing_else(hands: Hands, title: str) -> None:
    boxes = boxes_of(hands.open_form(title))
    assert boxes
    for box in boxes:
        before, old = hands.study, {b: b.value for b in boxes}
        wanted = box.value + (box.field.step if box.value + box.field.step <= box.field.high else -box.field.step)
        hands.type_into(box, f"{wanted:.6g}")
        assert box.value == pytest.approx(wanted), box.field.name
        assert hands.steps == 1, box.field.name
        others = {b.field.name for b in boxes if b is not box and b.value != old[b]}
        assert not others, f"{box.field.name} changed {others}"
        hands.undo()
        assert hands.study == before, box.field.name


def test_numbers_of_a_form_are_scrubbed_in_one_step(hands: Hands) -> None:
    group = hands.open_form("Body")
    box = next(b for b in boxes_of(group) if b.field.name == "floor_plate_mm")
    scrub = next(s for s in group.findChildren(Scrub) if s.buddy() is box)
    start = scrub.rect().center()
    hands.drag(scrub, start, start + QPoint(16, 0))
    assert hands.design.body.floor_plate_mm == 18.0 and hands.steps == 1


@pytest.mark.parametrize("hold", [Hold.FLOOR, Hold.LIP, Hold.BOTH])
def test_changing_what_is_held_keeps_the_wall(hands: Hands, hold: Hold) -> None:
    other = Hold.FLOOR if hold is Hold.LIP else Hold.LIP
    choose(hands.page.forms.wall.hold, other)
    hands.settle()
    before = hands.evaluation.shape.wall.radius.copy()
    choose(hands.page.forms.wall.hold, hold)
    hands.settle()
    assert hands.design.wall.hold is hold
    assert hands.evaluation.shape.wall.radius == pytest.approx(before, abs=1e-4)  # radii are held to 0.0001 mm


def test_the_free_radius_can_be_read_but_not_typed(hands: Hands) -> None:
    wall = hands.page.forms.wall
    assert wall.radii.boxes[LIP_RADIUS].isEnabled() and not wall.radii.boxes[FLOOR_RADIUS].isEnabled()
    assert wall.radii.boxes[FLOOR_RADIUS].value == pytest.approx(hands.evaluation.shape.floor_radius, abs=0.006)


def test_grooves_are_placed_by_another_rule_and_back(hands: Hands) -> None:
    group = hands.page.forms.grooves
    hands.click(head(hands, "Grooves"))
    middles = hands.evaluation.shape.mouths.middle.copy()
    choose(group.placing, Placing.LISTED)
    hands.settle()
    assert hands.design.grooves.heights_mm == pytest.approx(middles, abs=0.06)
    assert group.heights.isVisible()
    choose(group.placing, Placing.IN_HEIGHT)
    hands.settle()
    assert not group.heights.isVisible()
    assert hands.steps == 2


def test_groove_heights_are_typed_in_any_order_and_nonsense_is_refused(hands: Hands) -> None:
    group = hands.page.forms.grooves
    hands.click(head(hands, "Grooves"))
    choose(group.placing, Placing.LISTED)
    hands.settle()
    hands.type_into(group.heights, "120; 45,5 80")
    assert hands.design.grooves.heights_mm == (45.5, 80.0, 120.0)
    before = hands.study
    hands.type_into(group.heights, "45.5; eighty; 120")
    assert hands.study is before and "eighty" in hands.said
    assert group.heights.text() == "45.5; 80; 120"


def test_grooves_are_turned_square_to_the_axis(hands: Hands) -> None:
    hands.click(head(hands, "Grooves"))
    choose(hands.page.forms.grooves.square, SquareTo.AXIS)
    hands.settle()
    assert hands.design.grooves.square_to is SquareTo.AXIS
    assert hands.evaluation.shape is not None


# a groove moved by hand


def test_dragging_a_groove_along_the_wall_is_one_undo_step(hands: Hands) -> None:
    before = hands.study
    start = groove_row(hands, 8)
    hands.drag(hands.page.section, start, start + QPoint(0, -6))
    change = hands.design.grooves.changes[0]
    assert (len(hands.design.grooves.changes), change.place, hands.steps) == (1, 8, 1)
    assert 1.0 < change.shift_mm < 12.0
    assert abs(change.shift_mm / 0.1 - round(change.shift_mm / 0.1)) < 1e-6
    hands.undo()
    assert hands.study == before


def test_escape_cancels_the_drag_of_a_groove(hands: Hands) -> None:
    before = hands.study
    start = groove_row(hands, 8)
    with hands.dragging(hands.page.section, start, start + QPoint(0, -6)):
        assert hands.study != before
        hands.key(hands.page.section, Qt.Key.Key_Escape)
    assert hands.study == before and hands.steps == 0


def test_a_click_on_a_groove_moves_nothing(hands: Hands) -> None:
    before = hands.study
    hands.click(hands.page.section, groove_row(hands, 8))
    assert hands.study is before


def test_one_groove_is_left_out_and_brought_back(hands: Hands) -> None:
    hands.click(hands.page.grooves, groove_row(hands, 8))
    group = hands.page.forms.grooves
    hands.click(group.off, QPoint(8, group.off.height() // 2))
    assert len(hands.evaluation.shape.mouths) == 13
    hands.click(group.back)
    assert len(hands.evaluation.shape.mouths) == 14


def test_the_forms_fold_and_unfold_by_key_and_by_button(hands: Hands) -> None:
    assert hands.page.forms.isVisible()
    hands.key(hands.angle, Qt.Key.Key_F9)
    assert not hands.page.forms.isVisible()
    hands.click(hands.page.unfold)
    assert hands.page.forms.isVisible()


def test_a_locked_knot_and_an_eased_span_are_ticked_for_the_chosen_knot(hands: Hands) -> None:
    hands.choose_knot(1)
    wall = hands.page.forms.wall
    for box, member in ((wall.eased, "eased"), (wall.locked, "locked")):
        box.click()
        hands.settle()
        assert getattr(hands.knots[1], member) is True
    hands.choose_knot(2)
    assert not wall.eased.isChecked() and not wall.locked.isChecked()
    hands.key(hands.angle, Qt.Key.Key_Z, CTRL)
    assert hands.knots[1].locked is False


def test_the_grooves_say_along_what_they_are_placed_and_how_long_the_wall_is(hands: Hands) -> None:
    hands.click(head(hands, "Grooves"))
    group = hands.page.forms.grooves
    shape = hands.evaluation.shape
    assert group.form.boxes[GROOVES_TO].accessibleName() == "To, along wall, mm"
    assert f"{float(shape.wall.length_at(shape.height)):.1f} mm long" in group.ends.text()
    group._place_grooves(Placing.IN_HEIGHT)
    hands.settle()
    assert group.form.boxes[GROOVES_TO].accessibleName() == "To, in height, mm"


@pytest.mark.parametrize(
    ("name", "value", "words"),
    [
        ("count", "12", "Change the groove count"),
        ("from_mm", "9", "Change where the grooves start"),
        ("mouth_mm", "12", "Change the grooves' mouth"),
    ],
)
def test_an_undo_step_of_the_grooves_reads_as_a_sentence(hands: Hands, name: str, value: str, words: str) -> None:
    hands.click(head(hands, "Grooves"))
    hands.type_into(hands.page.forms.grooves.form.boxes[fields_of(GrooveRule)[name]], value)
    assert hands.document.undo_stack.undoText() == words


def test_the_click_that_takes_hold_of_a_number_takes_all_of_it_and_the_next_sets_the_cursor(qtbot):
    holder = QWidget()
    other, box = QLineEdit(holder), NumberBox(fields_of(Duty)["speed_rpm"], parent=holder)
    box.move(0, 40)
    qtbot.addWidget(holder)
    holder.show()
    holder.activateWindow()
    assert QTest.qWaitForWindowActive(holder)
    other.setFocus()
    box.show_value(640.0)
    QTest.mouseClick(box, Qt.MouseButton.LeftButton)
    assert box.selectedText() == box.text() and "640" in box.text()
    QTest.keyClicks(box, "700")
    assert box.text() == "700"
    QTest.mouseClick(box, Qt.MouseButton.LeftButton)
    assert not box.hasSelectedText()


def test_a_number_of_the_machine_that_is_not_given_is_an_empty_box_that_says_so(hands: Hands) -> None:
    """Emptied, it is null in the study, told by the findings, and one step takes it back; nought is a number."""
    group = hands.open_form("Machine")
    box = next(box for box in group.form.boxes.values() if box.field.name == "jacket_gap_mm")
    before = hands.study.machine
    assert box.text() and box.placeholderText() == NOT_GIVEN == "not given"
    hands.type_into(box, "")
    assert hands.study.machine.jacket_gap_mm is None and box.text() == "" and hands.steps == 1
    assert any("jacket gap" in f.text for f in hands.evaluation.findings if f.kind is Kind.MACHINE_LACKS)
    hands.key(box, Qt.Key.Key_Up)  # there is nothing to step from
    assert hands.study.machine.jacket_gap_mm is None
    hands.type_into(box, "0")
    assert hands.study.machine.jacket_gap_mm == 0.0 and box.text() == "0.0"
    hands.undo()
    hands.undo()
    assert hands.study.machine == before and box.text() == "6.0"
